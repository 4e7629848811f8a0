//! `end-unguarded`: a finished pen needs nothing.

use super::about;
use super::flow::Flow;
use crate::finding::{Code, Finding};
use crate::guide::{EndKind, Kind, Step};

pub(super) fn check(flow: &Flow<'_>, findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    let unguarded = |step: &Step| matches!(step.kind, Kind::End(EndKind::Finished)) && step.needs.is_empty();
    for (idx, step) in guide.steps().filter(|(idx, step)| unguarded(step) && flow.is_reachable(*idx)) {
        let message = format!("`{}` finishes the pen and needs nothing", step.id);
        let help = "say with `needs` what a finished pen is; every walk is then held to it";
        findings.push(about(Code::EndUnguarded, guide, idx, message).help(help));
    }
}
