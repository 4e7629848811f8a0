//! The fewest walks from the first step to an end that take every way there is.
//!
//! The ways of a guide are the arcs of a network; one more arc leads from the ends back to the first step, once for each
//! walk. To take each way at least once with the fewest walks, and with those in the fewest steps, is a cheapest
//! circulation in which that arc costs more than all others together. It is found exactly, loops and all: where the
//! guide can be walked from its first step to every other, a circulation that takes each way falls into walks, and each
//! round of it can be hung into one of them.
//!
//! That no smaller number will do is proved by [`Cover::witness`]: as many ways as there are walks, of which no walk
//! takes two. A way into trouble leads to no step; the first walk that comes by calls it, and goes on from the same step.

mod circulation;
mod route;

use super::flow::Flow;
use crate::guide::{Guide, Kind, StepIdx, WayIdx};
use circulation::{Arc, circulation};

/// A walk as the ways that it takes, from the first step to an end.
///
/// A way into trouble among them is called at its step, and the walk goes on from there by the way after it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Route {
    /// The ways in order; none where the guide's first step is its end.
    pub ways: Vec<WayIdx>,
}

/// Walks that take every way of a guide.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cover {
    /// The walks.
    pub routes: Vec<Route>,
    /// Ways of which no walk takes two; there are never fewer walks than these.
    pub witness: Vec<WayIdx>,
}

impl Cover {
    /// Returns a number that no set of walks that takes every way can be smaller than.
    pub fn bound(&self) -> usize {
        self.witness.len().max(usize::from(!self.routes.is_empty()))
    }

    /// Tells whether the number of walks is proved to be the smallest.
    pub fn is_smallest(&self) -> bool {
        self.routes.len() == self.bound()
    }

    /// Returns how many ways the walks take together, each as often as it is taken.
    pub fn n_ways(&self) -> usize {
        self.routes.iter().map(|route| route.ways.len()).sum()
    }
}

/// Returns the ways at which something is decided: those of a step that has more than one.
///
/// Ways into trouble are among them. What is not has no other beside it, and is taken by whoever comes by.
pub fn branches(guide: &Guide) -> impl Iterator<Item = WayIdx> {
    let decides = |idx: &StepIdx| guide.ways_out(*idx).len() > 1;
    guide.steps().map(|(idx, _)| idx).filter(decides).flat_map(|idx| guide.ways_out_idx(idx))
}

/// Returns the fewest walks that take every way from a step that can be reached to one from which the guide can end.
///
/// Of all such sets it is one with the fewest ways taken together, trouble left aside. There is none where the guide
/// cannot end.
///
/// ```
/// use stepjig::check::cover::cover;
/// use stepjig::finding::Source;
/// use stepjig::guide::Library;
///
/// let text = r#"
/// stepjig = 1
/// [guide]
/// id = "look"
/// title = "Look"
/// [[step]]
/// id = "face"
/// ask = "What does the face show?"
/// answers = [{ say = "bare brass" }, { say = "glue", to = "face" }, { say = "a split", to = "lost" }]
/// [[step]]
/// id = "end"
/// end = "finished"
/// [[step]]
/// id = "lost"
/// end = "scrap"
/// "#;
/// let guide = Library::empty().link(&Source::new("look.toml", text)).guide.unwrap();
/// let cover = cover(&guide);
/// // One walk ends finished and one in scrap; one of them looks again before it goes on.
/// assert_eq!(cover.routes.len(), 2);
/// assert!(cover.is_smallest());
/// assert_eq!(cover.n_ways(), 3);
/// ```
pub fn cover(guide: &Guide) -> Cover {
    let flow = Flow::new(guide);
    let is_walked = |idx: StepIdx| flow.is_reachable(idx) && flow.can_end(idx);
    if !is_walked(guide.first()) {
        return Cover { routes: Vec::new(), witness: Vec::new() };
    }
    let ways = guide.steps().flat_map(|(idx, _)| guide.ways_out_idx(idx)).filter(|way| is_walked(guide.way(*way).from));
    let (ways, trouble): (Vec<WayIdx>, Vec<WayIdx>) = ways.partition(|way| guide.way(*way).to.is_some());
    let ways: Vec<WayIdx> = ways.into_iter().filter(|way| guide.way(*way).to.is_some_and(is_walked)).collect();
    let end = guide.len();
    let mut arcs: Vec<Arc> = ways
        .iter()
        .filter_map(|way| {
            let way = guide.way(*way);
            Some(Arc { from: way.from.index(), to: way.to?.index(), least: 1, cost: 1 })
        })
        .collect();
    let ends = guide.steps().filter(|(idx, step)| matches!(step.kind, Kind::End(_)) && is_walked(*idx));
    arcs.extend(ends.map(|(idx, _)| Arc { from: idx.index(), to: end, least: 0, cost: 0 }));
    // More than all ways together, taken once for each arc that has to be evened out.
    let dear = (arcs.len() as u64 + 1) * (guide.len() as u64 + 1);
    arcs.push(Arc { from: end, to: guide.first().index(), least: 1, cost: dear });
    let times = circulation(end + 1, &arcs);
    let n_walks = times.last().copied().unwrap_or(0) as usize;
    let witness = witness(end, &arcs, &times).into_iter().filter_map(|arc| ways.get(arc).copied()).collect();
    let taken = ways.iter().copied().zip(times).collect();
    Cover { routes: route::routes(guide, taken, n_walks, &trouble), witness }
}

/// Returns arcs that each walk takes once at most, all of them taken once: those into what is left over of the network
/// when no walk can be spared.
///
/// From the far end backwards along what is taken more often than it must be, and forwards along every arc, nothing
/// leads to the first step, for else that walk could be spared. So every arc into the set of nodes that is come to so
/// is taken as often as it must be, and no arc leads out of it again.
fn witness(end: usize, arcs: &[Arc], times: &[u32]) -> Vec<usize> {
    let guide_arcs = || arcs.iter().enumerate().filter(|(_, arc)| arc.from != end);
    let mut hops = vec![Vec::new(); end + 1];
    for (n, arc) in guide_arcs() {
        hops[arc.from].push(arc.to);
        if times[n] > arc.least {
            hops[arc.to].push(arc.from);
        }
    }
    let mut inside = vec![false; end + 1];
    let mut open = vec![end];
    inside[end] = true;
    while let Some(node) = open.pop() {
        for to in &hops[node] {
            if !inside[*to] {
                inside[*to] = true;
                open.push(*to);
            }
        }
    }
    guide_arcs().filter(|(_, arc)| !inside[arc.from] && inside[arc.to]).map(|(n, _)| n).collect()
}
