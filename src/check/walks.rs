//! The shortest walk from the first step that gets somewhere without a condition.

use std::collections::VecDeque;

use crate::guide::{Condition, Guide, StepIdx};

/// How many steps and effects are looked at and shown for all the walks of a guide together. Thousands of faults in a
/// guide of thousands of steps would take minutes and fill the machine, and nobody reads them all before mending one.
const MOST_STEPS: usize = 1_000_000;

/// Walks on which one condition is missing; one search serves all steps that need the same condition.
pub(super) struct Walks<'g> {
    guide: &'g Guide,
    left: usize,
    /// What one search looks at: the steps, and all that their ways do.
    search: usize,
    searched: Option<(Condition, Search)>,
}

/// For each step, with the condition and without it, the step before on a shortest walk.
struct Search {
    before: Vec<[Option<(StepIdx, bool)>; 2]>,
    seen: Vec<[bool; 2]>,
}

impl<'g> Walks<'g> {
    pub(super) fn new(guide: &'g Guide) -> Walks<'g> {
        let done = guide.ways().iter().map(|way| 1 + way.gives.len() + way.removes.len() + way.undoes.len());
        Walks { guide, left: MOST_STEPS, search: guide.len() + done.sum::<usize>(), searched: None }
    }

    /// Returns the steps of a shortest walk that arrives without the condition, both ends included; none once a great
    /// many were returned.
    pub(super) fn without(&mut self, condition: Condition, at: StepIdx) -> Option<Vec<StepIdx>> {
        if self.left == 0 {
            return None;
        }
        if self.searched.as_ref().is_none_or(|(searched, _)| *searched != condition) {
            self.left = self.left.saturating_sub(self.search);
            self.searched = Some((condition, search(self.guide, condition)));
        }
        let (_, search) = self.searched.as_ref()?;
        if !search.seen[at.index()][0] {
            return None;
        }
        let mut walk = vec![at];
        let mut here = (at, false);
        while let Some(before) = search.before[here.0.index()][usize::from(here.1)] {
            walk.push(before.0);
            here = before;
        }
        walk.reverse();
        self.left = self.left.saturating_sub(walk.len());
        Some(walk)
    }
}

fn search(guide: &Guide, condition: Condition) -> Search {
    let mut search = Search { before: vec![[None; 2]; guide.len()], seen: vec![[false; 2]; guide.len()] };
    let mut open = VecDeque::from([(guide.first(), false)]);
    search.seen[guide.first().index()][0] = true;
    while let Some((step, held)) = open.pop_front() {
        for way in guide.ways_out(step) {
            let Some(to) = way.to else { continue };
            let after = way.gives.contains(&condition) || held && !guide.removes(way, condition);
            if !search.seen[to.index()][usize::from(after)] {
                search.seen[to.index()][usize::from(after)] = true;
                search.before[to.index()][usize::from(after)] = Some((step, held));
                open.push_back((to, after));
            }
        }
    }
    search
}
