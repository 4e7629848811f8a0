//! What the owner of the pen does, as a guide of its own.

use std::sync::Arc;

use super::Numbers;
use crate::finding::Finding;
use crate::guide::document::{Care, Document, RawKind, RawStep, Text};
use crate::guide::library::Library;
use crate::guide::model::Guide;

/// The id of the step that runs the procedure.
const RUN: &str = "care";

impl Library {
    /// Links what the owner of a guide's pen does: a guide that runs the procedure that it names. None where it names
    /// none.
    pub(super) fn link_care(&self, document: &Document) -> Option<(Option<Guide>, Vec<Finding>)> {
        let Care { name, steps } = document.care.as_ref()?;
        let at = |text: &str| Text { value: text.to_owned(), span: name.span.clone() };
        let steps = match document.linked {
            true if steps.is_empty() => return None,
            true => steps.clone(),
            false => {
                let run =
                    RawKind::Run { name: name.clone(), with: Vec::new(), each: Vec::new(), skip_to: None, then: None };
                let end = RawKind::End { text: at("finished"), then: None, of: None };
                vec![RawStep::bare(name.span.clone(), at(RUN), run), RawStep::bare(name.span.clone(), at("end"), end)]
            }
        };
        let (care, words, rehearsals) = (None, Vec::new(), Vec::new());
        let guide = Document { steps, care, words, rehearsals, unread: Default::default(), ..document.clone() };
        Some(super::link(self, &Arc::new(guide), Numbers::OfTheKit))
    }
}
