//! Which fault tables are offered at a step.

use crate::finding::Severity;
use crate::guide::document::{Document, Text};
use crate::guide::fault_table::RawFaultTable;
use crate::guide::{Library, TroubleCall, fold, read};
use crate::walk::Walk;

/// A fault table that can be asked here.
pub(super) struct Offer {
    pub(super) call: TroubleCall,
    pub(super) source: String,
    pub(super) title: String,
    pub(super) words: RawFaultTable,
    /// Whether the present step names it.
    pub(super) is_of_the_step: bool,
}

/// Returns the tables that the guide names: those of the present step, then those whose needs hold.
pub(super) fn offers(walk: &Walk<'_>, library: &Library) -> Vec<Offer> {
    let guide = walk.guide();
    let lasting = walk.state().lasting(guide);
    let holds = |need: &Text| guide.condition(&need.value).is_some_and(|condition| lasting.contains(condition));
    let fits = |offer: &Offer| offer.is_of_the_step || offer.words.needs.iter().all(holds);
    walk.trouble_calls().into_iter().filter_map(|call| offer(walk, library, call)).filter(fits).collect()
}

/// Returns a table for what it is called about, if it is there without an error.
pub(super) fn offer(walk: &Walk<'_>, library: &Library, call: TroubleCall) -> Option<Offer> {
    let guide = walk.guide();
    let source = library.trouble(&call.table)?;
    let (document, findings) = read(&source, library.limits());
    let document = document.filter(|_| findings.iter().all(|finding| finding.severity() != Severity::Error))?;
    let number = |name: &str| walk.state().number(guide, name);
    Some(Offer {
        title: titled(&document, &call),
        source: source.text().to_owned(),
        is_of_the_step: guide.step(walk.state().here).trouble.contains(&call),
        words: document.fault_table.as_deref()?.filled(&document.takes, &call.with, number),
        call,
    })
}

/// Returns a table's title with what it is about.
fn titled(document: &Document, call: &TroubleCall) -> String {
    let about: Vec<&str> = call.with.iter().map(|(_, value)| value.rsplit('.').next().unwrap_or(value)).collect();
    if about.is_empty() { document.title.clone() } else { format!("{} ({})", document.title, about.join(", ")) }
}

/// Returns the offers that a number or words name.
pub(super) fn chosen(offers: &[Offer], typed: &str) -> Vec<usize> {
    if let Some(n) = typed.parse::<usize>().ok().filter(|n| (1..=offers.len()).contains(n)) {
        return vec![n - 1];
    }
    let about = |offer: &Offer| fold(&offer.call.table) == typed || offer.words.is_about(&offer.title, typed);
    let exact: Vec<usize> = (0..offers.len()).filter(|n| fold(&offers[*n].title) == typed).collect();
    if exact.is_empty() { (0..offers.len()).filter(|n| about(&offers[*n])).collect() } else { exact }
}
