//! Reckonings in a walk: worked out from what the kit and the gauges say, asked for what is missing, put right by name,
//! and remembered for the job.

use jiff::Timestamp;
use stepjig::finding::Source;
use stepjig::guide::{Guide, Library};
use stepjig::walk::{Answer, Event, Walk, Wanted};

const GUIDE: &str = r#"
stepjig = 1
[guide]
id = "sums"
title = "Sums"
use-when = "Testing."
not-when = "Turning."
[words]
"wall.known" = "the wall is known"
"gap.known" = "the gap is known"
[kit.tube.body]
drill = "10.5 mm"
[[step]]
id = "bushing"
gauge = "Measure the bushing."
unit = "mm"
limits = {}
[[step]]
id = "wall"
reckon = "wall"
from = { hole = "kit.tube.body.drill", bushing = "read.bushing" }
verdicts = { none = "scrap", eggshell = "wider" }
gives = ["wall.known"]
[[step]]
id = "gap"
reckon = "tube-gap"
from = { hole = "kit.tube.body.drill", length = "52 mm" }
needs = ["wall.known"]
gives = ["gap.known"]
[[step]]
id = "end"
end = "finished"
needs = ["gap.known"]
[[step]]
id = "wider"
do = "Take a wider bushing."
then = "bushing"
[[step]]
id = "scrap"
end = "scrap"
"#;

fn guide() -> Guide {
    let linked = Library::empty().link(&Source::new("sums.toml", GUIDE));
    linked.guide.unwrap_or_else(|| panic!("{:?}", linked.findings))
}

fn now() -> Timestamp {
    "2026-11-25T08:00:00Z".parse().expect("a time")
}

/// Types lines, each of which must be taken; returns the events.
fn typed(walk: &mut Walk<'_>, lines: &[&str]) -> Vec<Event> {
    let answer = |line: &&str| walk.answer(line, now()).unwrap_or_else(|refusal| panic!("{line}: {refusal}"));
    lines.iter().flat_map(answer).collect()
}

fn shown(walk: &Walk<'_>) -> String {
    walk.scene(now()).sum.join("\n").replace('\u{a0}', " ")
}

/// (13.1 − 10.5) / 2 = 1.3 mm, of which the bushing was read and the hole is the kit's.
#[test]
fn what_the_kit_and_the_gauges_say_is_not_asked_for() {
    let guide = guide();
    let mut walk = Walk::begin(&guide, now());
    typed(&mut walk, &["13.1 mm"]);
    assert_eq!(walk.scene(now()).title, "Work out how much wood is left at the bushing.");
    assert!(shown(&walk).contains("(13.1 mm − 10.5 mm) / 2 = 1.3 mm"), "{}", shown(&walk));
    let left = typed(&mut walk, &["done"]);
    assert!(matches!(&left[..], [Event::Left { by: stepjig::walk::Leave::Verdict(word), .. }] if word == "sound"));
    assert_eq!(walk.scene(now()).id, "gap");
}

#[test]
fn the_verdict_takes_its_way() {
    let guide = guide();
    for (bushing, leads_to) in [("10.4 mm", "scrap"), ("11.2 mm", "wider"), ("12 mm", "gap"), ("14 mm", "gap")] {
        let mut walk = Walk::begin(&guide, now());
        typed(&mut walk, &[bushing, "done"]);
        assert_eq!(walk.scene(now()).id, leads_to, "{bushing}: {}", shown(&walk));
    }
}

#[test]
fn what_is_missing_is_asked_for_by_its_meaning_and_remembered() {
    let guide = guide();
    let mut walk = Walk::begin(&guide, now());
    let mut events = vec![Event::Begun { at: now(), held: Vec::new() }];
    events.extend(typed(&mut walk, &["13.1 mm", "done"]));
    let wanted = |walk: &Walk<'_>| match walk.scene(now()).wanted {
        Wanted::Value { name, .. } => name,
        other => panic!("{other:?}"),
    };
    assert_eq!(wanted(&walk), "tube");
    assert!(shown(&walk).contains("Wanted: the outside of the tube"), "{}", shown(&walk));
    // A bare number could be either, a comma is asked back, an empty line says what is wanted, a command is a command.
    let refused = |walk: &Walk<'_>, line: &str| walk.read(line, now()).expect_err("it is no value");
    assert!(refused(&walk, "10.3").to_string().contains("10.3 mm or 10.3 in"));
    assert_eq!(refused(&walk, "10,3 mm").meant.as_deref(), Some("10.3 mm"));
    assert!(refused(&walk, "").to_string().contains("the outside of the tube"));
    let mixed_up = refused(&walk, "10.3 in").to_string().replace('\u{a0}', " ");
    assert!(mixed_up.contains("10.3 mm"), "{mixed_up}");
    assert!(matches!(walk.read("why", now()), Ok(Answer::Tell(_))));
    events.extend(typed(&mut walk, &["10.3 mm"]));
    // (10.5 − 10.3) / 2
    assert!(shown(&walk).contains("gap 0.1 mm"), "{}", shown(&walk));
    // What it was given is told in words, not by the keys that guides write.
    let with = "With the hole: 10.5 mm; the tube's length: 52 mm; the outside of the tube: 10.3 mm.";
    assert!(shown(&walk).contains(with), "{}", shown(&walk));
    // Taken back and come to again, it is not asked for again; put right by its name, it is worked out anew.
    events.extend(typed(&mut walk, &["back", "done"]));
    assert!(shown(&walk).contains("gap 0.1 mm"), "{}", shown(&walk));
    events.extend(typed(&mut walk, &["tube=10.4 mm hole=10.6 mm"]));
    assert!(shown(&walk).contains("gap 0.1 mm") && shown(&walk).contains("10.6 mm"), "{}", shown(&walk));
    assert_eq!(*Walk::from_events(&guide, &events).state(), *walk.state(), "replay differs from live");
    typed(&mut walk, &["done"]);
    assert_eq!(walk.state().phase, stepjig::walk::Phase::Ended);
}

