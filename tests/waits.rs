//! Waits: begun and due written down, kept over a restart, honest when the clock moves.

use jiff::{SignedDuration, Timestamp};
use stepjig::finding::Source;
use stepjig::guide::{Guide, Library};
use stepjig::walk::{Answer, Event, Phase, Walk};

const GUIDE: &str = r#"
stepjig = 1
[guide]
id = "waits"
title = "Waits"
passing = ["bore.wiped"]
[words]
"body.glued" = "the body tube is glued and hard"
"body.pushed" = "the body tube is home"
"cap.drilled" = "the cap is drilled"
"bore.wiped" = "the bore is wiped just now"
"pen.joined" = "cap and body are together"
"coat.dry" = "the coat is dry"
[[step]]
id = "push"
do = "Push the body tube home."
gives = ["body.pushed"]
[[step]]
id = "cure"
wait = "12 h"
for = "the glue to harden"
ready = "a drop on scrap rings when tapped"
meanwhile = true
needs = ["body.pushed"]
gives = ["body.glued"]
[[step]]
id = "drill-cap"
do = "Drill the cap."
gives = ["cap.drilled"]
[[step]]
id = "wipe"
do = "Wipe the bore."
gives = ["bore.wiped"]
[[step]]
id = "join"
do = "Join cap and body."
needs = ["body.glued", "cap.drilled", "bore.wiped"]
gives = ["pen.joined"]
one-way = true
if-wrong = "Stop."
[[step]]
id = "coat"
wait = "20 min"
for = "the coat to dry"
ready = "a finger leaves no mark"
up-to = "2 h"
not-ready = "end-scrap"
needs = ["pen.joined"]
gives = ["coat.dry"]
[[step]]
id = "end"
end = "finished"
needs = ["coat.dry"]
[[step]]
id = "end-scrap"
end = "scrap"
"#;

fn guide() -> Guide {
    let checked = stepjig::check::check_file(&Library::empty(), &Source::new("waits.toml", GUIDE));
    assert!(checked.is_sound(), "{:?}", checked.findings.first());
    checked.guide.expect("it is sound")
}

fn at(time: &str) -> Timestamp {
    time.parse().expect("a time")
}

fn here(walk: &Walk<'_>) -> String {
    walk.guide().step(walk.state().here).id.to_string()
}

/// Types lines one after another at one time.
fn type_all(walk: &mut Walk<'_>, lines: &[&str], now: Timestamp) {
    for line in lines {
        walk.answer(line, now).unwrap_or_else(|refusal| panic!("{line}: {refusal}"));
    }
}

#[test]
fn the_cap_is_drilled_while_the_body_cures_and_the_step_that_needs_it_waits() {
    let guide = guide();
    let evening = at("2026-11-25T20:00:00Z");
    let mut walk = Walk::begin(&guide, evening);
    type_all(&mut walk, &["done", "done", "done", "done"], evening);
    assert_eq!(here(&walk), "join");
    assert!(matches!(walk.state().phase, Phase::Waiting(_)));
    let told = walk.scene(evening).wait.join("\n");
    assert!(told.contains("Begun Wed 20:00, due Thu 08:00.") && told.contains("12\u{a0}h to go."), "{told}");
    // What comes and goes went with the wait: the bore is wiped again before the step.
    type_all(&mut walk, &["ready"], at("2026-11-26T08:30:00Z"));
    assert_eq!(here(&walk), "wipe");
    type_all(&mut walk, &["done"], at("2026-11-26T08:31:00Z"));
    assert_eq!((here(&walk).as_str(), walk.state().phase.clone()), ("join", Phase::Hold));
}

#[test]
fn not_ready_undoes_what_the_wait_gives_and_the_cap_stays_drilled() {
    let guide = guide();
    let now = at("2026-11-25T20:00:00Z");
    let mut walk = Walk::begin(&guide, now);
    type_all(&mut walk, &["done", "done", "done", "done", "not ready"], now);
    assert_eq!(here(&walk), "cure");
    type_all(&mut walk, &["done"], now);
    let passed: Vec<&str> = walk.state().passed_over.iter().map(|step| &*guide.step(*step).id).collect();
    assert_eq!((here(&walk).as_str(), passed), ("wipe", vec!["drill-cap"]));
}

