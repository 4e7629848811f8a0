//! The second pass: texts, targets and effects, now that every step is known.

use std::sync::Arc;

use super::expand::then_of;
use super::scope::Scope;
use super::{Laid, Linker};
use crate::finding::{Code, Span, did_you_mean};
use crate::guide::document::{RawKind, RawStep, RawWay, Text, TroubleRef};
use crate::guide::model::{Condition, Kind, Label, Mention, StepIdx, TroubleCall, Way};

/// A way with step and way effects still apart.
struct Draft {
    way: Way,
    /// What the way itself removes, its `undoes` without what was built on them.
    own_spoils: Vec<Condition>,
    own_undoes: Vec<Condition>,
    own_gives: Vec<Condition>,
}

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

    fn texts(&mut self, n: usize, laid: &Laid) {
        let document = Arc::clone(&self.instances[n].document);
        let raw = Linker::raw(&document, laid);
        let scope = Arc::clone(&self.scope_of[laid.head.index()]);
        let head = laid.head.index();
        if !matches!(raw.kind, RawKind::Run { .. }) || document.linked {
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
        let clock = raw.clock.iter().map(|(mark, at)| (mark.value.clone(), self.text(n, head, &scope, at)));
        self.steps[head].clock = clock.collect();
        self.steps[head].trouble = raw.trouble.iter().filter_map(|call| self.trouble(n, &scope, call)).collect();
        let kind = match &raw.kind {
            RawKind::Do { in_one_go, .. } => {
                Some(Kind::Do { in_one_go: in_one_go.iter().map(|text| self.text(n, head, &scope, text)).collect() })
            }
            RawKind::Gauge { min, max, .. } => {
                let min = min.as_ref().map(|text| self.text(n, head, &scope, text));
                let max = max.as_ref().map(|text| self.text(n, head, &scope, text));
                match self.steps[head].kind.clone() {
                    Kind::Gauge { unit, sets, read, .. } => Some(Kind::Gauge { unit, min, max, sets, read }),
                    other => Some(other),
                }
            }
            RawKind::Wait { ready, waiting_for, .. } => {
                let ready = self.text(n, head, &scope, ready);
                let waiting_for = waiting_for.as_ref().map(|text| self.text(n, head, &scope, text));
                match self.steps[head].kind.clone() {
                    Kind::Wait(pause) => Some(Kind::Wait(crate::guide::Pause { ready, waiting_for, ..pause })),
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
    fn text(&mut self, n: usize, head: usize, scope: &Scope, text: &Text) -> String {
        if !text.value.contains('{') {
            return text.value.clone();
        }
        let mut readings = Vec::new();
        let resolved = scope.text(&text.value, |name| self.number(n, name, &mut readings));
        for reading in readings {
            self.need_reading(head, &reading, &text.span);
        }
        match resolved {
            Ok(text) => text,
            Err(wrong) => {
                self.no_such_value(n, &text.span, wrong);
                text.value.clone()
            }
        }
    }

    /// Returns an input of a reckoning: a reference in braces, or the literal.
    fn input(&mut self, n: usize, head: usize, scope: &Scope, text: &Text) -> String {
        let name = match scope.path(&text.value) {
            Ok(name) => name,
            Err(wrong) => {
                self.no_such_value(n, &text.span, wrong);
                return text.value.clone();
            }
        };
        if !name.starts_with("kit.") && !name.starts_with("read.") {
            return name;
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
                self.no_such_value(n, &text.span, super::scope::NoSuchValue { name: name.clone(), unclosed: false });
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
        self.paths.contains(name).then(|| name.to_owned())
    }

    fn need_reading(&mut self, head: usize, gauge: &str, span: &Span) {
        let condition = self.intern(&format!("read.{gauge}"));
        let needs = &mut self.steps[head].needs;
        if !needs.iter().any(|need| need.condition == condition) {
            needs.push(Mention { condition, span: span.clone() });
        }
    }

    fn trouble(&mut self, n: usize, scope: &Scope, call: &TroubleRef) -> Option<TroubleCall> {
        if !self.library.has_trouble(&call.table.value) {
            let help = did_you_mean(&call.table.value, self.library.trouble_ids());
            let message = format!("there is no fault table `{}`", call.table.value);
            self.report(n, Code::NoSuchTrouble, &call.table.span, message).help = help;
            return None;
        }
        let mut with = Vec::new();
        for (name, value) in &call.with {
            match scope.path(&value.value) {
                Ok(value) => with.push((name.value.clone(), value)),
                Err(wrong) => self.no_such_value(n, &value.span, wrong),
            }
        }
        Some(TroubleCall { table: call.table.value.clone(), with })
    }

    fn ways_of(&mut self, n: usize, laid: &Laid, next: Option<StepIdx>, drafts: &mut [Vec<Draft>]) {
        let document = Arc::clone(&self.instances[n].document);
        let raw = Linker::raw(&document, laid);
        let (head, tail) = (laid.head, laid.tail);
        let then = then_of(&raw.kind);
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
        let way = Way {
            from,
            label,
            to,
            trouble: None,
            gives: Vec::new(),
            removes: Vec::new(),
            undoes: Vec::new(),
            drops_passing: false,
            span: None,
        };
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
                texts
                    .iter()
                    .filter_map(|text| match scope.name(&text.value) {
                        Ok(name) => Some(self.intern(&name)),
                        Err(wrong) => {
                            self.no_such_value(n, &text.span, wrong);
                            None
                        }
                    })
                    .collect()
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
        if known.is_some() || instance.document.unread.contains(&to.value) {
            return known.or(next);
        }
        let help = did_you_mean(&to.value, instance.heads.keys().map(String::as_str));
        let message = format!("no step is named `{}`", to.value);
        let step = self.steps[from.index()].id.to_string();
        let finding = self.report(n, Code::NoSuchStep, &to.span, message);
        finding.help = help;
        finding.label = Some("goes nowhere".into());
        finding.step = Some(step);
        None
    }

    /// Says that a step runs off the end of its file.
    fn report_end(&mut self, n: usize, raw: &RawStep) {
        if !self.instances[n].document.unread.is_empty() || self.too_many {
            return;
        }
        let end = if self.instances[n].prefix.is_empty() { "finished" } else { "return" };
        let step = format!("{}{}", self.instances[n].prefix, raw.id.value);
        let message = format!("after `{}` the guide runs off the end of the file", raw.id.value);
        let finding = self.report(n, Code::NoSuchStep, &raw.id.span, message);
        finding.help = Some(format!("name where it leads, or add a last step with `end = \"{end}\"`"));
        finding.step = Some(step);
    }

    /// Puts together what each way does, step first and way second.
    fn with_effects(&mut self, drafts: Vec<Draft>) -> Vec<Way> {
        let mut ways = Vec::with_capacity(drafts.len());
        let mut later = Vec::new();
        for draft in drafts {
            let Draft { mut way, own_spoils, own_undoes, own_gives } = draft;
            let step = &self.steps[way.from.index()];
            if way.label == Label::Skip {
                ways.push(way);
                continue;
            }
            let run_in = matches!(step.kind, Kind::Run) && !step.document.linked;
            let named = |mentions: &[Mention]| -> Vec<Condition> {
                if run_in { Vec::new() } else { mentions.iter().map(|mention| mention.condition).collect() }
            };
            let mut given =
                if way.trouble.is_none() && gives_own(&way.label) { named(&step.gives) } else { Vec::new() };
            way.removes = named(&step.spoils);
            way.undoes = named(&step.undoes);
            if let Kind::Gauge { read, .. } = step.kind {
                way.undoes.push(read);
                given.push(read);
            }
            if let Kind::Wait(pause) = &step.kind {
                way.drops_passing = !pause.meanwhile;
            }
            if !own_undoes.is_empty() && !given.is_empty() {
                later.push((ways.len(), given.clone(), own_undoes.clone(), own_gives.clone()));
            }
            given.retain(|condition| !own_spoils.contains(condition));
            given.extend(own_gives);
            given.sort_unstable();
            given.dedup();
            way.gives = given;
            way.removes.extend(own_spoils);
            way.undoes.extend(own_undoes);
            ways.push(way);
        }
        // What a way undoes takes away what its own step gave, with all that was built on it: that needs all the ways.
        if !later.is_empty() {
            let rests = self.rests(&ways);
            for (n, given, undoes, own_gives) in later {
                ways[n].gives.retain(|gives| {
                    own_gives.contains(gives) || !(given.contains(gives) && rests.is_undone(*gives, &undoes))
                });
            }
        }
        ways
    }
}

/// Tells whether what a step itself gives acts on a way of this label.
fn gives_own(label: &Label) -> bool {
    match label {
        Label::Then | Label::Answer(_) | Label::Within | Label::Ready => true,
        Label::Under | Label::Over | Label::NotReady | Label::Verdict(_) | Label::Skip => false,
    }
}
