//! Reads a guide file: text in, a [`Document`] and every fault of the file out.
//!
//! Reading never stops at a fault. It returns what it could and all findings; a step with a fault keeps what is
//! right about it, so that one slip does not hide the next.

mod fault_table;
mod nesting;
mod rehearsal;
mod step;
mod values;
mod verified;

use std::collections::BTreeSet;
use std::sync::Arc;

use toml::de::DeTable;

use super::document::{Care, Document, KitValue, Shelf, Text};
use super::limits::Limits;
use super::{keys, toml_1_0};
use crate::finding::{Code, Finding, Place, Source, Span};

use values::Reader;
pub(super) use values::listed;

/// How many places that are no TOML are told one by one; what is no guide at all has a million.
const SYNTAX_FAULTS: usize = 200;

/// What to write where the text is no TOML.
const SYNTAX_HELP: &str =
    "write one key a line, `key = \"text\"`; close every quote and bracket; keep what stands in braces on one line";

/// Reads one file.
///
/// `None` stands beside the findings where not even the kind of the file can be told, or the file is too large.
pub fn read(source: &Arc<Source>, limits: &Limits) -> (Option<Document>, Vec<Finding>) {
    let mut reader = Reader { source, limits, linked: false, findings: Vec::new() };
    let document = reader.file();
    (document, reader.findings)
}

