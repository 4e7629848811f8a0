//! A file of named entries in tables, with a shop's own laid over it: its own entry replaces, a new one adds.

use std::collections::BTreeMap;

use serde::de::DeserializeOwned;

use super::Refusal;
use crate::finding::did_you_mean;

/// The tables of one file.
pub(super) struct Sheet {
    file: &'static str,
    /// The shop's file, where there is one.
    own_place: Option<String>,
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
    /// Reads the shipped text, and the shop's own over it: where it lies, and what it says.
    pub(super) fn read(name: &'static str, shipped: &str, own: Option<(&str, &str)>) -> Result<Sheet, Refusal> {
        let mut sheet = Sheet { file: name, own_place: None, tables: BTreeMap::new() };
        for (table, entries) in file::<Tables<toml::Value>>(shipped).map_err(|fault| sheet.fault(fault))? {
            let entries = entries.into_iter().map(|(name, value)| (name, Entry { value, is_own: false }));
            sheet.tables.insert(table, entries.collect());
        }
        let Some((place, own)) = own else { return Ok(sheet) };
        sheet.own_place = Some(place.to_owned());
        for (table, entries) in file::<Tables<toml::Value>>(own).map_err(|fault| sheet.fault(fault))? {
            let Some(under) = sheet.tables.get_mut(&table) else {
                let near = did_you_mean(&table, sheet.tables.keys().map(String::as_str));
                let help = near.map(|near| format!(": {near}")).unwrap_or_default();
                return Err(sheet.fault(format!("`{table}` is no table of {name}{help}")));
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
            Err(fault) => Err(self.fault_in(entry.is_own, format!("`{table}.{name}`: {fault}"))),
        };
        self.tables.get(table).into_iter().flatten().map(row).collect()
    }

    /// Returns the text of an entry, nothing where it is not there.
    pub(super) fn text(&self, table: &str, name: &str) -> &str {
        let entry = self.tables.get(table).and_then(|entries| entries.get(name));
        entry.and_then(|entry| entry.value.as_str()).unwrap_or("")
    }

    /// A fault in the file that was read last.
    pub(super) fn fault(&self, fault: String) -> Refusal {
        self.fault_in(self.own_place.is_some(), fault)
    }

    fn fault_in(&self, own: bool, fault: String) -> Refusal {
        let own_place = self.own_place.as_deref().filter(|_| own);
        Refusal::Table { place: own_place.unwrap_or(self.file).to_owned(), fault }
    }
}

/// Reads an entry that has keys of its own.
pub(super) fn fields<T: DeserializeOwned>(entry: &toml::Value) -> Result<T, String> {
    T::deserialize(entry.clone()).map_err(|fault| fault.message().to_owned())
}

/// Reads a whole file; a fault names its line.
pub(super) fn file<T: DeserializeOwned>(text: &str) -> Result<T, String> {
    toml::from_str(text).map_err(|fault| match fault.span() {
        Some(span) => {
            let before = text.get(..span.start).unwrap_or(text);
            format!("line {}: {}", before.matches('\n').count() + 1, fault.message())
        }
        None => fault.message().to_owned(),
    })
}
