//! Slips of typing and of the caliper: what is taken back, what is refused, what is kept.

use jiff::Timestamp;
use stepjig::finding::Source;
use stepjig::guide::document::KitValue;
use stepjig::guide::{Guide, Library};
use stepjig::walk::{Answer, Event, Phase, Walk};

/// A mask goes on, two looks follow, then a cut that needs both and the mask.
const GUIDE: &str = r#"
stepjig = 1
[guide]
id = "slips"
title = "Slips"
use-when = "Testing."
not-when = "Turning."
passing = ["mask.on"]
[words]
"mask.on" = "the mask is on"
"face.chosen" = "the face is chosen"
"rim.seen" = "the rim is looked at"
"piece.cut" = "the piece is cut"
[kit]
outside = "10.30 mm"
starts = 3
[[step]]
id = "measure"
gauge = "Measure the tube."
unit = "mm"
limits = { min = 7, max = 13 }
sets = "kit.outside"
under = "measure"
over = "measure"
[[step]]
id = "mask"
do = "Put the mask on."
needs = ["read.measure"]
gives = ["mask.on"]
[[step]]
id = "face"
ask = "Which face is seen?"
gives = ["face.chosen"]
answers = [{ say = "the straight grain" }, { say = "the knot" }]
[[step]]
id = "rim"
ask = "What does the rim show?"
gives = ["rim.seen"]
answers = [{ say = "it is clean" }, { say = "it is split", to = "lost" }]
[[step]]
id = "cut"
do = "Cut the piece."
needs = ["mask.on", "face.chosen", "rim.seen"]
gives = ["piece.cut"]
one-way = true
if-wrong = "Stop the saw."
[[step]]
id = "end"
end = "finished"
needs = ["piece.cut"]
[[step]]
id = "lost"
end = "scrap"
"#;

fn guide() -> Guide {
    let checked = stepjig::check::check_file(&Library::empty(), &Source::new("slips.toml", GUIDE));
    assert!(checked.is_sound(), "{:?}", checked.findings.first());
    checked.guide.expect("it is sound")
}

fn now() -> Timestamp {
    Timestamp::UNIX_EPOCH
}

fn walked<'g>(guide: &'g Guide, lines: &[&str]) -> Walk<'g> {
    let mut walk = Walk::begin(guide, now());
    for line in lines {
        walk.answer(line, now()).unwrap_or_else(|refusal| panic!("{line}: {refusal}"));
    }
    walk
}

fn here(walk: &Walk<'_>) -> String {
    walk.guide().step(walk.state().here).id.to_string()
}

#[test]
fn an_answer_that_ends_the_pen_is_taken_back() {
    let guide = guide();
    let mut walk = walked(&guide, &["10.3", "done", "1", "it is split"]);
    assert_eq!(walk.state().phase, Phase::Ended);
    walk.answer("back", now()).expect("it is a slip");
    assert_ne!(walk.state().phase, Phase::Ended);
}

/// Going back drops what comes and goes, so that the mask is put on again, and all after it looked at again, unless the
/// person says that it has stayed on.
#[test]
fn what_has_stayed_so_need_not_be_done_again_when_going_back() {
    let guide = guide();
    let lines = ["10.3", "done", "1", "1"];
    let mut without = walked(&guide, &lines);
    without.answer("back", now()).expect("there is a step before");
    assert_eq!(here(&without), "mask");

    let mut with = walked(&guide, &lines);
    let Ok(Answer::Event(back)) = with.read("back", now()) else { panic!("it is an event") };
    let asked: Vec<&str> = with.still_asked(&back).into_iter().map(|condition| guide.name(condition)).collect();
    assert_eq!(asked, ["mask.on"]);
    let Event::Back { to, held, at, .. } = back else { panic!("it goes back") };
    let still = vec!["mask.on".to_owned(), "piece.cut".to_owned()];
    with.take(&Event::Back { to, held, still, at });
    assert_eq!(here(&with), "rim");
    let cut = guide.condition("piece.cut").expect("it is known");
    assert!(!with.state().held.contains(cut), "nobody can say what was never so");
    assert!(!with.state().held.contains(guide.condition("rim.seen").expect("it is known")));
}

