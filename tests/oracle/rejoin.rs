//! Where to pick up again, outside a job, with given conditions held.
//!
//! Deliberately independent and slow: the cost of every step is relaxed over all ways until nothing changes.

use std::collections::BTreeMap;

use super::flow::{backward, edge, edges, undone};
use super::model::{Guide, Kind, Set, Step};

#[derive(Clone, Debug, PartialEq)]
pub struct Rejoin {
    pub step: String,
    pub minutes: f64,
    /// The steps on the way that do not stand, from `step` to the end.
    pub again: Vec<String>,
}

/// Seconds, then steps.
type Cost = (u64, u64);

/// Returns where to pick up again, or `None` where no step will do.
pub fn rejoin(guide: &Guide, held: &Set) -> Option<Rejoin> {
    let held = lasting(guide, held);
    let live = backward(guide, &edges(guide));
    let costs = costs(guide, &held);
    let fits = |step: &&Step| !stands(guide, step, &held) && live[&step.id].is_subset(&held);
    let candidates = guide.steps.iter().filter(fits).filter_map(|step| Some((*costs.get(&step.id)?, step)));
    let (cost, step) = candidates.min_by_key(|(cost, step)| (*cost, guide.place(&step.id)))?;
    let again = cheapest_way(guide, &held, &costs, step);
    Some(Rejoin { step: step.id.clone(), minutes: cost.0 as f64 / 60.0, again })
}

/// Whether `again` is a way from its first step to `finished` on which only standing steps are left out.
///
/// Returns its cost in minutes, or `None` if it is no such way.
pub fn cost_of_way(guide: &Guide, held: &Set, again: &[String]) -> Option<f64> {
    let held = lasting(guide, held);
    let steps: Vec<&Step> = again.iter().map(|id| guide.steps.iter().find(|s| s.id == *id)).collect::<Option<_>>()?;
    let connected = steps.windows(2).all(|pair| ways_on(guide, &held, pair[0]).contains(&pair[1].id));
    let whole = steps.last().is_some_and(|last| last.is_finished());
    let all_done = steps.iter().all(|step| !stands(guide, step, &held));
    (connected && whole && all_done).then(|| steps.iter().map(|step| own_cost(step).0).sum::<u64>() as f64 / 60.0)
}

/// Whether a step is passed over as done already.
///
/// Its gives are those of the way by which it is passed over, net of that way's removals.
pub fn stands(guide: &Guide, step: &Step, held: &Set) -> bool {
    if !matches!(step.kind, Kind::Do { .. } | Kind::Wait { .. }) {
        return false;
    }
    let onward = edge(guide, step, &guide.exits(step)[0], &|c| undone(guide, c));
    !onward.gives.is_empty() && onward.gives.is_subset(held) && onward.gives.is_disjoint(&guide.passing)
}

fn lasting(guide: &Guide, held: &Set) -> Set {
    held.difference(&guide.passing).cloned().collect()
}

fn own_cost(step: &Step) -> Cost {
    let waits = if let Kind::Wait { seconds, .. } = step.kind { seconds } else { 0 };
    (step.seconds.unwrap_or(0) + waits, 1)
}

/// The steps that one may come to next, standing ones left by their first way (`then`, or the next in the file).
fn leads_to(guide: &Guide, held: &Set, step: &Step) -> Vec<String> {
    let exits = guide.exits(step).into_iter().map(|exit| exit.to);
    if stands(guide, step, held) { exits.take(1).collect() } else { exits.collect() }
}

/// The steps that do not stand and follow `step` with nothing but standing steps between.
fn ways_on(guide: &Guide, held: &Set, step: &Step) -> Vec<String> {
    let (mut seen, mut open) = (Set::new(), leads_to(guide, held, step));
    while let Some(id) = open.pop() {
        if seen.insert(id.clone()) && stands(guide, guide.step(&id), held) {
            open.extend(leads_to(guide, held, guide.step(&id)));
        }
    }
    seen.into_iter().filter(|id| !stands(guide, guide.step(id), held)).collect()
}

/// The least cost from each step to `finished`; a step that cannot get there has none.
fn costs(guide: &Guide, held: &Set) -> BTreeMap<String, Cost> {
    let standing: BTreeMap<&str, bool> = guide.steps.iter().map(|s| (&*s.id, stands(guide, s, held))).collect();
    let onward: BTreeMap<&str, Vec<String>> = guide.steps.iter().map(|s| (&*s.id, leads_to(guide, held, s))).collect();
    let ends = guide.steps.iter().filter(|s| s.is_finished());
    let mut costs: BTreeMap<String, Cost> = ends.map(|s| (s.id.clone(), own_cost(s))).collect();
    loop {
        let mut changed = false;
        for step in guide.steps.iter().rev().filter(|s| !s.is_end()) {
            let own = if standing[&*step.id] { (0, 0) } else { own_cost(step) };
            let onward = onward[&*step.id].iter().filter_map(|id| costs.get(id)).min();
            let Some(cost) = onward.map(|on| (own.0 + on.0, own.1 + on.1)) else { continue };
            if costs.get(&step.id).is_none_or(|known| cost < *known) {
                costs.insert(step.id.clone(), cost);
                changed = true;
            }
        }
        if !changed {
            return costs;
        }
    }
}

/// One of the cheapest ways, without its standing steps.
fn cheapest_way(guide: &Guide, held: &Set, costs: &BTreeMap<String, Cost>, step: &Step) -> Vec<String> {
    let (mut way, mut at) = (vec![step.id.clone()], step);
    while !at.is_finished() {
        let onward = ways_on(guide, held, at).into_iter().filter(|id| costs.contains_key(id));
        let next = onward.min_by_key(|id| costs[id]).expect("a step with a cost has a way on");
        at = guide.step(&next);
        way.push(next);
    }
    way
}
