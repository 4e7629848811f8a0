//! `long-stretch`: too many steps in a row without a look, a reading, a wait or a new stage.
//!
//! Handbook figures for leaving a step out of a list: 0.001 in a list of up to ten with marks, 0.003 in a longer one
//! (NUREG/CR-1278, 1983, table 20-7, quoted from memory).

use super::about;
use super::flow::Flow;
use crate::finding::{Code, Finding};
use crate::guide::Kind;

/// The most steps in a row.
const MOST: usize = 10;

pub(super) fn check(flow: &Flow<'_>, findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    let mut stretch = 0;
    let mut stage = None;
    for (idx, step) in guide.steps().filter(|(idx, _)| flow.is_reachable(*idx)) {
        let pauses = match step.kind {
            Kind::Do { .. } => step.one_way || step.stage.as_ref() != stage,
            Kind::Run | Kind::Return { .. } => continue,
            _ => true,
        };
        stage = step.stage.as_ref();
        stretch = if pauses { 0 } else { stretch + 1 };
        if stretch == MOST + 1 {
            let message =
                format!("`{}` is the {}th step in a row without a look, a reading or a new stage", step.id, MOST + 1);
            let help = "put a question or a gauge between them, or begin a new `stage`";
            findings.push(about(Code::LongStretch, guide, idx, message).help(help));
        }
    }
}
