//! Rehearsals: the steps they name, and whether what they say can be said there.

use super::Linker;
use crate::finding::{Code, Finding, did_you_mean};
use crate::guide::document::{Document, KitValue, RawRehearsal, Text};
use crate::guide::fold;
use crate::guide::model::{Arrival, Condition, EndKind, Kind, Label, Rehearsal, Reply, Step, StepIdx, Way};
use crate::guide::read::listed;
use crate::units::{Length, Quantity, Unit};

/// The ends by the word a guide writes.
const ENDS: [(&str, EndKind); 3] =
    [("finished", EndKind::Finished), ("scrap", EndKind::Scrap), ("not-fixed", EndKind::NotFixed)];

impl Linker<'_> {
    /// Links the rehearsals of a guide, whose ways are known now.
    pub(super) fn rehearsals(&mut self, document: &Document, ways: &[Way]) -> Vec<Rehearsal> {
        document.rehearsals.iter().map(|raw| self.rehearsal(document, raw, ways)).collect()
    }

    fn rehearsal(&mut self, document: &Document, raw: &RawRehearsal, ways: &[Way]) -> Rehearsal {
        let mut numbers = Vec::new();
        for (path, value) in &raw.numbers {
            let was = self.kit.get(&path.value).map(KitValue::written);
            let was_length = was.is_some_and(|was| Length::parse(&was, None).is_ok());
            if let (true, Err(wrong)) = (was_length, Length::parse(&value.value, None)) {
                let message = format!("`{}`: {wrong}", path.value);
                self.told(document, value, Code::BadValue, message).help = wrong.help();
            } else if self.paths.contains(&path.value) {
                numbers.push((path.value.clone(), value.value.clone()));
            } else {
                let help = did_you_mean(&path.value, self.paths.iter().map(String::as_str));
                let message = format!("the guide's kit has no number `{}`", path.value);
                self.told(document, path, Code::NoSuchValue, message).help = help;
            }
        }
        let mut replies = Vec::new();
        for (step, said) in &raw.answers {
            let Some(idx) = self.step_named(document, step) else { continue };
            let said = said.iter().filter_map(|said| self.reply(document, idx, said, ways)).collect();
            replies.push((idx, said));
        }
        let leaves_out = raw.leaves_out.iter().filter_map(|step| self.step_named(document, step)).collect();
        let arrives = raw.arrives.as_ref().and_then(|arrives| self.arrival(document, arrives));
        let finding = raw.finding.as_ref().and_then(|code| {
            let known = Code::of_name(&code.value).filter(|known| *known == Code::NeedUnmet);
            if known.is_none() {
                let message = format!("a walk cannot meet the finding `{}`", code.value);
                self.told(document, code, Code::BadValue, message).help =
                    Some("what a walk can meet is `need-unmet`: a step that is come to without what it needs".into());
            }
            known
        });
        let place = document.place(&raw.title.span);
        Rehearsal { title: raw.title.value.clone(), place, numbers, replies, leaves_out, arrives, finding }
    }

    fn told(&mut self, document: &Document, text: &Text, code: Code, message: String) -> &mut Finding {
        self.findings.push(Finding::new(code, document.place(&text.span), message));
        self.findings.last_mut().expect("one was just added")
    }

    fn step_named(&mut self, document: &Document, named: &Text) -> Option<StepIdx> {
        let known = self.ids.get(named.value.as_str()).copied();
        // Where a step could not be laid out, that is told, and no name that may have been its own.
        let is_whole = self.instances.iter().all(|instance| instance.unlaid.is_empty()) && !self.too_many;
        if known.is_none() && is_whole {
            let mut ids: Vec<&str> = self.ids.keys().map(|id| &**id).filter(|_| self.suggests()).collect();
            ids.sort_unstable();
            let help = did_you_mean(&named.value, ids);
            let help =
                help.or_else(|| Some("a step inside a procedure is named with its run: `glue-body/scuff`".into()));
            self.told(document, named, Code::NoSuchStep, format!("no step is named `{}`", named.value)).help = help;
        }
        known
    }

    fn arrival(&mut self, document: &Document, named: &Text) -> Option<Arrival> {
        let end = ENDS.iter().find(|(word, _)| *word == named.value);
        match (self.ids.get(named.value.as_str()), end) {
            (None, Some((_, end))) => Some(Arrival::End(*end)),
            _ => self.step_named(document, named).map(Arrival::At),
        }
    }

    /// Reads what is said at a step.
    fn reply(&mut self, document: &Document, idx: StepIdx, said: &Text, ways: &[Way]) -> Option<Reply> {
        let step = &self.steps[idx.index()];
        let ways = &ways[step.way_range()];
        let (word, rest) = said.value.split_once(' ').unwrap_or((&said.value, ""));
        let read = match (word, fold(&said.value).as_str()) {
            ("trouble", _) => self.conditions_in(rest, None).map(Reply::Trouble),
            ("no", _) if step.one_way => self.conditions_in(rest, Some(step)).map(Reply::No),
            (_, "skip") if step.optional => Ok(Reply::Skip),
            _ => of_kind(step, ways, &said.value),
        };
        match read {
            Ok(reply) => Some(reply),
            Err((message, help)) => {
                let id = step.id.to_string();
                let finding = self.told(document, said, Code::NoSuchAnswer, message);
                finding.step = Some(id);
                finding.help = Some(help);
                None
            }
        }
    }

    /// Reads names of conditions: of what a step needs, where one is given.
    fn conditions_in(&self, names: &str, needed_by: Option<&Step>) -> Result<Vec<Condition>, (String, String)> {
        let needs = |condition: &Condition| {
            needed_by.is_none_or(|step| step.needs.iter().any(|need| need.condition == *condition))
        };
        let named = |name: &str| {
            self.by_name.get(name).copied().filter(needs).ok_or_else(|| {
                let mut known: Vec<&str> = match needed_by {
                    Some(step) => step.needs.iter().map(|need| &*self.conditions[need.condition.index()]).collect(),
                    None => self.conditions.iter().map(String::as_str).filter(|_| self.suggests()).collect(),
                };
                known.sort_unstable();
                let near = did_you_mean(name, known.iter().copied());
                match needed_by {
                    Some(step) => {
                        let help = near.unwrap_or_else(|| format!("it needs {}", known.join(", ")));
                        (format!("`{}` does not need `{name}`", step.id), help)
                    }
                    None => {
                        let help = near.unwrap_or_else(|| "name what is no longer true, as `needs` does".to_owned());
                        (format!("the guide has no condition `{name}`"), help)
                    }
                }
            })
        };
        let conditions: Vec<Condition> = names.split_whitespace().map(named).collect::<Result<_, _>>()?;
        match needed_by {
            Some(step) if conditions.is_empty() => {
                let message = format!("`no` at `{}` does not say what is not true", step.id);
                Err((message, "name one of its needs behind it: `no cap.glued`".to_owned()))
            }
            _ => Ok(conditions),
        }
    }
}

