//! Simple rules: what a sensible person would do without a search. They give a plan where the search must stop
//! early, and something to compare it with.

use std::collections::HashMap;

use super::hash::Spread;
use super::space::{Branch, Space};

/// How much better a candidate must be to be taken before one that is listed earlier.
const CLEARLY: f64 = 1e-9;

/// The most points that the greedy rule is followed through.
const MOST_POINTS: usize = 1 << 15;

/// The minutes that rules take from points that were met.
#[derive(Debug, Default)]
pub(super) struct Rules {
    greedy: HashMap<Box<[u64]>, f64, Spread>,
    rollout: HashMap<Box<[u64]>, f64, Spread>,
}

/// A choice: an action, or none to start over or to stop, and the minutes that it takes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Choice {
    pub action: Option<usize>,
    pub minutes: f64,
}

/// Returns the plan of remedies alone, by falling chance of fixing per minute (Kadane and Simon 1977), cut where
/// starting over makes it cheapest. None where the cause is wanted.
pub(super) fn remedies_alone<S: Space>(space: &mut S, point: &S::Point) -> Option<Choice> {
    let mut best = Choice { action: None, minutes: space.over(point)? };
    let mut first = None;
    let (mut reached, mut spent) = (1.0, 0.0);
    let mut here = point.clone();
    while let Some(remedy) = likeliest(space, &here) {
        first = first.or(Some(remedy));
        let mut branches = Vec::new();
        spent += reached * space.act(&here, remedy, &mut branches);
        let next = branches.pop();
        let rest = match &next {
            Some(next) => reached * next.chance * space.over(&next.point).unwrap_or(0.0),
            None => 0.0,
        };
        if spent + rest < best.minutes - CLEARLY * CLEARLY * (1.0 + best.minutes) {
            best = Choice { action: first, minutes: spent + rest };
        }
        let Some(next) = next else { break };
        reached *= next.chance;
        here = next.point;
    }
    Some(best)
}

/// Returns the remedy with the largest chance of fixing now per minute.
fn likeliest<S: Space>(space: &mut S, point: &S::Point) -> Option<usize> {
    let remedies: Vec<usize> = space.open(point).into_iter().filter(|n| space.action(*n).is_remedy).collect();
    let rated = remedies.into_iter().map(|n| (n, space.cures(point, n), space.action(n).minutes));
    largest(rated.filter(|(_, cures, _)| *cures > 0.0))
}

/// Returns the first of those whose value per minute is the largest, to 1e-9 of it; a cost of 0 counts as infinite.
fn largest(rated: impl Iterator<Item = (usize, f64, f64)>) -> Option<usize> {
    let mut best: Option<(usize, f64)> = None;
    for (n, value, minutes) in rated {
        let rate = if minutes > 0.0 { value / minutes } else { f64::INFINITY };
        if best.is_none_or(|(_, most)| rate > most * (1.0 + CLEARLY)) {
            best = Some((n, rate));
        }
    }
    best.map(|(n, _)| n)
}

/// Returns what the greedy rule does at a point: one-step value of information where the pen is to be fixed (each
/// check is followed by remedies alone), information per minute where the cause is wanted.
pub(super) fn greedy_action<S: Space>(space: &mut S, point: &S::Point) -> Option<usize> {
    let Some(alone) = remedies_alone(space, point) else { return most_telling(space, point) };
    let mut best = Choice { action: None, minutes: f64::INFINITY };
    for n in space.open(point) {
        if space.action(n).is_remedy {
            continue;
        }
        let mut branches = Vec::new();
        let mut minutes = space.act(point, n, &mut branches);
        for Branch { chance, point, .. } in &branches {
            minutes += chance * remedies_alone(space, point).map_or(0.0, |after| after.minutes);
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
    let rated: Vec<_> = open.into_iter().zip(gains).map(|(n, gain)| (n, gain, space.action(n).minutes)).collect();
    largest(rated.into_iter())
}

impl Rules {
    /// Returns the expected minutes from a point if the greedy rule is followed.
    pub fn greedy<S: Space>(&mut self, space: &mut S, point: &S::Point) -> f64 {
        let key = key(space, point);
        if let Some(known) = self.greedy.get(&key) {
            return *known;
        }
        if self.greedy.len() >= MOST_POINTS {
            // Rough, but never too little: remedies alone, or every check that there is.
            return match remedies_alone(space, point) {
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
        branches.iter().fold(price, |sum, branch| sum + branch.chance * self.greedy(space, &branch.point))
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
