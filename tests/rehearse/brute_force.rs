//! The fewest walks by looking at every walk: slow, and of another kind than what it checks.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use stepjig::guide::{Guide, Kind, StepIdx, WayIdx};

/// Ways that lead from a step that can be reached to one from which the guide can end, each with its ends.
pub fn ways(guide: &Guide) -> Vec<(WayIdx, StepIdx, StepIdx)> {
    let all: Vec<_> = guide
        .steps()
        .flat_map(|(idx, _)| guide.ways_out_idx(idx))
        .filter_map(|way| Some((way, guide.way(way).from, guide.way(way).to?)))
        .collect();
    let mut reached = BTreeSet::from([guide.first()]);
    let mut ends: BTreeSet<StepIdx> =
        guide.steps().filter(|(_, step)| matches!(step.kind, Kind::End(_))).map(|(idx, _)| idx).collect();
    loop {
        let before = (reached.len(), ends.len());
        for (_, from, to) in &all {
            if reached.contains(from) {
                reached.insert(*to);
            }
            if ends.contains(to) {
                ends.insert(*from);
            }
        }
        if before == (reached.len(), ends.len()) {
            break;
        }
    }
    all.into_iter().filter(|(_, from, to)| reached.contains(from) && ends.contains(to)).collect()
}

/// What one walk can take: each set of ways that a walk to an end takes, with the fewest ways that it is gone in.
fn takes(guide: &Guide) -> BTreeMap<u32, usize> {
    let ways = ways(guide);
    assert!(ways.len() <= 14, "a guide that small");
    let mut walks = BTreeMap::new();
    let mut seen = BTreeSet::from([(guide.first(), 0u32)]);
    let mut open = VecDeque::from([(guide.first(), 0u32, 0)]);
    while let Some((here, taken, length)) = open.pop_front() {
        if matches!(guide.step(here).kind, Kind::End(_)) {
            walks.entry(taken).or_insert(length);
        }
        for (n, (_, from, to)) in ways.iter().enumerate() {
            let taken = taken | 1 << n;
            if *from == here && seen.insert((*to, taken)) {
                open.push_back((*to, taken, length + 1));
            }
        }
    }
    walks
}

/// Returns the fewest walks that take every way, and the fewest ways that so many walks are gone in; none where the
/// guide cannot end.
pub fn fewest(guide: &Guide) -> Option<(usize, usize)> {
    let walks = takes(guide);
    let all = (1u32 << ways(guide).len()) - 1;
    let mut within = BTreeMap::from([(0u32, 0)]);
    for number in 1..=ways(guide).len().max(1) {
        let mut next: BTreeMap<u32, usize> = BTreeMap::new();
        for (taken, length) in &within {
            for (more, further) in &walks {
                let length = length + further;
                next.entry(taken | more).and_modify(|least| *least = length.min(*least)).or_insert(length);
            }
        }
        if let Some(length) = next.get(&all) {
            return Some((number, *length));
        }
        within = next;
    }
    None
}
