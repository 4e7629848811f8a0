//! The shelf of guides, procedures and fault tables that a guide is linked against.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::document::Shelf;
use super::limits::Limits;
use super::shipped;
use crate::finding::Source;

/// Guides, procedures and fault tables by id; what is added later lies over what was there.
#[derive(Debug, Clone, Default)]
pub struct Library {
    limits: Limits,
    guides: BTreeMap<String, Arc<Source>>,
    procedures: BTreeMap<String, Arc<Source>>,
    trouble: BTreeMap<String, Arc<Source>>,
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

    /// Returns a fault table's file.
    pub fn trouble(&self, id: &str) -> Option<Arc<Source>> {
        self.trouble.get(id).cloned()
    }

    /// Tells whether there is a fault table of that id.
    pub fn has_trouble(&self, id: &str) -> bool {
        self.trouble.contains_key(id)
    }
}
