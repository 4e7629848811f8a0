//! The shipped kit styles: each is walked to a finished pen, and what cannot be taken back in it is held back.

mod home;
mod typing;

use std::collections::{BTreeMap, BTreeSet};

use home::Home;
use jiff::{SignedDuration, Timestamp};
use stepjig::guide::{EndKind, Guide, Kind, Library};
use stepjig::walk::{Phase, Walk};
use typing::all_well;

fn shipped(id: &str) -> Guide {
    Library::shipped().link_id(id).and_then(|linked| linked.guide).unwrap_or_else(|| panic!("{id} does not link"))
}

fn ids() -> Vec<String> {
    Library::shipped().guide_ids().map(str::to_owned).collect()
}

/// Plays a walk until it ends or comes to trouble; returns each step's id with what was typed there.
///
/// A reading is the given one, one after another; else the kit's own number where the guide has it; else what is typed
/// when all goes well.
fn play(guide: &Guide, readings: &[(&str, &str)]) -> (Vec<(String, String)>, Option<String>) {
    let mut now: Timestamp = "2026-11-25T08:00:00Z".parse().expect("a time");
    let mut walk = Walk::begin(guide, now);
    let (mut left, mut met) = (readings.to_vec(), Vec::new());
    while walk.state().phase != Phase::Ended {
        let scene = walk.scene(now);
        let step = guide.step(walk.state().here);
        for need in &step.needs {
            assert!(walk.state().held.contains(need.condition), "{} without {}", step.id, guide.name(need.condition));
        }
        let own = left.iter().position(|(id, _)| *id == scene.id).map(|at| left.remove(at).1.to_owned());
        let of_kit = match &step.kind {
            Kind::Gauge { sets: Some(path), .. } => guide.kit().get(path).map(|value| value.written()),
            _ => None,
        };
        let typed = own.or(of_kit).unwrap_or_else(|| all_well(&scene));
        walk.answer(&typed, now).unwrap_or_else(|refusal| panic!("{}: {typed}: {refusal}", scene.id));
        met.push((scene.id.clone(), typed));
        now += SignedDuration::from_mins(3);
        assert!(met.len() < 2_000, "the walk of {} does not end; at {}", guide.id(), scene.id);
    }
    assert!(left.is_empty(), "the walk does not come to {left:?}");
    let finished = guide.step(walk.state().here).kind == Kind::End(EndKind::Finished);
    (met, finished.then(|| guide.title().to_owned()))
}

#[test]
fn every_style_is_walked_to_a_finished_pen_by_the_library_and_by_a_script() {
    let home = Home::new("styles");
    for id in ids() {
        let guide = shipped(&id);
        let (met, finished) = play(&guide, &[]);
        let title = finished.unwrap_or_else(|| panic!("{id} ends otherwise"));
        let lines: Vec<&str> = met.iter().map(|(_, typed)| typed.as_str()).collect();
        let walk = home.run(&["walk", &id, "--job", &id], &(lines.join("\n") + "\n"));
        let said = String::from_utf8_lossy(&walk.stdout);
        let end = &said[said.floor_char_boundary(said.len().saturating_sub(600))..];
        assert_eq!(walk.status.code(), Some(0), "{id}: {end}");
        assert!(said.contains(&format!("{title}: finished")), "{id}: {end}");
    }
}

/// The way out, before there is a need for one: common practice, no source.
#[test]
fn nothing_is_pressed_into_a_pen_before_its_way_out_is_known_and_the_jaws_are_padded() {
    for id in ids() {
        let guide = shipped(&id);
        let presses: Vec<_> =
            guide.steps().filter(|(_, step)| step.one_way && step.at.as_deref() == Some("press")).collect();
        assert!(presses.len() >= 2, "{id} presses {}", presses.len());
        for (_, step) in presses {
            let needs: Vec<&str> = step.needs.iter().map(|need| guide.name(need.condition)).collect();
            assert!(needs.contains(&"press.padded"), "{id}: {} {needs:?}", step.id);
            assert!(needs.contains(&"ways-out.known") || step.id.ends_with("press-on"), "{id}: {} {needs:?}", step.id);
            assert!(!step.trouble.is_empty(), "{id}: {} names no fault table", step.id);
        }
    }
}

/// A mechanism pressed too deep is not brought back by pressing: common practice, no source.
#[test]
fn a_mechanism_is_pressed_on_by_tenths_while_the_tip_shows_too_little_and_never_when_it_shows_too_much() {
    for id in ["twist-two-tube", "twist-one-tube", "click-one-tube"] {
        let guide = shipped(id);
        let (met, finished) = play(
            &guide,
            &[
                ("press-mechanism/shows", "1.2 mm"),
                ("press-mechanism/shows", "1.7 mm"),
                ("press-mechanism/shows", "2.2 mm"),
            ],
        );
        assert!(finished.is_some(), "{id}");
        let times = |step: &str| met.iter().filter(|(at, _)| *at == format!("press-mechanism/{step}")).count();
        assert!(times("press-on") >= 2 && times("shows") == 3, "{id}: {} {}", times("press-on"), times("shows"));

        let over = &[("press-mechanism/shows", "3.4 mm"), ("press-mechanism/shows-now", "2.4 mm")];
        let (met, finished) = play(&guide, over);
        assert!(finished.is_some() && met.iter().all(|(at, _)| !at.ends_with("press-on")), "{id}: pressed on");

        let shows_now = guide.step_of_id("press-mechanism/shows-now").expect("it is measured again");
        let ways = guide.ways_out(shows_now).iter();
        let tables: Vec<String> = ways.filter_map(|way| Some(way.trouble.as_ref()?.table.to_string())).collect();
        assert_eq!(tables, ["mechanism-too-deep"], "{id}: too deep twice");
    }
}

/// What styles share stands in procedures: no two guides have a step of their own with the same words.
#[test]
fn no_guide_copies_a_step_of_another() {
    // A nib that is screwed home or set straight is two words of work, each in a place of its own.
    let allowed = ["nib-home", "straighten"];
    let mut said: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for id in ids() {
        let guide = shipped(&id);
        for (_, step) in guide.steps() {
            let own = !step.id.contains('/') && matches!(step.kind, Kind::Do { .. } | Kind::Ask | Kind::Gauge { .. });
            if own && !allowed.contains(&&*step.id) {
                said.entry(step.text.clone()).or_default().insert(id.clone());
            }
        }
    }
    assert!(said.len() > 20, "{} steps of their own are too few to tell", said.len());
    let copied: Vec<_> = said.iter().filter(|(_, guides)| guides.len() > 1).collect();
    assert!(copied.is_empty(), "{copied:?}");
}
