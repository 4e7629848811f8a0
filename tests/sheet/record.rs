//! The record of a job: what was done stays, what was taken back does not.

use std::sync::Arc;

use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use stepjig::guide::Guide;
use stepjig::reckon::Data;
use stepjig::sheet::{Sheet, Stamp, lay_out, text};
use stepjig::walk::trouble::TroubleEvent;
use stepjig::walk::{Event, Walk};

use super::steps::small;

/// Returns the events of a walk in which a line is typed every ten minutes.
pub fn walked(guide: &Guide, lines: &[&str]) -> Vec<Event> {
    let mut now: Timestamp = "2026-11-25T09:00:00Z".parse().expect("a time");
    let mut walk = Walk::begin(guide, now);
    let mut events = vec![Event::Begun { at: now, held: Vec::new() }];
    for line in lines {
        now += SignedDuration::from_mins(10);
        events.extend(walk.answer(line, now).unwrap_or_else(|refusal| panic!("{line}: {refusal}")));
    }
    events
}

pub fn sheet_of(guide: &Guide, events: &[Event]) -> Sheet {
    let (zone, data) = (TimeZone::UTC, Arc::new(Data::shipped()));
    let kept = lay_out::Kept { guide, events, tables: &[], zone: &zone, data: &data, damage: None };
    lay_out::record(kept, &Stamp { date: None, job: Some("pear-1".into()) })
}

/// Returns the record of a pen with a reading out of its limits, a refused hold and a note.
pub fn recorded() -> Sheet {
    let guide = small();
    let lines = ["5 mm", "10.3 mm", "done", "done", "note pear, third from the left", "yes", "no 2", "done"];
    sheet_of(&guide, &walked(&guide, &lines))
}

fn said(guide: &Guide, lines: &[&str]) -> String {
    text::render(&sheet_of(guide, &walked(guide, lines))).replace('\u{a0}', " ")
}

#[test]
fn a_reading_has_its_limits_and_one_out_of_them_says_so() {
    let shown = said(&small(), &["10.3 mm"]);
    let flat = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    let read = "25 Nov 09:10 step 1: Measure the outside of the tube. – 10.3 mm (good: 6 mm to 16 mm)";
    assert!(flat.contains(read), "{shown}");
    let shown = said(&small(), &["5 mm", "10.3 mm"]);
    let flat = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("5 mm (good: 6 mm to 16 mm), out of its limits"), "{shown}");
    assert!(flat.contains("25 Nov 09:20 step 1: Measure the outside of the tube. – 10.3 mm"), "{shown}");
}

#[test]
fn what_was_taken_back_is_not_shown_as_done() {
    let shown = said(&small(), &["10.3 mm", "done", "back"]);
    let (work, back) = shown.split_once("Taken back").expect("a section of what was taken back");
    let work = work.split("Readings").nth(1).expect("a section of readings");
    assert!(!work.contains("Rub the body tube dull"), "{shown}");
    assert!(back.contains("25 Nov 09:30 step 2: Rub the body tube dull. – done"), "{shown}");
    let again = said(&small(), &["10.3 mm", "done", "back", "done"]);
    let work = again.split("Taken back").next().expect("the work");
    assert_eq!(work.matches("Rub the body tube dull").count(), 1, "{again}");
    assert!(again.contains("25 Nov 09:40 step 2: Rub the body tube dull."), "the second time counts: {again}");
}

/// A hold that was refused is told with what was not true, and where the work was picked up; taken back, it is not.
#[test]
fn a_refused_hold_is_told_unless_it_was_a_slip() {
    let to_the_hold = ["10.3 mm", "done", "done", "yes"];
    let shown = said(&small(), &[&to_the_hold[..], &["no 2"]].concat());
    let holds = shown.split("Holds that were refused").nth(1).expect("a section");
    assert!(holds.contains("25 Nov 09:50 step 5: Push the tube home.\nNot true: body scuffed."), "{shown}");
    assert!(holds.contains("Picked up again at: Rub the body tube dull."), "{shown}");
    let slip = said(&small(), &[&to_the_hold[..], &["no 2", "back"]].concat());
    assert!(!slip.contains("Holds that were refused"), "{slip}");
}

#[test]
fn head_choices_notes_and_time_are_told() {
    let all =
        ["10.3 mm", "done", "done", "note pear, third from the left", "yes", "yes", "done", "ready", "done", "park"];
    let running = said(&small(), &all[..4]);
    assert!(
        running.contains("Running, begun on 25 Nov 2026 at 09:00, last touched on 25 Nov 2026 at 09:40."),
        "{running}"
    );
    assert!(running.contains("Still to come: about") && running.contains("Next: Is the bore clean?"), "{running}");
    assert!(running.contains("25 Nov 09:40 pear, third from the left"), "{running}");
    let finished = said(&small(), &all[..9]);
    assert!(finished.contains("Finished on 25 Nov 2026 at 10:30, begun on 25 Nov 2026 at 09:00."), "{finished}");
    assert!(finished.contains("Is the bore clean? – “yes”"), "{finished}");
    assert!(finished.contains("By the guide: 0 s of work, 1 h of waiting."), "{finished}");
    assert!(finished.contains("By the clock: 1 h 30 min from the first mark to the last."), "{finished}");
}

fn in_trouble(guide: &Guide, what: &[TroubleEvent], back: usize) -> String {
    let mut events = walked(guide, &["10.3 mm", "done", "done", "yes"]);
    let at: Timestamp = "2026-11-25T12:00:00Z".parse().expect("a time");
    events.extend(what.iter().map(|what| what.clone().at(at)));
    let taken_back = Event::Back { to: "push".into(), held: None, still: Vec::new(), at };
    events.extend(std::iter::repeat_n(taken_back, back));
    text::render(&sheet_of(guide, &events)).replace('\u{a0}', " ")
}

#[test]
fn trouble_is_told_with_what_was_found_done_undone_and_where_it_went_on() {
    let guide = small();
    let opened = TroubleEvent::Opened { table: "stop".into(), with: Vec::new(), title: "The tube stopped".into() };
    let begun = TroubleEvent::RemedyBegun {
        remedy: "drill-out".into(),
        undone: vec!["body.scuffed".into()],
        borrowed: vec![("body tube".into(), "the kit in the drawer".into())],
    };
    let ended = TroubleEvent::RemedyEnded {
        remedy: "drill-out".into(),
        outcome: "fixed".into(),
        removed: Vec::new(),
        given: Vec::new(),
    };
    let shown = in_trouble(&guide, &[opened.clone(), begun.clone(), ended.clone()], 0);
    let (_, wrong) = shown.split_once("What went wrong").expect("a section");
    for told in [
        "25 Nov 12:00 The tube stopped, at: Push the tube home.",
        "drill out: it is put right",
        "Undone by it: body scuffed; the body is drilled.",
        "Picked up again at: Rub the body tube dull.",
        "still owed: body tube, to the kit in the drawer",
    ] {
        assert!(wrong.contains(told), "{told}: {shown}");
    }
    let slip = in_trouble(&guide, &[opened.clone(), begun], 1);
    assert!(slip.contains("The tube stopped") && !slip.contains("begun: drill out"), "{slip}");
    let closed = in_trouble(&guide, &[opened], 1);
    assert!(!closed.contains("What went wrong"), "the table itself was a slip: {closed}");
}
