//! `idle-step`: nothing later needs what the step gives, so that rejoining could pass it over.

use super::about;
use super::flow::Flow;
use crate::finding::{Code, Finding, Fix, SUGGESTIONS};
use crate::guide::{EndKind, Guide, Kind, Step, StepIdx, edit};

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

/// Gives the findings of this check the fix that mends them, those that have one.
///
/// While something is wanted that no step gives, it may be the idle one that does: the writer knows, and no fix.
pub(super) fn suggest(guide: &Guide, findings: &mut [Finding]) {
    if findings.iter().any(|finding| finding.code == Code::NeverGiven) {
        return;
    }
    for finding in findings.iter_mut().filter(|finding| finding.code == Code::IdleStep).take(SUGGESTIONS) {
        let idle = finding.step.as_deref().and_then(|id| guide.step_of_id(id));
        finding.fix = idle.and_then(|idle| fix(guide, idle));
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

/// Returns the fix that lets the step give a condition and the next one-way step need it; where none comes, the end.
///
/// Only a step that cannot be come to but past this one may need what this one gives. Both stand in the guide's own
/// file: what a procedure gives is for whoever wrote it to say.
fn fix(guide: &Guide, idle: StepIdx) -> Option<Fix> {
    let document = guide.document();
    let is_own = |step: &Step| !step.id.contains('/') && std::sync::Arc::ptr_eq(&step.place().source, &document.source);
    let step = guide.step(idle);
    if document.linked || !is_own(step) {
        return None;
    }
    let node = |idx: StepIdx| petgraph::graph::NodeIndex::new(idx.index());
    let before = petgraph::algo::dominators::simple_fast(guide.graph(), node(guide.first()));
    let comes_after = |idx: StepIdx| {
        idx != idle && before.dominators(node(idx)).is_some_and(|mut all| all.any(|one| one == node(idle)))
    };
    let later: Vec<_> = guide.steps().filter(|(idx, step)| is_own(step) && comes_after(*idx)).collect();
    let one_way = later.iter().find(|(_, step)| step.one_way);
    let end = || later.iter().find(|(_, step)| step.kind == Kind::End(EndKind::Finished));
    let (_, later) = one_way.or_else(end)?;
    let given = step.gives.iter().map(|mention| mention.condition).find(|given| !guide.is_passing(*given));
    let (name, is_new) = match given {
        Some(given) => (guide.name(given).to_owned(), false),
        None => (format!("{}.done", step.id), true),
    };
    if is_new && guide.condition(&name).is_some() {
        return None;
    }
    let list = |step: &Step, key| edit::add_to_list(&document.source, &step.raw_step().id.span, key, &name);
    let mut edits = vec![list(later, "needs")?];
    if is_new {
        edits.push(list(step, "gives")?);
    }
    let gives = if is_new { "now gives" } else { "gives" };
    Some(Fix { what: format!("`{}` {gives} `{name}`, and `{}` needs it", step.id, later.id), edits })
}
