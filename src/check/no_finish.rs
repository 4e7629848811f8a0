//! `no-finish`: no walk comes to a finished pen.

use super::flow::Flow;
use crate::finding::{Code, Finding};
use crate::guide::{EndKind, Kind};

pub(super) fn check(flow: &Flow<'_>, findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    let finished = |kind: &Kind| matches!(kind, Kind::End(EndKind::Finished));
    if guide.steps().any(|(idx, step)| finished(&step.kind) && flow.is_reachable(idx)) {
        return;
    }
    let document = guide.document();
    let finding =
        Finding::new(Code::NoFinish, document.place(&document.header), "no walk comes to `end = \"finished\"`");
    findings.push(finding.help("let the last step be an `end = \"finished\"` that needs what makes the pen finished"));
}
