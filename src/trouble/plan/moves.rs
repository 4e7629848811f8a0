//! An action in numbers by cause, cut down to the causes that are possible where the search begins.

use super::space::Facts;
use crate::trouble::belief::SAME;
use crate::trouble::problem::{Action, Effect, Goal, Kind, Problem};

/// An action, cut down to the causes here.
pub(super) struct Move {
    pub facts: Facts,
    /// What it costs under each cause, endings included.
    pub price: Vec<f64>,
    /// The same where the blank is lost already.
    pub price_lost: Vec<f64>,
    /// The chance of fixing under each cause.
    pub cures: Vec<f64>,
    /// The outcomes after which the walk goes on, and the chance of them all under each cause.
    pub onward: Vec<Onward>,
    pub goes_on: Vec<f64>,
    /// The chances of all outcomes, to tell what separates.
    pub all: Vec<Vec<f64>>,
}

/// An outcome after which the walk goes on.
pub(super) struct Onward {
    pub outcome: usize,
    pub loses: bool,
    pub chance: Vec<f64>,
}

impl Move {
    pub fn new(problem: &Problem, place: usize, causes: &[usize], over: &[f64]) -> Move {
        let action: &Action = &problem.actions[place];
        let identifies = problem.goal != Goal::Fix;
        let facts = Facts { place, minutes: action.minutes, is_remedy: action.kind == Kind::Remedy };
        let mut price = vec![action.minutes; causes.len()];
        let mut price_lost = price.clone();
        let mut cures = vec![0.0; causes.len()];
        let mut onward: Vec<Onward> = Vec::new();
        let mut all = Vec::new();
        for (n, outcome) in action.outcomes.iter().enumerate() {
            let chance: Vec<f64> = causes.iter().map(|cause| outcome.chance[*cause]).collect();
            for (cause, chance) in chance.iter().enumerate() {
                let charge = match outcome.effect {
                    Effect::Lost if identifies => problem.charge,
                    Effect::Lost => over.get(cause).copied().unwrap_or(0.0),
                    _ => 0.0,
                };
                price[cause] += chance * (outcome.after + charge);
                price_lost[cause] += chance * outcome.after;
                cures[cause] += if outcome.effect == Effect::Fixed { *chance } else { 0.0 };
            }
            if identifies || outcome.effect == Effect::Continue {
                let loses = outcome.effect == Effect::Lost;
                onward.push(Onward { outcome: n, loses, chance: chance.clone() });
            }
            all.push(chance);
        }
        let sum = |cause: usize| onward.iter().map(|onward| onward.chance[cause]).sum();
        let goes_on = (0..causes.len()).map(sum).collect();
        Move { facts, price, price_lost, cures, onward, goes_on, all }
    }

    /// Returns the chance that the walk goes on after it.
    pub fn goes_on(&self, cause: usize) -> f64 {
        self.goes_on[cause]
    }

    pub fn is_useful(&self, causes: &[usize], fixes: bool) -> bool {
        let separates = self.all.iter().any(|chance| {
            let (least, most) = causes.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), cause| {
                (least.min(chance[*cause]), most.max(chance[*cause]))
            });
            most - least > SAME
        });
        separates || (fixes && causes.iter().any(|cause| self.cures[*cause] > 0.0))
    }

    pub fn fixes(&self) -> bool {
        self.cures.iter().any(|chance| *chance > 0.0)
    }

    /// Tells whether the walk can end with the action under a cause.
    pub fn ends(&self, cause: usize) -> bool {
        self.goes_on(cause) < 1.0 - SAME
    }

    /// Tells whether the action changes anything about a pair.
    pub fn matters_to(&self, one: usize, other: usize) -> bool {
        self.tells(one, other) || self.ends(one) || self.ends(other)
    }

    /// Tells whether the walk's going on tells two causes apart.
    pub fn tells(&self, one: usize, other: usize) -> bool {
        self.onward.iter().any(|onward| (onward.chance[one] - onward.chance[other]).abs() > SAME)
    }
}
