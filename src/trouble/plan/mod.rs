//! What to do next.

mod alone;
mod budget;
mod by_rule;
mod hash;
mod huffman;
mod lanes;
mod lattice;
mod moves;
mod noisy;
mod pairs;
mod policy;
mod rules;
mod search;
mod shares;
mod solver;
mod space;
mod splits;
mod sure;

pub use budget::Budget;
pub use by_rule::{Bounds, ByRule, Rule, bounds, by_rule, next_by_rule};
pub use policy::{NoPolicy, Node, Policy, To, Way, compile};

use self::noisy::Noisy;
use self::solver::{Answer, Solver};
use self::sure::Sure;
use super::belief::{Belief, Contradiction};
use super::findings::Findings;
use super::problem::{Effect, Goal, Problem};

/// What to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Next {
    /// The check or remedy with this place.
    Do(usize),
    /// Begin again with a new blank.
    StartOver,
    /// Nothing: the pen is good, or the cause is known as well as it can be.
    Stop,
}

/// The best that was found, and how good that is.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// What to do next: the first of `tied`.
    pub next: Next,
    /// All that is as good (to 1e-9 of the minutes), checks as listed, then remedies as listed, then starting over.
    /// Where the plan is not exact, `next` alone.
    pub tied: Vec<Next>,
    /// The expected minutes from here if the plan is followed.
    pub minutes: f64,
    /// Minutes that no plan can beat; at most `minutes`.
    pub bound: f64,
    /// Whether `minutes` is the least there is, to 1e-9 of it.
    pub exact: bool,
    /// How much work was done, as [`Budget`] counts it.
    pub work: u64,
}

/// Returns what to do next so that the expected minutes are as few as possible: to a good pen, or to a cause that is
/// known.
///
/// The minutes are those of section 4 (fix) or 5 (identify) of the definition: the least over all policies that use
/// each action at most once. Minutes that were spent already do not count.
///
/// # Errors
/// [`Contradiction`] if no cause explains the findings.
pub fn plan(problem: &Problem, findings: &Findings, budget: &Budget<'_>) -> Result<Plan, Contradiction> {
    let belief = Belief::after(problem, findings)?;
    if let Some(ended) = ended(problem, findings, &belief) {
        return Ok(ended);
    }
    let answer = match Sure::new(problem, &belief, findings) {
        Some(sure) => Solver::new(sure, budget).answer(),
        None => Solver::new(Noisy::new(problem, &belief, findings), budget).answer(),
    };
    Ok(answer.into())
}

/// Returns the plan where a finding has ended the walk.
fn ended(problem: &Problem, findings: &Findings, belief: &Belief) -> Option<Plan> {
    if problem.goal != Goal::Fix {
        return None;
    }
    let (next, minutes) = if findings.has(problem, Effect::Fixed) {
        (Next::Stop, 0.0)
    } else if findings.has(problem, Effect::Lost) {
        let over = problem.over.iter().flatten().zip(belief.chances());
        (Next::StartOver, over.map(|(over, chance)| over * chance).sum())
    } else {
        return None;
    };
    Some(Plan { next, tied: vec![next], minutes, bound: minutes, exact: true, work: 0 })
}

impl From<Answer> for Plan {
    fn from(answer: Answer) -> Plan {
        let Answer { tied, minutes, bound, exact, work, .. } = answer;
        Plan { next: tied.first().copied().unwrap_or(Next::Stop), tied, minutes, bound, exact, work }
    }
}
