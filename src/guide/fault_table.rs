//! A fault table as it was written: the causes of one failure, what can be looked at, what can be done.

use super::written::{Caution, Text};
use crate::finding::Span;

/// What a `[trouble]` file says besides its opening table.
#[derive(Debug, Clone, Default)]
pub struct RawFaultTable {
    /// A turner's words for what is seen.
    pub seen: Vec<Text>,
    /// What to do in the next seconds, before anything is asked.
    pub first: Vec<Text>,
    /// What laying it aside means here.
    pub lay_aside: Option<Text>,
    /// What must hold for the table to be offered.
    pub needs: Vec<Text>,
    /// What is wanted.
    pub goal: RawGoal,
    /// Beginning again with a new blank.
    pub start_over: Option<RawStartOver>,
    /// The causes, exactly one of which is present.
    pub causes: Vec<RawCause>,
    /// The checks.
    pub checks: Vec<RawCheck>,
    /// The remedies.
    pub remedies: Vec<RawRemedy>,
}

impl RawFaultTable {
    /// Tells whether a person's words are about a table with this title: a part of the title or of its words for what
    /// is seen, or a sentence that one of those stands in. Where words are parted makes no difference.
    pub fn is_about(&self, title: &str, words: &str) -> bool {
        let words = joined(words);
        let seen = |seen: &Text| {
            let seen = joined(&seen.value);
            seen.contains(&words) || (seen.len() >= SHORTEST && words.contains(&seen))
        };
        !words.is_empty() && (joined(title).contains(&words) || self.seen.iter().any(seen))
    }
}

/// Words shorter than this stand in too many sentences by chance.
const SHORTEST: usize = 4;

fn joined(words: &str) -> String {
    super::fold(words).replace(' ', "")
}

/// What a table is for.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum RawGoal {
    /// A good pen in the fewest minutes.
    #[default]
    Fix,
    /// To know the cause, with this much confidence, over 0 to 1.
    Identify(f64),
}

/// A number that stands beside a cause.
#[derive(Debug, Clone)]
pub struct OfCause {
    /// The cause's id.
    pub cause: Text,
    /// The number.
    pub number: f64,
    /// Where the number stands.
    pub span: Span,
}

/// Beginning again with a new blank.
#[derive(Debug, Clone)]
pub struct RawStartOver {
    /// How it is offered.
    pub say: Option<Text>,
    /// What it costs, in minutes; in a job it is computed.
    pub minutes: Option<f64>,
    /// What it undoes.
    pub undoes: Vec<Text>,
    /// Minutes more where the cause would bite the next blank too.
    pub again: Vec<OfCause>,
    /// What it uses up.
    pub parts: Vec<Text>,
    /// A note.
    pub tell: Option<Text>,
}

/// One explanation of the failure.
#[derive(Debug, Clone)]
pub struct RawCause {
    /// Its id.
    pub id: Text,
    /// How it is said to a person.
    pub say: Text,
    /// Its weight, 0 or more.
    pub odds: f64,
    /// Why the odds are what they are.
    pub because: Option<Text>,
}

/// Something to look at.
#[derive(Debug, Clone)]
pub struct RawCheck {
    /// Its id.
    pub id: Text,
    /// The question, or what to measure.
    pub text: Text,
    /// The unit of the reading, where it is a gauge.
    pub unit: Option<Text>,
    /// What it costs, in minutes of attention.
    pub minutes: f64,
    /// What can hurt.
    pub cautions: Vec<Caution>,
    /// What to have at hand.
    pub parts: Vec<Text>,
    /// A note.
    pub tell: Option<Text>,
    /// The place or machine.
    pub at: Option<Text>,
    /// What can be seen.
    pub outcomes: Vec<RawOutcome>,
}

/// One thing that a check can show.
#[derive(Debug, Clone)]
pub struct RawOutcome {
    /// How it is said.
    pub say: Text,
    /// The lower end of the band, where it is a gauge's; the end belongs to the band.
    pub min: Option<Text>,
    /// The upper end, which belongs to the next band.
    pub max: Option<Text>,
    /// Whether the pen is good then.
    pub fixed: bool,
    /// Whether the blank is lost then.
    pub lost: bool,
    /// What it makes true.
    pub gives: Vec<Text>,
    /// What it removes.
    pub spoils: Vec<Text>,
    /// What it removes with all that was built on it.
    pub undoes: Vec<Text>,
    /// How likely it is under each cause, 0 to 1.
    pub chance: Vec<OfCause>,
}

