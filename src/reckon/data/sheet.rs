//! A file of named entries in tables, with a shop's own laid over it: its own entry replaces, a new one adds.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::de::DeserializeOwned;

use super::{Refusal, fault};
use crate::finding::{Source, did_you_mean};

/// The tables of one file.
pub(super) struct Sheet {
    file: &'static str,
    /// The shop's file, where there is one.
    own: Option<Arc<Source>>,
    tables: Tables<Entry>,
}

type Tables<E> = BTreeMap<String, BTreeMap<String, E>>;

struct Entry {
    value: toml::Value,
    is_own: bool,
}

/// One entry, read.
pub(super) struct Row<T> {
    pub(super) value: T,
    /// Whether the shop has set it.
    pub(super) is_own: bool,
}

impl Sheet {
    /// Reads the shipped text, and the shop's own over it.
    pub(super) fn read(name: &'static str, shipped: &str, own: Option<&Arc<Source>>) -> Result<Sheet, Refusal> {
        let mut sheet = Sheet { file: name, own: own.cloned(), tables: BTreeMap::new() };
        let wrong = |wrong: toml::de::Error| fault::in_shipped(name, wrong.message().to_owned());
        for (table, entries) in toml::from_str::<Tables<toml::Value>>(shipped).map_err(wrong)? {
            let entries = entries.into_iter().map(|(name, value)| (name, Entry { value, is_own: false }));
            sheet.tables.insert(table, entries.collect());
        }
        let Some(own) = own else { return Ok(sheet) };
        for (table, entries) in fault::file::<Tables<toml::Value>>(own)? {
            let Some(under) = sheet.tables.get_mut(&table) else {
                let near = did_you_mean(&table, sheet.tables.keys().map(String::as_str));
                let help = near.map(|near| format!(": {near}")).unwrap_or_default();
                return Err(fault::at_entry(own, &[&table], format!("`{table}` is no table of {name}{help}")));
            };
            under.extend(entries.into_iter().map(|(name, value)| (name, Entry { value, is_own: true })));
        }
        Ok(sheet)
    }

    /// Returns the entries of a table in the order of their names, each read.
    pub(super) fn rows<T>(
        &self,
        table: &str,
        read: impl Fn(&str, &toml::Value) -> Result<T, String>,
    ) -> Result<Vec<Row<T>>, Refusal> {
        let row = |(name, entry): (&String, &Entry)| match read(name, &entry.value) {
            Ok(value) => Ok(Row { value, is_own: entry.is_own }),
            Err(wrong) => Err(self.fault_in(entry.is_own, table, name, &wrong)),
        };
        self.tables.get(table).into_iter().flatten().map(row).collect()
    }

    /// Returns the text of an entry, nothing where it is not there.
    pub(super) fn text(&self, table: &str, name: &str) -> &str {
        let entry = self.tables.get(table).and_then(|entries| entries.get(name));
        entry.and_then(|entry| entry.value.as_str()).unwrap_or("")
    }

    fn fault_in(&self, is_own: bool, table: &str, name: &str, wrong: &str) -> Refusal {
        let said = format!("`{table}.{name}`: {wrong}");
        match self.own.as_ref().filter(|_| is_own) {
            Some(own) => fault::at_entry(own, &[table, name], said),
            None => fault::in_shipped(self.file, said),
        }
    }
}

/// Reads an entry that has keys of its own.
pub(super) fn fields<T: DeserializeOwned>(entry: &toml::Value) -> Result<T, String> {
    T::deserialize(entry.clone()).map_err(|fault| fault.message().to_owned())
}
