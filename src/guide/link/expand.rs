//! The first pass: lays out the steps of the guide and of every procedure it runs.

use std::collections::HashMap;
use std::sync::Arc;

use super::scope::{NoSuchValue, Scope, Value, Why};
use super::{Inside, Instance, Laid, Linker};
use crate::finding::{Code, Place, Span};
use crate::guide::document::{Document, RawKind, RawWay, Text};
use crate::guide::keys;
use crate::guide::model::{Condition, Kind, Mention, Step, StepIdx};

impl Linker<'_> {
    /// Lays the whole guide out.
    pub(super) fn guide(&mut self, document: &Arc<Document>) {
        let scope = Scope::new(self.library.limits().field_bytes);
        self.instance(document, scope, String::new(), Arc::new([]), None, 0);
    }

    /// Lays one file out at one place; returns the instance's number.
    fn instance(
        &mut self,
        document: &Arc<Document>,
        scope: Scope,
        prefix: String,
        used_at: Arc<[Place]>,
        inherited: Option<(Arc<str>, StepIdx)>,
        depth: usize,
    ) -> usize {
        let n = self.instances.len();
        self.instances.push(Instance {
            document: Arc::clone(document),
            scope: Arc::new(scope),
            prefix,
            used_at,
            heads: HashMap::with_capacity(document.steps.len()),
            unlaid: document.unread.clone(),
            order: Vec::with_capacity(document.steps.len()),
            return_to: None,
        });
        for condition in &document.passing {
            let scope = Arc::clone(&self.instances[n].scope);
            if let Some(condition) = self.named(n, &scope, condition) {
                self.passing.insert(condition);
            }
        }
        let (mut stage, run) = match inherited {
            Some((stage, run)) => (Some(stage).filter(|stage| !stage.is_empty()), Some(run)),
            None => (None, None),
        };
        for (raw_idx, raw) in document.steps.iter().enumerate() {
            match &raw.stage {
                Some(text) => stage = Some(self.said(n, text).into()),
                // In a linked guide every step says its own.
                None if document.linked => stage = None,
                None => {}
            }
            if self.too_many {
                break;
            }
            match &raw.kind {
                RawKind::Run { each, .. } if !document.linked => {
                    // `{each}` in the run's own id makes a run of each value; otherwise one run holds them all.
                    if !each.is_empty() && raw.id.value.contains("{each}") {
                        for value in each {
                            if self.too_many {
                                break;
                            }
                            self.run(n, raw_idx, stage.clone(), Some(value), &[], depth);
                        }
                        let turns = self.instances[n].order.iter_mut().rev().take_while(|laid| laid.raw == raw_idx);
                        turns.skip(1).for_each(|laid| laid.goes_on = true);
                    } else {
                        self.run(n, raw_idx, stage.clone(), None, each, depth);
                    }
                }
                _ => {
                    let scope = Arc::clone(&self.instances[n].scope);
                    let idx = self.lay((n, raw_idx), &scope, Inside { stage: stage.clone(), run });
                    let Some(idx) = idx else { continue };
                    self.instances[n].order.push(Laid {
                        raw: raw_idx,
                        head: idx,
                        tail: idx,
                        inside: Vec::new(),
                        goes_on: false,
                    });
                }
            }
        }
        // Words last, so that conditions are numbered by where the steps first name them.
        for (name, said) in &document.words {
            if !self.spend(n, &name.span, name.value.len() + said.value.len()) {
                break;
            }
            if let (Some(name), Some(said)) = (self.substituted(n, name), self.substituted(n, said)) {
                let condition = self.intern(&name);
                self.words.push((condition, said));
            }
        }
        n
    }

    fn run(
        &mut self,
        n: usize,
        raw_idx: usize,
        stage: Option<Arc<str>>,
        each: Option<&Text>,
        repeat: &[Text],
        depth: usize,
    ) {
        let document = Arc::clone(&self.instances[n].document);
        let raw = &document.steps[raw_idx];
        let RawKind::Run { name, with, .. } = &raw.kind else { return };
        let mut outer = Scope::clone(&self.instances[n].scope);
        if let Some(each) = each {
            outer.push("each", Value::of(&each.value));
        }
        let outer = Arc::new(outer);
        let Some(head) = self.lay((n, raw_idx), &outer, Inside { stage: stage.clone(), run: None }) else { return };
        let laid = Laid { raw: raw_idx, head, tail: head, inside: Vec::new(), goes_on: false };
        if each.is_some() {
            // A jump may name the whole repeat by the id as it is written.
            self.instances[n].heads.entry(raw.id.value.clone()).or_insert(head);
        }
        self.instances[n].order.push(laid);
        let at = self.instances[n].order.len() - 1;
        let Some(procedure) = self.procedure(n, name, depth) else { return };
        let Some(scope) = self.parameters(n, raw, &procedure, &outer, with) else { return };
        match scope.name(&procedure.title) {
            // A title is a text from here on, in which a brace would begin a reference.
            Ok(title) => self.steps[head.index()].text = title.replace('{', "{{"),
            Err(wrong) => self.no_such_value(n, &name.span, wrong),
        }
        let used_at: Arc<[Place]> =
            std::iter::once(document.place(&raw.id.span)).chain(self.instances[n].used_at.iter().cloned()).collect();
        if !self.first_use.iter().any(|(known, _)| Arc::ptr_eq(known, &procedure)) {
            self.first_use.push((Arc::clone(&procedure), Arc::clone(&used_at)));
        }
        let prefix = self.steps[head.index()].id.to_string();
        let inherited = (stage.clone().unwrap_or_else(|| "".into()), head);
        let turns: Vec<Option<&Text>> = if repeat.is_empty() { vec![None] } else { repeat.iter().map(Some).collect() };
        for turn in turns {
            if self.too_many {
                break;
            }
            let mut scope = scope.clone();
            let mut prefix = format!("{prefix}/");
            if let Some(turn) = turn {
                if !keys::is_name(&turn.value) {
                    self.no_step_id(n, &turn.span, &turn.value);
                    continue;
                }
                scope.push("each", Value::of(&turn.value));
                prefix.push_str(&format!("{}/", turn.value));
            }
            let inside = self.instance(&procedure, scope, prefix, used_at.clone(), Some(inherited.clone()), depth + 1);
            self.instances[n].order[at].inside.push(inside);
        }
        let tail = self.returning(n, raw_idx, head, &prefix, stage);
        self.instances[n].order[at].tail = tail;
        let inside = self.instances[n].order[at].inside.clone();
        for (turn, instance) in inside.iter().enumerate() {
            let next = inside.get(turn + 1).and_then(|next| self.instances[*next].order.first());
            self.instances[*instance].return_to = Some(next.map_or(tail, |laid| laid.head));
        }
        let gives = self.steps[head.index()].gives.split_off(0);
        let spoils = self.steps[head.index()].spoils.split_off(0);
        let undoes = self.steps[head.index()].undoes.split_off(0);
        let tail = &mut self.steps[tail.index()];
        tail.gives.extend(gives);
        tail.spoils.extend(spoils);
        tail.undoes.extend(undoes);
    }

    /// Returns the node `RUN/return`: the procedure's own step of that name, else one made for it.
    fn returning(&mut self, n: usize, raw: usize, head: StepIdx, prefix: &str, stage: Option<Arc<str>>) -> StepIdx {
        let id = format!("{prefix}/return");
        if let Some(own) = self.ids.get(id.as_str()) {
            if let Kind::Return { .. } = self.steps[own.index()].kind {
                return *own;
            }
            let (inside, span) = (self.instance_of[own.index()], self.steps[own.index()].raw_step().id.span.clone());
            let message = "only a step with `end = \"return\"` can have the id `return`".to_owned();
            self.report(inside, Code::BadValue, &span, message).help = Some("give the step another id".into());
        }
        let run = &self.steps[head.index()];
        let place = (Arc::clone(&run.document), raw);
        let step = Step {
            text: "return".to_owned(),
            ..Step::bare(id.into(), Kind::Return { run: head }, stage, place, Arc::clone(&run.used_at))
        };
        let scope = Arc::clone(&self.scope_of[head.index()]);
        self.push(n, &scope, step)
    }

    fn push(&mut self, instance: usize, scope: &Arc<Scope>, step: Step) -> StepIdx {
        let idx = StepIdx(self.steps.len() as u32);
        self.ids.entry(Arc::clone(&step.id)).or_insert(idx);
        self.steps.push(step);
        self.instance_of.push(instance);
        self.scope_of.push(Arc::clone(scope));
        idx
    }

    /// Adds a step with everything that does not depend on later steps; where there is none, the fault is told.
    fn lay(&mut self, (n, raw_idx): (usize, usize), scope: &Arc<Scope>, inside: Inside) -> Option<StepIdx> {
        let laid = self.laid((n, raw_idx), scope, inside);
        if laid.is_none() {
            let id = self.instances[n].document.steps[raw_idx].id.value.clone();
            self.instances[n].unlaid.insert(id);
        }
        laid
    }

    fn laid(&mut self, (n, raw_idx): (usize, usize), scope: &Arc<Scope>, inside: Inside) -> Option<StepIdx> {
        let document = Arc::clone(&self.instances[n].document);
        let raw = &document.steps[raw_idx];
        if self.too_many {
            return None;
        }
        if self.steps.len() >= self.library.limits().steps {
            let most = self.library.limits().steps;
            let message = format!("the guide has more than {most} steps when expanded");
            self.report(n, Code::BadValue, &raw.id.span, message).help = Some("make two guides of it".into());
            self.too_many = true;
            return None;
        }
        let local = match scope.name(&raw.id.value) {
            Ok(local) => local,
            Err(wrong) => {
                self.no_such_value(n, &raw.id.span, wrong);
                return None;
            }
        };
        if !keys::is_name(&local) {
            self.no_step_id(n, &raw.id.span, &local);
            return None;
        }
        if local.contains('/') && !document.linked {
            let message = format!("`{local}` is no id for a step");
            self.report(n, Code::BadValue, &raw.id.span, message).help =
                Some("a slash stands only in the ids of steps inside a run".into());
            return None;
        }
        let id: Arc<str> = format!("{}{local}", self.instances[n].prefix).into();
        if !self.spend(n, &raw.id.span, id.len()) {
            return None;
        }
        if self.ids.contains_key(&id) {
            let message = format!("there is already a step `{local}`");
            let finding = self.report(n, Code::DuplicateId, &raw.id.span, message);
            finding.help = Some("give one of them another id".into());
            finding.step = Some(id.to_string());
            return None;
        }
        let kind = self.kind(n, scope, raw, &id, inside.run)?;
        let used_at = Arc::clone(&self.instances[n].used_at);
        let step = Step {
            needs: self.mentions(n, scope, &raw.needs),
            gives: self.mentions(n, scope, &raw.gives),
            spoils: self.mentions(n, scope, &raw.spoils),
            undoes: self.mentions(n, scope, &raw.undoes),
            one_way: raw.one_way,
            optional: raw.optional,
            minutes: raw.minutes.unwrap_or(0.0),
            cautions: raw.cautions.clone(),
            at: raw.at.as_ref().map(|at| at.value.clone()),
            ..Step::bare(id, kind, inside.stage, (Arc::clone(&document), raw_idx), used_at)
        };
        let idx = self.push(n, scope, step);
        self.instances[n].heads.entry(local).or_insert(idx);
        Some(idx)
    }

    fn mentions(&mut self, n: usize, scope: &Scope, texts: &[Text]) -> Vec<Mention> {
        let mention = |text: &Text| Some(Mention { condition: self.named(n, scope, text)?, span: text.span.clone() });
        texts.iter().filter_map(mention).collect()
    }

    /// Returns the condition that a text names; what is no name with its values put in is told.
    pub(super) fn named(&mut self, n: usize, scope: &Scope, text: &Text) -> Option<Condition> {
        match scope.name(&text.value) {
            Ok(name) if keys::is_name(&name) => self.spend(n, &text.span, name.len()).then(|| self.intern(&name)),
            Ok(name) => {
                let message = format!("`{name}` is no name for a condition");
                self.report(n, Code::BadValue, &text.span, message).help =
                    Some("use letters, digits, dots and hyphens: `cap.glued`".into());
                None
            }
            Err(wrong) => {
                self.no_such_value(n, &text.span, wrong);
                None
            }
        }
    }

    fn no_step_id(&mut self, n: usize, span: &Span, id: &str) {
        self.report(n, Code::BadValue, span, format!("`{id}` is no id for a step")).help =
            Some("use letters, digits and hyphens: `glue-body`".into());
    }

    /// Counts so many more bytes of the expanded guide; where they are too many, that is told once and nothing is laid
    /// out any more.
    pub(super) fn spend(&mut self, n: usize, span: &Span, bytes: usize) -> bool {
        /// What a text takes beside its bytes.
        const BESIDE: usize = 32;
        self.expanded = self.expanded.saturating_add(bytes + BESIDE);
        let most = self.library.limits().expanded_bytes;
        if self.expanded > most && !self.too_many {
            let message = format!("the guide has more than {most} bytes when expanded");
            self.report(n, Code::BadValue, span, message).help = Some("make two guides of it".into());
            self.too_many = true;
        }
        self.expanded <= most
    }

    pub(super) fn substituted(&mut self, n: usize, text: &Text) -> Option<String> {
        match self.instances[n].scope.name(&text.value) {
            Ok(name) => Some(name),
            Err(wrong) => {
                self.no_such_value(n, &text.span, wrong);
                None
            }
        }
    }

    fn said(&mut self, n: usize, text: &Text) -> String {
        self.substituted(n, text).unwrap_or_else(|| text.value.clone())
    }

    pub(super) fn no_such_value(&mut self, n: usize, span: &Span, wrong: NoSuchValue) {
        match wrong.why {
            Why::Unknown => {}
            Why::Unclosed => {
                let message = "a brace is opened and not closed".to_owned();
                self.report(n, Code::BadValue, span, message).help =
                    Some("write `{{` for a brace that stays one".into());
                return;
            }
            Why::TooLong => {
                let most = self.library.limits().field_bytes;
                let message = format!("with `{}` put in it is longer than {most} bytes", wrong.name);
                self.report(n, Code::BadValue, span, message).help = Some("say it in fewer words".into());
                return;
            }
        }
        let scope_names: Vec<String> = self.instances[n].scope.names().map(str::to_owned).collect();
        let paths: Vec<String> = self.paths.iter().filter(|_| self.suggests()).cloned().collect();
        // A tube or a rim may be handed on as a whole.
        let wholes = paths.iter().filter_map(|path| path.rsplit_once('.')).map(|(whole, _)| whole);
        let known = scope_names.iter().chain(&paths).map(String::as_str).chain(wholes);
        let message = format!("nothing here is called `{}`", wrong.name);
        let own = paths.first().map_or("kit.tube.body.drill", String::as_str);
        let help = format!("name a kit number such as `{own}`, or what the procedure takes; `{{{{` is a brace");
        self.report(n, Code::NoSuchValue, span, message).suggest(&wrong.name, known, help);
    }
}

/// Returns the ways of a raw kind other than answers, by the label's word.
pub(super) fn then_of(kind: &RawKind) -> Option<&RawWay> {
    match kind {
        RawKind::Do { then, .. }
        | RawKind::Reckon { then, .. }
        | RawKind::Wait { then, .. }
        | RawKind::Run { then, .. }
        | RawKind::End { then, .. } => then.as_deref(),
        RawKind::Ask { .. } | RawKind::Gauge { .. } => None,
    }
}
