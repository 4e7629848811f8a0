//! Whole walks: the shipped guide from the first step to a finished pen.

mod typing;

use jiff::{SignedDuration, Timestamp};
use stepjig::guide::{Guide, Library};
use stepjig::walk::{Event, Phase, Walk};
use typing::all_well;

fn shipped(id: &str) -> Guide {
    Library::shipped().link_id(id).and_then(|linked| linked.guide).expect("shipped guides link")
}

fn walk_to_the_end(guide: &Guide) -> (Vec<Event>, usize) {
    let mut now: Timestamp = "2026-11-25T08:00:00Z".parse().expect("a time");
    let mut walk = Walk::begin(guide, now);
    let mut events = vec![Event::Begun { at: now, held: Vec::new() }];
    let mut typed = 0;
    while walk.state().phase != Phase::Ended {
        let scene = walk.scene(now);
        let line = all_well(&scene);
        let taken = walk.answer(&line, now).unwrap_or_else(|refusal| panic!("{}: {line}: {refusal}", scene.id));
        assert!(!taken.is_empty(), "{}: {line} changes nothing", scene.id);
        events.extend(taken);
        now += SignedDuration::from_mins(3);
        typed += 1;
        assert!(typed < 2_000, "the walk does not end; at {}", scene.id);
    }
    (events, typed)
}

#[test]
fn when_all_goes_well_the_shipped_guide_ends_with_a_finished_pen() {
    let guide = shipped("two-tube-fountain");
    let (events, _) = walk_to_the_end(&guide);
    let walk = Walk::from_events(&guide, &events);
    let last = guide.step(walk.state().here);
    assert_eq!(last.kind, stepjig::guide::Kind::End(stepjig::guide::EndKind::Finished), "{}", last.id);
    assert!(walk.state().pending.is_empty(), "a wait was never looked at");
}

#[test]
fn replay_equals_live_after_every_event() {
    let guide = shipped("two-tube-fountain");
    let (events, _) = walk_to_the_end(&guide);
    let mut live = Walk::from_events(&guide, &events[..1]);
    for n in 1..events.len() {
        live.take(&events[n]);
        if n % 20 == 0 {
            assert_eq!(*live.state(), *Walk::from_events(&guide, &events[..=n]).state(), "after event {n}");
        }
    }
}

#[test]
fn a_step_is_never_shown_with_an_unmet_need() {
    let guide = shipped("two-tube-fountain");
    let (events, _) = walk_to_the_end(&guide);
    let mut walk = Walk::from_events(&guide, &events[..1]);
    for event in &events[1..] {
        walk.take(event);
        let state = walk.state();
        let step = guide.step(state.here);
        for need in &step.needs {
            assert!(state.held.contains(need.condition), "{} without {}", step.id, guide.name(need.condition));
        }
    }
}