/// Reads what is said at a step of its kind; else says what is wrong, and what can be said.
fn of_kind(step: &Step, ways: &[Way], said: &str) -> Result<Reply, (String, String)> {
    let words = fold(said);
    let cannot = |help: String| Err((format!("`{said}` cannot be said at `{}`", step.id), help));
    match &step.kind {
        Kind::Ask => {
            let answers = ways.iter().filter_map(|way| match &way.label {
                Label::Answer(say) => Some(&**say),
                _ => None,
            });
            let answers: Vec<&str> = answers.collect();
            match answers.iter().position(|answer| fold(answer) == words) {
                Some(n) => Ok(Reply::Answer(n)),
                None => {
                    let all = || format!("its answers are {}", listed(&answers));
                    let help = did_you_mean(said, answers.iter().copied()).unwrap_or_else(all);
                    Err((format!("`{}` has no answer `{said}`", step.id), help))
                }
            }
        }
        Kind::Gauge { unit, .. } => {
            let Ok(unit) = unit.parse::<Unit>() else { return Ok(Reply::Done) };
            match Quantity::parse_signed(said, unit, None) {
                Ok(quantity) => Ok(Reply::Reading { said: quantity.exact(), value: quantity.value() }),
                Err(wrong) => {
                    let message = format!("`{said}` is no reading of `{}`: {wrong}", step.id);
                    Err((message, wrong.help().unwrap_or_else(|| format!("say it in {}", unit.label()))))
                }
            }
        }
        Kind::Reckon { .. } => sum(step, said, &words),
        Kind::Wait(pause) => match words.as_str() {
            "ready" => Ok(Reply::Ready),
            "not ready" if pause.meanwhile || ways.iter().any(|way| way.label == Label::NotReady) => {
                Ok(Reply::NotReady)
            }
            "not ready" => cannot("the wait has no way `not-ready`: one waits on".to_owned()),
            _ => cannot("at a wait it is `ready` or `not ready`".to_owned()),
        },
        Kind::Do { .. } | Kind::Run if words == "done" => Ok(Reply::Done),
        Kind::Do { .. } if step.one_way => cannot("here it is `done`, `no` with a need, or `trouble`".to_owned()),
        Kind::Do { .. } | Kind::Run => {
            cannot("here it is `done` or `trouble`; `skip`, where it is optional".to_owned())
        }
        Kind::Return { .. } | Kind::End(_) => {
            cannot("nothing is said where a procedure returns or the guide ends".into())
        }
    }
}

fn sum(step: &Step, said: &str, words: &str) -> Result<Reply, (String, String)> {
    let Some(reckoning) = crate::reckon::named(&step.text) else { return Ok(Reply::Done) };
    if words == "done" {
        return Ok(Reply::Done);
    }
    if said.contains('=') {
        let pairs = crate::reckon::pairs(said.split_whitespace()).map_err(|word| {
            (format!("`{word}` has no `=`"), "write values like `hole=10.5mm bushing=13mm`".to_owned())
        })?;
        let typed = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str()));
        return match reckoning.read(typed, None) {
            Ok(_) => Ok(Reply::Values(pairs)),
            Err(refusals) => {
                let refusal = refusals.first();
                let message = refusal.map_or_else(|| "the sum cannot take that".to_owned(), ToString::to_string);
                let inputs: Vec<&str> = reckoning.inputs.iter().map(|input| input.name).collect();
                let help = refusal.and_then(crate::reckon::Refusal::help);
                Err((message, help.unwrap_or_else(|| format!("it takes {}", inputs.join(", ")))))
            }
        };
    }
    let verdicts: Vec<&str> = reckoning.verdicts.iter().map(|(verdict, _)| *verdict).collect();
    match verdicts.iter().find(|verdict| fold(verdict) == words) {
        Some(verdict) => Ok(Reply::Verdict((*verdict).to_owned())),
        None => {
            let help = did_you_mean(said, verdicts.iter().copied());
            let all = || format!("its verdicts are {}; or give values, such as `hole=10.5mm`", listed(&verdicts));
            Err((format!("the sum at `{}` cannot come to `{said}`", step.id), help.unwrap_or_else(all)))
        }
    }
}
