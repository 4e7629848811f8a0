//! Kit numbers: off a kit file, measured, corrected; what every text then uses.

use jiff::Timestamp;
use stepjig::guide::document::KitValue;
use stepjig::guide::{Guide, Library};
use stepjig::walk::{Answer, Walk, Wanted};

/// A 25/64 in body and a 15/32 in cap: a usual pair of bits (common practice, no source).
const PAIR: [(&str, &str); 4] = [
    ("kit.tube.body.drill", "25/64 in"),
    ("kit.tube.body.outside", "9.75 mm"),
    ("kit.tube.cap.drill", "15/32 in"),
    ("kit.tube.cap.outside", "11.75 mm"),
];

fn guide() -> Guide {
    let mut guide = Library::shipped().link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links");
    for (path, value) in PAIR {
        assert!(guide.set_number(path, KitValue::Text(value.to_owned())), "{path}");
    }
    guide
}

fn now() -> Timestamp {
    Timestamp::UNIX_EPOCH
}

fn told(walk: &Walk<'_>, line: &str) -> String {
    match walk.read(line, now()) {
        Ok(Answer::Tell(told)) => told.join("\n"),
        other => panic!("{line}: {other:?}"),
    }
}

/// Exact: 25/64 in is 9.921875 mm, 15/32 in is 11.90625 mm (1 in = 25.4 mm, the agreement of 1959).
#[test]
fn texts_use_the_numbers_off_the_kit_file_in_inch_and_mm() {
    let guide = guide();
    let walk = Walk::begin(&guide, now());
    let said = |path: &str| walk.state().number(&guide, path).expect("it is there");
    assert_eq!(said("kit.tube.body.drill"), "25/64\u{a0}in (9.922\u{a0}mm)");
    assert_eq!(said("kit.tube.cap.drill"), "15/32\u{a0}in (11.906\u{a0}mm)");
    let all: String = guide.steps().map(|(idx, _)| walk.title(idx) + "\n").collect();
    assert!(!all.contains("{kit") && !all.contains("{tube"), "a reference is left as it is written: {all}");
}

#[test]
fn a_linked_guide_keeps_the_numbers_of_its_kit() {
    let text = stepjig::guide::write::linked(&guide());
    let again = Library::empty().link(&stepjig::finding::Source::new("guide.toml", text)).guide.expect("it links");
    assert_eq!(again.kit()["kit.tube.body.drill"], KitValue::Text("25/64 in".to_owned()));
}

fn to_the_first_reading(walk: &mut Walk<'_>) {
    while !matches!(walk.scene(now()).wanted, Wanted::Reading { .. }) {
        walk.answer("done", now()).expect("all before it is to be done");
    }
}

#[test]
fn a_measured_number_goes_before_the_kit_files_and_can_be_corrected() {
    let guide = guide();
    let mut walk = Walk::begin(&guide, now());
    to_the_first_reading(&mut walk);
    walk.answer("9.80 mm", now()).expect("it is what is wanted");
    let said = |walk: &Walk<'_>| walk.state().number(&guide, "kit.tube.body.outside").expect("it is there");
    assert!(said(&walk).starts_with("9.8\u{a0}mm"), "{}", said(&walk));
    assert!(told(&walk, "correct").contains("kit.tube.body.outside"));
    walk.answer("correct kit.tube.body.outside 9.70 mm", now()).expect("it can be corrected");
    assert!(said(&walk).starts_with("9.7\u{a0}mm"), "{}", said(&walk));
    let wrong = walk.answer("correct kit.tube.body.outsid 9.70 mm", now()).expect_err("there is no such number");
    assert_eq!(wrong.help.as_deref(), Some("did you mean `kit.tube.body.outside`?"));
    assert!(walk.answer("correct kit.tube.body.outside 9.70", now()).is_err(), "a length wants its unit");
}

const MARKED: &str = r#"
stepjig = 1
[guide]
id = "marked"
title = "Marked"
[kit]
length = "50 mm"
[[step]]
id = "measure"
gauge = "Measure the tube."
unit = "mm"
limits = {}
sets = "kit.length"
[[step]]
id = "mark"
do = "Mark the stick at {read.measure}."
gives = ["stick.marked"]
[[step]]
id = "cut"
do = "Cut at the mark."
needs = ["stick.marked"]
gives = ["piece.cut"]
[[step]]
id = "end"
end = "finished"
needs = ["piece.cut"]
"#;

#[test]
fn what_rested_on_a_corrected_number_is_undone() {
    let linked = Library::empty().link(&stepjig::finding::Source::new("marked.toml", MARKED));
    let guide = linked.guide.unwrap_or_else(|| panic!("{:?}", linked.findings.first()));
    let mut walk = Walk::begin(&guide, now());
    for line in ["51 mm", "done"] {
        walk.answer(line, now()).expect("it is what is wanted");
    }
    assert_eq!(&*guide.step(walk.state().here).id, "cut");
    walk.answer("correct kit.length 52 mm", now()).expect("it can be corrected");
    // 2 3/64 in × 25.4 = 51.990625 mm, by hand.
    assert_eq!(walk.scene(now()).title, "Mark the stick at 52\u{a0}mm (2\u{a0}3/64\u{a0}in + 0.009\u{a0}mm).");
}

/// A decimal comma is asked back where a person types and refused elsewhere: the library only says what was meant.
#[test]
fn a_decimal_comma_is_refused_with_what_was_meant() {
    let guide = guide();
    let mut walk = Walk::begin(&guide, now());
    to_the_first_reading(&mut walk);
    let refusal = walk.answer("9,92 mm", now()).expect_err("a comma is no point");
    assert_eq!(refusal.meant.as_deref(), Some("9.92 mm"));
}
