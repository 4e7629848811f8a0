//! Each computed walk is one that the engine lets a person go: it takes its ways and arrives at its end.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::super::oracle::{random, toml};
use stepjig::check::cover::{branches, cover};
use stepjig::check::{Checked, check_file};
use stepjig::finding::Source;
use stepjig::guide::{Guide, Kind, Library, StepIdx};
use stepjig::reckon::Data;
use stepjig::walk::rehearse::{Said, play_route};

/// Plays all walks of a guide and returns the branches that they took, by step and words.
fn play_all(name: &str, guide: &Guide) -> BTreeSet<(StepIdx, String)> {
    let data = Arc::new(Data::shipped());
    let mut taken = BTreeSet::new();
    for route in &cover(guide).routes {
        let played = play_route(guide, route, &data);
        let stuck = played.stuck.map(|way| (&guide.step(guide.way(way).from).id, &guide.way(way).label));
        let last = &played.moves[played.moves.len().saturating_sub(12)..];
        assert_eq!(stuck, None, "{name}: {last:#?}\n{}", stepjig::guide::write::linked(guide));
        let named = route.ways.last().and_then(|way| guide.way(*way).to).unwrap_or(guide.first());
        assert_eq!(played.at, named, "{name}: it arrives at the end that the walk names");
        assert!(matches!(guide.step(played.at).kind, Kind::End(_)));
        let left = played.moves.iter().filter_map(|said| match &said.said {
            Said::Left { label, .. } => Some((said.step, format!("{label:?}"))),
            _ => None,
        });
        taken.extend(left);
    }
    taken
}

fn all_branches(guide: &Guide) -> BTreeSet<(StepIdx, String)> {
    branches(guide).map(|way| (guide.way(way).from, format!("{:?}", guide.way(way).label))).collect()
}

#[test]
fn each_walk_of_each_shipped_guide_arrives_and_together_they_take_every_branch() {
    let library = Library::shipped();
    for id in library.guide_ids() {
        let guide = library.link_id(id).and_then(|linked| linked.guide).expect("shipped guides link");
        let (taken, all) = (play_all(id, &guide), all_branches(&guide));
        let missed: Vec<_> = all.difference(&taken).map(|(step, way)| (&guide.step(*step).id, way)).collect();
        assert_eq!(missed, Vec::new(), "{id}");
    }
}

/// Guides made up by the oracle, mended until it finds no error in them.
#[test]
fn so_it_is_with_made_up_guides_without_errors() {
    let mut n_branches = 0;
    for seed in 0..400 {
        let text = toml::render(&random::clean(seed));
        let Checked { guide, findings, .. } = check_file(&Library::empty(), &Source::new("g.toml", text));
        let guide = guide.unwrap_or_else(|| panic!("seed {seed}: {findings:?}"));
        let (taken, all) = (play_all(&format!("seed {seed}"), &guide), all_branches(&guide));
        assert!(taken.is_superset(&all), "seed {seed}: {:?}", all.difference(&taken).collect::<Vec<_>>());
        n_branches += all.len();
    }
    assert!(n_branches > 1_000, "the guides have branches");
}
