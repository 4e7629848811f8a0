//! Which branches the written rehearsals take, and which none of them does.

use std::collections::BTreeSet;

use super::{Outcome, Said};
use crate::check::cover::branches;
use crate::guide::{Guide, Label, StepIdx, WayIdx};

/// The branches of a guide, by whether a rehearsal takes them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Coverage {
    /// How many there are.
    pub all: usize,
    /// Those that no rehearsal takes, in the order of the guide.
    pub open: Vec<Branch>,
}

/// A way at which something is decided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Branch {
    /// The step that it leaves.
    pub step: StepIdx,
    /// The way.
    pub way: WayIdx,
}

/// Returns which branches were taken by what came of the rehearsals.
pub fn coverage<'o>(guide: &Guide, outcomes: impl IntoIterator<Item = &'o Outcome>) -> Coverage {
    let mut taken: BTreeSet<WayIdx> = BTreeSet::new();
    for said in outcomes.into_iter().flat_map(|outcome| &outcome.moves) {
        if let Said::Left { label, .. } = &said.said {
            // Of a guide that leaves steps out only the ways that the guide itself has are its branches.
            taken.extend(guide.ways_out_idx(said.step).find(|way| guide.way(*way).label == *label));
        }
    }
    let all: Vec<WayIdx> = branches(guide).collect();
    let open = all.iter().filter(|way| !taken.contains(way));
    let open = open.map(|way| Branch { step: guide.way(*way).from, way: *way }).collect();
    Coverage { all: all.len(), open }
}

/// Returns how a branch is named in a line: an answer's words, `under`, `not ready`, a verdict.
pub fn branch_said(label: &Label) -> String {
    match label {
        Label::Then => "done".to_owned(),
        Label::Answer(say) => say.clone(),
        Label::Within => "within".to_owned(),
        Label::Under => "under".to_owned(),
        Label::Over => "over".to_owned(),
        Label::Ready => "ready".to_owned(),
        Label::NotReady => "not ready".to_owned(),
        Label::Verdict(verdict) => verdict.clone(),
        Label::Skip => "skip".to_owned(),
    }
}
