//! `one-way-unguarded`: a step that cannot be taken back needs nothing.

use super::about;
use super::flow::Flow;
use crate::finding::{Code, Finding};

pub(super) fn check(flow: &Flow<'_>, findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    let unguarded = |step: &crate::guide::Step| step.one_way && step.needs.is_empty();
    for (idx, step) in guide.steps().filter(|(idx, step)| unguarded(step) && flow.is_reachable(*idx)) {
        let message = format!("`{}` cannot be taken back and needs nothing", step.id);
        let help = "say with `needs` what must be true before it; the hold asks for just that";
        findings.push(about(Code::OneWayUnguarded, guide, idx, message).help(help));
    }
}
