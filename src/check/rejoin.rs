//! Where to pick a pen up again, and how far it is from there to a finished pen.
//!
//! A step can be picked up where everything that may still be needed from it on is held. Without a job it is the step
//! from which the pen is finished in the fewest minutes.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::flow::Flow;
use crate::guide::{Condition, ConditionSet, EndKind, Guide, Kind, Label, StepIdx, Way};

/// Where to pick up, and what is then to be done.
#[derive(Debug, Clone, PartialEq)]
pub struct Rejoin {
    /// The step to pick up at.
    pub step: StepIdx,
    /// Minutes from there to a finished pen, waits included, by the shortest way.
    pub minutes: f64,
    /// The steps on that way that do not stand.
    pub again: Vec<StepIdx>,
}

/// Returns the way by which a step is passed over when it stands: done, or the wait over.
pub fn onward(guide: &Guide, idx: StepIdx) -> Option<&Way> {
    guide.ways_out(idx).iter().find(|way| matches!(way.label, Label::Then | Label::Ready))
}

/// Tells whether a step stands: all that it gives when it is left is held already, and none of it comes and goes.
pub fn stands(guide: &Guide, idx: StepIdx, held: &ConditionSet) -> bool {
    matches!(guide.step(idx).kind, Kind::Do { .. } | Kind::Wait(_) | Kind::Return { .. })
        && onward(guide, idx).is_some_and(|way| {
            !way.gives.is_empty() && way.gives.iter().all(|gives| held.contains(*gives) && !guide.is_passing(*gives))
        })
}

/// Tells whether a way is one that a person can take: a step that stands is left only by its way onward.
fn is_open(guide: &Guide, standing: &[bool], way: &Way) -> bool {
    !standing[way.from.index()] || onward(guide, way.from).is_some_and(|onward| std::ptr::eq(onward, way))
}

/// Returns where to pick up with these conditions held; passing ones do not count.
///
/// `None` where no step will do, which cannot be in a guide without errors.
pub fn without_job(flow: &Flow<'_>, held: &ConditionSet) -> Option<Rejoin> {
    let guide = flow.guide();
    let held: ConditionSet = held.iter().filter(|condition| !guide.is_passing(*condition)).collect();
    let standing: Vec<bool> = guide.steps().map(|(idx, _)| stands(guide, idx, &held)).collect();
    let far = distances(guide, &standing);
    let ready = flow.ready_for(&held);
    let (start, cost) = guide
        .steps()
        .map(|(idx, _)| idx)
        .filter(|idx| ready[idx.index()] && !standing[idx.index()])
        .filter_map(|idx| Some((idx, far[idx.index()]?)))
        .min_by(|(a, cost_a), (b, cost_b)| cost_a.total_cmp(cost_b).then(a.cmp(b)))?;
    let way = shortest(guide, &standing, &far, start);
    let again = way.into_iter().filter(|step| !standing[step.index()]).collect();
    Some(Rejoin { step: start, minutes: cost.minutes, again })
}

/// Returns minutes of attention and of waiting from a step to a finished pen, by the way that is the shortest with
/// waits included; what stands is free.
pub fn remaining(guide: &Guide, held: &ConditionSet, from: StepIdx) -> Option<(f64, f64)> {
    let standing: Vec<bool> = guide.steps().map(|(idx, _)| stands(guide, idx, held)).collect();
    let far = distances(guide, &standing);
    far[from.index()]?;
    let way = shortest(guide, &standing, &far, from);
    let steps = || way.iter().filter(|step| !standing[step.index()]).map(|step| guide.step(*step));
    let (attention, all): (f64, f64) = (steps().map(|s| s.minutes).sum(), steps().map(|s| s.minutes_with_wait()).sum());
    Some((attention, all - attention))
}

/// Returns the steps of the shortest way from a step to a finished pen, both ends included.
fn shortest(guide: &Guide, standing: &[bool], far: &[Option<Cost>], from: StepIdx) -> Vec<StepIdx> {
    let next = |here: &StepIdx| {
        let ways = guide.ways_out(*here).iter().filter(|way| is_open(guide, standing, way));
        let nearest = ways.filter_map(|way| Some((way.to?, far[way.to?.index()]?)));
        let nearest = nearest.min_by(|(_, a), (_, b)| a.total_cmp(b)).map(|(to, _)| to);
        nearest.filter(|_| !is_finish(&guide.step(*here).kind))
    };
    std::iter::successors(Some(from), next).take(guide.len()).collect()
}

/// Returns the conditions that a turner would be asked about first: what the latest steps give.
pub fn latest_first(guide: &Guide) -> Vec<Condition> {
    let mut asked = ConditionSet::default();
    let mut order = Vec::new();
    for (_, step) in guide.steps().rev() {
        for gives in step.gives.iter().rev() {
            if !guide.is_passing(gives.condition) && asked.insert(gives.condition) {
                order.push(gives.condition);
            }
        }
    }
    order
}

#[derive(Debug, Clone, Copy)]
struct Cost {
    minutes: f64,
    steps: u32,
}

impl Cost {
    fn total_cmp(&self, other: &Cost) -> std::cmp::Ordering {
        self.minutes.total_cmp(&other.minutes).then(self.steps.cmp(&other.steps))
    }
}

fn is_finish(kind: &Kind) -> bool {
    matches!(kind, Kind::End(EndKind::Finished))
}

/// Returns the cost from each step to a finished pen; a step that stands is free, any other costs the same by
/// whichever way it leaves.
fn distances(guide: &Guide, standing: &[bool]) -> Vec<Option<Cost>> {
    // Minutes are kept as whole billionths, so that equal sums compare equal in whatever order they were added.
    let units = |idx: StepIdx| -> (u64, u32) {
        if standing[idx.index()] {
            return (0, 0);
        }
        ((guide.step(idx).minutes_with_wait() * 1e6).round() as u64, 1)
    };
    let mut far: Vec<Option<(u64, u32)>> = vec![None; guide.len()];
    let mut open = BinaryHeap::new();
    for (idx, step) in guide.steps() {
        if is_finish(&step.kind) {
            open.push(Reverse((units(idx), idx)));
        }
    }
    while let Some(Reverse((cost, idx))) = open.pop() {
        if far[idx.index()].is_some() {
            continue;
        }
        far[idx.index()] = Some(cost);
        for (_, way) in guide.ways_in(idx) {
            if far[way.from.index()].is_none() && is_open(guide, standing, way) {
                let (minutes, steps) = units(way.from);
                open.push(Reverse(((cost.0 + minutes, cost.1 + steps), way.from)));
            }
        }
    }
    far.into_iter().map(|cost| cost.map(|(minutes, steps)| Cost { minutes: minutes as f64 / 1e6, steps })).collect()
}
