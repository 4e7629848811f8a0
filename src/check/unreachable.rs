//! `unreachable`: no walk from the first step comes to this one.

use super::about;
use super::flow::Flow;
use crate::finding::{Code, Finding};

pub(super) fn check(flow: &Flow<'_>, findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    for (idx, step) in guide.steps().filter(|(idx, _)| !flow.is_reachable(*idx)) {
        let message = format!("no way leads to `{}`", step.id);
        findings.push(
            about(Code::Unreachable, guide, idx, message).help("name it in a way of an earlier step, or take it out"),
        );
    }
}