impl Reader<'_> {
    fn file(&mut self) -> Option<Document> {
        let source = self.source;
        let text = source.text();
        if text.len() > self.limits.file_bytes {
            let message = format!("the file has {} bytes; at most {} are read", text.len(), self.limits.file_bytes);
            self.report_help(
                Code::BadValue,
                &(0..0),
                message,
                "a guide is text; move steps that belong together into a procedure",
            );
            return None;
        }
        let most = self.limits.nesting;
        if let Some(span) = nesting::deeper_than(most, text) {
            self.report_help(
                Code::BadValue,
                &span,
                format!("lists and tables are nested more than {most} deep here"),
                "write them flat",
            );
            return None;
        }
        let (tree, errors) = DeTable::parse_recoverable(text);
        let unreadable = !errors.is_empty();
        self.syntax(errors);
        let tree = tree.get_ref();
        self.linked = tree.get("linked").is_some_and(|value| value.get_ref().as_bool() == Some(true));
        self.format_version(tree);
        let Some((shelf, header)) = self.shelf(tree) else {
            // A file that breaks off before its opening table says so by its syntax findings.
            if !unreadable {
                let finding = Finding::new(
                    Code::MissingKey,
                    Place::new(source, 0..0),
                    "the file has none of the tables `[guide]`, `[procedure]`, `[trouble]`",
                );
                self.findings.push(finding.help("begin a guide with `stepjig = 1` and a `[guide]` table"));
            }
            return None;
        };
        let mut document = Document {
            source: Arc::clone(source),
            shelf,
            header: header.clone(),
            id: Text { value: String::new(), span: header },
            title: String::new(),
            edition: None,
            use_when: None,
            not_when: None,
            kept_by: None,
            verified: Vec::new(),
            care: None,
            takes: Vec::new(),
            passing: Vec::new(),
            words: Vec::new(),
            kit: Vec::new(),
            measured: Vec::new(),
            linked: false,
            steps: Vec::new(),
            unread: BTreeSet::new(),
            rehearsals: Vec::new(),
            fault_table: None,
        };
        let mut care = Vec::new();
        let (kind, _) = shelf.opening();
        let known = |name: &str| keys::FILE.fields_of(kind).any(|field| field.key == name);
        for (key, value) in tree.iter() {
            let name = key.get_ref().as_ref();
            match name {
                "stepjig" => {}
                "$schema" => {
                    self.string("$schema", value);
                }
                _ if name == kind => self.opening(&mut document, key, value),
                "linked" if shelf == Shelf::Guide => {
                    document.linked = self.boolean("linked", value).unwrap_or(false);
                }
                "measured" if self.linked => document.measured = self.strings("measured", value),
                "care" if self.linked => care = self.steps(value).0,
                "words" => document.words = self.words(value),
                "kit" if shelf == Shelf::Guide => self.kit(&mut document.kit, "kit", value, 0),
                "step" if known(name) => {
                    (document.steps, document.unread) = self.steps(value);
                }
                "rehearsal" if known(name) => document.rehearsals = self.rehearsals(value),
                "verified" if known(name) => document.verified = self.verified(value),
                _ if known(name) => {}
                _ => {
                    let mut known = keys::FILE.keys(kind);
                    known.push(kind);
                    self.unknown_key(key, tree, keys::FILE.place, &known);
                }
            }
        }
        if let Some(kept) = &mut document.care {
            kept.steps = care;
        }
        if shelf == Shelf::Trouble {
            document.fault_table = Some(Box::new(self.fault_table(tree, &document.takes)));
        }
        if document.steps.is_empty() && document.unread.is_empty() && shelf != Shelf::Trouble && !unreadable {
            let finding =
                Finding::new(Code::MissingKey, document.place(&document.header), "the file has no `[[step]]`");
            self.findings.push(finding.help("add a first step: `[[step]]` with an `id` and a `do`"));
        }
        Some(document)
    }

    fn syntax(&mut self, errors: Vec<toml::de::Error>) {
        let end = self.source.text().len();
        let mut faults: Vec<(Span, String)> =
            errors.iter().map(|error| (error.span().unwrap_or(end..end), error.message().to_owned())).collect();
        faults.extend(
            toml_1_0::newer_than_1_0(self.source.text())
                .into_iter()
                .map(|(span, what)| (span, format!("{what} is not TOML 1.0"))),
        );
        faults.sort_by_key(|(span, _)| span.start);
        // The parser may say several things of one slip; the first is the one that helps.
        faults.dedup_by_key(|(span, _)| span.start);
        let more = faults.len().saturating_sub(SYNTAX_FAULTS);
        let rest = faults.get(SYNTAX_FAULTS).map(|(span, _)| span.clone());
        faults.truncate(SYNTAX_FAULTS);
        for (span, message) in faults {
            let message = message.lines().next().unwrap_or("invalid TOML").to_owned();
            self.report_help(Code::Syntax, &span, message, SYNTAX_HELP);
        }
        if let Some(span) = rest {
            self.report_help(Code::Syntax, &span, format!("from here on {more} more places are no TOML"), SYNTAX_HELP);
        }
    }

    fn format_version(&mut self, tree: &DeTable<'_>) {
        let help = "guides of this format begin with `stepjig = 1`";
        match tree.iter().find(|(key, _)| key.get_ref().as_ref() == "stepjig") {
            None => {
                let place = Place::new(self.source, 0..0);
                self.findings.push(Finding::new(Code::MissingKey, place, "the format version is missing").help(help));
            }
            Some((_, value)) => match value.get_ref().as_integer() {
                Some(version) if version.as_str() == "1" => {}
                Some(version) => {
                    let message = format!("format {} is not known to this stepjig", version.as_str());
                    self.report_help(Code::BadValue, &value.span(), message, help);
                }
                None => self.wrong_type("stepjig", "the number 1", value),
            },
        }
    }

    fn shelf(&mut self, tree: &DeTable<'_>) -> Option<(Shelf, Span)> {
        [Shelf::Guide, Shelf::Procedure, Shelf::Trouble]
            .into_iter()
            .filter_map(|shelf| {
                let (name, _) = shelf.opening();
                let (key, _) = tree.iter().find(|(key, _)| key.get_ref().as_ref() == name)?;
                Some((shelf, key.span()))
            })
            .min_by_key(|(_, span)| span.start)
    }

    fn opening(&mut self, document: &mut Document, key: &values::Key<'_>, value: &values::Value<'_>) {
        let Some(table) = self.table(key.get_ref().as_ref(), value) else { return };
        let (_, of) = document.shelf.opening();
        self.known_keys(table, of, "");
        for (key, value) in table.iter().filter(|(key, _)| of.knows("", key.get_ref())) {
            match key.get_ref().as_ref() {
                "id" => document.id = self.string("id", value).unwrap_or(document.id.clone()),
                "title" => document.title = self.string("title", value).map_or(String::new(), |text| text.value),
                "edition" => document.edition = self.string("edition", value).map(|text| text.value),
                "use-when" => document.use_when = self.string("use-when", value),
                "not-when" => document.not_when = self.string("not-when", value),
                "kept-by" => document.kept_by = self.string("kept-by", value).map(|text| text.value),
                "takes" => document.takes = self.strings("takes", value),
                "passing" => document.passing = self.conditions("passing", value),
                "care" => {
                    let name = self.string("care", value);
                    document.care = name.map(|name| Care { name, steps: Vec::new() });
                }
                _ => {}
            }
        }
        self.wanted_keys(table, &key.span(), of, "");
    }

    fn words(&mut self, value: &values::Value<'_>) -> Vec<(Text, Text)> {
        let Some(table) = self.table("words", value) else { return Vec::new() };
        table
            .iter()
            .filter_map(|(key, value)| {
                let said = self.string("words", value)?;
                Some((Text { value: key.get_ref().to_string(), span: key.span() }, said))
            })
            .collect()
    }

    fn kit(&mut self, kit: &mut Vec<(Text, KitValue)>, path: &str, value: &values::Value<'_>, depth: usize) {
        let Some(table) = self.table(path, value) else { return };
        for (key, value) in table.iter() {
            let name = key.get_ref().as_ref();
            let path = format!("{path}.{name}");
            if name.is_empty() || !name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_') {
                let message = format!("`{name}` cannot be part of a kit number's name");
                self.report_help(Code::BadValue, &key.span(), message, "use letters, digits and hyphens");
                continue;
            }
            let here = Text { value: path.clone(), span: value.span() };
            match value.get_ref() {
                toml::de::DeValue::Table(_) if depth < 8 => self.kit(kit, &path, value, depth + 1),
                toml::de::DeValue::String(_) => {
                    if let Some(text) = self.string(&path, value) {
                        kit.push((here, KitValue::Text(text.value)));
                    }
                }
                _ => match self.number(&path, value) {
                    Some(number) => kit.push((here, KitValue::Number(number))),
                    None => continue,
                },
            }
        }
    }
}
