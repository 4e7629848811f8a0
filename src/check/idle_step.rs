//! `idle-step`: nothing later needs what the step gives, so that rejoining could pass it over.

use super::about;
use super::flow::Flow;
use crate::finding::{Code, Finding};
use crate::guide::{Guide, Kind, Step, StepIdx};

/// `useful` tells of each way whether it gives anything live where it leads.
pub(super) fn check(flow: &Flow<'_>, useful: &[bool], findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    for (idx, step) in guide.steps().filter(|(idx, _)| flow.is_reachable(*idx)) {
        let Some(named) = judged(guide, idx, step) else { continue };
        let idle = guide.ways_out_idx(idx).all(|way| !useful[way.index()]);
        if idle && !guide.step(named).optional {
            let message = format!("nothing later needs what `{}` gives", guide.step(named).id);
            let help = "let it give a condition, and let the next step that rests on it need that condition; or make it optional";
            findings.push(about(Code::IdleStep, guide, named, message).help(help));
        }
    }
}

/// Returns the step to name where this node is one that can be idle: a run is judged where it returns.
///
/// A run that gives nothing of its own is judged by the steps inside it.
fn judged(guide: &Guide, idx: StepIdx, step: &Step) -> Option<StepIdx> {
    match step.kind {
        Kind::Do { .. } | Kind::Wait(_) => Some(idx),
        Kind::Return { run } => guide.ways_out(idx).iter().any(|way| !way.gives.is_empty()).then_some(run),
        _ => None,
    }
}
