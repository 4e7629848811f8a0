//! Reads one `[[rehearsal]]`.

use toml::de::{DeTable, DeValue};

use super::values::{Reader, Value, is_misspelt};
use crate::finding::{Code, Span};
use crate::guide::document::{RawRehearsal, Text};
use crate::guide::keys;

impl Reader<'_> {
    /// Reads all rehearsals; one with a fault is left out, and its finding told.
    pub(super) fn rehearsals(&mut self, value: &Value<'_>) -> Vec<RawRehearsal> {
        let tables = self.tables("rehearsal", value);
        tables.into_iter().filter_map(|(item, table)| self.rehearsal(&item.span(), table)).collect()
    }

    fn rehearsal(&mut self, header: &Span, table: &DeTable<'_>) -> Option<RawRehearsal> {
        self.known_keys(table, &keys::REHEARSAL, "");
        let mut text = |key: &str| self.string(key, table.get(key)?);
        let (title, arrives, finding) = (text("title"), text("arrives"), text("finding"));
        self.wanted_keys(table, header, &keys::REHEARSAL, "");
        let known = keys::REHEARSAL.keys("");
        let is_there = |key: &str| table.contains_key(key) || is_misspelt(table, key, &known);
        let of = |known: &keys::Table| std::ptr::eq(known, &keys::REHEARSAL);
        for (_, wanted) in keys::ONE_OF.iter().filter(|(known, _)| of(known)) {
            if !wanted.iter().any(|key| is_there(key)) {
                let help = "add `arrives = \"finished\"`, a step's id, or the `finding` that must show";
                self.report_help(Code::MissingKey, header, "this rehearsal does not say what must come of it", help);
            }
        }
        for (_, key, other) in keys::ONLY_WITH.iter().filter(|(known, ..)| of(known)) {
            if let (Some((key, _)), false) = (table.get_key_value(*key), is_there(other)) {
                let help = "name the steps that are passed by: `leaves-out = [\"scuff\"]`";
                self.report_help(Code::MissingKey, &key.span(), "a rehearsal with a `finding` leaves a step out", help);
            }
        }
        let numbers = table.get("numbers").map_or(Vec::new(), |value| self.pairs("numbers", value));
        let leaves_out = table.get("leaves-out").map_or(Vec::new(), |value| self.strings("leaves-out", value));
        let answers = table.get("answers").map_or(Vec::new(), |value| self.replies(value));
        let header = header.clone();
        Some(RawRehearsal { header, title: title?, numbers, answers, leaves_out, arrives, finding })
    }

    /// Reads what is said at each step: a text, or a list of them where it is come to again.
    fn replies(&mut self, value: &Value<'_>) -> Vec<(Text, Vec<Text>)> {
        let Some(table) = self.table("answers", value) else { return Vec::new() };
        let replies = table.iter().map(|(step, value)| {
            let said = match value.get_ref() {
                DeValue::Array(_) => self.strings(step.get_ref(), value),
                _ => self.string_or_number(step.get_ref(), value).into_iter().collect(),
            };
            (Text { value: step.get_ref().to_string(), span: step.span() }, said)
        });
        let mut replies: Vec<_> = replies.collect();
        replies.sort_by_key(|(step, _)| step.span.start);
        replies
    }
}
