//! `open-repeat`: a loop that no question, reading or wait lets the walk leave.
//!
//! Every cycle of the graph needs a decision with a way out of it; a cycle of `do` steps alone runs for ever.

use petgraph::algo::kosaraju_scc;

use super::about;
use super::flow::Flow;
use crate::finding::{Code, Finding};

pub(super) fn check(flow: &Flow<'_>, findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    if guide.ways().iter().all(|way| way.to.is_none_or(|to| to > way.from)) {
        return; // Every way leads on: there is no cycle.
    }
    // Of petgraph's two, the one that does not recurse: a guide may be long.
    for cycle in kosaraju_scc(guide.graph()) {
        let mut steps: Vec<_> = cycle.iter().map(|node| guide.step_at(node.index())).collect();
        steps.sort_unstable();
        let inside = |to: Option<crate::guide::StepIdx>| to.is_some_and(|to| steps.binary_search(&to).is_ok());
        let repeats = steps.len() > 1 || guide.ways_out(steps[0]).iter().any(|way| way.to == Some(steps[0]));
        let leaves = steps.iter().any(|step| guide.ways_out(*step).iter().any(|way| !inside(way.to)));
        // Where no end can be reached at all, `no-way-out` says so.
        if repeats && !leaves && flow.can_end(steps[0]) && flow.is_reachable(steps[0]) {
            let message = format!("the walk goes round from `{}` and nothing lets it out", guide.step(steps[0]).id);
            findings.push(
                about(Code::OpenRepeat, guide, steps[0], message).help("add a question with a way out of the round"),
            );
        }
    }
}
