//! Thresholds and usual values: common practice, with a shop's own laid over them.

use std::collections::BTreeMap;

use super::sheet::file;
use super::{Refusal, by_line};
use crate::finding::did_you_mean;

/// Thresholds and usual values by key, `wall.thin`.
#[derive(Debug)]
pub(super) struct Practice {
    shipped: &'static str,
    /// Those that the shop has set.
    own: BTreeMap<String, String>,
    /// The shop's file, where there is one.
    own_place: Option<String>,
}

/// How a fault in the shipped file is named, which no one sees whose tests have passed.
const SHIPPED: &str = "practice.toml";

impl Practice {
    /// Takes the shipped text, and reads the shop's own over it: where it lies, and what it says.
    pub(super) fn read(shipped: &'static str, own: Option<(&str, &str)>) -> Result<Practice, Refusal> {
        let mut practice = Practice { shipped, own: BTreeMap::new(), own_place: None };
        let Some((place, text)) = own else { return Ok(practice) };
        let fault = |fault: String| Refusal::Table { place: place.to_owned(), fault };
        for (key, text) in entries(text).map_err(fault)? {
            if practice.shipped(&key).is_none() {
                let keys = entries(shipped).map_err(fault)?;
                let near = did_you_mean(&key, keys.iter().map(|(key, _)| key.as_str()));
                let help = near.map(|near| format!(": {near}")).unwrap_or_default();
                return Err(fault(format!("`{key}` is no usual value of a reckoning{help}")));
            }
            practice.own.insert(key, text);
        }
        practice.own_place = Some(place.to_owned());
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
        let own = self.own.get(key).map(|text| (text.as_str(), self.own_place.as_deref().unwrap_or(SHIPPED)));
        let nowhere = || Refusal::Table { place: SHIPPED.to_owned(), fault: format!("`{key}` is not there") };
        let (text, place) = own.or_else(|| Some((self.shipped(key)?, SHIPPED))).ok_or_else(nowhere)?;
        read(text).map_err(|fault| Refusal::Table { place: place.to_owned(), fault: format!("`{key}`: {fault}") })
    }

    /// Tells whether the shop has set a value of a reckoning itself.
    pub(super) fn is_own(&self, reckoning: &str) -> bool {
        let of = |key: &String| key.strip_prefix(reckoning).is_some_and(|rest| rest.starts_with('.'));
        self.own.keys().any(of)
    }
}

/// Returns key and text of each entry of a file: tables of strings and numbers.
fn entries(text: &str) -> Result<Vec<(String, String)>, String> {
    let tables: BTreeMap<String, BTreeMap<String, toml::Value>> = file(text)?;
    let mut entries = Vec::new();
    for (table, values) in tables {
        for (name, value) in values {
            let text = match value {
                toml::Value::String(text) => text,
                toml::Value::Integer(number) => number.to_string(),
                toml::Value::Float(number) => number.to_string(),
                _ => return Err(format!("`{table}.{name}` is neither a text nor a number")),
            };
            entries.push((format!("{table}.{name}"), text));
        }
    }
    Ok(entries)
}
