//! The shelf of guides, procedures and fault tables that a guide is linked against.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::document::{Document, Shelf};
use super::limits::Limits;
use super::model::Guide;
use super::{link, read, shipped};
use crate::finding::{Finding, Severity, Source};

/// Guides, procedures and fault tables by id; what is added later lies over what was there.
#[derive(Debug, Clone, Default)]
pub struct Library {
    limits: Limits,
    guides: BTreeMap<String, Arc<Source>>,
    procedures: BTreeMap<String, Arc<Source>>,
    trouble: BTreeMap<String, Arc<Source>>,
}

/// A guide file, read and linked as far as it goes.
#[derive(Debug, Clone)]
pub struct Linked {
    /// The file as it was read; none where not even its kind could be told.
    pub document: Option<Arc<Document>>,
    /// The guide; none where there is an error among the findings, or the file is no guide.
    pub guide: Option<Guide>,
    /// What was found in reading and linking, in the order of the report.
    pub findings: Vec<Finding>,
}

impl Library {
    /// Returns a library with nothing in it.
    pub fn empty() -> Library {
        Library::default()
    }

    /// Returns the library of the guides that stepjig comes with.
    pub fn shipped() -> Library {
        let mut library = Library::empty();
        for (shelf, id, path, text) in shipped::FILES {
            library.add(*shelf, *id, Source::new(*path, *text));
        }
        library
    }

    /// Returns the same library with other bounds on what it reads.
    pub fn with_limits(mut self, limits: Limits) -> Library {
        self.limits = limits;
        self
    }

    /// Adds a file under an id, over one that was there.
    pub fn add(&mut self, shelf: Shelf, id: impl Into<String>, source: Arc<Source>) {
        let files = match shelf {
            Shelf::Guide => &mut self.guides,
            Shelf::Procedure => &mut self.procedures,
            Shelf::Trouble => &mut self.trouble,
        };
        files.insert(id.into(), source);
    }

    /// Returns the bounds on what is read.
    pub fn limits(&self) -> &Limits {
        &self.limits
    }

    /// Yields the guides' ids, sorted.
    pub fn guide_ids(&self) -> impl Iterator<Item = &str> {
        self.guides.keys().map(String::as_str)
    }

    /// Yields the procedures' ids, sorted.
    pub fn procedure_ids(&self) -> impl Iterator<Item = &str> {
        self.procedures.keys().map(String::as_str)
    }

    /// Yields the fault tables' ids, sorted.
    pub fn trouble_ids(&self) -> impl Iterator<Item = &str> {
        self.trouble.keys().map(String::as_str)
    }

    /// Returns a guide's file.
    pub fn guide(&self, id: &str) -> Option<Arc<Source>> {
        self.guides.get(id).cloned()
    }

    /// Returns a procedure's file.
    pub fn procedure(&self, id: &str) -> Option<Arc<Source>> {
        self.procedures.get(id).cloned()
    }

    /// Tells whether there is a fault table of that id.
    pub fn has_trouble(&self, id: &str) -> bool {
        self.trouble.contains_key(id)
    }

    /// Reads and links a guide file against this library.
    ///
    /// A procedure or fault table is only read: it is linked where a guide runs it.
    ///
    /// ```
    /// use stepjig::finding::Source;
    /// use stepjig::guide::Library;
    ///
    /// let text = "stepjig = 1\n[guide]\nid = \"mop\"\ntitle = \"Mop\"\n[[step]]\nid = \"a\"\ndo = \"Mop.\"\nthen = \"b\"\n";
    /// let linked = Library::empty().link(&Source::new("mop.toml", text));
    /// assert!(linked.guide.is_none());
    /// assert_eq!(linked.findings[0].code.as_str(), "no-such-step");
    /// assert_eq!(linked.findings[0].place.to_string(), "mop.toml:8:8");
    /// ```
    pub fn link(&self, source: &Arc<Source>) -> Linked {
        let (document, mut findings) = read(source, &self.limits);
        let document = document.map(Arc::new);
        let mut guide = None;
        if let Some(document) = document.as_ref().filter(|document| document.shelf == Shelf::Guide) {
            if document.steps.is_empty() {
                // Nothing to link; the reader has said so.
            } else {
                let linked = link::link(self, document);
                findings.extend(linked.1);
                let clean = findings.iter().all(|finding| finding.severity() == Severity::Warning);
                guide = linked.0.filter(|_| clean);
            }
        }
        crate::finding::sort(&mut findings);
        findings.dedup();
        Linked { document, guide, findings }
    }

    /// Reads and links the guide of that id.
    pub fn link_id(&self, id: &str) -> Option<Linked> {
        Some(self.link(&self.guide(id)?))
    }
}
