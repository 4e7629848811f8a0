//! Thresholds and usual values: common practice, with a shop's own laid over them.

use std::collections::BTreeMap;

use super::Refusal;
use super::sheet::file;

/// Thresholds and usual values by key, `wall.thin`.
#[derive(Debug)]
pub(super) struct Practice {
    entries: BTreeMap<String, Entry>,
}

#[derive(Debug)]
struct Entry {
    text: String,
    /// The shop's file, where the shop has set it.
    own: Option<String>,
}

impl Practice {
    /// Reads the shipped text, and the shop's own over it: where it lies, and what it says.
    pub(super) fn read(shipped: &str, own: Option<(&str, &str)>) -> Result<Practice, Refusal> {
        let mut practice = Practice { entries: BTreeMap::new() };
        let fault = |place: &str, fault: String| Refusal::Table { place: place.to_owned(), fault };
        for (key, text) in entries(shipped).map_err(|wrong| fault("practice.toml", wrong))? {
            practice.entries.insert(key, Entry { text, own: None });
        }
        let Some((place, own)) = own else { return Ok(practice) };
        for (key, text) in entries(own).map_err(|wrong| fault(place, wrong))? {
            let Some(entry) = practice.entries.get_mut(&key) else {
                let near = crate::finding::did_you_mean(&key, practice.entries.keys().map(String::as_str));
                let help = near.map(|near| format!(": {near}")).unwrap_or_default();
                return Err(fault(place, format!("`{key}` is no usual value of a reckoning{help}")));
            };
            *entry = Entry { text, own: Some(place.to_owned()) };
        }
        Ok(practice)
    }

    /// Returns an entry as it is written.
    pub(super) fn text(&self, key: &str) -> Result<String, Refusal> {
        self.read_as(key, |text| Ok(text.to_owned()))
    }

    /// Returns an entry, read.
    pub(super) fn read_as<T>(&self, key: &str, read: impl Fn(&str) -> Result<T, String>) -> Result<T, Refusal> {
        let nowhere = || Refusal::Table { place: "practice.toml".to_owned(), fault: format!("`{key}` is not there") };
        let entry = self.entries.get(key).ok_or_else(nowhere)?;
        let place = || entry.own.clone().unwrap_or_else(|| "practice.toml".to_owned());
        read(&entry.text).map_err(|fault| Refusal::Table { place: place(), fault: format!("`{key}`: {fault}") })
    }

    /// Tells whether the shop has set a value of a reckoning itself.
    pub(super) fn is_own(&self, reckoning: &str) -> bool {
        let of = |key: &str| key.strip_prefix(reckoning).is_some_and(|rest| rest.starts_with('.'));
        self.entries.iter().any(|(key, entry)| entry.own.is_some() && of(key))
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
