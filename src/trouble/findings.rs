//! What was found so far, and what cannot or will not be done.

use std::fmt;

use super::problem::{Effect, Problem};

/// What was found so far, in the order in which it was found, and which actions are out of reach.
///
/// An action is used at most once: asked again it would show the same.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Findings {
    seen: Vec<Finding>,
    left_out: Vec<usize>,
}

/// That an action showed an outcome.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Finding {
    pub(super) action: usize,
    pub(super) outcome: usize,
}

/// Why something cannot be a finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoFinding {
    /// No check or remedy has this id.
    UnknownAction {
        /// The id.
        action: String,
    },
    /// The check or remedy has no such outcome.
    UnknownOutcome {
        /// The check or remedy.
        action: String,
        /// The words.
        outcome: String,
    },
    /// The check or remedy has shown an outcome already.
    Repeated {
        /// The check or remedy.
        action: String,
    },
}

impl Findings {
    /// Returns that nothing was found yet and everything can be done.
    pub fn none() -> Findings {
        Findings::default()
    }

    /// Adds that an action showed an outcome, both by name.
    ///
    /// # Errors
    /// [`NoFinding`] if there is no such action or outcome, or the action was used already; nothing is added then.
    pub fn see(&mut self, problem: &Problem, action: &str, outcome: &str) -> Result<Finding, NoFinding> {
        let finding = Finding::named(problem, action, outcome)?;
        if self.seen.iter().any(|earlier| earlier.action == finding.action) {
            return Err(NoFinding::Repeated { action: action.to_owned() });
        }
        self.seen.push(finding);
        Ok(finding)
    }

    /// Takes out an action that the person cannot or will not do, by name. That is no finding.
    ///
    /// # Errors
    /// [`NoFinding::UnknownAction`] if there is no such action.
    pub fn leave_out(&mut self, problem: &Problem, action: &str) -> Result<(), NoFinding> {
        let place = Findings::place(problem, action)?;
        if !self.left_out.contains(&place) {
            self.left_out.push(place);
        }
        Ok(())
    }

    /// Returns what was found, in the order in which it was found.
    pub fn seen(&self) -> &[Finding] {
        &self.seen
    }

    /// Tells whether an action was neither used nor taken out.
    pub fn leaves(&self, action: usize) -> bool {
        !self.left_out.contains(&action) && self.seen.iter().all(|finding| finding.action != action)
    }

    /// Tells whether some finding has this effect.
    pub fn has(&self, problem: &Problem, effect: Effect) -> bool {
        self.seen.iter().any(|finding| finding.outcome(problem).effect == effect)
    }

    fn place(problem: &Problem, action: &str) -> Result<usize, NoFinding> {
        problem.action(action).ok_or_else(|| NoFinding::UnknownAction { action: action.to_owned() })
    }
}

impl Finding {
    /// Returns that an action shows an outcome, both by name.
    ///
    /// # Errors
    /// [`NoFinding`] if there is no such action or outcome.
    pub fn named(problem: &Problem, action: &str, outcome: &str) -> Result<Finding, NoFinding> {
        let place = Findings::place(problem, action)?;
        let unknown = || NoFinding::UnknownOutcome { action: action.to_owned(), outcome: outcome.to_owned() };
        let outcome = problem.actions[place].outcome(outcome).ok_or_else(unknown)?;
        Ok(Finding { action: place, outcome })
    }

    /// Returns the place of the check or remedy in the problem that it was named in.
    pub fn action(self) -> usize {
        self.action
    }

    /// Returns the place of the outcome among those of its action.
    pub fn outcome_place(self) -> usize {
        self.outcome
    }

    pub(super) fn outcome(self, problem: &Problem) -> &super::problem::Outcome {
        &problem.actions[self.action].outcomes[self.outcome]
    }
}

impl fmt::Display for NoFinding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoFinding::UnknownAction { action } => write!(f, "no check or remedy is named `{action}`"),
            NoFinding::UnknownOutcome { action, outcome } => write!(f, "`{action}` has no outcome `{outcome}`"),
            NoFinding::Repeated { action } => write!(f, "`{action}` was used already"),
        }
    }
}

impl std::error::Error for NoFinding {}
