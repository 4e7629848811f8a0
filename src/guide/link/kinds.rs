//! What a step is, with the values that are known before its neighbours are.

use super::Linker;
use super::scope::Scope;
use crate::finding::Code;
use crate::guide::document::{RawKind, RawStep, Shelf, Text};
use crate::guide::model::{EndKind, Kind, Pause, StepIdx};

impl Linker<'_> {
    /// Returns a step's kind; its texts come in the second pass.
    pub(super) fn kind(
        &mut self,
        n: usize,
        scope: &Scope,
        raw: &RawStep,
        id: &str,
        run: Option<StepIdx>,
    ) -> Option<Kind> {
        Some(match &raw.kind {
            RawKind::Do { .. } => Kind::Do { in_one_go: Vec::new() },
            RawKind::Ask { .. } => Kind::Ask,
            RawKind::Gauge { unit, sets, .. } => {
                if let Err(wrong) = unit.value.parse::<crate::units::Unit>() {
                    self.report(n, Code::BadValue, &unit.span, wrong.to_string()).help = wrong.help();
                }
                let sets = sets.as_ref().and_then(|sets| match scope.path(&sets.value) {
                    Ok(path) if path.starts_with("kit.") && crate::guide::keys::is_name(&path) => {
                        self.paths.insert(path.clone());
                        Some(path)
                    }
                    Ok(path) => {
                        let message = format!("`{path}` is no kit number");
                        let finding = self.report(n, Code::BadValue, &sets.span, message);
                        finding.help = Some("name a path such as `kit.tube.body.outside`".into());
                        None
                    }
                    Err(wrong) => {
                        self.no_such_value(n, &sets.span, wrong);
                        None
                    }
                });
                let read = self.intern(&format!("read.{id}"));
                Kind::Gauge { unit: unit.value.clone(), min: None, max: None, sets, read }
            }
            RawKind::Reckon { name, from, verdicts, .. } => {
                self.reckoning(
                    n,
                    name,
                    from.iter().map(|(input, _)| input),
                    verdicts.iter().map(|(verdict, _)| verdict),
                );
                Kind::Reckon { from: Vec::new() }
            }
            RawKind::Wait { text, waiting_for, ready, up_to, meanwhile, .. } => Kind::Wait(Pause {
                minutes: self.duration(n, scope, text).unwrap_or(0.0),
                up_to: up_to.as_ref().and_then(|up_to| self.duration(n, scope, up_to)),
                ready: ready.value.clone(),
                waiting_for: waiting_for.as_ref().map(|text| text.value.clone()),
                meanwhile: *meanwhile,
            }),
            RawKind::Run { .. } => Kind::Run,
            RawKind::End { text, then, of } => {
                let in_procedure = self.instances[n].document.shelf == Shelf::Procedure;
                let linked = self.instances[n].document.linked;
                match text.value.as_str() {
                    "finished" if !in_procedure => Kind::End(EndKind::Finished),
                    "scrap" => Kind::End(EndKind::Scrap),
                    "not-fixed" if in_procedure || linked => Kind::End(EndKind::NotFixed),
                    "return" if then.is_some() => {
                        let itself = StepIdx(self.steps.len() as u32);
                        let run = of.as_ref().and_then(|of| self.ids.get(of.value.as_str()).copied());
                        Kind::Return { run: run.unwrap_or(itself) }
                    }
                    "return" if in_procedure => Kind::Return { run: run.unwrap_or(StepIdx(0)) },
                    other => {
                        let known: &[&str] =
                            if in_procedure { &["return", "scrap", "not-fixed"] } else { &["finished", "scrap"] };
                        let message = match other {
                            "finished" => "a procedure does not finish the pen, it returns".to_owned(),
                            "return" => "only a procedure returns".to_owned(),
                            "not-fixed" => "only a remedy's procedure ends `not-fixed`".to_owned(),
                            _ => format!("there is no end `{other}`"),
                        };
                        let finding = self.report(n, Code::BadValue, &text.span, message);
                        finding.suggest(
                            other,
                            known.iter().copied(),
                            format!("here an end is `{}`", known.join("` or `")),
                        );
                        return None;
                    }
                }
            }
        })
    }

    /// Reports a reckoning, an input or a verdict that there is not.
    fn reckoning<'t>(
        &mut self,
        n: usize,
        name: &Text,
        inputs: impl Iterator<Item = &'t Text>,
        verdicts: impl Iterator<Item = &'t Text>,
    ) {
        let mut report = |text: &Text, message: String, known: Vec<&str>| {
            let all = match known.as_slice() {
                [] => "it gives none; leave `verdicts` out".to_owned(),
                known => format!("there are: {}", known.join(", ")),
            };
            self.report(n, Code::NoSuchReckoning, &text.span, message).suggest(&text.value, known, all);
        };
        let Some(reckoning) = crate::reckon::named(&name.value) else {
            let known = crate::reckon::ALL.iter().map(|reckoning| reckoning.name).collect();
            return report(name, format!("there is no reckoning `{}`", name.value), known);
        };
        for input in inputs.filter(|input| reckoning.input(&input.value).is_none()) {
            let known = reckoning.inputs.iter().map(|input| input.name).collect();
            report(input, format!("`{}` takes no `{}`", name.value, input.value), known);
        }
        let known: Vec<&str> = reckoning.verdicts.iter().map(|(verdict, _)| *verdict).collect();
        for verdict in verdicts.filter(|verdict| !known.contains(&verdict.value.as_str())) {
            report(verdict, format!("`{}` has no verdict `{}`", name.value, verdict.value), known.clone());
        }
    }

    fn duration(&mut self, n: usize, scope: &Scope, text: &Text) -> Option<f64> {
        let written = match scope.name(&text.value) {
            Ok(written) => written,
            Err(wrong) => {
                self.no_such_value(n, &text.span, wrong);
                return None;
            }
        };
        match written.parse::<crate::units::Span>() {
            Ok(span) => Some(span.minutes()),
            Err(wrong) => {
                self.report(n, Code::BadValue, &text.span, wrong.to_string()).help =
                    Some("write a time with its unit: `\"20 min\"`, `\"1 h 30 min\"`, `\"24 h\"`".into());
                None
            }
        }
    }
}
