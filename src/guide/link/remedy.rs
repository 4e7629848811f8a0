//! A remedy of a fault table as a guide of its own: what holds, the remedy, and what is true when it has cured.

use std::sync::Arc;

use super::{Linked, Numbers};
use crate::finding::{Severity, Span};
use crate::guide::document::{Document, KitValue, RawKind, RawStep, Shelf, Text};
use crate::guide::fault_table::{RawAction, RawFaultTable, RawRemedy};
use crate::guide::library::Library;

/// The id of the step that gives what holds when the remedy is begun.
pub const AS_IT_STANDS: &str = "as-it-stands";

/// The id of the end of a remedy that has cured.
pub const FIXED: &str = "fixed";

impl Library {
    /// Links one remedy of a fault table as a guide of its own.
    ///
    /// The table has its parameters put in, [`RawFaultTable::filled`]. `held` names what holds when the remedy is
    /// begun, less what it undoes before anything is done; `kit` has the numbers that its procedure uses, or `None` where the remedy
    /// is looked at alone and any number will do. The guide begins at [`AS_IT_STANDS`], which gives what is held, goes
    /// through the remedy, and ends at [`FIXED`]; its other ends are the procedure's own.
    pub fn link_remedy(
        &self,
        document: &Document,
        table: &RawFaultTable,
        remedy: &RawRemedy,
        held: &[String],
        kit: Option<&[(String, KitValue)]>,
    ) -> Linked {
        let span = remedy.id.span.clone();
        let mut steps = Vec::new();
        if !held.is_empty() {
            let text = at(&span, "Look at the work as it stands.");
            let kind = RawKind::Do { text, in_one_go: Vec::new(), then: None };
            let gives = held.iter().map(|name| at(&place_of(table, name, &span), name)).collect();
            steps.push(RawStep { gives, ..RawStep::bare(span.clone(), at(&span, AS_IT_STANDS), kind) });
        }
        steps.push(step_of(remedy));
        let finished = RawKind::End { text: at(&span, "finished"), then: None, of: None };
        steps.push(RawStep { needs: remedy.gives.clone(), ..RawStep::bare(span.clone(), at(&span, FIXED), finished) });
        let kit_of = |(path, value): &(String, KitValue)| (at(&span, path), value.clone());
        let guide = Document {
            source: Arc::clone(&document.source),
            shelf: Shelf::Guide,
            header: document.header.clone(),
            id: document.id.clone(),
            title: document.title.clone(),
            edition: document.edition.clone(),
            use_when: None,
            not_when: None,
            care: None,
            takes: Vec::new(),
            passing: Vec::new(),
            words: document.words.clone(),
            kit: kit.unwrap_or_default().iter().map(kit_of).collect(),
            measured: Vec::new(),
            linked: false,
            steps,
            unread: Default::default(),
            kept_by: None,
            verified: Vec::new(),
            rehearsals: Vec::new(),
            fault_table: None,
        };
        let guide = Arc::new(guide);
        let numbers = if kit.is_some() { Numbers::OfTheKit } else { Numbers::Any };
        let (linked, mut findings) = super::link(self, &guide, numbers);
        crate::finding::sort(&mut findings);
        findings.dedup();
        let clean = findings.iter().all(|finding| finding.severity() == Severity::Warning);
        Linked { document: Some(guide), guide: linked.filter(|_| clean), findings }
    }
}

fn step_of(remedy: &RawRemedy) -> RawStep {
    let kind = match &remedy.action {
        RawAction::Do(text) => RawKind::Do { text: text.clone(), in_one_go: Vec::new(), then: None },
        RawAction::Run { name, with } => {
            RawKind::Run { name: name.clone(), with: with.clone(), each: Vec::new(), skip_to: None, then: None }
        }
    };
    let is_do = matches!(remedy.action, RawAction::Do(_));
    let parts = remedy.parts.iter().chain(&remedy.tools).cloned().collect();
    RawStep {
        // A procedure has to make true what the remedy says; that is proved at its end.
        gives: if is_do { remedy.gives.clone() } else { Vec::new() },
        cautions: remedy.cautions.clone(),
        tell: remedy.tell.clone(),
        minutes: is_do.then_some(remedy.minutes),
        at: remedy.at.clone().filter(|_| is_do),
        parts,
        ..RawStep::bare(remedy.id.span.clone(), remedy.id.clone(), kind)
    }
}

fn at(span: &Span, text: &str) -> Text {
    Text { value: text.to_owned(), span: span.clone() }
}

/// Returns where the table names a condition among its needs.
fn place_of(table: &RawFaultTable, name: &str, otherwise: &Span) -> Span {
    let named = table.needs.iter().find(|need| need.value == name);
    named.map_or(otherwise, |need| &need.span).clone()
}
