//! A fault table with its words and its numbers: what a file says, ready to be asked.

use super::fault::Fault;
use super::problem::{CauseDraft, CheckDraft, Draft, Effect, Goal, OutcomeDraft, Problem, RemedyDraft, StartOverDraft};
use crate::guide::document::Document;
use crate::guide::fault_table::{OfCause, RawCheck, RawFaultTable, RawGoal, RawRemedy};

/// A fault table whose parameters are put in.
#[derive(Debug, Clone)]
pub struct Table {
    /// Its id.
    pub id: String,
    /// What has gone wrong.
    pub title: String,
    /// What it says.
    pub words: RawFaultTable,
    /// What it reckons with.
    pub problem: Problem,
}

/// What each ending adds, in minutes of attention: that of rejoining in a job, nothing without one.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Endings {
    /// Beginning again with a new blank, where that is computed; else the table's own minutes count.
    pub start_over: Option<f64>,
    /// After each check's answers, in the order of the table.
    pub checks: Vec<Vec<f64>>,
    /// After each remedy that has cured.
    pub remedies: Vec<f64>,
}

impl Table {
    /// Makes a table ready to be asked, of its words with their parameters put in, [`RawFaultTable::filled`].
    ///
    /// `odds` replaces the causes' odds, such as by what a shop has seen, [`blend`](super::learn::blend).
    ///
    /// # Errors
    /// What is wrong with its numbers; nothing in a table that was read without a finding and says what beginning
    /// again costs.
    pub fn new(
        document: &Document,
        words: RawFaultTable,
        odds: Option<&[f64]>,
        endings: &Endings,
    ) -> Result<Table, Vec<Fault>> {
        let problem = Problem::new(&draft(&words, odds, endings))?;
        Ok(Table { id: document.id.value.clone(), title: document.title.clone(), words, problem })
    }

    /// Makes a table ready to be asked on its own: each parameter stands for its own name, beginning again costs what
    /// the table says.
    ///
    /// # Errors
    /// As [`Table::new`].
    pub fn alone(document: &Document, endings: &Endings) -> Result<Table, Vec<Fault>> {
        let raw = document.fault_table.as_deref().cloned().unwrap_or_default();
        Table::new(document, raw.filled(&document.takes, &[], |_| None), None, endings)
    }

    /// Returns the check at a place among the actions, if it is one.
    pub fn check(&self, action: usize) -> Option<&RawCheck> {
        self.words.checks.get(action)
    }

    /// Returns the remedy at a place among the actions, if it is one.
    pub fn remedy(&self, action: usize) -> Option<&RawRemedy> {
        self.words.remedies.get(action.checked_sub(self.words.checks.len())?)
    }

    /// Returns what beginning again costs under a belief, in minutes; none where the table does not say.
    pub fn start_over(&self, chances: &[f64]) -> Option<f64> {
        let minutes = |(cause, chance): (usize, &f64)| Some(self.problem.start_over(cause)? * chance);
        chances.iter().enumerate().map(minutes).sum()
    }
}

fn draft(words: &RawFaultTable, odds: Option<&[f64]>, endings: &Endings) -> Draft {
    let causes = words.causes.iter().enumerate().map(|(n, cause)| CauseDraft {
        id: cause.id.value.clone(),
        weight: odds.and_then(|odds| odds.get(n)).copied().unwrap_or(cause.odds),
    });
    let checks = words.checks.iter().enumerate().map(|(n, check)| CheckDraft {
        id: check.id.value.clone(),
        minutes: check.minutes,
        outcomes: outcomes(check, endings.checks.get(n).map_or(&[][..], Vec::as_slice)),
    });
    let remedies = words.remedies.iter().enumerate().map(|(n, remedy)| RemedyDraft {
        id: remedy.id.value.clone(),
        minutes: remedy.minutes,
        cures: by_cause(&remedy.cures),
        loses: by_cause(&remedy.loses),
        after_fixed: endings.remedies.get(n).copied().unwrap_or(0.0),
        after_lost: 0.0,
    });
    let own = words.start_over.as_ref().and_then(|start_over| start_over.minutes);
    let start_over = endings.start_over.or(own).map(|minutes| StartOverDraft {
        minutes,
        after: 0.0,
        again: words.start_over.as_ref().map_or(Vec::new(), |start_over| by_cause(&start_over.again)),
    });
    Draft {
        goal: match words.goal {
            RawGoal::Fix => Goal::Fix,
            RawGoal::Identify(confidence) => Goal::Identify { confidence },
        },
        causes: causes.collect(),
        checks: checks.collect(),
        remedies: remedies.collect(),
        start_over,
    }
}

fn outcomes(check: &RawCheck, after: &[f64]) -> Vec<OutcomeDraft> {
    let outcome = |(n, outcome): (usize, &crate::guide::fault_table::RawOutcome)| OutcomeDraft {
        label: outcome.say.value.clone(),
        effect: match (outcome.fixed, outcome.lost) {
            (true, _) => Effect::Fixed,
            (_, true) => Effect::Lost,
            _ => Effect::Continue,
        },
        after: after.get(n).copied().unwrap_or(0.0),
        chance: by_cause(&outcome.chance),
    };
    check.outcomes.iter().enumerate().map(outcome).collect()
}

fn by_cause(numbers: &[OfCause]) -> Vec<(String, f64)> {
    numbers.iter().map(|number| (number.cause.value.clone(), number.number)).collect()
}
