//! The reader's small pieces: one value of a known type, or a finding that says what was expected.

use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

use crate::finding::{Code, Finding, Place, Source, Span, nearest};
use crate::guide::document::Text;
use crate::guide::keys::Table;
use crate::guide::limits::Limits;

pub(super) type Key<'i> = Spanned<DeString<'i>>;
pub(super) type Value<'i> = Spanned<DeValue<'i>>;

/// Collects findings while it hands out values.
pub(super) struct Reader<'r> {
    pub(super) source: &'r Arc<Source>,
    pub(super) limits: &'r Limits,
    /// Whether it is a linked guide, where a return says where it leads.
    pub(super) linked: bool,
    pub(super) findings: Vec<Finding>,
}

impl Reader<'_> {
    pub(super) fn report_help(&mut self, code: Code, span: &Span, message: impl Into<String>, help: impl Into<String>) {
        self.findings.push(Finding::new(code, Place::new(self.source, span.clone()), message).help(help));
    }

    /// Reports a name that there is not: what was written, what there is, and what to do where nothing is near.
    pub(super) fn report_suggest<'n>(
        &mut self,
        code: Code,
        span: &Span,
        message: String,
        (written, known, help): (&str, impl Iterator<Item = &'n str>, String),
    ) {
        let mut finding = Finding::new(code, Place::new(self.source, span.clone()), message);
        finding.suggest(written, known, help);
        self.findings.push(finding);
    }

    /// Reports every key of a table that it cannot have.
    pub(super) fn known_keys(&mut self, table: &DeTable<'_>, of: &Table, kind: &str) {
        self.known_keys_in(table, of, kind, of.place);
    }

    /// Reports every key of a table that it cannot have, `place` saying where it stands.
    pub(super) fn known_keys_in(&mut self, table: &DeTable<'_>, of: &Table, kind: &str, place: &str) {
        for (key, _) in table.iter() {
            if !of.knows(kind, key.get_ref()) {
                self.unknown_key(key, table, place, &of.keys(kind));
            }
        }
    }

    /// Reports a key that cannot be there.
    pub(super) fn unknown_key(&mut self, key: &Key<'_>, table: &DeTable<'_>, place: &str, allowed: &[&str]) {
        let name = key.get_ref();
        let near = nearest(name, allowed.iter().copied());
        let place_of_key = Place::new(self.source, key.span());
        let finding = Finding::new(Code::UnknownKey, place_of_key, format!("there is no key `{name}` {place}"));
        self.findings.push(match near {
            // Where the key that is meant is there already, this one is too much and not misspelt.
            Some(near) if table.contains_key(near) => {
                finding.help(format!("did you mean `{near}`? It is there already"))
            }
            Some(near) => finding.meant(name, near),
            None => finding.help(format!("the keys known here are {}", listed(allowed))),
        });
    }

    /// Reports every key that a table must have and has not.
    pub(super) fn wanted_keys(&mut self, table: &DeTable<'_>, span: &Span, of: &Table, kind: &str) {
        for key in of.wanted(kind) {
            self.wants_key(table, span, key, of.this, &of.keys(kind));
        }
    }

    /// Reports a key that a table must have and has not, unless it stands there misspelt, which is told already.
    pub(super) fn wants_key(&mut self, table: &DeTable<'_>, span: &Span, key: &str, what: &str, allowed: &[&str]) {
        if !table.contains_key(key) && !is_misspelt(table, key, allowed) {
            self.report_help(Code::MissingKey, span, format!("{what} has no `{key}`"), format!("add `{key} = …`"));
        }
    }

    pub(super) fn wrong_type(&mut self, key: &str, wanted: &str, value: &Value<'_>) {
        let is = value.get_ref().type_str();
        let help = match wanted {
            "text in quotes" => format!("write it in quotes: `{key} = \"…\"`"),
            "a list of texts in brackets" => format!("write a list: `{key} = [\"…\", \"…\"]`"),
            "a list of tables" => {
                format!("write a table for each, `[[{key}]]`, or a list of them, `{key} = [{{ … }}]`")
            }
            "a table" => format!("write a table: `{key} = {{ … }}`"),
            "a number" => format!("write a number without quotes: `{key} = 5`"),
            "true or false" => format!("write `{key} = true`, or leave it out"),
            other => format!("write {other}"),
        };
        self.report_help(Code::WrongType, &value.span(), format!("`{key}` wants {wanted}, this is of type {is}"), help);
    }

    pub(super) fn string(&mut self, key: &str, value: &Value<'_>) -> Option<Text> {
        let Some(text) = value.get_ref().as_str() else {
            self.wrong_type(key, "text in quotes", value);
            return None;
        };
        if text.len() > self.limits.field_bytes {
            let most = self.limits.field_bytes;
            self.report_help(
                Code::BadValue,
                &value.span(),
                format!("`{key}` is longer than {most} bytes"),
                "say it in fewer words",
            );
            return None;
        }
        if text.trim().is_empty() {
            self.report_help(
                Code::BadValue,
                &value.span(),
                format!("`{key}` is empty"),
                "write what it is, or leave the key out",
            );
            return None;
        }
        Some(Text { value: text.to_owned(), span: value.span() })
    }

    /// Reads a list of texts.
    pub(super) fn strings(&mut self, key: &str, value: &Value<'_>) -> Vec<Text> {
        match value.get_ref() {
            DeValue::Array(items) if self.is_short(key, value, items.len()) => {
                items.iter().filter_map(|item| self.string(key, item)).collect()
            }
            DeValue::Array(_) => Vec::new(),
            _ => {
                self.wrong_type(key, "a list of texts in brackets", value);
                Vec::new()
            }
        }
    }

    /// Tells of a list or table that has too many entries.
    fn is_short(&mut self, key: &str, value: &Value<'_>, entries: usize) -> bool {
        let most = self.limits.entries;
        if entries > most {
            self.report_help(
                Code::BadValue,
                &value.span(),
                format!("`{key}` has {entries} entries; {most} is the most"),
                "keep the ones that are used",
            );
        }
        entries <= most
    }

    /// Reads a list of condition names.
    pub(super) fn conditions(&mut self, key: &str, value: &Value<'_>) -> Vec<Text> {
        let mut conditions = self.strings(key, value);
        conditions.retain(|text| {
            let valid = text.value.bytes().all(|b| b.is_ascii_alphanumeric() || b"-_./{}".contains(&b));
            if !valid {
                let message = format!("`{}` is no name for a condition", text.value);
                self.report_help(
                    Code::BadValue,
                    &text.span,
                    message,
                    "use letters, digits, dots and hyphens: `cap.glued`",
                );
            }
            valid
        });
        conditions
    }

    pub(super) fn boolean(&mut self, key: &str, value: &Value<'_>) -> Option<bool> {
        let found = value.get_ref().as_bool();
        if found.is_none() {
            self.wrong_type(key, "true or false", value);
        }
        found
    }

    pub(super) fn number(&mut self, key: &str, value: &Value<'_>) -> Option<f64> {
        match number_of(value.get_ref()) {
            Some(number) if number.is_finite() => Some(number),
            Some(_) => {
                self.report_help(
                    Code::BadValue,
                    &value.span(),
                    format!("`{key}` wants a number that can be measured"),
                    "write digits: `12.5`",
                );
                None
            }
            None => {
                self.wrong_type(key, "a number", value);
                None
            }
        }
    }

    pub(super) fn table<'v, 'i>(&mut self, key: &str, value: &'v Value<'i>) -> Option<&'v DeTable<'i>> {
        let found = value.get_ref().as_table();
        if found.is_none() {
            self.wrong_type(key, "a table", value);
        }
        found
    }

    pub(super) fn tables<'v, 'i>(&mut self, key: &str, value: &'v Value<'i>) -> Vec<(&'v Value<'i>, &'v DeTable<'i>)> {
        let Some(items) = value.get_ref().as_array() else {
            self.wrong_type(key, "a list of tables", value);
            return Vec::new();
        };
        items.iter().filter_map(|item| Some((item, self.table(key, item)?))).collect()
    }

    /// Reads a table of texts, in the order of the file.
    pub(super) fn pairs(&mut self, key: &str, value: &Value<'_>) -> Vec<(Text, Text)> {
        let Some(table) = self.table(key, value) else { return Vec::new() };
        if !self.is_short(key, value, table.len()) {
            return Vec::new();
        }
        let mut pairs: Vec<(Text, Text)> = table
            .iter()
            .filter_map(|(name, value)| {
                let said = self.string_or_number(name.get_ref(), value)?;
                Some((Text { value: name.get_ref().to_string(), span: name.span() }, said))
            })
            .collect();
        pairs.sort_by_key(|(name, _)| name.span.start);
        pairs
    }

    /// Reads a text, or a bare number as the text it was written as.
    pub(super) fn string_or_number(&mut self, key: &str, value: &Value<'_>) -> Option<Text> {
        match number_of(value.get_ref()) {
            Some(_) => {
                let number = self.number(key, value)?;
                Some(Text { value: number.to_string(), span: value.span() })
            }
            None => self.string(key, value),
        }
    }
}

/// Tells whether a key that is not known there is said to be meant for this one.
pub(super) fn is_misspelt(table: &DeTable<'_>, key: &str, allowed: &[&str]) -> bool {
    let mut unknown = table.iter().map(|(key, _)| key.get_ref().as_ref()).filter(|key| !allowed.contains(key));
    unknown.any(|unknown| nearest(unknown, allowed.iter().copied()) == Some(key))
}

fn number_of(value: &DeValue<'_>) -> Option<f64> {
    match value {
        DeValue::Integer(integer) => i64::from_str_radix(integer.as_str(), integer.radix()).ok().map(|n| n as f64),
        DeValue::Float(float) => float.as_str().parse().ok(),
        _ => None,
    }
}

/// Returns words in a row, each as it is written.
pub(in crate::guide) fn listed(words: &[&str]) -> String {
    words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", ")
}