/// What was typed at a sum went with the reading of then: it does not stand over the one that is taken now.
#[test]
fn a_reading_taken_again_does_away_with_what_was_typed_at_its_sum() {
    let guide = guide();
    let mut walk = Walk::begin(&guide, now());
    let mut events = vec![Event::Begun { at: now(), held: Vec::new() }];
    events.extend(typed(&mut walk, &["11.2 mm", "hole=10.6 mm"]));
    assert!(shown(&walk).contains("(11.2 mm − 10.6 mm) / 2 = 0.3 mm"), "{}", shown(&walk));
    events.extend(typed(&mut walk, &["done", "done", "13.1 mm"]));
    assert!(shown(&walk).contains("(13.1 mm − 10.5 mm) / 2 = 1.3 mm"), "{}", shown(&walk));
    assert_eq!(*Walk::from_events(&guide, &events).state(), *walk.state(), "replay differs from live");
}

#[test]
fn a_sum_that_cannot_be_had_is_passed_with_a_word() {
    let guide = guide();
    let mut walk = Walk::begin(&guide, now());
    typed(&mut walk, &["13.1 mm", "done", "done"]);
    assert_eq!(walk.state().phase, stepjig::walk::Phase::Ended, "the person went on without the sum");
}

#[test]
fn any_reckoning_is_called_by_its_name() {
    let guide = guide();
    let mut walk = Walk::begin(&guide, now());
    assert!(matches!(walk.read("reckon", now()), Ok(Answer::Tell(told)) if told.len() == 12));
    assert!(matches!(walk.read("reckon wall", now()), Ok(Answer::Reckon(name)) if name == "wall"));
    assert!(walk.reckon("wall").is_some_and(|called| called.wants));
    for (line, wrong) in [
        ("reckon wal", "did you mean `wall`"),
        ("reckon wall bushin=13 mm", "did you mean `bushing`"),
        ("reckon wall hole=", "`hole`"),
        ("reckon wall 900 mm", "3 mm to 60 mm"),
        ("reckon wall x", "`x`"),
    ] {
        let refusal = walk.read(line, now()).map(|answer| format!("{answer:?}")).expect_err(line).to_string();
        assert!(refusal.contains(wrong), "{line}: {refusal}");
    }
    typed(&mut walk, &["reckon wall 13 mm", "reckon wall hole=25/64 in"]);
    let called = walk.reckon("wall").expect("it is there");
    assert!(!called.wants && called.told.iter().any(|line| line.contains("sound")), "{:?}", called.told);
    // (13 − 9.921875) / 2
    assert!(called.told.join(" ").contains("1.539"), "{:?}", called.told);
    let read = walk.read("reckon wall 3 mm", now());
    assert!(read.expect_err("it wants nothing").to_string().contains("it wants nothing more"));
}

/// The threads let go at 9 o'clock: three more quarters of a turn were taken back, so the stop is a quarter on.
#[test]
fn a_clock_face_comes_with_the_sums_that_have_one() {
    let guide = guide();
    let mut walk = Walk::begin(&guide, now());
    typed(&mut walk, &["reckon thread-stop let-go=9 o'clock pitch=1 mm starts=3"]);
    let called = walk.reckon("thread-stop").expect("it is there");
    let marks: Vec<&str> = called.face.iter().map(|(mark, _)| mark.as_str()).collect();
    assert!(marks.contains(&"nib") && marks.contains(&"clip"), "{marks:?}");
    assert!(called.told.join(" ").replace('\u{a0}', " ").contains("stop angle 90°"), "{:?}", called.told);
}

/// A bare number is in the shop's unit where one is set, and is kept with it.
#[test]
fn a_bare_number_is_in_the_shops_unit() {
    let guide = guide();
    let mut walk = Walk::begin(&guide, now()).in_unit(Some(stepjig::units::LengthUnit::Inch));
    let events = typed(&mut walk, &["reckon wall .5", "reckon wall hole=.25"]);
    assert!(matches!(&events[0], Event::Given { values, .. } if values[0].1.ends_with(" in")), "{events:?}");
    let told = walk.reckon("wall").expect("it is there").told.join(" ").replace('\u{a0}', " ");
    assert!(told.contains("1/8 in") || told.contains("3.175 mm"), "{told}");
}

/// A shop that calls a wall of 1.4 mm thin is told so at the step.
#[test]
fn a_shops_own_figures_count() {
    use stepjig::reckon::{Data, DataFile};

    let guide = guide();
    let own = Data::shipped().with(DataFile::Practice, &Source::new("practice.toml", "[wall]\nthin = \"1.4 mm\"\n"));
    let mut walk = Walk::begin(&guide, now()).with_data(std::sync::Arc::new(own));
    typed(&mut walk, &["13.1 mm"]);
    assert!(shown(&walk).starts_with("thin:"), "{}", shown(&walk));
}
