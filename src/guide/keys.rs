//! The field table: which keys each table of a guide file may have, what each holds, and what it is for.
//!
//! The reader, its did-you-mean and the schema for editors work from these tables. A new key is a line here and a line
//! in the reader; a test takes every key and every type to both.

mod opening;
mod rehearsal;
mod step;
mod trouble;
mod verified;

pub use opening::{FILE, GUIDE, PROCEDURE, TROUBLE};
pub use rehearsal::REHEARSAL;
pub use step::{ANSWER, CAUTION, LIMITS, STEP, TROUBLE_REF, WAY};
pub use trouble::{BAND, CAUSE, CHECK, OUTCOME, REMEDY, START_OVER};
pub(super) use verified::METHODS;
pub use verified::VERIFIED;

/// One table of the format.
#[derive(Debug)]
pub struct Table {
    /// What it is called where the format is described.
    pub name: &'static str,
    /// Where a key that is not known stands: `in an answer`.
    pub place: &'static str,
    /// Which table lacks a key: `this answer`.
    pub this: &'static str,
    /// What it is for, in a turner's words.
    pub about: &'static str,
    /// The keys that it may have, whatever its kind.
    pub fields: &'static [Field],
    /// Its kinds, where it is one of several; it has the key of exactly one.
    pub kinds: &'static [Kind],
}

/// Of these keys a table has one at least.
pub static ONE_OF: &[(&Table, &[&str])] = &[(&REHEARSAL, &["arrives", "finding"])];

/// The first of these keys is of use only with the second.
pub static ONLY_WITH: &[(&Table, &str, &str)] = &[(&REHEARSAL, "finding", "leaves-out")];

/// A kind of a table: the key that names it, and what comes with it.
#[derive(Debug)]
pub struct Kind {
    /// The key that names the kind.
    pub key: Field,
    /// Keys that only this kind may have.
    pub fields: &'static [Field],
    /// Keys of the table that this kind may not have.
    pub without: &'static [&'static str],
}

/// A key of a table.
#[derive(Debug)]
pub struct Field {
    /// The key.
    pub key: &'static str,
    /// What it holds.
    pub shape: Shape,
    /// Whether it must be there.
    pub presence: Presence,
    /// What it is for, in a turner's words.
    pub about: &'static str,
}

/// Whether a key must be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Presence {
    /// It must.
    Wanted,
    /// It may.
    Allowed,
}

/// What a key holds.
#[derive(Debug, Clone, Copy)]
pub enum Shape {
    /// The number 1: the version of the format.
    Version,
    /// Text that is not empty.
    Text,
    /// The id of a step: letters, digits and hyphens.
    StepId,
    /// One of these words.
    OneOf(&'static [&'static str]),
    /// A day, written as 2026-11-26.
    Date,
    /// Text, or a number, which stands for the text that it was written as.
    TextOrNumber,
    /// A number from one bound to the other, both among the good ones.
    Number(f64, Option<f64>),
    /// A chance over 0, up to 1.
    Confidence,
    /// True or false.
    Flag,
    /// A list of texts, of at most so many where there is a bound.
    Texts(Option<usize>),
    /// A list of texts, one or more.
    SomeTexts,
    /// A list of conditions.
    Conditions,
    /// Where a way leads: the id of a step, or a table.
    Way,
    /// Ways by name.
    Ways,
    /// Texts or numbers by name.
    Pairs,
    /// Texts or numbers by name, or lists of texts.
    Replies,
    /// Texts by name.
    Words,
    /// Numbers of 0 or more by name.
    Numbers,
    /// The kit's numbers, in tables within tables.
    Kit,
    /// One fault table: its id, or a table with what it is given.
    FaultTable,
    /// A list of fault tables.
    FaultTables,
    /// A table.
    Table(&'static Table),
    /// A list of tables, at least so many.
    Tables(&'static Table, usize),
}

/// Returns a key that must be there.
const fn wanted(key: &'static str, shape: Shape, about: &'static str) -> Field {
    Field { key, shape, presence: Presence::Wanted, about }
}

/// Returns a key that may be there.
const fn allowed(key: &'static str, shape: Shape, about: &'static str) -> Field {
    Field { key, shape, presence: Presence::Allowed, about }
}

impl Table {
    /// Returns the kind of that name.
    pub fn kind(&self, kind: &str) -> Option<&'static Kind> {
        self.kinds.iter().find(|known| known.key.key == kind)
    }

    /// Yields the keys that name the kinds.
    pub fn kind_keys(&self) -> impl Iterator<Item = &'static str> + use<> {
        self.kinds.iter().map(|kind| kind.key.key)
    }

    /// Yields the fields that a table of this kind may have, the one that names the kind left out.
    pub fn fields_of(&self, kind: &str) -> impl Iterator<Item = &'static Field> + use<> {
        let kind = self.kind(kind);
        let own = kind.map_or(&[][..], |kind| kind.fields);
        let without = kind.map_or(&[][..], |kind| kind.without);
        self.fields.iter().filter(move |field| !without.contains(&field.key)).chain(own)
    }

    /// Tells whether a table of this kind may have a key; a key that names another kind is a fault of its own.
    pub fn knows(&self, kind: &str, key: &str) -> bool {
        self.fields_of(kind).any(|field| field.key == key) || self.kind_keys().any(|kind| kind == key)
    }

    /// Returns the keys that are suggested in a table of this kind; in one without a kind, those that name the kinds.
    pub fn keys(&self, kind: &str) -> Vec<&'static str> {
        let keys = self.fields_of(kind).map(|field| field.key);
        match self.kind(kind) {
            Some(_) => keys.collect(),
            None => keys.chain(self.kind_keys()).collect(),
        }
    }

    /// Yields the keys that a table of this kind must have.
    pub fn wanted(&self, kind: &str) -> impl Iterator<Item = &'static str> + use<> {
        self.fields_of(kind).filter(|field| field.presence == Presence::Wanted).map(|field| field.key)
    }
}

/// The words of a step's own commands; no answer may be one of them.
pub const RESERVED_ANSWERS: &[&str] =
    &["done", "trouble", "back", "why", "where", "ahead", "note", "park", "again", "skip", "?"];

/// Tells whether a text can be the name of a step or a condition: letters, digits, dots, hyphens and slashes.
pub fn is_name(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"-_./".contains(&byte))
}
