//! Reads what a `[trouble]` file says besides its opening table.

use std::collections::HashSet;

use toml::de::DeTable;

use super::values::{Reader, Value};
use crate::finding::{Code, Span};
use crate::guide::document::Text;
use crate::guide::fault_table::{
    OfCause, RawAction, RawCause, RawCheck, RawFaultTable, RawGoal, RawOutcome, RawRemedy, RawStartOver,
};
use crate::guide::keys;
use crate::guide::phrase::{Piece, pieces};

/// How far the chances of one cause may miss 1; what misses it by less is scaled.
const SLACK: f64 = 1e-9;

impl Reader<'_> {
    /// Reads the whole table.
    pub(super) fn fault_table(&mut self, file: &DeTable<'_>, takes: &[Text]) -> RawFaultTable {
        let mut table = RawFaultTable::default();
        if let Some(opening) = file.get("trouble").and_then(|value| value.get_ref().as_table()) {
            self.opening_of_table(&mut table, opening);
        }
        table.causes = self.rows(file, "cause", Reader::cause);
        self.told_twice(table.causes.iter().map(|cause| &cause.id), "cause");
        if !table.causes.is_empty() && table.causes.iter().all(|cause| cause.odds <= 0.0) {
            let span = table.causes[0].id.span.clone();
            self.report_help(
                Code::BadValue,
                &span,
                "no cause has odds above 0",
                "give one of them a weight: `odds = 1`",
            );
        }
        table.checks = self.rows(file, "check", Reader::check);
        table.remedies = self.rows(file, "remedy", Reader::remedy);
        let actions = table.checks.iter().map(|check| &check.id).chain(table.remedies.iter().map(|remedy| &remedy.id));
        self.told_twice(actions, "check or remedy");
        table.start_over = file.get("start-over").and_then(|value| self.start_over(value));
        self.names_of_causes(&table);
        // Read only, but the visit hands texts out to be changed.
        table.clone().each_text(|text, _| self.placeholders(text, takes));
        for check in &table.checks {
            self.chances_of(check, &table.causes);
        }
        for remedy in &table.remedies {
            self.chances_of_remedy(remedy);
        }
        table
    }

    fn opening_of_table(&mut self, table: &mut RawFaultTable, opening: &DeTable<'_>) {
        let mut confidence = 1.0;
        let mut identify = false;
        for (key, value) in opening.iter() {
            let name = key.get_ref().as_ref();
            match name {
                "needs" => table.needs = self.conditions(name, value),
                "seen" => table.seen = self.strings(name, value),
                "first" => table.first = self.strings(name, value),
                "lay-aside" => table.lay_aside = self.string(name, value),
                "goal" => {
                    let Some(goal) = self.string(name, value) else { continue };
                    identify = goal.value == "identify";
                    if !identify && goal.value != "fix" {
                        let message = format!("there is no goal `{}`", goal.value);
                        self.report_help(Code::BadValue, &goal.span, message, "the goals are `fix` and `identify`");
                    }
                }
                "confidence" => {
                    let Some(number) = self.number(name, value) else { continue };
                    if number > 0.0 && number <= 1.0 {
                        confidence = number;
                    } else {
                        let message = format!("a confidence of {number} cannot be");
                        self.report_help(Code::BadValue, &value.span(), message, "say a number over 0, up to 1");
                    }
                }
                _ => {}
            }
        }
        table.goal = if identify { RawGoal::Identify(confidence) } else { RawGoal::Fix };
    }

    /// Reads the rows of one kind; a row with a fault is told and left out.
    fn rows<R>(
        &mut self,
        file: &DeTable<'_>,
        key: &str,
        row: impl Fn(&mut Self, &Span, &DeTable<'_>) -> Option<R>,
    ) -> Vec<R> {
        let Some(value) = file.get(key) else { return Vec::new() };
        self.tables(key, value).into_iter().filter_map(|(item, table)| row(self, &item.span(), table)).collect()
    }

    fn cause(&mut self, span: &Span, table: &DeTable<'_>) -> Option<RawCause> {
        self.known_keys(table, &keys::CAUSE, "");
        self.wanted_keys(table, span, &keys::CAUSE, "");
        let because = table.get("because").and_then(|value| self.string("because", value));
        let (id, say) = (self.text(table, "id"), self.text(table, "say"));
        let odds = table.get("odds").and_then(|value| self.at_least_0("odds", value));
        Some(RawCause { id: id?, say: say?, odds: odds?, because })
    }

    fn check(&mut self, span: &Span, table: &DeTable<'_>) -> Option<RawCheck> {
        let (kind, rows) = match (table.contains_key("ask"), table.get_key_value("gauge")) {
            (true, Some((key, _))) => {
                let message = "the check is an `ask` already, it cannot be a `gauge` too";
                self.report_help(Code::TwoKinds, &key.span(), message, "make two checks of it");
                ("ask", "answers")
            }
            (false, Some(_)) => ("gauge", "bands"),
            (_, None) => ("ask", "answers"),
        };
        self.known_keys(table, &keys::CHECK, kind);
        self.wants_key(table, span, kind, keys::CHECK.this, &keys::CHECK.keys(""));
        self.wanted_keys(table, span, &keys::CHECK, kind);
        let unit = (kind == "gauge").then(|| self.text(table, "unit"));
        let (id, text) = (self.text(table, "id"), self.text(table, kind));
        let minutes = table.get("minutes").and_then(|value| self.at_least_0("minutes", value));
        let cautions = table.get("caution").map_or(Vec::new(), |value| self.cautions(value));
        let parts = table.get("parts").map_or(Vec::new(), |value| self.strings("parts", value));
        let (tell, at) = (self.text(table, "tell"), self.text(table, "at"));
        let (key, value) = table.get_key_value(rows)?;
        let rows = self.tables(rows, value);
        let n_rows = rows.len();
        let mut said = HashSet::new();
        let mut outcomes = Vec::new();
        for (item, row) in rows {
            let Some(outcome) = self.outcome(&item.span(), row, kind) else { continue };
            if !said.insert(crate::guide::fold(&outcome.say.value)) {
                let message = format!("the answer `{}` is there already", outcome.say.value);
                self.report_help(
                    Code::DuplicateAnswer,
                    &outcome.say.span,
                    message,
                    "say it in other words, or take one out",
                );
            }
            outcomes.push(outcome);
        }
        if n_rows < 2 {
            let help = "what can only show one thing tells nothing; leave the check out or say what else it shows";
            self.report_help(Code::OneAnswer, &key.span(), "the check has fewer than two answers", help);
        }
        if n_rows > self.limits.answers {
            let message = format!("{n_rows} answers are too many; {} is the most", self.limits.answers);
            self.report_help(Code::BadValue, &key.span(), message, "make two checks of it");
        }
        let (id, text, minutes, unit) = (id?, text?, minutes?, unit.flatten());
        Some(RawCheck { id, text, unit, minutes, cautions, parts, tell, at, outcomes })
    }

    fn outcome(&mut self, span: &Span, row: &DeTable<'_>, kind: &str) -> Option<RawOutcome> {
        let of = if kind == "gauge" { &keys::BAND } else { &keys::OUTCOME };
        self.known_keys(row, of, "");
        self.wanted_keys(row, span, of, "");
        let mut on = |key: &str| row.get(key).is_some_and(|value| self.boolean(key, value) == Some(true));
        let (fixed, lost) = (on("fixed"), on("lost"));
        if fixed && lost {
            let message = "an answer that leaves the pen good does not lose the blank";
            self.report_help(Code::BadValue, span, message, "keep one of `fixed` and `lost`");
        }
        let mut list = |key: &str| row.get(key).map_or(Vec::new(), |value| self.conditions(key, value));
        let (gives, spoils, undoes) = (list("gives"), list("spoils"), list("undoes"));
        let mut end = |key: &str| row.get(key).and_then(|value| self.string_or_number(key, value));
        let (min, max) = (end("min"), end("max"));
        let chance = row.get("chance").map_or(Vec::new(), |value| self.of_causes("chance", value));
        let say = self.text(row, "say")?;
        let folded = crate::guide::fold(&say.value);
        if keys::RESERVED_ANSWERS.contains(&folded.as_str()) || ["fixed", "lost"].contains(&folded.as_str()) {
            let message = format!("`{}` is a word of the prompt's own, it cannot be an answer", say.value);
            self.report_help(Code::ReservedAnswer, &say.span, message, "say it in other words");
        }
        Some(RawOutcome { say, min, max, fixed, lost, gives, spoils, undoes, chance })
    }

    fn remedy(&mut self, span: &Span, table: &DeTable<'_>) -> Option<RawRemedy> {
        let kind = if table.contains_key("run") { "run" } else { "do" };
        self.known_keys(table, &keys::REMEDY, kind);
        self.wanted_keys(table, span, &keys::REMEDY, kind);
        let action = match (table.get("do"), table.get_key_value("run")) {
            (Some(_), Some((key, _))) => {
                let message = "the remedy is a `do` already, it cannot be a `run` too";
                self.report_help(Code::TwoKinds, &key.span(), message, "put the action into the procedure");
                None
            }
            (Some(text), None) => self.string("do", text).map(RawAction::Do),
            (None, Some((_, name))) => {
                let with = table.get("with").map_or(Vec::new(), |value| self.pairs("with", value));
                self.string("run", name).map(|name| RawAction::Run { name, with })
            }
            (None, None) => {
                let help = "add `run` with a procedure, or `do` with a single action";
                self.report_help(Code::MissingKey, span, "this remedy does not say what to do", help);
                None
            }
        };
        let mut minutes = |key: &str| table.get(key).map(|value| self.at_least_0(key, value));
        let (attention, wait) = (minutes("minutes").flatten(), minutes("wait").map_or(Some(0.0), |wait| wait));
        let mut chances = |key: &str| table.get(key).map_or(Vec::new(), |value| self.of_causes(key, value));
        let (cures, loses) = (chances("cures"), chances("loses"));
        let mut list = |key: &str| table.get(key).map_or(Vec::new(), |value| self.conditions(key, value));
        let (undoes, gives) = (list("undoes"), list("gives"));
        let parts = table.get("parts").map_or(Vec::new(), |value| self.strings("parts", value));
        let tools = table.get("tools").map_or(Vec::new(), |value| self.strings("tools", value));
        let cautions = table.get("caution").map_or(Vec::new(), |value| self.cautions(value));
        let (id, say, because) = (self.text(table, "id"), self.text(table, "say"), self.text(table, "because"));
        let (tell, at) = (self.text(table, "tell"), self.text(table, "at"));
        let (id, action, minutes, wait) = (id?, action?, attention?, wait?);
        Some(RawRemedy {
            id,
            say,
            action,
            minutes,
            wait,
            cures,
            loses,
            undoes,
            gives,
            parts,
            tools,
            cautions,
            tell,
            at,
            because,
        })
    }

    fn start_over(&mut self, value: &Value<'_>) -> Option<RawStartOver> {
        let table = self.table("start-over", value)?;
        self.known_keys(table, &keys::START_OVER, "");
        Some(RawStartOver {
            say: self.text(table, "say"),
            minutes: table.get("minutes").and_then(|value| self.at_least_0("minutes", value)),
            undoes: table.get("undoes").map_or(Vec::new(), |value| self.conditions("undoes", value)),
            again: table.get("again").map_or(Vec::new(), |value| self.of_causes("again", value)),
            parts: table.get("parts").map_or(Vec::new(), |value| self.strings("parts", value)),
            tell: self.text(table, "tell"),
        })
    }

    fn text(&mut self, table: &DeTable<'_>, key: &str) -> Option<Text> {
        self.string(key, table.get(key)?)
    }

    fn at_least_0(&mut self, key: &str, value: &Value<'_>) -> Option<f64> {
        let number = self.number(key, value)?;
        if number < 0.0 {
            self.report_help(Code::BadValue, &value.span(), format!("`{key}` is {number}"), "say 0 or more");
            return None;
        }
        Some(number)
    }

    /// Reads numbers of 0 or more beside causes, in the order of the file.
    fn of_causes(&mut self, key: &str, value: &Value<'_>) -> Vec<OfCause> {
        let Some(table) = self.table(key, value) else { return Vec::new() };
        let mut numbers: Vec<OfCause> = table
            .iter()
            .filter_map(|(cause, value)| {
                let number = self.at_least_0(key, value)?;
                let cause = Text { value: cause.get_ref().to_string(), span: cause.span() };
                Some(OfCause { cause, number, span: value.span() })
            })
            .collect();
        numbers.sort_by_key(|number| number.span.start);
        numbers
    }

    fn told_twice<'t>(&mut self, ids: impl Iterator<Item = &'t Text>, what: &str) {
        let mut known = HashSet::new();
        for id in ids {
            if !known.insert(&id.value) {
                let message = format!("there is already a {what} `{}`", id.value);
                self.report_help(Code::DuplicateId, &id.span, message, "give one of them another id");
            }
        }
    }

    /// Tells of every placeholder of a text that is none of what the table takes.
    fn placeholders(&mut self, text: &Text, takes: &[Text]) {
        for piece in pieces(&text.value) {
            match piece {
                Piece::Words(_) => {}
                Piece::Unclosed(_) => {
                    let help = "write `{{` for a brace that stays one";
                    self.report_help(Code::BadValue, &text.span, "a brace is opened and not closed", help);
                }
                Piece::Reference(name) => {
                    let head = name.split('.').next().unwrap_or(name);
                    if takes.iter().any(|taken| taken.value == head) || ["kit", "read"].contains(&head) {
                        continue;
                    }
                    let known = takes.iter().map(|taken| taken.value.as_str());
                    let help = format!("say that the table takes it: `takes = [\"{head}\"]`");
                    let message = format!("nothing here is called `{name}`");
                    self.report_suggest(Code::NoSuchValue, &text.span, message, (head, known, help));
                }
            }
        }
    }

    /// Tells of every name that is no cause's.
    fn names_of_causes(&mut self, table: &RawFaultTable) {
        let known: Vec<&str> = table.causes.iter().map(|cause| cause.id.value.as_str()).collect();
        let outcomes = table.checks.iter().flat_map(|check| &check.outcomes).flat_map(|outcome| &outcome.chance);
        let remedies = table.remedies.iter().flat_map(|remedy| remedy.cures.iter().chain(&remedy.loses));
        let again = table.start_over.iter().flat_map(|start_over| &start_over.again);
        for named in outcomes.chain(remedies).chain(again).map(|number| &number.cause) {
            if !known.contains(&named.value.as_str()) {
                let help = format!("the causes are {}", known.join(", "));
                let message = format!("there is no cause `{}`", named.value);
                let suggested = (named.value.as_str(), known.iter().copied(), help);
                self.report_suggest(Code::NoSuchValue, &named.span, message, suggested);
            }
        }
    }

    /// Tells of every cause under which the chances of a check's answers do not come to 1.
    fn chances_of(&mut self, check: &RawCheck, causes: &[RawCause]) {
        for cause in causes {
            let of_cause = |outcome: &RawOutcome| sum_of(&outcome.chance, &cause.id.value);
            let sum: f64 = check.outcomes.iter().map(of_cause).sum();
            if (sum - 1.0).abs() > SLACK && check.outcomes.len() > 1 {
                let message =
                    format!("under `{}` the chances of the answers come to {}, not to 1", cause.id.value, rounded(sum));
                let help = format!("let `{} = …` in the `chance` of the answers add up to 1", cause.id.value);
                self.report_help(Code::BadValue, &check.id.span, message, help);
            }
        }
    }

    /// Tells of every cause under which a remedy's chances come to more than 1.
    fn chances_of_remedy(&mut self, remedy: &RawRemedy) {
        for cures in &remedy.cures {
            let sum = cures.number + sum_of(&remedy.loses, &cures.cause.value);
            if sum > 1.0 + SLACK {
                let message =
                    format!("under `{}` curing and losing come to {}, more than 1", cures.cause.value, rounded(sum));
                self.report_help(Code::BadValue, &cures.span, message, "what is left over is `not fixed`");
            }
        }
        for loses in remedy.loses.iter().filter(|loses| loses.number > 1.0 + SLACK) {
            let message = format!("a chance of {} is more than 1", loses.number);
            self.report_help(Code::BadValue, &loses.span, message, "say it from 0 to 1");
        }
    }
}

fn sum_of(numbers: &[OfCause], cause: &str) -> f64 {
    numbers.iter().filter(|number| number.cause.value == cause).map(|number| number.number).sum()
}

/// Returns a sum without the noise of adding.
fn rounded(sum: f64) -> f64 {
    (sum * 1e9).round() / 1e9
}
