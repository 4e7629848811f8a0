//! The path that is gone where nothing is amiss.

use std::iter::successors;

use super::{Guide, Label, StepIdx, WayIdx};

impl Guide {
    /// Returns the way by which one goes on where nothing is amiss: done, ready, a reading within its limits, the answer;
    /// the first that leads on in the guide, else the first.
    pub fn goes_on(&self, idx: StepIdx) -> Option<WayIdx> {
        let is_good = |way: &WayIdx| {
            let way = self.way(*way);
            way.to.is_some() && matches!(way.label, Label::Then | Label::Ready | Label::Within | Label::Answer(_))
        };
        let ways = || self.ways_out_idx(idx).filter(is_good);
        ways().find(|way| self.way(*way).to > Some(idx)).or_else(|| ways().next())
    }

    /// Returns the step that one goes on to where nothing is amiss.
    pub fn next_step(&self, idx: StepIdx) -> Option<StepIdx> {
        self.goes_on(idx).and_then(|way| self.way(way).to)
    }

    /// Yields the steps that are gone where nothing is amiss, each once, from this one on.
    pub fn path_from(&self, idx: StepIdx) -> impl Iterator<Item = StepIdx> + '_ {
        let mut met = vec![false; self.len()];
        successors(Some(idx), |idx| self.next_step(*idx))
            .take_while(move |idx| !std::mem::replace(&mut met[idx.index()], true))
    }
}
