//! Simple rules: what a sensible person would do without a search. They give a plan where the search must stop
//! early, and something to compare it with.

use std::collections::HashMap;

use super::alone::{CLEARLY, Choice, largest};
use super::budget::MOST_IN_A_ROW;
use super::hash::Spread;
use super::space::{Branch, Space};

/// The most points that the greedy rule is followed through.
const MOST_POINTS: usize = 1 << 15;

/// The minutes that rules take from points that were met.
#[derive(Debug, Default)]
pub(super) struct Rules {
    /// How many actions in a row led to the point that is looked at.
    depth: usize,
    greedy: HashMap<Box<[u64]>, f64, Spread>,
    rollout: HashMap<Box<[u64]>, f64, Spread>,
}

/// Returns what the greedy rule does at a point: one-step value of information where the pen is to be fixed (each
/// check is followed by remedies alone), information per minute where the cause is wanted.
pub(super) fn greedy_action<S: Space>(space: &mut S, point: &S::Point) -> Option<usize> {
    let Some(alone) = space.alone(point) else { return most_telling(space, point) };
    let mut best = Choice { action: None, minutes: f64::INFINITY };
    for n in space.open(point) {
        if space.action(n).is_remedy {
            continue;
        }
        let mut branches = Vec::new();
        let mut minutes = space.act(point, n, &mut branches);
        for Branch { chance, point, .. } in &branches {
            minutes += chance * space.alone(point).map_or(0.0, |after| after.minutes);
        }
        if minutes < best.minutes - CLEARLY * (1.0 + minutes) {
            best = Choice { action: Some(n), minutes };
        }
    }
    if best.minutes < alone.minutes - CLEARLY * (1.0 + alone.minutes) { best.action } else { alone.action }
}

/// Returns the check with the largest expected fall of entropy (Shannon 1948) per minute.
fn most_telling<S: Space>(space: &mut S, point: &S::Point) -> Option<usize> {
    let open = space.open(point);
    let gains = space.gains(point, &open);
    // A check that separates, but tells hardly anything, has a value that rounding can hide.
    let rated = open.iter().zip(gains).map(|(n, gain)| (gain.max(f64::MIN_POSITIVE), space.action(*n).minutes));
    largest(rated).map(|n| open[n])
}

impl Rules {
    /// Returns the expected minutes from a point if the greedy rule is followed.
    pub fn greedy<S: Space>(&mut self, space: &mut S, point: &S::Point) -> f64 {
        let key = key(space, point);
        if let Some(known) = self.greedy.get(&key) {
            return *known;
        }
        if self.greedy.len() >= MOST_POINTS || self.depth >= MOST_IN_A_ROW {
            // Rough, but never too little: remedies alone, or every check that there is.
            return match space.alone(point) {
                Some(alone) => alone.minutes,
                None => space.at_most(point),
            };
        }
        let minutes = match greedy_action(space, point) {
            None => space.over(point).unwrap_or(0.0),
            Some(action) => self.if_greedy_after(space, point, action),
        };
        self.greedy.insert(key, minutes);
        minutes
    }

    fn if_greedy_after<S: Space>(&mut self, space: &mut S, point: &S::Point, action: usize) -> f64 {
        let mut branches = Vec::new();
        let price = space.act(point, action, &mut branches);
        self.depth += 1;
        let minutes =
            branches.iter().fold(price, |sum, branch| sum + branch.chance * self.greedy(space, &branch.point));
        self.depth -= 1;
        minutes
    }

    /// Returns what rolling out does: the action with the fewest expected minutes if the greedy rule is followed
    /// after it (Bertsekas and Castañon 1999).
    pub fn rollout_action<S: Space>(&mut self, space: &mut S, point: &S::Point) -> Choice {
        let mut best: Option<Choice> = None;
        let mut offer = |choice: Choice| {
            if best.is_none_or(|best| choice.minutes < best.minutes - CLEARLY * (1.0 + best.minutes)) {
                best = Some(choice);
            }
        };
        for n in space.open(point) {
            offer(Choice { action: Some(n), minutes: self.if_greedy_after(space, point, n) });
        }
        if let Some(minutes) = space.over(point) {
            offer(Choice { action: None, minutes });
        }
        best.unwrap_or(Choice { action: None, minutes: 0.0 })
    }

    /// Returns the expected minutes from a point if it is rolled out at every step.
    pub fn rollout<S: Space>(&mut self, space: &mut S, point: &S::Point) -> f64 {
        let key = key(space, point);
        if let Some(known) = self.rollout.get(&key) {
            return *known;
        }
        let minutes = match self.rollout_action(space, point).action {
            None => space.over(point).unwrap_or(0.0),
            Some(action) => {
                let mut branches = Vec::new();
                let price = space.act(point, action, &mut branches);
                branches.iter().fold(price, |sum, branch| sum + branch.chance * self.rollout(space, &branch.point))
            }
        };
        self.rollout.insert(key, minutes);
        minutes
    }
}

fn key<S: Space>(space: &mut S, point: &S::Point) -> Box<[u64]> {
    let mut key = Vec::new();
    space.key(point, &mut key);
    key.into_boxed_slice()
}
