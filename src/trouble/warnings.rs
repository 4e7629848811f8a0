//! What is allowed in a table but hardly meant.

use std::fmt;

use super::belief::{Belief, SAME, ambiguity_groups, separates};
use super::findings::Findings;
use super::plan::{Next, Policy};
use super::problem::{Effect, Kind, Problem};

/// Something about a table that is hardly meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Warning {
    /// No check can tell two causes apart, and they want different remedies.
    AlikeButForRemedies {
        /// The first cause.
        one: String,
        /// The other.
        other: String,
    },
    /// A check shows the same whatever the cause, and cannot fix.
    TellsNothing {
        /// The check.
        check: String,
    },
    /// The best policy never comes to a remedy.
    NeverBest {
        /// The remedy.
        remedy: String,
    },
    /// Nothing that can be found makes a cause the most likely one.
    NeverLikeliest {
        /// The cause.
        cause: String,
    },
}

/// The most sets of findings that are looked through for one that makes a cause the likeliest.
const MOST_SETS: usize = 1 << 20;

/// Returns what is hardly meant about a table: causes first, then checks, then remedies, each as listed. `policy` is
/// the table's best policy from the start; without it, or if it is not the best there is, no remedy is told of. Where
/// there are too many sets of findings to look through, no cause is said never to be the likeliest.
pub fn warnings(problem: &Problem, policy: Option<&Policy>) -> Vec<Warning> {
    let mut found = alike_but_for_remedies(problem);
    found.extend(never_likeliest(problem));
    let possible = Belief::prior(problem).support();
    for (place, action) in problem.actions.iter().enumerate().filter(|(_, action)| action.kind == Kind::Check) {
        let can_fix = action.outcomes.iter().any(|outcome| outcome.effect == Effect::Fixed);
        if !can_fix && !separates(problem, place, &possible) {
            found.push(Warning::TellsNothing { check: action.id.clone() });
        }
    }
    if let Some(policy) = policy.filter(|policy| policy.exact) {
        for (place, action) in problem.actions.iter().enumerate().filter(|(_, action)| action.kind == Kind::Remedy) {
            if policy.nodes.iter().all(|node| node.next != Next::Do(place)) {
                found.push(Warning::NeverBest { remedy: action.id.clone() });
            }
        }
    }
    found
}

fn alike_but_for_remedies(problem: &Problem) -> Vec<Warning> {
    let remedies = || problem.actions.iter().filter(|action| action.kind == Kind::Remedy);
    let cures = |cause: usize| remedies().flat_map(move |action| action.outcomes.iter().map(move |o| o.chance[cause]));
    let differ = |one: usize, other: usize| cures(one).zip(cures(other)).any(|(one, other)| (one - other).abs() > SAME);
    let id = |cause: usize| problem.causes[cause].id.clone();
    let mut found = Vec::new();
    for group in ambiguity_groups(problem) {
        let possible: Vec<usize> = group.into_iter().filter(|cause| problem.causes[*cause].prior > 0.0).collect();
        // One pair for each cause is enough to be told: with the first that it differs from.
        for (n, other) in possible.iter().enumerate().skip(1) {
            if let Some(one) = possible[..n].iter().find(|one| differ(**one, *other)) {
                found.push(Warning::AlikeButForRemedies { one: id(*one), other: id(*other) });
            }
        }
    }
    found
}

fn never_likeliest(problem: &Problem) -> Vec<Warning> {
    let belief = Belief::prior(problem);
    let useful = belief.useful(problem, &Findings::none());
    let sets = useful.iter().try_fold(1usize, |sets, action| {
        sets.checked_mul(problem.actions[*action].outcomes.len() + 1).filter(|sets| *sets <= MOST_SETS)
    });
    if sets.is_none() {
        return Vec::new();
    }
    let mut likeliest: Vec<bool> = problem.causes.iter().map(|cause| cause.prior == 0.0).collect();
    look_through(problem, &useful, belief.chances(), &mut likeliest);
    let never = problem.causes.iter().zip(&likeliest).filter(|(_, likeliest)| !**likeliest);
    never.map(|(cause, _)| Warning::NeverLikeliest { cause: cause.id.clone() }).collect()
}

/// Marks each cause that some outcomes of some of the actions make the likeliest, ties included.
fn look_through(problem: &Problem, actions: &[usize], weights: &[f64], likeliest: &mut [bool]) {
    let most = weights.iter().copied().fold(0.0, f64::max);
    for (cause, weight) in weights.iter().enumerate() {
        likeliest[cause] |= *weight > 0.0 && *weight >= most * (1.0 - SAME);
    }
    if likeliest.iter().all(|is| *is) {
        return;
    }
    for (n, action) in actions.iter().enumerate() {
        for outcome in problem.actions[*action].outcomes.iter().filter(|outcome| outcome.effect != Effect::Fixed) {
            let after: Vec<f64> = weights.iter().zip(&outcome.chance).map(|(weight, given)| weight * given).collect();
            look_through(problem, &actions[n + 1..], &after, likeliest);
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Warning::AlikeButForRemedies { one, other } => {
                write!(f, "no check tells `{one}` from `{other}`, and they want different remedies")
            }
            Warning::TellsNothing { check } => write!(f, "`{check}` shows the same whatever the cause"),
            Warning::NeverBest { remedy } => write!(f, "the best plan never comes to `{remedy}`"),
            Warning::NeverLikeliest { cause } => write!(f, "nothing that can be found makes `{cause}` the likeliest"),
        }
    }
}