#[test]
fn a_slip_at_a_hold_is_taken_back_whole_where_the_mask_has_stayed_on() {
    let guide = guide();
    let mut walk = walked(&guide, &["10.3", "done", "1", "1", "no 2"]);
    let Ok(Answer::Event(back)) = walk.read("back", now()) else { panic!("it is an event") };
    assert_eq!(walk.still_asked(&back).len(), 1);
    let Event::Back { to, held, at, .. } = back else { panic!("it goes back") };
    walk.take(&Event::Back { to, held, still: vec!["mask.on".to_owned()], at });
    assert_eq!((here(&walk).as_str(), &walk.state().phase), ("cut", &Phase::Hold));
}

#[test]
fn several_needs_are_denied_at_once() {
    let guide = guide();
    let mut walk = walked(&guide, &["10.3", "done", "1", "1"]);
    assert_eq!(walk.state().phase, Phase::Hold);
    walk.answer("no 2 3", now()).expect("both are needs");
    let held = |name: &str| walk.state().held.contains(guide.condition(name).expect("it is known"));
    assert!(!held("face.chosen") && !held("rim.seen"));
    assert!(walked(&guide, &["10.3", "done", "1", "1"]).read("no 2 9", now()).is_err());
}

#[test]
fn a_refused_reading_is_no_kit_number() {
    let guide = guide();
    let walk = walked(&guide, &["54 mm"]);
    assert_eq!(here(&walk), "measure");
    assert!(walk.state().numbers.is_empty(), "{:?}", walk.state().numbers);
    let walk = walked(&guide, &["54 mm", "10.2"]);
    assert_eq!(walk.state().numbers["kit.outside"], "10.2 mm");
}

#[test]
fn a_correction_keeps_to_the_limits_and_is_said() {
    let guide = guide();
    let mut walk = walked(&guide, &["10.3"]);
    for slip in ["correct kit.outside 400 mm", "correct kit.starts four", "correct kit.outside 4"] {
        assert!(walk.read(slip, now()).is_err(), "{slip}");
    }
    walk.answer("correct kit.outside 10.4 mm", now()).expect("it is within the limits");
    let remark = walk.scene(now()).remark.expect("it is said");
    assert_eq!(remark.replace('\u{a0}', " "), "kit.outside is 10.4 mm (13/32 in + 0.081 mm) now.");
}

#[test]
fn the_second_pen_of_a_kit_is_not_measured_from_nothing() {
    let mut guide = guide();
    assert_eq!(Walk::begin(&guide, now()).scene(now()).known, None, "the guide's own numbers are invented");
    assert!(Walk::begin(&guide, now()).read("same", now()).is_err());
    assert!(guide.set_number("kit.outside", KitValue::Text("10.25 mm".to_owned())));
    // As it is kept with the job.
    let kept = stepjig::guide::write::linked(&guide);
    let guide = Library::empty().link(&Source::new("guide.toml", kept)).guide.expect("it links");
    let known = Walk::begin(&guide, now()).scene(now()).known.expect("the kit file says it");
    assert!(known.contains("10.25"), "{known}");
    let same = walked(&guide, &["same"]);
    assert_eq!((here(&same).as_str(), same.state().numbers["kit.outside"].as_str()), ("mask", "10.25 mm"));
    assert_eq!(same.scene(now()).remark, None);
    let other = walked(&guide, &["10.31"]);
    let remark = other.scene(now()).remark.expect("it is said");
    assert!(remark.contains("10.25") && remark.contains("10.31"), "{remark}");
}

#[test]
fn a_wait_may_have_been_over_for_some_time() {
    let text = r#"
stepjig = 1
[guide]
id = "w"
title = "W"
[[step]]
id = "cure"
wait = "20 min"
ready = "A drop on scrap is hard."
gives = ["glue.hard"]
[[step]]
id = "end"
end = "finished"
needs = ["glue.hard"]
"#;
    let guide = Library::empty().link(&Source::new("w.toml", text)).guide.expect("it links");
    let mut walk = Walk::begin(&guide, now());
    let later = now() + jiff::SignedDuration::from_hours(1);
    let events = walk.answer("ready 10 min ago", later).expect("it is a time");
    assert_eq!(events[0].at(), later - jiff::SignedDuration::from_mins(10));
    assert_eq!(walk.state().phase, Phase::Ended);
}
