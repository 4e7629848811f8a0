//! Which step of one edition is which of the other.

use std::collections::HashMap;

use super::{Difference, What};
use crate::guide::{Guide, StepIdx};

/// The steps of two editions side by side.
pub(super) struct Pairs {
    /// For each step of the old edition, the same in the new.
    new_of: Vec<Option<StepIdx>>,
    /// For each step of the new edition, the same in the old.
    old_of: Vec<Option<StepIdx>>,
}

impl Pairs {
    /// Pairs by id, and what is left over by what it says, each once, in the order of the guides.
    pub(super) fn new(old: &Guide, new: &Guide) -> Pairs {
        let mut pairs = Pairs { new_of: vec![None; old.len()], old_of: vec![None; new.len()] };
        for (before, step) in old.steps() {
            if let Some(after) = new.step_of_id(&step.id) {
                pairs.join(before, after);
            }
        }
        let mut left: HashMap<_, Vec<StepIdx>> = HashMap::new();
        for (after, step) in new.steps().rev().filter(|(after, _)| pairs.old_of[after.index()].is_none()) {
            left.entry((std::mem::discriminant(&step.kind), &step.text)).or_default().push(after);
        }
        for (before, step) in old.steps() {
            let same = (std::mem::discriminant(&step.kind), &step.text);
            if pairs.new_of[before.index()].is_none()
                && let Some(after) = left.get_mut(&same).and_then(Vec::pop)
            {
                pairs.join(before, after);
            }
        }
        pairs
    }

    fn join(&mut self, before: StepIdx, after: StepIdx) {
        self.new_of[before.index()] = Some(after);
        self.old_of[after.index()] = Some(before);
    }

    /// Yields the steps that both editions have.
    pub(super) fn both(&self) -> impl Iterator<Item = (StepIdx, StepIdx)> + '_ {
        let both = |(after, before): (usize, &Option<StepIdx>)| Some(((*before)?, after));
        self.old_of.iter().enumerate().filter_map(both).filter_map(|(before, _)| Some((before, self.new_of(before)?)))
    }

    /// Returns the same step of the new edition.
    pub(super) fn new_of(&self, before: StepIdx) -> Option<StepIdx> {
        self.new_of[before.index()]
    }

    /// Tells which steps came, went, moved and are called otherwise.
    pub(super) fn tell(&self, old: &Guide, new: &Guide, found: &mut Vec<Difference>) {
        let mut tell = |what, guide: &Guide, idx: StepIdx, said: String| {
            let step = Some(guide.step(idx).id.to_string());
            found.push(Difference { what, order: idx.index(), step, said });
        };
        for (guide, of_other, what) in [(old, &self.new_of, What::Went), (new, &self.old_of, What::Came)] {
            for (idx, step) in guide.steps().filter(|(idx, _)| of_other[idx.index()].is_none()) {
                // The steps of a run go with it.
                let run = step.id.rsplit_once('/').and_then(|(run, _)| guide.step_of_id(run));
                if run.is_none_or(|run| of_other[run.index()].is_some()) {
                    tell(what, guide, idx, step.text.clone());
                }
            }
        }
        let both: Vec<_> = self.both().collect();
        for (before, after) in &both {
            let (was, is) = (&old.step(*before).id, &new.step(*after).id);
            let inside = |id: &str| id.rsplit_once('/').map(|(run, step)| (run.to_owned(), step.to_owned()));
            let with_its_run = match (inside(was), inside(is)) {
                (Some((_, was)), Some((_, is))) => was == is,
                _ => false,
            };
            if was != is && !with_its_run {
                tell(What::Renamed, new, *after, format!("was called `{was}`"));
            }
        }
        for (before, after) in out_of_order(&both) {
            let ahead = |guide: &Guide, idx: StepIdx| {
                let before = guide.steps().take(idx.index()).next_back();
                before.map_or("at the beginning".to_owned(), |(_, step)| format!("after `{}`", step.id))
            };
            let said = format!("stood {}, stands {}", ahead(old, before), ahead(new, after));
            tell(What::Moved, new, after, said);
        }
    }
}

/// Returns the pairs that are not in a longest run of pairs whose order is the same in both editions.
///
/// `pairs` is in the order of the new edition. Patience sorting: `n log n`.
fn out_of_order(pairs: &[(StepIdx, StepIdx)]) -> Vec<(StepIdx, StepIdx)> {
    let mut tails: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = vec![None; pairs.len()];
    for (n, (old, _)) in pairs.iter().enumerate() {
        let at = tails.partition_point(|tail| pairs[*tail].0 < *old);
        before[n] = at.checked_sub(1).map(|at| tails[at]);
        if at == tails.len() {
            tails.push(n);
        } else {
            tails[at] = n;
        }
    }
    let mut kept = vec![false; pairs.len()];
    let mut next = tails.last().copied();
    while let Some(n) = next {
        kept[n] = true;
        next = before[n];
    }
    pairs.iter().zip(kept).filter(|(_, kept)| !kept).map(|(pair, _)| *pair).collect()
}
