//! Texts with their references resolved; a reading that a text uses becomes a need of its step.

use std::sync::Arc;

use super::scope::{NoSuchValue, Scope, Why};
use super::{Laid, Linker, Numbers};
use crate::finding::Span;
use crate::guide::Pause;
use crate::guide::document::{RawKind, Text};
use crate::guide::model::{Kind, Mention};

impl Linker<'_> {
    /// Fills in everything that a step says.
    pub(super) fn texts(&mut self, n: usize, laid: &Laid) {
        let document = Arc::clone(&self.instances[n].document);
        let raw = Linker::raw(&document, laid);
        let scope = Arc::clone(&self.scope_of[laid.head.index()]);
        let head = laid.head.index();
        // A wait says how long it is by its minutes, a run what it is by its procedure's title.
        let is_run = matches!(raw.kind, RawKind::Run { .. }) && !document.linked;
        if !is_run && !matches!(raw.kind, RawKind::Wait { .. }) {
            self.steps[head].text = self.text(n, head, &scope, raw.kind.text());
        }
        self.steps[head].if_wrong = raw.if_wrong.as_ref().map(|text| self.text(n, head, &scope, text));
        self.steps[head].why = raw.why.as_ref().map(|text| self.text(n, head, &scope, text));
        self.steps[head].tell = raw.tell.as_ref().map(|text| self.text(n, head, &scope, text));
        self.steps[head].parts = raw.parts.iter().map(|text| self.text(n, head, &scope, text)).collect();
        for at in 0..raw.cautions.len() {
            let hazard = self.text(n, head, &scope, &raw.cautions[at].hazard);
            let avoid = self.text(n, head, &scope, &raw.cautions[at].avoid);
            self.steps[head].cautions[at].hazard.value = hazard;
            self.steps[head].cautions[at].avoid.value = avoid;
        }
        self.steps[head].clock = raw.clock.iter().map(|mark| self.mark(n, head, &scope, mark)).collect();
        self.steps[head].trouble = raw.trouble.iter().filter_map(|call| self.trouble(n, &scope, call)).collect();
        let kind = match &raw.kind {
            RawKind::Do { in_one_go, .. } => {
                Some(Kind::Do { in_one_go: in_one_go.iter().map(|text| self.text(n, head, &scope, text)).collect() })
            }
            RawKind::Gauge { min, max, .. } => {
                let min = min.as_ref().map(|text| self.text(n, head, &scope, text));
                let max = max.as_ref().map(|text| self.text(n, head, &scope, text));
                self.limits(n, raw, min.as_deref(), max.as_deref());
                match self.steps[head].kind.clone() {
                    Kind::Gauge { unit, sets, read, .. } => Some(Kind::Gauge { unit, min, max, sets, read }),
                    other => Some(other),
                }
            }
            RawKind::Wait { ready, waiting_for, .. } => {
                let ready = self.text(n, head, &scope, ready);
                let waiting_for = waiting_for.as_ref().map(|text| self.text(n, head, &scope, text));
                match self.steps[head].kind.clone() {
                    Kind::Wait(pause) => Some(Kind::Wait(Pause { ready, waiting_for, ..pause })),
                    other => Some(other),
                }
            }
            RawKind::Reckon { from, .. } => Some(Kind::Reckon {
                from: from.iter().map(|(key, value)| (key.value.clone(), self.input(n, head, &scope, value))).collect(),
            }),
            _ => None,
        };
        if let Some(kind) = kind {
            self.steps[head].kind = kind;
        }
    }

    /// Returns a text with its references resolved; a reading that it uses becomes a need of the step.
    pub(super) fn text(&mut self, n: usize, head: usize, scope: &Scope, text: &Text) -> String {
        if !self.spend(n, &text.span, text.value.len()) {
            return String::new();
        }
        if !text.value.contains('{') {
            return text.value.clone();
        }
        let mut readings = Vec::new();
        let resolved = scope.text(&text.value, |name| self.number(n, name, &mut readings));
        for reading in readings {
            self.need_reading(head, &reading, &text.span);
        }
        match resolved {
            Ok(resolved) => {
                self.spend(n, &text.span, resolved.len());
                resolved
            }
            Err(wrong) => {
                self.no_such_value(n, &text.span, wrong);
                text.value.clone()
            }
        }
    }

    /// Returns an input of a reckoning: a reference in braces, the literal, or a list with references in it.
    fn input(&mut self, n: usize, head: usize, scope: &Scope, text: &Text) -> String {
        if scope.is_list(&text.value) {
            return self.text(n, head, scope, text);
        }
        let name = match scope.path(&text.value) {
            Ok(name) => name,
            Err(wrong) => {
                self.no_such_value(n, &text.span, wrong);
                return text.value.clone();
            }
        };
        if !name.starts_with("kit.") && !name.starts_with("read.") {
            return name.replace('{', "{{");
        }
        let mut readings = Vec::new();
        match self.number(n, &name, &mut readings) {
            Some(name) => {
                for reading in readings {
                    self.need_reading(head, &reading, &text.span);
                }
                format!("{{{name}}}")
            }
            None => {
                self.no_such_value(n, &text.span, NoSuchValue { name: name.clone(), why: Why::Unknown });
                name
            }
        }
    }

    /// Returns the full name of a kit number or reading, where there is one.
    fn number(&self, n: usize, name: &str, readings: &mut Vec<String>) -> Option<String> {
        if let Some(gauge) = name.strip_prefix("read.") {
            let idx = self.instances[n].heads.get(gauge).or_else(|| self.ids.get(gauge))?;
            let step = &self.steps[idx.index()];
            if !matches!(step.kind, Kind::Gauge { .. }) {
                return None;
            }
            readings.push(step.id.to_string());
            return Some(format!("read.{}", step.id));
        }
        let known = self.paths.contains(name) || self.numbers == Numbers::Any && name.starts_with("kit.");
        known.then(|| name.to_owned())
    }

    fn need_reading(&mut self, head: usize, gauge: &str, span: &Span) {
        let condition = self.intern(&format!("read.{gauge}"));
        let needs = &mut self.steps[head].needs;
        if !needs.iter().any(|need| need.condition == condition) {
            needs.push(Mention { condition, span: span.clone() });
        }
    }
}
