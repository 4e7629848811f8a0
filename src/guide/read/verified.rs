//! Reads the records of how a guide was tried.

use toml::de::DeTable;

use super::values::{Reader, Value};
use crate::finding::{Code, Finding, Place, Span};
use crate::guide::document::{Text, Verified};
use crate::guide::keys;

impl Reader<'_> {
    /// Reads all records; one with a fault is left out, and its finding told.
    pub(super) fn verified(&mut self, value: &Value<'_>) -> Vec<Verified> {
        let tables = self.tables("verified", value);
        tables.into_iter().filter_map(|(item, table)| self.one_verified(&item.span(), table)).collect()
    }

    fn one_verified(&mut self, header: &Span, table: &DeTable<'_>) -> Option<Verified> {
        self.known_keys(table, &keys::VERIFIED, "");
        let mut text = |key: &str| self.string(key, table.get(key)?);
        let (on, by, method) = (text("on"), text("by"), text("method"));
        let (what, edition) = (text("what"), text("edition"));
        self.wanted_keys(table, header, &keys::VERIFIED, "");
        let (on, method) = (on.and_then(|on| self.day(on)), method.and_then(|method| self.method(method)));
        let edition = edition.map(|text| text.value);
        Some(Verified { on: on?, by: by?.value, method: method?, what: what?.value, edition })
    }

    fn day(&mut self, on: Text) -> Option<String> {
        let is_day = on.value.len() == 10 && on.value.parse::<jiff::civil::Date>().is_ok();
        if !is_day {
            let message = format!("`{}` is not a day", on.value);
            self.report_help(Code::BadValue, &on.span, message, "write year, month and day: `on = \"2026-11-26\"`");
        }
        is_day.then_some(on.value)
    }

    fn method(&mut self, method: Text) -> Option<String> {
        if keys::METHODS.contains(&&*method.value) {
            return Some(method.value);
        }
        let message = format!("a guide is not tried by `{}`", method.value);
        let mut finding = Finding::new(Code::BadValue, Place::new(self.source, method.span), message);
        let help = "the ways are `desk`, `table-top`, `bench`".to_owned();
        finding.suggest(&method.value, keys::METHODS.iter().copied(), help);
        self.findings.push(finding);
        None
    }
}
