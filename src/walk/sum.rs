//! A reckoning in a walk: what it is given by the guide, by the job and by the person, and what it comes to.

use std::cell::Cell;

use super::scene::Wanted;
use super::state::State;
use crate::finding::plain_text::cleaned;
use crate::guide::{Guide, Kind, StepIdx};
use crate::reckon::{Data, Given, Input, Outcome, Reckoning, Refusal, in_words, named};
use crate::units::ClockPosition;

/// A reckoning with what it is given, by the names of its inputs.
pub(super) struct Sum {
    pub(super) reckoning: &'static Reckoning,
    given: Vec<(String, String)>,
}

/// A reckoning that was called by its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Called {
    /// What it works out, and what that comes to; or what it wants.
    pub told: Vec<String>,
    /// Marks on the clock face.
    pub face: Vec<(String, ClockPosition)>,
    /// Whether a value is wanted.
    pub wants: bool,
}

/// What a reckoning comes to with what it is given.
pub(super) enum Comes {
    /// It is worked out.
    To(Outcome),
    /// A value is wanted first.
    Wants(&'static Input),
    /// A value is wrong: which, and what is to be said of it.
    Refuses(&'static Input, String),
    /// It cannot be worked out, and no value would help.
    Nothing(String),
}

impl Sum {
    /// Returns the reckoning of a step, if it is one.
    pub(super) fn of_step(guide: &Guide, state: &State, idx: StepIdx) -> Option<Sum> {
        let step = guide.step(idx);
        let Kind::Reckon { from } = &step.kind else { return None };
        let reckoning = named(&step.text)?;
        let mut given: Vec<(String, String)> =
            from.iter().filter_map(|(input, text)| Some((input.clone(), written(guide, state, text)?))).collect();
        lay_over(&mut given, state.given_to(&step.id));
        Some(Sum { reckoning, given })
    }

    /// Returns a reckoning that is called by its name, with what it was given in this job.
    pub(super) fn called(state: &State, name: &str) -> Option<Sum> {
        let mut given = Vec::new();
        lay_over(&mut given, state.given_to(name));
        Some(Sum { reckoning: named(name)?, given })
    }

    pub(super) fn comes(&self, data: &Data) -> Comes {
        let pairs = self.given.iter().map(|(input, text)| (input.as_str(), text.as_str()));
        let refused = |refusal: &Refusal| {
            let input = refusal.input().and_then(|input| self.reckoning.input(input));
            let help = refusal.what_to_type(input).map(|help| format!("; {help}")).unwrap_or_default();
            let said = format!("{refusal}{help}");
            match input {
                Some(input) => Comes::Refuses(input, said),
                None => Comes::Nothing(said),
            }
        };
        let given: Given = match self.reckoning.read(pairs, None) {
            Ok(given) => given,
            Err(refusals) => {
                return refusals.first().map_or(Comes::Nothing(String::new()), refused);
            }
        };
        match self.reckoning.work_out(&given, data) {
            Ok(outcome) => Comes::To(outcome),
            Err(Refusal::Missing { input, .. }) => match self.reckoning.input(input) {
                Some(input) => Comes::Wants(input),
                None => Comes::Nothing(format!("`{input}` is missing")),
            },
            Err(refusal) => refused(&refusal),
        }
    }

    /// Returns what it was given, in a line.
    fn said(&self) -> Option<String> {
        let words = |input: &str| self.reckoning.input(input).map(Input::words);
        let said = self.given.iter().map(|(input, text)| format!("{}: {text}", words(input).unwrap_or(input)));
        let said: Vec<String> = said.collect();
        (!said.is_empty()).then(|| format!("With {}.", said.join("; ")))
    }

    /// Returns what is shown of it: the result with its working, or what is wanted and why.
    pub(super) fn told(&self, comes: &Comes) -> Vec<String> {
        let mut told: Vec<String> = Vec::new();
        match comes {
            Comes::To(outcome) => {
                if let Some(verdict) = outcome.verdict {
                    let meaning = self.reckoning.meaning(verdict).unwrap_or_default();
                    told.push(format!("{}: {meaning}.", in_words(verdict)));
                }
                let outputs = outcome.shown().map(|output| format!("{} {}", in_words(output.name), output.said()));
                let outputs: Vec<String> = outputs.collect();
                told.push(format!("{}.", outputs.join("; ")));
                told.push(outcome.say.clone());
                told.push(format!("Sum: {}", outcome.working));
                told.extend(self.said());
            }
            Comes::Wants(input) => {
                told.extend(self.said());
                told.push(asked(input));
            }
            Comes::Refuses(input, wrong) => {
                told.push(format!("{wrong}."));
                told.push(asked(input));
            }
            Comes::Nothing(wrong) => told.push(format!("{wrong}.")),
        }
        told
    }

    /// Returns the marks of what it comes to on the clock face.
    pub(super) fn face(comes: &Comes) -> Vec<(String, ClockPosition)> {
        let Comes::To(Outcome { face: Some(face), .. }) = comes else { return Vec::new() };
        face.marks.iter().map(|(mark, at)| ((*mark).to_owned(), *at)).collect()
    }
}

/// Returns what a reckoning that is called by its name comes to now; none where there is no such reckoning.
pub(super) fn called(state: &State, data: &Data, name: &str) -> Option<Called> {
    let sum = Sum::called(state, name)?;
    let comes = sum.comes(data);
    let mut told = vec![title(sum.reckoning)];
    told.extend(sum.told(&comes));
    if let Comes::To(outcome) = &comes {
        told.push(format!("Sources: {}.", outcome.sources.join("; ")));
    }
    let wants = matches!(comes, Comes::Wants(_) | Comes::Refuses(..));
    Some(Called { told: told.into_iter().map(cleaned).collect(), face: Sum::face(&comes), wants })
}

/// Returns what a reckoning works out, as a sentence.
pub(super) fn title(reckoning: &Reckoning) -> String {
    format!("Work out {}.", reckoning.answers)
}

/// Returns what is wanted of the person at a reckoning.
pub(super) fn wanted(comes: &Comes) -> Wanted {
    match comes {
        Comes::To(_) | Comes::Nothing(_) => Wanted::Verdict,
        Comes::Wants(input) | Comes::Refuses(input, _) => Wanted::Value {
            name: input.name.to_owned(),
            choices: input.kind.choices().iter().map(|word| (*word).to_owned()).collect(),
        },
    }
}

fn asked(input: &Input) -> String {
    format!("Wanted: {}.", input.meaning)
}

/// Lays what was typed over what was given: the later of two values for one input counts.
pub(super) fn lay_over(given: &mut Vec<(String, String)>, typed: &[(String, String)]) {
    for (input, text) in typed {
        given.retain(|(known, _)| known != input);
        given.push((input.clone(), text.clone()));
    }
}

/// Returns what an input of a step is given, as it is written; none where that is not known.
fn written(guide: &Guide, state: &State, text: &str) -> Option<String> {
    let is_known = Cell::new(true);
    let written = guide.say(text, |name| {
        let written = match name.strip_prefix("read.") {
            Some(gauge) => state.readings.get(gauge).cloned(),
            None => state.written(guide, name),
        };
        is_known.set(is_known.get() && written.is_some());
        written
    });
    is_known.get().then_some(written)
}
