//! Thresholds and usual values: common practice, with a shop's own laid over them.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::ALL;
use super::super::input::Usual;
use super::{Data, Refusal, by_line, fault};
use crate::finding::{Source, did_you_mean};

/// Thresholds and usual values by key, `wall.thin`.
#[derive(Debug)]
pub(super) struct Practice {
    shipped: &'static str,
    /// Those that the shop has set.
    own: BTreeMap<String, String>,
    /// The shop's file, where there is one.
    own_file: Option<Arc<Source>>,
}

/// How a fault in the shipped file is named, which no one sees whose tests have passed.
const SHIPPED: &str = "practice.toml";

impl Practice {
    /// Takes the shipped text, and reads the shop's own over it.
    pub(super) fn read(shipped: &'static str, own: Option<&Arc<Source>>) -> Result<Practice, Refusal> {
        let mut practice = Practice { shipped, own: BTreeMap::new(), own_file: own.cloned() };
        let Some(own) = own else { return Ok(practice) };
        for (key, text) in entries(own)? {
            if practice.shipped(&key).is_none() {
                let keys = by_line::keys(shipped);
                let near = did_you_mean(&key, keys.iter().map(String::as_str));
                let help = near.map(|near| format!(": {near}")).unwrap_or_default();
                let unknown = format!("`{key}` is no usual value of a reckoning{help}");
                return Err(fault::at_entry(own, &path(&key), unknown));
            }
            practice.own.insert(key, text);
        }
        Ok(practice)
    }

    fn shipped(&self, key: &str) -> Option<&'static str> {
        let (table, name) = key.split_once('.')?;
        by_line::entry(self.shipped, table, name)
    }

    /// Returns an entry as it is written.
    pub(super) fn text(&self, key: &str) -> Result<String, Refusal> {
        self.read_as(key, |text| Ok(text.to_owned()))
    }

    /// Returns an entry, read.
    pub(super) fn read_as<T>(&self, key: &str, read: impl Fn(&str) -> Result<T, String>) -> Result<T, Refusal> {
        if let Some((text, own)) = self.own.get(key).zip(self.own_file.as_ref()) {
            return read(text).map_err(|wrong| fault::at_entry(own, &path(key), format!("`{key}`: {wrong}")));
        }
        let text = self.shipped(key).ok_or_else(|| fault::in_shipped(SHIPPED, format!("`{key}` is not there")))?;
        read(text).map_err(|wrong| fault::in_shipped(SHIPPED, format!("`{key}`: {wrong}")))
    }

    /// Returns what is wrong with the values that the shop has set, each read as what it stands for: the input that
    /// takes it, else what the shipped one is, a length or a plain number.
    pub(super) fn faults(&self, data: &Data) -> Vec<Refusal> {
        let inputs = || ALL.iter().flat_map(|reckoning| reckoning.inputs);
        let fault = |key: &String| {
            let taken_by = inputs().find(|input| matches!(input.usual, Usual::Practice(usual) if usual == key));
            let read = match (taken_by, self.shipped(key)?.parse::<f64>()) {
                (Some(input), _) => self.read_as(key, |text| match input.read(text, None) {
                    Ok(_) => Ok(()),
                    Err(wrong) => {
                        let said = wrong.to_string();
                        let said = said.trim_start_matches(&format!("`{}`: ", input.name));
                        Err(wrong.help().map_or(said.to_owned(), |help| format!("{said}: {help}")))
                    }
                }),
                (None, Ok(_)) => data.practice_number(key).map(drop),
                (None, Err(_)) => data.practice_length(key).map(drop),
            };
            read.err()
        };
        self.own.keys().filter_map(fault).collect()
    }

    /// Tells whether the shop has set a value of a reckoning itself.
    pub(super) fn is_own(&self, reckoning: &str) -> bool {
        let of = |key: &String| key.strip_prefix(reckoning).is_some_and(|rest| rest.starts_with('.'));
        self.own.keys().any(of)
    }
}

/// Returns the table and the name that a key is made of.
fn path(key: &str) -> Vec<&str> {
    key.splitn(2, '.').collect()
}

/// Returns key and text of each entry of a shop's file: tables of strings and numbers.
fn entries(own: &Arc<Source>) -> Result<Vec<(String, String)>, Refusal> {
    let tables: BTreeMap<String, BTreeMap<String, toml::Value>> = fault::file(own)?;
    let mut entries = Vec::new();
    for (table, values) in tables {
        for (name, value) in values {
            let text = match value {
                toml::Value::String(text) => text,
                toml::Value::Integer(number) => number.to_string(),
                toml::Value::Float(number) => number.to_string(),
                _ => {
                    let neither = format!("`{table}.{name}` is neither a text nor a number");
                    return Err(fault::at_entry(own, &[&table, &name], neither));
                }
            };
            entries.push((format!("{table}.{name}"), text));
        }
    }
    Ok(entries)
}
