//! What is believed after some findings: the posterior over the causes.

use std::fmt;

use super::findings::{Finding, Findings};
use super::problem::{Goal, Kind, Problem};

/// Likelihoods that differ by no more are the same.
pub(super) const SAME: f64 = 1e-12;

/// The chance of each cause given the findings.
///
/// By Bayes' rule for one fault whose findings are independent given the cause: `chance(c)` is `prior(c)` times the
/// product of the findings' chances under `c`, as a share of the same summed over all causes. That sum is the
/// `evidence`, the chance of seeing all the findings. After each factor the product is divided by its sum, so it does
/// not run out of range with many findings.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    pub(super) chances: Vec<f64>,
    evidence: f64,
}

/// The findings contradict the table: no listed cause explains them all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contradiction {
    /// The first finding, in the order given, that could not happen after those before it.
    pub finding: Finding,
    /// The check or remedy.
    pub action: String,
    /// What it showed.
    pub outcome: String,
}

impl Belief {
    /// Returns what is believed before anything was found.
    pub fn prior(problem: &Problem) -> Belief {
        Belief { chances: problem.causes.iter().map(|cause| cause.prior).collect(), evidence: 1.0 }
    }

    /// Returns what is believed after some findings. Their order makes no difference but to rounding.
    ///
    /// # Errors
    /// [`Contradiction`] if the evidence is 0.
    pub fn after(problem: &Problem, findings: &Findings) -> Result<Belief, Contradiction> {
        let mut belief = Belief::prior(problem);
        for finding in findings.seen() {
            belief.see(problem, *finding)?;
        }
        Ok(belief)
    }

    /// Adds a finding.
    ///
    /// # Errors
    /// [`Contradiction`] if it cannot happen under any cause that is still possible; nothing is added then.
    pub fn see(&mut self, problem: &Problem, finding: Finding) -> Result<(), Contradiction> {
        let outcome = finding.outcome(problem);
        let joint: Vec<f64> = self.chances.iter().zip(&outcome.chance).map(|(chance, given)| chance * given).collect();
        let sum: f64 = joint.iter().sum();
        if sum <= 0.0 {
            let action = problem.actions[finding.action].id.clone();
            return Err(Contradiction { finding, action, outcome: outcome.label.clone() });
        }
        self.chances = joint.iter().map(|chance| chance / sum).collect();
        self.evidence *= sum;
        Ok(())
    }

    /// Returns the chance of a cause, 0 to 1; 0 for a cause that there is not.
    pub fn chance(&self, cause: usize) -> f64 {
        self.chances.get(cause).copied().unwrap_or(0.0)
    }

    /// Returns the chances of all causes, as the table lists them. They sum to 1.
    pub fn chances(&self) -> &[f64] {
        &self.chances
    }

    /// Returns the chance of seeing all the findings, 0 to 1.
    pub fn evidence(&self) -> f64 {
        self.evidence
    }

    /// Returns the causes that are still possible.
    pub fn support(&self) -> Vec<usize> {
        (0..self.chances.len()).filter(|cause| self.chances[*cause] > 0.0).collect()
    }

    /// Returns how much is still unknown, in bits: `-sum of chance * log2(chance)` (Shannon 1948), 0 for a cause that
    /// is known, at most the logarithm of the number of causes.
    pub fn entropy(&self) -> f64 {
        entropy(self.chances.iter().copied())
    }

    /// Returns the actions worth considering: those neither used nor taken out that either separate the causes still
    /// possible (some outcome is not equally likely, to 1e-12, under all of them) or can fix. With the goal to
    /// identify, the checks that separate.
    pub fn useful(&self, problem: &Problem, findings: &Findings) -> Vec<usize> {
        let support = self.support();
        let is_useful = |action: &usize| findings.leaves(*action) && is_useful(problem, *action, &support);
        (0..problem.actions.len()).filter(is_useful).collect()
    }

    /// Returns the chance of an outcome of an action, 0 to 1.
    pub fn chance_of(&self, problem: &Problem, finding: Finding) -> f64 {
        finding.outcome(problem).chance.iter().zip(&self.chances).map(|(given, chance)| given * chance).sum()
    }
}

/// Returns `-sum of p * log2(p)` for numbers that sum to 1.
pub(super) fn entropy(chances: impl Iterator<Item = f64>) -> f64 {
    chances.filter(|chance| *chance > 0.0).map(|chance| -chance * chance.log2()).sum::<f64>().max(0.0)
}

/// Tells whether an action can change anything for causes of which one is true.
pub(super) fn is_useful(problem: &Problem, action: usize, support: &[usize]) -> bool {
    let separates = separates(problem, action, support);
    match problem.goal {
        Goal::Fix => separates || can_fix(problem, action, support),
        Goal::Identify { .. } => separates && problem.actions[action].kind == Kind::Check,
    }
}

fn can_fix(problem: &Problem, action: usize, support: &[usize]) -> bool {
    let mut fixing =
        problem.actions[action].outcomes.iter().filter(|outcome| outcome.effect == super::problem::Effect::Fixed);
    fixing.any(|outcome| support.iter().any(|cause| outcome.chance[*cause] > 0.0))
}

pub(super) fn separates(problem: &Problem, action: usize, support: &[usize]) -> bool {
    problem.actions[action].outcomes.iter().any(|outcome| {
        let (least, most) = support.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), cause| {
            (least.min(outcome.chance[*cause]), most.max(outcome.chance[*cause]))
        });
        most - least > SAME
    })
}

/// Returns the causes in groups that every check of the table treats alike (to 1e-12), in the order of their first
/// members: no check can tell the members of a group apart.
pub fn ambiguity_groups(problem: &Problem) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for cause in 0..problem.causes.len() {
        match groups.iter_mut().find(|group| are_alike(problem, group[0], cause)) {
            Some(group) => group.push(cause),
            None => groups.push(vec![cause]),
        }
    }
    groups
}

fn are_alike(problem: &Problem, one: usize, other: usize) -> bool {
    let checks = problem.actions.iter().filter(|action| action.kind == Kind::Check);
    checks.flat_map(|check| &check.outcomes).all(|outcome| (outcome.chance[one] - outcome.chance[other]).abs() <= SAME)
}

impl fmt::Display for Contradiction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "no listed cause explains that `{}` showed `{}`", self.action, self.outcome)
    }
}

impl std::error::Error for Contradiction {}
