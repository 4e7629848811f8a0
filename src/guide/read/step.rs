//! Reads one `[[step]]`.

use std::collections::{BTreeSet, HashSet};

use toml::de::{DeTable, DeValue};

use super::values::{Key, Reader, Value, is_misspelt};
use crate::finding::{Code, Finding, Place, Span};
use crate::guide::document::{Caution, Level, RawKind, RawStep, RawWay, Text, TroubleRef};
use crate::guide::keys;

impl Reader<'_> {
    /// Reads all steps; the set names those that could not be read.
    pub(super) fn steps(&mut self, value: &Value<'_>) -> (Vec<RawStep>, BTreeSet<String>) {
        let tables = self.tables("step", value);
        let (mut steps, mut unread) = (Vec::with_capacity(tables.len()), BTreeSet::new());
        for (item, table) in tables {
            let before = self.findings.len();
            let step = self.step(&item.span(), table);
            if let Some(id) = table.get("id").and_then(|id| id.get_ref().as_str()) {
                for finding in &mut self.findings[before..] {
                    finding.step = Some(id.to_owned());
                }
            }
            match step {
                Some(step) => steps.push(step),
                None => {
                    unread.insert(table.get("id").and_then(|id| id.get_ref().as_str()).unwrap_or("").to_owned());
                }
            }
        }
        (steps, unread)
    }

    fn step(&mut self, header: &Span, table: &DeTable<'_>) -> Option<RawStep> {
        let kind = self.kind_of(header, table);
        let kind_name = kind.unwrap_or("");
        self.wanted_keys_of_step(table, header, kind_name);
        let id = table.get("id").and_then(|value| self.string("id", value)).filter(|id| self.is_step_id(id));
        // Without id or kind the rest is still read, for its findings.
        let placeholder = nothing(header);
        let unknown = RawKind::End { text: placeholder.clone(), then: None, of: None };
        let mut step = RawStep::bare(header.clone(), id.clone().unwrap_or(placeholder), unknown);
        for (key, value) in table.iter() {
            self.step_key(&mut step, kind_name, table, (key, value));
        }
        let readable = match kind_name {
            "do" => self.read_do(header, table),
            "ask" => self.read_ask(header, table),
            "gauge" => self.read_gauge(header, table),
            "reckon" => self.read_reckon(table),
            "wait" => self.read_wait(header, table),
            "run" => self.read_run(table),
            "end" => self.read_end(table),
            _ => None,
        };
        step.kind = readable?;
        id?;
        Some(step)
    }

    /// Reports every key that a step must have and has not.
    fn wanted_keys_of_step(&mut self, table: &DeTable<'_>, header: &Span, kind: &str) {
        let what = match kind {
            "ask" => "this question",
            "gauge" => "this gauge",
            "wait" => "this wait",
            _ => keys::STEP.this,
        };
        let allowed = keys::STEP.keys(kind);
        for key in keys::STEP.wanted(kind) {
            let what = if key == "id" { keys::STEP.this } else { what };
            let before = self.findings.len();
            self.wants_key(table, header, key, what, &allowed);
            if let ("ready", Some(finding)) = (key, self.findings.get_mut(before)) {
                let help =
                    "say the sign that it is really over: `ready = \"a drop of the same glue on scrap is hard\"`";
                finding.help = Some(help.to_owned());
            }
        }
    }

    fn is_step_id(&mut self, id: &Text) -> bool {
        // In a linked guide the ids of runs stand before it.
        let most = if self.linked { self.limits.field_bytes } else { 100 };
        let valid =
            id.value.len() <= most && id.value.bytes().all(|b| b.is_ascii_alphanumeric() || b"-_.{}/".contains(&b));
        if !valid {
            let help = "use letters, digits and hyphens: `glue-body`";
            self.report_help(Code::BadValue, &id.span, format!("`{}` is no id for a step", id.value), help);
        }
        valid
    }

    fn kind_of(&mut self, header: &Span, table: &DeTable<'_>) -> Option<&'static str> {
        let mut named: Vec<(&'static str, Span)> = table
            .iter()
            .filter_map(|(key, _)| {
                let kind = keys::STEP.kind(key.get_ref())?.key.key;
                Some((kind, key.span()))
            })
            .collect();
        named.sort_by_key(|(_, span)| span.start);
        match named.as_slice() {
            [] => {
                let allowed = keys::STEP.keys("");
                if !keys::STEP.kind_keys().any(|kind| is_misspelt(table, kind, &allowed)) {
                    let message = "this step has none of the keys that say what it is";
                    let help = "add one of `do`, `ask`, `gauge`, `reckon`, `wait`, `run`, `end`";
                    self.report_help(Code::MissingKey, header, message, help);
                }
                None
            }
            [(kind, _)] => Some(kind),
            [(first, _), (second, span), ..] => {
                let message = format!("the step is a `{first}` already, it cannot be a `{second}` too");
                self.report_help(Code::TwoKinds, span, message, "make two steps of it");
                Some(first)
            }
        }
    }

    fn step_key(&mut self, step: &mut RawStep, kind: &str, table: &DeTable<'_>, (key, value): (&Key<'_>, &Value<'_>)) {
        let name = key.get_ref().as_ref();
        match name {
            _ if keys::STEP.kind(kind).is_some_and(|kind| kind.without.contains(&name)) => {
                let help = "put it on the steps inside the procedure";
                let message = format!("a `{kind}` cannot have `{name}`");
                self.report_help(Code::UnknownKey, &key.span(), message, help);
            }
            "id" => {}
            "needs" => step.needs = self.conditions(name, value),
            "gives" => step.gives = self.conditions(name, value),
            "spoils" => step.spoils = self.conditions(name, value),
            "undoes" => step.undoes = self.conditions(name, value),
            "one-way" => step.one_way = self.boolean(name, value).unwrap_or(false),
            "optional" => step.optional = self.boolean(name, value).unwrap_or(false),
            "caution" => step.cautions = self.cautions(value),
            "if-wrong" => step.if_wrong = self.string(name, value),
            "why" => step.why = self.string(name, value),
            "tell" => step.tell = self.string(name, value),
            "minutes" => step.minutes = self.number(name, value).filter(|minutes| self.are_minutes(*minutes, value)),
            "at" => step.at = self.string(name, value),
            "parts" => step.parts = self.strings(name, value),
            "trouble" => step.trouble = self.trouble_refs(value),
            "stage" => step.stage = self.string(name, value),
            "clock" => step.clock = self.pairs(name, value),
            "then" | "of" if kind == "end" && self.linked => {}
            "skip-to" if kind == "run" && self.linked => {}
            _ if keys::STEP.knows(kind, name) => {}
            _ => {
                let place = if kind.is_empty() { "in a step".to_owned() } else { format!("in a `{kind}` step") };
                self.unknown_key(key, table, &place, &keys::STEP.keys(kind));
            }
        }
    }

    fn are_minutes(&mut self, minutes: f64, value: &Value<'_>) -> bool {
        let valid = (0.0..=100_000.0).contains(&minutes);
        if !valid {
            let message = format!("{minutes} minutes cannot be");
            self.report_help(Code::BadValue, &value.span(), message, "say 0 or more");
        }
        valid
    }

    fn read_do(&mut self, header: &Span, table: &DeTable<'_>) -> Option<RawKind> {
        let in_one_go = table.get("in-one-go").map_or(Vec::new(), |value| {
            let moves = self.strings("in-one-go", value);
            if moves.len() > 7 {
                let message = format!("{} moves are too many to hold in mind; 7 is the most", moves.len());
                self.report_help(
                    Code::BadValue,
                    &value.span(),
                    message,
                    "make two steps of it, or say two moves in one",
                );
            }
            moves
        });
        let then = self.way(table, "then");
        Some(RawKind::Do { text: self.kind_text(table, "do").unwrap_or(nothing(header)), in_one_go, then })
    }

    fn kind_text(&mut self, table: &DeTable<'_>, kind: &str) -> Option<Text> {
        self.string(kind, table.get(kind)?)
    }

    fn read_ask(&mut self, header: &Span, table: &DeTable<'_>) -> Option<RawKind> {
        let text = self.kind_text(table, "ask");
        let (key, value) = table.get_key_value("answers")?;
        let mut answers: Vec<(Text, RawWay)> = Vec::new();
        let mut said = HashSet::new();
        let rows = self.tables("answers", value);
        let n_rows = rows.len();
        for (item, row) in rows {
            self.known_keys(row, &keys::ANSWER, "");
            let way = self.way_of_table(&item.span(), row);
            self.wanted_keys(row, &item.span(), &keys::ANSWER, "");
            let Some(say) = row.get("say").and_then(|say| self.string("say", say)) else { continue };
            let folded = crate::guide::fold(&say.value);
            if keys::RESERVED_ANSWERS.contains(&folded.as_str()) || say.value.trim() == "?" {
                let message = format!("`{}` is a word of the prompt's own, it cannot be an answer", say.value);
                self.report_help(Code::ReservedAnswer, &say.span, message, "say it in other words");
            }
            if !said.insert(folded) {
                let message = format!("the answer `{}` is there already", say.value);
                self.report_help(Code::DuplicateAnswer, &say.span, message, "say it in other words, or take one out");
            }
            answers.push((say, way));
        }
        if n_rows < 2 && value.get_ref().is_array() {
            let help = "a question has two or more answers; what has one is a `do`";
            let message = if n_rows == 0 { "the question has no answer" } else { "the question has only one answer" };
            self.report_help(Code::OneAnswer, &key.span(), message, help);
        }
        if n_rows > self.limits.answers {
            let message = format!("{n_rows} answers are too many; {} is the most", self.limits.answers);
            self.report_help(Code::BadValue, &key.span(), message, "ask it in two questions");
        }
        Some(RawKind::Ask { text: text.unwrap_or(nothing(header)), key: key.span(), answers })
    }

    fn read_gauge(&mut self, header: &Span, table: &DeTable<'_>) -> Option<RawKind> {
        let text = self.kind_text(table, "gauge");
        let unit = table.get("unit").and_then(|value| self.string("unit", value));
        let (mut min, mut max) = (None, None);
        if let Some(value) = table.get("limits")
            && let Some(limits) = self.table("limits", value)
        {
            self.known_keys(limits, &keys::LIMITS, "");
            min = limits.get("min").and_then(|value| self.string_or_number("min", value));
            max = limits.get("max").and_then(|value| self.string_or_number("max", value));
        }
        let sets = table.get("sets").and_then(|value| self.string("sets", value));
        let within = self.way(table, "within");
        let under = self.way(table, "under");
        let over = self.way(table, "over");
        for (limit, way, has_way) in [(&min, "under", under.is_some()), (&max, "over", over.is_some())] {
            if let (Some(limit), false) = (limit, has_way) {
                let message = format!("the gauge has a limit and no way `{way}` for a reading beyond it");
                self.report_help(Code::MissingWay, &limit.span, message, format!("add `{way} = \"…\"`"));
            }
        }
        Some(RawKind::Gauge { text: text.unwrap_or(nothing(header)), unit: unit?, min, max, sets, within, under, over })
    }

    fn read_reckon(&mut self, table: &DeTable<'_>) -> Option<RawKind> {
        let name = self.kind_text(table, "reckon");
        let from = table.get("from").map_or(Vec::new(), |value| self.pairs("from", value));
        let mut verdicts = Vec::new();
        if let Some(value) = table.get("verdicts")
            && let Some(table) = self.table("verdicts", value)
        {
            for (key, value) in table.iter() {
                if let Some(way) = self.way_of_value(key.get_ref(), value) {
                    verdicts.push((Text { value: key.get_ref().to_string(), span: key.span() }, way));
                }
            }
            verdicts.sort_by_key(|(verdict, _)| verdict.span.start);
        }
        let then = self.way(table, "then");
        Some(RawKind::Reckon { name: name?, from, verdicts, then })
    }

    fn read_wait(&mut self, header: &Span, table: &DeTable<'_>) -> Option<RawKind> {
        let text = self.kind_text(table, "wait");
        let waiting_for = table.get("for").and_then(|value| self.string("for", value));
        let ready = table.get("ready").and_then(|value| self.string("ready", value)).unwrap_or(nothing(header));
        let up_to = table.get("up-to").and_then(|value| self.string("up-to", value));
        let meanwhile = table.get("meanwhile").is_some_and(|value| self.boolean("meanwhile", value) == Some(true));
        let then = self.way(table, "then");
        let not_ready = self.way(table, "not-ready");
        if let (Some(up_to), true) = (&up_to, meanwhile) {
            let help = "a `meanwhile` wait is looked at where its result is needed; leave `up-to` out";
            self.report_help(Code::BadValue, &up_to.span, "a `meanwhile` wait has no `up-to`", help);
        } else if let (Some(up_to), None) = (&up_to, &not_ready) {
            let message = "the wait has an `up-to` and no way `not-ready` for when that time has passed";
            self.report_help(Code::MissingWay, &up_to.span, message, "add `not-ready = \"…\"`");
        }
        if let (Some(not_ready), true) = (&not_ready, meanwhile) {
            let help = "\"not ready\" at the step that waits undoes what this wait gives; leave `not-ready` out";
            self.report_help(Code::BadValue, &not_ready.span, "a `meanwhile` wait has no `not-ready`", help);
        }
        Some(RawKind::Wait { text: text?, waiting_for, ready, up_to, meanwhile, then, not_ready })
    }

    fn read_run(&mut self, table: &DeTable<'_>) -> Option<RawKind> {
        let name = self.kind_text(table, "run");
        let with = table.get("with").map_or(Vec::new(), |value| self.pairs("with", value));
        let each = table.get("each").map_or(Vec::new(), |value| {
            let each = self.strings("each", value);
            if value.get_ref().as_array().is_some_and(|each| each.is_empty()) {
                self.report_help(
                    Code::BadValue,
                    &value.span(),
                    "`each` has nothing to repeat for",
                    "write what it is repeated for, or leave it out",
                );
            }
            each
        });
        let then = self.way(table, "then");
        let skip_to = if self.linked { table.get("skip-to").and_then(|to| self.string("skip-to", to)) } else { None };
        Some(RawKind::Run { name: name?, with, each, skip_to, then })
    }

    fn read_end(&mut self, table: &DeTable<'_>) -> Option<RawKind> {
        let text = self.kind_text(table, "end")?;
        if !self.linked {
            return Some(RawKind::End { text, then: None, of: None });
        }
        let of = table.get("of").and_then(|value| self.string("of", value));
        Some(RawKind::End { text, then: self.way(table, "then"), of })
    }

    fn way(&mut self, table: &DeTable<'_>, key: &str) -> Option<Box<RawWay>> {
        self.way_of_value(key, table.get(key)?).map(Box::new)
    }

    fn way_of_value(&mut self, key: &str, value: &Value<'_>) -> Option<RawWay> {
        match value.get_ref() {
            DeValue::Table(table) => {
                self.known_keys_in(table, &keys::WAY, "", &format!("in `{key}`"));
                Some(self.way_of_table(&value.span(), table))
            }
            DeValue::String(_) => {
                let to = self.string(key, value)?;
                Some(RawWay {
                    span: value.span(),
                    to: Some(to),
                    trouble: None,
                    gives: Vec::new(),
                    spoils: Vec::new(),
                    undoes: Vec::new(),
                })
            }
            _ => {
                self.wrong_type(key, "a step's id, or a table with `to`", value);
                None
            }
        }
    }

    fn way_of_table(&mut self, span: &Span, table: &DeTable<'_>) -> RawWay {
        let mut list = |key: &str| table.get(key).map_or(Vec::new(), |value| self.conditions(key, value));
        let (gives, spoils, undoes) = (list("gives"), list("spoils"), list("undoes"));
        let to = table.get("to").and_then(|value| self.string("to", value));
        let trouble = table.get("trouble").and_then(|value| self.trouble_ref(value));
        if let (Some(_), Some(value)) = (&to, table.get("trouble")) {
            let message = "a way leads to a step or to a fault table, not to both";
            self.report_help(Code::BadValue, &value.span(), message, "keep one of `to` and `trouble`");
        }
        RawWay { span: span.clone(), to, trouble, gives, spoils, undoes }
    }

    fn trouble_refs(&mut self, value: &Value<'_>) -> Vec<TroubleRef> {
        let Some(items) = value.get_ref().as_array() else {
            self.wrong_type("trouble", "a list of fault tables in brackets", value);
            return Vec::new();
        };
        items.iter().filter_map(|item| self.trouble_ref(item)).collect()
    }

    fn trouble_ref(&mut self, value: &Value<'_>) -> Option<TroubleRef> {
        let Some(table) = value.get_ref().as_table() else {
            return Some(TroubleRef { table: self.string("trouble", value)?, with: Vec::new() });
        };
        self.known_keys(table, &keys::TROUBLE_REF, "");
        let with = table.get("with").map_or(Vec::new(), |value| self.pairs("with", value));
        self.wanted_keys(table, &value.span(), &keys::TROUBLE_REF, "");
        Some(TroubleRef { table: self.string("table", table.get("table")?)?, with })
    }

    pub(super) fn cautions(&mut self, value: &Value<'_>) -> Vec<Caution> {
        self.tables("caution", value)
            .into_iter()
            .filter_map(|(item, table)| self.caution(&item.span(), table))
            .collect()
    }

    fn caution(&mut self, span: &Span, table: &DeTable<'_>) -> Option<Caution> {
        self.known_keys(table, &keys::CAUTION, "");
        self.wanted_keys(table, span, &keys::CAUTION, "");
        let mut text = |key: &str| self.string(key, table.get(key)?);
        let (level, hazard, avoid) = (text("level"), text("hazard"), text("avoid"));
        let level = level?;
        let Some((_, level)) = Level::WORDS.iter().find(|(word, _)| *word == level.value) else {
            let words = Level::WORDS.iter().map(|(word, _)| *word);
            let message = format!("there is no caution level `{}`", level.value);
            let place = Place::new(self.source, level.span);
            let mut finding = Finding::new(Code::BadValue, place, message);
            finding.suggest(&level.value, words, "the levels are `danger`, `warning`, `caution`, `notice`");
            self.findings.push(finding);
            return None;
        };
        Some(Caution { span: span.clone(), level: *level, hazard: hazard?, avoid: avoid? })
    }
}

/// Returns what stands in for a text that could not be read, so that the rest of its step still is.
fn nothing(header: &Span) -> Text {
    Text { value: String::new(), span: header.clone() }
}