/// Something to do about it.
#[derive(Debug, Clone)]
pub struct RawRemedy {
    /// Its id.
    pub id: Text,
    /// How it is offered.
    pub say: Option<Text>,
    /// What is done.
    pub action: RawAction,
    /// Minutes of attention.
    pub minutes: f64,
    /// Minutes of waiting besides.
    pub wait: f64,
    /// How likely it is to cure each cause, 0 to 1.
    pub cures: Vec<OfCause>,
    /// How likely it is to lose the blank under each cause, 0 to 1.
    pub loses: Vec<OfCause>,
    /// What it undoes before anything is done, whatever comes of it.
    pub undoes: Vec<Text>,
    /// What is true when it has cured.
    pub gives: Vec<Text>,
    /// Parts of the kit that it uses up; they may be borrowed from another kit, and are then owed.
    pub parts: Vec<Text>,
    /// What to have at hand.
    pub tools: Vec<Text>,
    /// What can hurt.
    pub cautions: Vec<Caution>,
    /// A note.
    pub tell: Option<Text>,
    /// The place or machine.
    pub at: Option<Text>,
    /// Why its chances are what they are.
    pub because: Option<Text>,
}

impl RawRemedy {
    /// Returns how it is called.
    pub fn called(&self) -> &str {
        self.say.as_ref().map_or(&self.id.value, |say| &say.value)
    }
}

/// What a remedy does.
#[derive(Debug, Clone)]
pub enum RawAction {
    /// One action.
    Do(Text),
    /// A procedure, with its parameters.
    Run {
        /// The procedure.
        name: Text,
        /// Its parameters.
        with: Vec<(Text, Text)>,
    },
}

/// What a text of a table is: a name is compared, words are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// A condition.
    Name,
    /// What a `with` hands on: a parameter whole, or words.
    Handed,
    /// Something said to a person.
    Words,
}

impl RawFaultTable {
    /// Visits every text that may hold a placeholder, in no order that means anything.
    pub(crate) fn each_text(&mut self, mut visit: impl FnMut(&mut Text, Part)) {
        let start_over = self.start_over.iter_mut().map(|start_over| &mut start_over.undoes);
        let outcomes = self.checks.iter_mut().flat_map(|check| &mut check.outcomes);
        let outcomes = outcomes.flat_map(|outcome| [&mut outcome.gives, &mut outcome.spoils, &mut outcome.undoes]);
        let lists = std::iter::once(&mut self.needs).chain(start_over).chain(outcomes);
        lists.flatten().for_each(|text| visit(text, Part::Name));
        for remedy in &mut self.remedies {
            remedy.undoes.iter_mut().chain(&mut remedy.gives).for_each(|text| visit(text, Part::Name));
            if let RawAction::Run { with, .. } = &mut remedy.action {
                with.iter_mut().for_each(|(_, value)| visit(value, Part::Handed));
            }
        }
        self.each_said(|text| visit(text, Part::Words));
    }

    fn each_said(&mut self, mut visit: impl FnMut(&mut Text)) {
        self.first.iter_mut().chain(&mut self.lay_aside).for_each(&mut visit);
        if let Some(start_over) = &mut self.start_over {
            let said = start_over.say.iter_mut().chain(&mut start_over.tell);
            start_over.parts.iter_mut().chain(said).for_each(&mut visit);
        }
        for cause in &mut self.causes {
            std::iter::once(&mut cause.say).chain(&mut cause.because).for_each(&mut visit);
        }
        for check in &mut self.checks {
            std::iter::once(&mut check.text).chain(&mut check.parts).chain(&mut check.tell).for_each(&mut visit);
            check
                .cautions
                .iter_mut()
                .flat_map(|caution| [&mut caution.hazard, &mut caution.avoid])
                .for_each(&mut visit);
            for outcome in &mut check.outcomes {
                let ends = outcome.min.iter_mut().chain(&mut outcome.max);
                std::iter::once(&mut outcome.say).chain(ends).for_each(&mut visit);
            }
        }
        for remedy in &mut self.remedies {
            remedy.say.iter_mut().chain(&mut remedy.because).chain(&mut remedy.tell).for_each(&mut visit);
            remedy.parts.iter_mut().chain(&mut remedy.tools).for_each(&mut visit);
            remedy
                .cautions
                .iter_mut()
                .flat_map(|caution| [&mut caution.hazard, &mut caution.avoid])
                .for_each(&mut visit);
            if let RawAction::Do(text) = &mut remedy.action {
                visit(text);
            }
        }
    }
}
