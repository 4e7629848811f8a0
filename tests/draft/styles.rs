//! Kit styles by their answers: six that are shipped as guides too, and one that is not.

use jiff::{SignedDuration, Timestamp};
use stepjig::draft::{Answers, Interview, from, parse, to_text, write};
use stepjig::finding::Source;
use stepjig::guide::{EndKind, Guide, Kind, Library};
use stepjig::walk::{Phase, Walk};

use super::typing::all_well;
use super::{assert_clean, checked};

/// Name and text of each file of answers.
pub const FILES: [(&str, &str); 7] = [
    ("two-tube-rollerball", include_str!("answers/two-tube-rollerball.toml")),
    ("twist-two-tube", include_str!("answers/twist-two-tube.toml")),
    ("twist-one-tube", include_str!("answers/twist-one-tube.toml")),
    ("click-one-tube", include_str!("answers/click-one-tube.toml")),
    ("pencil-one-tube", include_str!("answers/pencil-one-tube.toml")),
    ("push-cap-fountain", include_str!("answers/push-cap-fountain.toml")),
    ("three-parts-pencil", include_str!("answers/three-parts-pencil.toml")),
];

pub fn answers(name: &str, text: &str) -> Answers {
    parse(&Source::new(name, text)).unwrap_or_else(|wrong| panic!("{name}: {wrong}"))
}

#[test]
fn each_file_of_answers_is_whole_and_its_guide_has_nothing_to_find() {
    for (name, text) in FILES {
        let answers = answers(name, text);
        let interview = Interview::of(&answers);
        assert_eq!(interview.next().map(|question| question.key.as_str()), None, "{name} is not whole");
        assert_clean(&answers, name);
        let unused: Vec<_> = answers.iter().filter(|(key, _)| interview.question(key).is_none()).collect();
        assert!(unused.is_empty(), "{name}: {unused:?}");
        assert_eq!(to_text(&answers), text, "{name} is as it would be kept");
    }
}

#[test]
fn each_guide_is_walked_to_a_finished_pen_and_presses_every_part_once() {
    for (name, text) in FILES {
        let build = Interview::of(&answers(name, text)).build;
        let guide = checked(&write(&build)).guide.unwrap_or_else(|| panic!("{name} does not link"));
        let (met, finished) = play(&guide);
        assert!(finished, "{name} ends otherwise, after {:?}", met.last());
        let times = |step: &str| met.iter().filter(|id| *id == step).count();
        let order: Vec<usize> = build
            .parts
            .iter()
            .map(|part| {
                let press = format!("press-{}/press", part.name);
                assert_eq!(times(&press), 1, "{name}: {press} in {met:?}");
                met.iter().position(|id| *id == press).expect("it was met")
            })
            .collect();
        assert!(order.is_sorted(), "{name}: pressed in another order than was said");
        for tube in &build.tubes {
            for step in ["drill", "glue", "square", "turn", "finish"] {
                let run = format!("{step}-{}/", tube.name);
                assert!(met.iter().any(|id| id.starts_with(&run)), "{name} never comes to {run}");
            }
        }
    }
}

/// Walks as when all goes well; returns the steps met, and whether the pen was finished.
fn play(guide: &Guide) -> (Vec<String>, bool) {
    let mut now: Timestamp = "2026-11-25T08:00:00Z".parse().expect("a time");
    let mut walk = Walk::begin(guide, now);
    let mut met = Vec::new();
    while walk.state().phase != Phase::Ended {
        let scene = walk.scene(now);
        let of_kit = match &guide.step(walk.state().here).kind {
            Kind::Gauge { sets: Some(path), .. } => guide.kit().get(path).map(|value| value.written()),
            _ => None,
        };
        let typed = of_kit.unwrap_or_else(|| all_well(&scene));
        walk.answer(&typed, now).unwrap_or_else(|refusal| panic!("{}: {typed}: {refusal}", scene.id));
        if met.last() != Some(&scene.id) {
            met.push(scene.id.clone());
        }
        now += SignedDuration::from_mins(3);
        assert!(met.len() < 2_000, "the walk does not end; at {}", scene.id);
    }
    (met, guide.step(walk.state().here).kind == Kind::End(EndKind::Finished))
}

#[test]
fn a_drafted_guide_is_read_back_into_the_same_answers() {
    for (name, text) in FILES {
        let answers = answers(name, text);
        let guide = write(&Interview::of(&answers).build);
        let read = from(&Library::shipped(), &Source::new("draft.toml", guide)).expect("it is a guide");
        assert_eq!(read.not_taken, Vec::<String>::new(), "{name}");
        assert_eq!(to_text(&read.answers), to_text(&answers), "{name}");
    }
}

#[test]
fn a_guide_written_by_hand_is_read_as_far_as_it_goes_and_the_rest_is_said() {
    let library = Library::shipped();
    for id in library.guide_ids() {
        let read = from(&library, &library.guide(id).expect("it is there")).expect("it is a guide");
        let interview = Interview::of(&read.answers);
        let is_closing_unsaid = read.not_taken.iter().any(|what| what == "what closes the pen");
        assert!(interview.answered().count() >= 8 || is_closing_unsaid, "{id}: {:?}", read.answers);
        for (question, said) in interview.answered() {
            assert_eq!(read.answers.get(&question.key), Some(said), "{id}");
        }
        assert!(!read.not_taken.is_empty(), "{id} is no draft, and all of it was taken");
        assert_clean(&super::by_proposals(read.answers.clone()), id);
    }
    let twist = library.guide("twist-two-tube").expect("it is shipped");
    let read = from(&library, &twist).expect("it is a guide").answers;
    for (key, said) in [("tubes", "two"), ("closes", "twist"), ("writes", "ballpoint refill")] {
        assert_eq!(read.get(key), Some(said), "{key}");
    }
    assert!(from(&library, &Source::new("x.toml", "stepjig = 1\n[procedure]\nid = \"x\"\ntitle = \"X\"\n")).is_none());
    assert!(from(&library, &Source::new("x.toml", "nothing of the kind")).is_none());
}
