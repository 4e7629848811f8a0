//! The verb: a conversation by lines, parked and taken up again, killed, gone back on, and answered at once by a file.

use std::io::Write;
use std::path::PathBuf;

use super::home::{Home, piped};
use super::styles::FILES;

/// What Enter does at every question left.
pub fn enters(n: usize) -> String {
    "\n".repeat(n)
}

pub fn kept(home: &Home, name: &str) -> PathBuf {
    home.0.join(format!(".local/share/stepjig/drafts/{name}.toml"))
}

pub fn said(output: &std::process::Output) -> String {
    let text = format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_guide_is_drafted_by_lines_and_lies_on_the_shelf_when_it_is_done() {
    let home = Home::new("draft-lines");
    let drafted = home.run(&["draft"], &format!("one\ntwist\nballpoint\n{}", enters(60)));
    let text = said(&drafted);
    assert_eq!(drafted.status.code(), Some(0), "{text}");
    assert!(text.contains("The guide: 9 steps in 1 stage, every proof holds."), "{text}");
    assert!(text.contains("stepjig walk twist-ballpoint-one-tube"), "{text}");
    let check = home.run(&["check", "twist-ballpoint-one-tube", "--strict"], "");
    assert_eq!(check.status.code(), Some(0), "{}", said(&check));
    // The draft is called after its guide now, and a new one begins afresh.
    assert!(kept(&home, "twist-ballpoint-one-tube").exists() && !kept(&home, "unnamed").exists());
    let again = home.run(&["draft"], "");
    assert!(said(&again).contains("Laid aside with 0 answers"), "{}", said(&again));
    // What is there already is not written over.
    let over = home.run(&["draft", "twist-ballpoint-one-tube"], "\n");
    assert!(said(&over).contains("already") && over.status.code() == Some(1), "{}", said(&over));
    let over = home.run(&["draft", "twist-ballpoint-one-tube", "--force"], "\n");
    assert_eq!(over.status.code(), Some(0), "{}", said(&over));
}

#[test]
fn a_draft_is_parked_and_taken_up_where_it_was_left() {
    let home = Home::new("draft-park");
    let first = home.run(&["draft", "raffle"], "two\ntwist\npark\n");
    assert_eq!(first.status.code(), Some(1));
    assert!(said(&first).contains("Laid aside with 2 answers. `stepjig draft raffle` goes on."), "{}", said(&first));
    let second = home.run(&["draft", "raffle", "-o", "g.toml"], &format!("pencil\n{}", enters(60)));
    assert_eq!(second.status.code(), Some(0), "{}", said(&second));
    assert!(said(&second).contains("Taken up again with 2 answers."), "{}", said(&second));
    let whole = home.run(&["draft", "other", "-o", "h.toml"], &format!("two\ntwist\npencil\n{}", enters(60)));
    assert_eq!(whole.status.code(), Some(0));
    let text = |name: &str| std::fs::read_to_string(home.0.join(name)).expect("it was written");
    assert_eq!(text("g.toml"), text("h.toml"), "parked or not, the same guide");
}

#[test]
fn a_guide_that_is_written_over_is_kept_beside_the_new_one() {
    let home = Home::new("draft-over");
    home.write("g.toml", "mine\n");
    let old = || std::fs::read_to_string(home.0.join("g.toml.old")).unwrap_or_default();
    home.run(&["draft", "a"], &format!("one\ntwist\nballpoint\n{}park\n", enters(3)));
    let forced = home.run(&["draft", "a", "-o", "g.toml", "--force"], &enters(60));
    assert!(forced.status.code() == Some(0) && old() == "mine\n", "{}", said(&forced));
    let first = home.run(&["draft", "b"], &format!("one\ntwist\nballpoint\n{}", enters(60)));
    assert_eq!(first.status.code(), Some(0), "{}", said(&first));
    let guide = home.0.join(".local/share/stepjig/guides/kits/twist-ballpoint-one-tube.toml");
    std::fs::write(&guide, "mine\n").expect("it can be written");
    let over = home.run(&["draft", "b"], "\nover\n");
    let text = said(&over);
    assert!(text.contains("`over` writes over it") && !text.contains("--force"), "{text}");
    assert_eq!(over.status.code(), Some(0), "{text}");
    let old = std::fs::read_to_string(guide.with_extension("toml.old")).expect("the old one is kept");
    assert_eq!(old, "mine\n");
    let anew = std::fs::read_to_string(&guide).expect("it was written");
    assert!(anew.contains("[[step]]"), "{anew}");
    // Once more: what is kept already stays as it is.
    std::fs::write(&guide, "mine too\n").expect("it can be written");
    let again = home.run(&["draft", "b"], "\nover\n");
    assert_eq!(again.status.code(), Some(0), "{}", said(&again));
    let kept = |ending: &str| std::fs::read_to_string(guide.with_extension(ending)).expect("it is kept");
    assert_eq!((kept("toml.old").as_str(), kept("toml.old2").as_str()), ("mine\n", "mine too\n"));
}

#[test]
fn a_draft_that_is_called_after_its_guide_is_called_anew_with_it() {
    let home = Home::new("draft-rename");
    home.run(&["draft"], &format!("one\ntwist\nballpoint\n{}", enters(60)));
    let changed = home.run(&["draft", "twist-ballpoint-one-tube"], "change name\nmy-twist\npark\n");
    assert!(said(&changed).contains("`stepjig draft my-twist` goes on."), "{}", said(&changed));
    assert!(kept(&home, "my-twist").exists() && !kept(&home, "twist-ballpoint-one-tube").exists());
    // One that has a name of its own keeps it.
    home.run(&["draft", "raffle"], &format!("one\ntwist\nballpoint\n{}", enters(60)));
    home.run(&["draft", "raffle"], "change name\nother\npark\n");
    assert!(kept(&home, "raffle").exists());
}

#[test]
fn nothing_is_lost_when_the_program_is_killed() {
    let home = Home::new("draft-kill");
    let mut child = piped(home.command(&["draft", "raffle"])).spawn().expect("it starts");
    let stdin = child.stdin.as_mut().expect("a pipe");
    stdin.write_all(b"two\npush cap\n").and_then(|()| stdin.flush()).expect("it is read");
    let begun = std::time::Instant::now();
    while !std::fs::read_to_string(kept(&home, "raffle")).is_ok_and(|text| text.contains("closes = \"push cap\"")) {
        assert!(begun.elapsed().as_secs() < 60, "the second answer is never kept");
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    child.kill().expect("it can be killed");
    child.wait().expect("it ends");
    let again = home.run(&["draft", "raffle"], "answers\n");
    assert!(
        said(&again).contains("Taken up again with 2 answers.") && said(&again).contains("push cap"),
        "{}",
        said(&again)
    );
}

#[test]
fn going_back_changes_one_answer_and_keeps_the_rest() {
    let home = Home::new("draft-back");
    let lines = "two\ntwist\nballpoint refill\n6.9 mm\n7 mm\nback 2\n6.8 mm\nchange drill\n7.1 mm\nback\n\n53 mm\nanswers\n:park\n";
    let drafted = home.run(&["draft", "raffle"], lines);
    let text = std::fs::read_to_string(kept(&home, "raffle")).expect("it is kept");
    assert!(
        text.contains("lower.outside = \"6.8 mm\"") && text.contains("lower.drill = \"7.1 mm\""),
        "{text}\n{}",
        said(&drafted)
    );
    let wrong =
        home.run(&["draft", "raffle"], "back 99\nback x\nchange dril\nchange nothing-such\nfoo bar\n?\nshow\ncheck\n");
    for told in [
        "There are 6 questions before this one.",
        "`back 3` goes back three questions.",
        "No answer is called `dril`: did you mean `drill`?",
        "`:word` is always a command",
        "[kit.tube.lower]",
        "every proof holds",
    ] {
        assert!(said(&wrong).contains(told), "{told}: {}", said(&wrong));
    }
}

#[test]
fn a_file_of_answers_does_the_same_without_asking() {
    let home = Home::new("draft-file");
    for (name, text) in FILES {
        home.write(&format!("{name}.toml"), text);
        let file = format!("{name}.toml");
        let at_once = home.run(&["draft", "--answers", &file, "-o", "-"], "");
        assert_eq!(at_once.status.code(), Some(0), "{}", said(&at_once));
        let asked = {
            std::fs::create_dir_all(kept(&home, name).parent().expect("a folder")).expect("a folder");
            std::fs::write(kept(&home, name), text).expect("a draft");
            home.run(&["draft", name, "-o", "asked.toml", "--force"], "\n")
        };
        assert_eq!(asked.status.code(), Some(0), "{}", said(&asked));
        let asked = std::fs::read_to_string(home.0.join("asked.toml")).expect("it was written");
        assert_eq!(String::from_utf8_lossy(&at_once.stdout), asked, "{name}");
    }
    let whole = FILES[0].1;
    let without: String =
        whole.lines().filter(|line| !line.starts_with("body.drill")).map(|line| format!("{line}\n")).collect();
    let missing = home.run(&["draft", "--answers", "-", "-o", "x.toml"], &without);
    assert_eq!(missing.status.code(), Some(2));
    assert!(said(&missing).contains("the answer `body.drill` is missing"), "{}", said(&missing));
    let wrong = whole.replace("closes = \"threaded cap\"", "closes = \"zip\"");
    let wrong = home.run(&["draft", "--answers", "-", "-o", "x.toml"], &wrong);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(
        said(&wrong).contains("`closes`: `zip` is none of these") && said(&wrong).contains("push cap"),
        "{}",
        said(&wrong)
    );
    assert!(!home.0.join("x.toml").exists(), "nothing is written of half an answer");
    let none = home.run(&["draft", "--no-input"], "");
    assert!(none.status.code() == Some(2) && said(&none).contains("the answer `tubes` is missing"), "{}", said(&none));
}

#[test]
fn a_bare_number_is_in_the_shops_unit_where_it_has_one() {
    let home = Home::new("draft-unit");
    let lines = "two\ntwist\nballpoint refill\n6.9\n";
    let refused = home.run(&["draft", "a"], lines);
    assert!(said(&refused).contains("`6.9` has no unit"), "{}", said(&refused));
    home.write(".stepjig.toml", "unit = \"mm\"\n");
    home.run(&["draft", "b"], lines);
    let text = std::fs::read_to_string(kept(&home, "b")).expect("it is kept");
    assert!(text.contains("lower.outside = \"6.9 mm\""), "{text}");
}

#[test]
fn a_draft_begins_with_what_another_guide_says() {
    let home = Home::new("draft-from");
    let begun = home.run(&["draft", "raffle", "--from", "two-tube-fountain"], "answers\npark\n");
    let text = said(&begun);
    assert!(
        text.contains("threaded cap") && text.contains("10.5 mm") && text.contains("Not taken over: the step"),
        "{text}"
    );
    let twice = home.run(&["draft", "raffle", "--from", "two-tube-fountain"], "");
    assert_eq!(twice.status.code(), Some(2));
    assert!(said(&twice).contains("the draft raffle has answers already"), "{}", said(&twice));
    let none = home.run(&["draft", "other", "--from", "no-such"], "");
    assert!(none.status.code() == Some(2) && said(&none).contains("there is no guide `no-such`"), "{}", said(&none));
}

#[test]
fn a_draft_that_was_damaged_is_said_and_left_as_it_is() {
    let home = Home::new("draft-damaged");
    home.write(".local/share/stepjig/drafts/raffle.toml", "stepjig = 1\n[draft]\ntubes = ");
    let damaged = home.run(&["draft", "raffle"], "one\n");
    assert!(damaged.status.code() == Some(2) && said(&damaged).contains("raffle.toml:3"), "{}", said(&damaged));
    assert!(std::fs::read_to_string(kept(&home, "raffle")).expect("it is there").ends_with("tubes = "));
    let name = home.run(&["draft", "../x"], "");
    assert!(name.status.code() == Some(2) && said(&name).contains("a draft cannot be called so"), "{}", said(&name));
}
