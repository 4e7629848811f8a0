//! `no-way-out`: from this step no end can be reached.

use super::about;
use super::flow::Flow;
use crate::finding::{Code, Finding};

pub(super) fn check(flow: &Flow<'_>, findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    for (idx, step) in guide.steps().filter(|(idx, _)| flow.is_reachable(*idx) && !flow.can_end(*idx)) {
        let message = format!("from `{}` no end can be reached", step.id);
        findings.push(about(Code::NoWayOut, guide, idx, message).help("let one of its ways lead on towards an end"));
    }
}
