//! What is said must hold beside what is there: a guide's name, a tube and its bit, a cap and what writes under it.

use super::home::Home;
use super::styles::FILES;
use super::verb::{enters, kept, said};

/// Returns what `--answers` writes of the first file of answers with one text put for another, and what it says.
fn at_once(home: &Home, pairs: &[(&str, &str)]) -> (Option<i32>, String) {
    let text = pairs.iter().fold(FILES[0].1.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    });
    let output = home.run(&["draft", "--answers", "-", "-o", "-"], &text);
    (output.status.code(), said(&output))
}

#[test]
fn a_guide_is_not_called_like_one_that_comes_with_stepjig() {
    let home = Home::new("draft-shipped-name");
    let told = "`two-tube-rollerball` comes with stepjig, and this guide would hide it";
    let name = ("threaded-cap-rollerball-two-tubes", "two-tube-rollerball");
    let (code, text) = at_once(&home, &[name]);
    assert!(code == Some(2) && text.contains(told) && text.contains("choose another name"), "{text}");
    // What Enter takes is no such name either.
    let title = ("title = \"Threaded-cap rollerball, two tubes\"", "title = \"Two-tube rollerball\"");
    let (_, text) = at_once(&home, &[title, ("\nname = ", "\n# ")]);
    assert!(
        text.contains("the answer `name` is missing") && text.contains("proposed: my-two-tube-rollerball"),
        "{text}"
    );
}

#[test]
fn a_bit_is_wider_than_its_tube_and_a_figure_that_stands_in_for_one_follows_the_other() {
    let home = Home::new("draft-bit");
    let start = "two\ntwist\nballpoint refill\n";
    let asked = home.run(&["draft", "a"], &format!("{start}10.5 mm\n9 mm\n10.5 mm\n10.7 mm\n"));
    assert!(said(&asked).contains("tube 10.5 mm wide does not go into the hole of a bit of 9 mm"), "{}", said(&asked));
    let text = std::fs::read_to_string(kept(&home, "a")).expect("it is kept");
    assert!(text.contains("lower.drill = \"10.7 mm\""), "{text}");
    let anew = home.run(&["draft", "a"], "change outside\n11 mm\n10.6 mm\n");
    assert!(said(&anew).contains("tube 11 mm wide does not go into the hole of a bit of 10.7 mm"), "{}", said(&anew));
    let text = std::fs::read_to_string(kept(&home, "a")).expect("it is kept");
    assert!(text.contains("lower.outside = \"10.6 mm\""), "{text}");
    // A file that says both is refused at the bit, and can be put right at either.
    let narrow = ("body.drill = \"10.5 mm\"", "body.drill = \"9 mm\"");
    let (code, text) = at_once(&home, &[narrow]);
    assert!(code == Some(2) && text.contains("`body.drill`") && text.contains("10.36 mm wide"), "{text}");
    let bit = ("body.drill = \"10.5 mm\"", "body.drill = \"not known\"");
    let outside = ("body.outside = \"10.36 mm\"", "body.outside = \"11.5 mm\"");
    let (_, text) = at_once(&home, &[bit, outside]);
    assert!(text.contains("drill = \"11.66 mm\" # fill in"), "{text}");
    let bit = ("body.drill = \"10.5 mm\"", "body.drill = \"8 mm\"");
    let outside = ("body.outside = \"10.36 mm\"", "body.outside = \"not known\"");
    let (_, text) = at_once(&home, &[bit, outside]);
    assert!(text.contains("outside = \"7.84 mm\" # fill in"), "{text}");
}

#[test]
fn a_cap_that_drops_off_leaves_bare_what_writes() {
    let home = Home::new("draft-bare");
    for (writes, bare) in [("rollerball", "leaves the refill's tip bare"), ("nib", "leaves the nib bare")] {
        let drafted = home.run(&["draft", writes, "-o", "-"], &format!("two\npush cap\n{writes}\n{}", enters(60)));
        assert!(said(&drafted).contains(bare), "{}", said(&drafted));
    }
}
