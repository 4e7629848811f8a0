//! The second pass: texts, targets and effects, now that every step is known.

use std::sync::Arc;

use super::effects::Draft;
use super::expand::then_of;
use super::scope::Scope;
use super::{Laid, Linker};
use crate::finding::Code;
use crate::guide::document::{RawKind, RawStep, RawWay, Text, TroubleRef};
use crate::guide::model::{Condition, Label, StepIdx, TroubleCall, Way};

impl Linker<'_> {
    /// Resolves everything and returns the ways, those out of a step together.
    pub(super) fn ways(&mut self) -> Vec<Way> {
        let mut drafts: Vec<Vec<Draft>> = (0..self.steps.len()).map(|_| Vec::new()).collect();
        for n in 0..self.instances.len() {
            let order = std::mem::take(&mut self.instances[n].order);
            for (at, laid) in order.iter().enumerate() {
                self.texts(n, laid);
                let next = order.get(at + 1).map(|laid| laid.head);
                self.ways_of(n, laid, next, &mut drafts);
            }
            self.instances[n].order = order;
        }
        for (n, draft) in drafts.iter().enumerate() {
            self.steps[n].ways = 0..draft.len() as u32;
        }
        let mut first = 0;
        for step in &mut self.steps {
            step.ways = first..first + step.ways.end;
            first = step.ways.end;
        }
        self.with_effects(drafts.into_iter().flatten().collect())
    }

    /// Returns a call of a fault table with its parameters resolved.
    pub(super) fn trouble(&mut self, n: usize, scope: &Scope, call: &TroubleRef) -> Option<TroubleCall> {
        // A guide that is kept with a job links with nothing else at hand; it was looked for when it was linked first.
        if !self.library.has_trouble(&call.table.value) && !self.instances[n].document.linked {
            let message = format!("there is no fault table `{}`", call.table.value);
            let library = self.library;
            let finding = self.report(n, Code::NoSuchTrouble, &call.table.span, message);
            let help = "`stepjig list` shows the fault tables; one of your own is a file in `trouble/`";
            finding.suggest(&call.table.value, library.trouble_ids(), help);
            return None;
        }
        let mut with = Vec::new();
        for (name, value) in &call.with {
            match scope.path(&value.value) {
                Ok(value) => with.push((name.value.clone(), value)),
                Err(wrong) => self.no_such_value(n, &value.span, wrong),
            }
        }
        for taken in self.taken_by(&call.table.value) {
            // What is not given is the procedure's own of the same name; else the person is asked.
            if let (false, Some(value)) = (with.iter().any(|(name, _)| *name == taken), scope.get(&taken)) {
                with.push((taken, value.written().to_owned()));
            }
        }
        Some(TroubleCall { table: call.table.value.clone(), with })
    }

    /// Returns what a fault table takes; nothing where it cannot be read.
    fn taken_by(&mut self, table: &str) -> Vec<String> {
        if let Some(known) = self.takes.get(table) {
            return known.clone();
        }
        let document =
            self.library.trouble(table).and_then(|source| crate::guide::read(&source, self.library.limits()).0);
        if let Some(document) = document.as_ref().filter(|document| !document.title.is_empty()) {
            self.table_titles.insert(table.to_owned(), document.title.clone());
        }
        let takes: Vec<String> =
            document.map_or(Vec::new(), |document| document.takes.into_iter().map(|taken| taken.value).collect());
        self.takes.insert(table.to_owned(), takes.clone());
        takes
    }

    fn ways_of(&mut self, n: usize, laid: &Laid, next: Option<StepIdx>, drafts: &mut [Vec<Draft>]) {
        let document = Arc::clone(&self.instances[n].document);
        let raw = Linker::raw(&document, laid);
        let (head, tail) = (laid.head, laid.tail);
        let in_turn = then_of(&raw.kind).filter(|_| laid.goes_on).map(|then| RawWay { to: None, ..then.clone() });
        let then = in_turn.as_ref().or(then_of(&raw.kind));
        let mut out = Vec::new();
        match &raw.kind {
            RawKind::Do { .. } | RawKind::Reckon { .. } => {
                out.extend(self.way(n, raw, tail, Label::Then, then, next));
            }
            RawKind::Run { .. } if document.linked => out.extend(self.way(n, raw, tail, Label::Then, then, next)),
            RawKind::Run { .. } => {
                if let Some(first) = laid.inside.first().and_then(|inside| self.instances[*inside].order.first()) {
                    let inward = self.plain(head, Label::Then, Some(first.head));
                    drafts[head.index()].push(inward);
                }
                if head != tail {
                    let onward = self.way(n, raw, tail, Label::Then, then, next);
                    drafts[tail.index()].extend(onward);
                }
            }
            RawKind::Ask { answers, .. } => {
                let scope = Arc::clone(&self.scope_of[head.index()]);
                for (say, way) in answers {
                    let label = Label::Answer(self.text(n, head.index(), &scope, say));
                    out.extend(self.way(n, raw, tail, label, Some(way), next));
                }
            }
            RawKind::Gauge { within, under, over, .. } => {
                out.extend(self.way(n, raw, tail, Label::Within, within.as_deref(), next));
                for (label, way) in [(Label::Under, under), (Label::Over, over)] {
                    if let Some(way) = way {
                        out.extend(self.way(n, raw, tail, label, Some(way), next));
                    }
                }
            }
            RawKind::Wait { not_ready, meanwhile, .. } => {
                let label = if *meanwhile { Label::Then } else { Label::Ready };
                out.extend(self.way(n, raw, tail, label, then, next));
                if let Some(way) = not_ready {
                    out.extend(self.way(n, raw, tail, Label::NotReady, Some(way), next));
                }
            }
            RawKind::End { then: Some(then), .. } => {
                out.extend(self.way(n, raw, tail, Label::Then, Some(then), next));
            }
            RawKind::End { text, .. } if text.value == "return" => {
                // The node that carries the run's effects gets its way from the run.
                let to = self.instances[n].return_to;
                if to != Some(tail) {
                    out.push(self.plain(tail, Label::Then, to));
                }
            }
            RawKind::End { .. } => {}
        }
        if let RawKind::Reckon { verdicts, .. } = &raw.kind {
            for (verdict, way) in verdicts {
                out.extend(self.way(n, raw, tail, Label::Verdict(verdict.value.clone()), Some(way), next));
            }
        }
        drafts[tail.index()].extend(out);
        if raw.optional {
            let skip_to = match &raw.kind {
                RawKind::Run { skip_to: Some(to), .. } => self.instances[n].heads.get(&to.value).copied(),
                _ => self.target(n, raw, head, then, next),
            };
            match skip_to {
                Some(to) => {
                    let skip = self.plain(head, Label::Skip, Some(to));
                    drafts[head.index()].push(skip);
                }
                None => self.report_end(n, raw),
            }
        }
    }

    fn plain(&self, from: StepIdx, label: Label, to: Option<StepIdx>) -> Draft {
        let way = Way::plain(from, label, to);
        Draft { way, own_spoils: Vec::new(), own_undoes: Vec::new(), own_gives: Vec::new() }
    }

    fn way(
        &mut self,
        n: usize,
        raw: &RawStep,
        from: StepIdx,
        label: Label,
        way: Option<&RawWay>,
        next: Option<StepIdx>,
    ) -> Option<Draft> {
        let mut draft = self.plain(from, label, None);
        if let Some(call) = way.and_then(|way| way.trouble.as_ref()) {
            let scope = Arc::clone(&self.scope_of[from.index()]);
            draft.way.trouble = self.trouble(n, &scope, call);
        } else {
            draft.way.to = match self.target(n, raw, from, way, next) {
                Some(to) => Some(to),
                None => {
                    if way.is_none_or(|way| way.to.is_none()) {
                        self.report_end(n, raw);
                    }
                    return None;
                }
            };
        }
        draft.way.span = way.map(|way| way.span.clone());
        if let Some(way) = way {
            let scope = Arc::clone(&self.scope_of[from.index()]);
            let mut named = |texts: &[Text]| -> Vec<Condition> {
                texts.iter().filter_map(|text| self.named(n, &scope, text)).collect()
            };
            draft.own_gives = named(&way.gives);
            draft.own_spoils = named(&way.spoils);
            draft.own_undoes = named(&way.undoes);
        }
        Some(draft)
    }

    fn target(
        &mut self,
        n: usize,
        _raw: &RawStep,
        from: StepIdx,
        way: Option<&RawWay>,
        next: Option<StepIdx>,
    ) -> Option<StepIdx> {
        let Some(to) = way.and_then(|way| way.to.as_ref()) else { return next };
        let scope = Arc::clone(&self.scope_of[from.index()]);
        let instance = &self.instances[n];
        let known = instance.heads.get(&to.value).copied();
        let known = known.or_else(|| instance.heads.get(&scope.name(&to.value).ok()?).copied());
        if known.is_some() || instance.unlaid.contains(&to.value) || self.too_many {
            return known.or(next);
        }
        let mut known: Vec<String> = instance.heads.keys().filter(|_| self.suggests()).cloned().collect();
        known.sort_unstable();
        let message = format!("no step is named `{}`", to.value);
        let step = self.steps[from.index()].id.to_string();
        let finding = self.report(n, Code::NoSuchStep, &to.span, message);
        let help = "name the `id` of a step of this file, or leave it out to go on to the next step in the file";
        finding.suggest(&to.value, known.iter().map(String::as_str), help);
        finding.label = Some("goes nowhere".into());
        finding.step = Some(step);
        None
    }

    /// Says that a step runs off the end of its file.
    fn report_end(&mut self, n: usize, raw: &RawStep) {
        if !self.instances[n].unlaid.is_empty() || self.too_many {
            return;
        }
        let end = if self.instances[n].prefix.is_empty() { "finished" } else { "return" };
        let step = format!("{}{}", self.instances[n].prefix, raw.id.value);
        let message = format!("after `{}` the guide runs off the end of the file", raw.id.value);
        let finding = self.report(n, Code::NoSuchStep, &raw.id.span, message);
        finding.help = Some(format!("name where it leads, or add a last step with `end = \"{end}\"`"));
        finding.step = Some(step);
    }
}