#[test]
fn a_wait_goes_on_over_a_restart() {
    let guide = guide();
    let evening = at("2026-11-25T20:00:00Z");
    let mut walk = Walk::begin(&guide, evening);
    let mut events = vec![Event::Begun { at: evening, held: Vec::new() }];
    for line in ["done", "done", "park"] {
        events.extend(walk.answer(line, evening).expect("it is what is wanted"));
    }
    let text: Vec<String> = events.iter().map(|event| serde_json::to_string(event).expect("JSON")).collect();
    let events: Vec<Event> = text.iter().map(|line| serde_json::from_str(line).expect("an event")).collect();
    let mut again = Walk::from_events(&guide, &events);
    again.take(&Event::Resumed { at: at("2026-11-26T07:00:00Z") });
    assert_eq!(again.state().pending[0].due, at("2026-11-26T08:00:00Z"));
}

/// Clocks are set back by hand, by a day, or by the end of summer time; none makes a wait shorter.
#[test]
fn a_clock_moved_back_makes_no_wait_shorter_and_is_said() {
    let guide = guide();
    let start = at("2026-11-25T20:00:00Z");
    for back in ["2026-11-25T19:00:00Z", "2026-11-24T20:00:00Z", "1970-01-02T00:00:00Z"] {
        let mut walk = Walk::begin(&guide, start);
        type_all(&mut walk, &["done", "done"], start);
        let now = at(back);
        walk.take(&Event::Note { text: "x".into(), at: now });
        let left = walk.state().pending[0].due.duration_since(now);
        assert_eq!(left, SignedDuration::from_hours(12), "{back}");
        type_all(&mut walk, &["done", "done"], now);
        assert_eq!(walk.state().pending[0].due.duration_since(now), SignedDuration::from_hours(12));
    }
    let mut walk = Walk::begin(&guide, start);
    type_all(&mut walk, &["done", "done", "done", "done"], start);
    walk.take(&Event::Note { text: "x".into(), at: at("2026-11-25T19:30:00Z") });
    let told = walk.scene(at("2026-11-25T19:30:00Z")).wait.join("\n");
    assert!(told.contains("The clock was moved back by 30\u{a0}min"), "{told}");
}

/// The two nights on which summer time begins and ends in central Europe, 2026: a wait is as long as it says.
#[test]
fn a_wait_is_as_long_on_the_nights_that_the_clocks_change() {
    let guide = guide();
    let zone = jiff::tz::TimeZone::posix("CET-1CEST,M3.5.0,M10.5.0/3").expect("a zone");
    for (start, said) in [
        ("2026-03-28T22:00:00Z", "Begun Sat 23:00, due Sun 12:00."),
        ("2026-10-24T22:00:00Z", "Begun Sun 00:00, due Sun 11:00."),
    ] {
        let now = at(start);
        let mut walk = Walk::begin(&guide, now).in_zone(zone.clone());
        type_all(&mut walk, &["done", "done", "done", "done"], now);
        assert_eq!(walk.scene(now).wait[0], said);
    }
}

#[test]
fn ten_years_later_the_sign_is_asked_for_all_the_same() {
    let guide = guide();
    let now = at("2026-11-25T20:00:00Z");
    let mut walk = Walk::begin(&guide, now);
    type_all(&mut walk, &["done", "done", "done", "done"], now);
    let later = at("2036-11-25T20:00:00Z");
    assert!(matches!(walk.state().phase, Phase::Waiting(_)));
    assert!(walk.answer("", later).is_err(), "Enter does not say that a wait is over");
    assert!(walk.scene(later).wait[1].starts_with("Due since"));
}

#[test]
fn not_ready_waits_on_until_the_longest_wait_has_passed() {
    let guide = guide();
    let mut now = at("2026-11-26T09:00:00Z");
    let mut walk = Walk::begin(&guide, now);
    type_all(&mut walk, &["done", "done", "done", "done", "ready", "done", "yes", "done"], now);
    assert_eq!(here(&walk), "coat");
    now += SignedDuration::from_mins(30);
    let told = walk.read("not ready", now).expect("it can be said");
    assert!(matches!(&told, Answer::Tell(told) if told[0].contains("1\u{a0}h 30\u{a0}min")), "{told:?}");
    now += SignedDuration::from_mins(90);
    type_all(&mut walk, &["not ready"], now);
    assert_eq!(here(&walk), "end-scrap");
}

#[test]
fn done_some_minutes_ago_begins_the_next_wait_then_and_never_before_the_last_mark() {
    let guide = guide();
    let start = at("2026-11-25T20:00:00Z");
    let mut walk = Walk::begin(&guide, start);
    let now = start + SignedDuration::from_mins(25);
    type_all(&mut walk, &["done"], now);
    let refused = walk.answer("done 30 min ago", now + SignedDuration::from_mins(10)).expect_err("it is too early");
    assert!(refused.to_string().contains("before the last mark"), "{refused}");
    walk.answer("done 10 min ago", now + SignedDuration::from_mins(10)).expect("it is not");
    assert_eq!(walk.state().pending[0].start, now);
}
