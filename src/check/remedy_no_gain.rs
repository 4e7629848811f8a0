//! `remedy-no-gain`: where a guide names a fault table, a remedy that leads back no nearer to a finished pen than a new
//! blank does.
//!
//! What surely holds where the table is named is what may still be needed there; both endings are taken from that.

use super::about;
use super::flow::Flow;
use super::rejoin::without_job;
use crate::finding::{Code, Finding};
use crate::guide::document::{Document, Text};
use crate::guide::{ConditionSet, Library, read};

/// Checks every fault table that a guide's steps name.
pub(super) fn check(library: &Library, flow: &Flow<'_>, findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    for (idx, step) in guide.steps().filter(|(idx, _)| flow.is_reachable(*idx)) {
        for call in &step.trouble {
            let document = library.trouble(&call.table).and_then(|source| read(&source, library.limits()).0);
            let Some(table) = document.as_ref().and_then(|document| filled(document, &call.with)) else { continue };
            let held = flow.live_at(idx);
            let after = |undone: &[Text], given: &[Text]| {
                let known = |texts: &[Text]| -> Vec<_> {
                    texts.iter().filter_map(|text| guide.condition(&text.value)).collect()
                };
                let gone = guide.built_on(known(undone));
                let mut then: ConditionSet = held.iter().filter(|condition| !gone.contains(*condition)).collect();
                then.extend(known(given));
                without_job(flow, &then).map(|rejoin| rejoin.minutes)
            };
            let Some(over) = table.start_over.as_ref().and_then(|over| after(&over.undoes, &[])) else { continue };
            for remedy in &table.remedies {
                if after(&remedy.undoes, &remedy.gives).is_some_and(|minutes| minutes >= over) {
                    let message = format!(
                        "after `{}` of `{}` here the pen is no nearer to finished than with a new blank",
                        remedy.id.value, call.table
                    );
                    let help = "let the remedy give more of what it makes true, or undo less; or leave it out here";
                    findings.push(about(Code::RemedyNoGain, guide, idx, message).help(help));
                }
            }
        }
    }
}

fn filled(document: &Document, with: &[(String, String)]) -> Option<crate::guide::fault_table::RawFaultTable> {
    Some(document.fault_table.as_deref()?.filled(&document.takes, with, |_| None))
}
