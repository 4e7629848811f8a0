//! From how often each way is taken to the walks that take them.

use std::collections::{BTreeMap, HashMap};

use super::Route;
use crate::guide::{Guide, StepIdx, WayIdx};

/// Returns so many walks that take each way as often as it says; trouble is called by the shortest walk that comes by.
pub(super) fn routes(guide: &Guide, times: BTreeMap<WayIdx, u32>, n_walks: usize, trouble: &[WayIdx]) -> Vec<Route> {
    let mut left = Left { guide, times, rounds: Vec::new() };
    let mut walks: Vec<Walk> = (0..n_walks).map(|_| Walk::new(guide, left.path(guide.first()))).collect();
    for (idx, _) in guide.steps() {
        while left.next(idx).is_some() {
            let rest = left.path(idx);
            debug_assert!(rest.is_empty(), "what the walks leave goes round");
        }
    }
    hang_in(guide, &mut walks, left.rounds);
    for way in trouble {
        let from = guide.way(*way).from;
        let comes_by = walks.iter_mut().filter(|walk| walk.comes_to(from));
        if let Some(walk) = comes_by.min_by_key(|walk| walk.length) {
            walk.trouble.entry(from).or_default().push(*way);
            walk.length += 1;
        }
    }
    walks.into_iter().map(|walk| walk.told(guide)).collect()
}

/// What is left to be taken of each way.
struct Left<'g> {
    guide: &'g Guide,
    times: BTreeMap<WayIdx, u32>,
    /// Ways that lead from a step back to it, and come to no other twice.
    rounds: Vec<Vec<WayIdx>>,
}

impl Left<'_> {
    fn next(&self, from: StepIdx) -> Option<WayIdx> {
        self.guide.ways_out_idx(from).find(|way| self.times.get(way).is_some_and(|times| *times > 0))
    }

    /// Takes ways from a step on until none is left; returns them without the rounds among them, which are kept apart.
    fn path(&mut self, from: StepIdx) -> Vec<WayIdx> {
        let mut path: Vec<WayIdx> = Vec::new();
        let mut come_to = HashMap::from([(from, 0)]);
        let mut here = from;
        while let Some(way) = self.next(here) {
            *self.times.entry(way).or_default() -= 1;
            path.push(way);
            let Some(to) = self.guide.way(way).to else { break };
            here = to;
            if let Some(at) = come_to.get(&to).copied() {
                let round = path.split_off(at);
                for way in &round[1..] {
                    come_to.remove(&self.guide.way(*way).from);
                }
                self.rounds.push(round);
            } else {
                come_to.insert(to, path.len());
            }
        }
        path
    }
}

/// A walk that is being put together.
struct Walk {
    first: StepIdx,
    path: Vec<WayIdx>,
    /// Rounds that begin and end at a step.
    rounds: HashMap<StepIdx, Vec<Vec<WayIdx>>>,
    trouble: HashMap<StepIdx, Vec<WayIdx>>,
    comes_to: Vec<bool>,
    length: usize,
}

impl Walk {
    fn new(guide: &Guide, path: Vec<WayIdx>) -> Walk {
        let mut comes_to = vec![false; guide.len()];
        comes_to[guide.first().index()] = true;
        let mut walk = Walk {
            first: guide.first(),
            path: Vec::new(),
            rounds: HashMap::new(),
            trouble: HashMap::new(),
            comes_to,
            length: path.len(),
        };
        walk.mark(guide, &path);
        walk.path = path;
        walk
    }

    fn comes_to(&self, step: StepIdx) -> bool {
        self.comes_to[step.index()]
    }

    fn mark(&mut self, guide: &Guide, ways: &[WayIdx]) {
        for to in ways.iter().filter_map(|way| guide.way(*way).to) {
            self.comes_to[to.index()] = true;
        }
    }

    /// Returns the walk in the order in which it is gone: a round, and trouble, at the first time its step is come to.
    fn told(mut self, guide: &Guide) -> Route {
        let mut ways = Vec::with_capacity(self.length);
        let mut here = Some(self.first);
        let mut under_way = vec![std::mem::take(&mut self.path).into_iter()];
        while let Some(step) = here {
            ways.extend(self.trouble.remove(&step).unwrap_or_default());
            if let Some(round) = self.rounds.get_mut(&step).and_then(Vec::pop) {
                under_way.push(round.into_iter());
            }
            let next = loop {
                match under_way.last_mut().map(Iterator::next) {
                    Some(Some(way)) => break Some(way),
                    Some(None) => drop(under_way.pop()),
                    None => break None,
                }
            };
            ways.extend(next);
            here = next.and_then(|way| guide.way(way).to);
        }
        Route { ways }
    }
}

/// Hangs each round into the shortest walk that comes by one of its steps.
fn hang_in(guide: &Guide, walks: &mut [Walk], mut rounds: Vec<Vec<WayIdx>>) {
    // The longest first, so that the short ones even the walks out.
    rounds.sort_by_key(|round| std::cmp::Reverse(round.len()));
    while !rounds.is_empty() {
        let before = rounds.len();
        rounds.retain(|round| {
            let from = |way: &WayIdx| guide.way(*way).from;
            let comes_by = walks.iter_mut().filter(|walk| round.iter().any(|way| walk.comes_to(from(way))));
            let Some(walk) = comes_by.min_by_key(|walk| walk.length) else { return true };
            let at = round.iter().position(|way| walk.comes_to(from(way))).unwrap_or(0);
            let mut turned = round.clone();
            turned.rotate_left(at);
            walk.mark(guide, &turned);
            walk.length += turned.len();
            walk.rounds.entry(from(&turned[0])).or_default().push(turned);
            false
        });
        if rounds.len() == before {
            debug_assert!(false, "every step is come to from the first");
            return;
        }
    }
}
