//! The care card: the guide's `care`, what its questions become, and that it goes with a job.

use stepjig::finding::Source;
use stepjig::guide::document::Shelf;
use stepjig::guide::{Library, write};
use stepjig::sheet::{Stamp, lay_out, text};

use crate::home::Home;

const GUIDE: &str = r#"
stepjig = 1
[guide]
id = "g"
title = "G"
care = "own-it"
[[step]]
id = "a"
do = "Press it home."
gives = ["pressed"]
[[step]]
id = "end"
end = "finished"
needs = ["pressed"]
"#;

const CARE: &str = r#"
stepjig = 1
[procedure]
id = "own-it"
title = "Your pen"
[[step]]
id = "open"
stage = "Fill it"
do = "Open it."
[[step]]
id = "which"
ask = "What holds the ink?"
answers = [
  { say = "it takes a cartridge", to = "push" },
  { say = "it has a converter", to = "dip" },
  { say = "cannot tell", to = "which" },
]
[[step]]
id = "push"
do = "Push it on."
then = "dry"
[[step]]
id = "dip"
do = "Dip it."
[[step]]
id = "turn"
do = "Turn the knob."
tell = "Twice."
[[step]]
id = "dry"
stage = "Dry it"
wait = "1 h"
ready = "a towel stays dry"
[[step]]
id = "wet"
ask = "What does it write?"
answers = [
  { say = "it writes", to = "return" },
  { say = "it stays dry", to = "tap" },
  { say = "cannot tell", to = "wet" },
]
[[step]]
id = "tap"
do = "Tap it."
then = "wet"
caution = [{ level = "notice", hazard = "Ink spots.", avoid = "Towel below." }]
[[step]]
id = "return"
end = "return"
"#;

fn library() -> Library {
    let mut library = Library::empty();
    library.add(Shelf::Procedure, "own-it", Source::new("own-it.toml", CARE));
    library
}

#[test]
fn what_the_owner_does_is_a_line_and_a_question_becomes_if() {
    let guide = library().link(&Source::new("g.toml", GUIDE)).guide.expect("it links");
    let shown = text::render(&lay_out::care(&guide, &Stamp::default()).expect("it has one")).replace('\u{a0}', " ");
    let expected = "Your pen\nCare card\ng\nWood ______ Nib or refill ______ Made by ______ On ______\n\nFill it\nOpen it.\nIf it takes a cartridge, push it on.\n\
        If it has a converter, dip it. Turn the knob. Twice.\n\nDry it\nWait 1 h, until a towel stays dry.\n\
        NOTICE Ink spots. Towel below.\nIf it stays dry, tap it.\n\n\
        If it will not write after all this, ask whoever made it.\n";
    assert_eq!(shown, expected);
}

#[test]
fn the_name_is_looked_up_like_any_other_and_its_place_is_told() {
    let linked = library().link(&Source::new("g.toml", GUIDE.replace("\"own-it\"", "\"own-ti\"")));
    assert!(linked.guide.is_none());
    let finding = &linked.findings[0];
    assert_eq!((finding.code.as_str(), finding.place.to_string().as_str()), ("no-such-procedure", "g.toml:6:8"));
    assert!(finding.help.as_deref().is_some_and(|help| help.contains("own-it")), "{:?}", finding.help);
    let of_a_procedure = CARE.replace("title = \"Your pen\"", "title = \"Your pen\"\ncare = \"x\"");
    let mut library = Library::empty();
    library.add(Shelf::Procedure, "own-it", Source::new("own-it.toml", of_a_procedure));
    let findings = library.link(&Source::new("g.toml", GUIDE)).findings;
    assert_eq!(findings.first().map(|finding| finding.code.as_str()), Some("unknown-key"));
}

#[test]
fn it_is_kept_with_the_guide_of_a_job() {
    for (library, guide) in [
        (library(), library().link(&Source::new("g.toml", GUIDE)).guide),
        (Library::shipped(), Library::shipped().link_id("two-tube-fountain").and_then(|linked| linked.guide)),
    ] {
        let guide = guide.expect("it links");
        drop(library);
        let kept = write::linked(&guide);
        let again = Library::empty().link(&Source::new("guide.toml", &*kept)).guide.expect("it links alone");
        assert_eq!(write::linked(&again), kept);
        let card = |guide| lay_out::care(guide, &Stamp::default()).map(|sheet| text::render(&sheet));
        assert!(card(&guide).is_some());
        assert_eq!(card(&guide), card(&again));
    }
}

/// A card of A6: thirty lines of the narrow text, our own bound, no source.
#[test]
fn the_shipped_card_is_short_and_says_what_keeps_a_pen_well() {
    let home = Home::new("print-care");
    let shown = home.run(&["print", "two-tube-fountain", "--sheet", "care"], "");
    let shown = String::from_utf8(shown.stdout).expect("output is UTF-8");
    assert!(shown.lines().count() <= 38, "{}", shown.lines().count());
    let flat = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    // Common practice, no source.
    for word in [
        "cartridge",
        "converter",
        "one drop",
        "Tap it",
        "four to eight weeks",
        "Cool water",
        "India ink",
        "nib up",
        "cap",
    ] {
        assert!(flat.contains(word), "{word}: {flat}");
    }
    let (_, card) = flat.split_once("Fill it").expect("a first section");
    for shop in ["bushing", "tube", "press", "lathe", "finial"] {
        assert!(!card.contains(shop), "{shop} is a word of the shop: {card}");
    }
    let without = home.small("[[step]]\nid = \"end\"\nend = \"finished\"\nneeds = [\"kind.known\"]\n[[step]]\nid = \"lost\"\nend = \"scrap\"\n");
    let failed = home.run(&["print", without, "--sheet", "care"], "");
    assert_eq!(failed.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&failed.stderr).contains("does not say what the pen's owner does"));
}
