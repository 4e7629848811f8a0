//! Remedies alone: the plan of somebody who never looks.

use super::lanes::{dot, total};

/// How much better a candidate must be to be taken before one that is listed earlier.
pub(super) const CLEARLY: f64 = 1e-9;

/// Sums that differ by no more than this share are the same but for rounding.
const ROUNDING: f64 = 1e-15;

/// A choice: an action, or none to start over or to stop, and the minutes that it takes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Choice {
    pub action: Option<usize>,
    pub minutes: f64,
}

/// The remedies of a walk, and what starting over costs under each cause.
pub(super) struct Remedies {
    pub over: Vec<f64>,
    pub list: Vec<Remedy>,
}

/// A remedy, with one number for each cause.
pub(super) struct Remedy {
    pub action: usize,
    pub minutes: f64,
    /// What it costs, endings included.
    pub price: Vec<f64>,
    /// The chance that it fixes, and that the walk goes on.
    pub cures: Vec<f64>,
    pub goes_on: Vec<f64>,
}

impl Remedies {
    /// Returns the plan of the remedies that are open, by falling chance of fixing now per minute (Kadane and Simon
    /// 1977), cut where starting over makes it cheapest; of equal cuts the earliest.
    pub fn alone(&self, belief: &[f64], is_open: impl Fn(usize) -> bool) -> Choice {
        let mut best = Choice { action: None, minutes: dot(&self.over, belief) };
        let mut left: Vec<&Remedy> = self.list.iter().filter(|remedy| is_open(remedy.action)).collect();
        let mut weights = belief.to_vec();
        let mut first = None;
        let mut spent = 0.0;
        while let Some(n) = largest(left.iter().map(|remedy| (dot(&remedy.cures, &weights), remedy.minutes))) {
            let remedy = left.remove(n);
            first = first.or(Some(remedy.action));
            spent += dot(&remedy.price, &weights);
            weights.iter_mut().zip(&remedy.goes_on).for_each(|(weight, goes_on)| *weight *= goes_on);
            let minutes = spent + dot(&self.over, &weights);
            if minutes < best.minutes - ROUNDING * (1.0 + best.minutes) {
                best = Choice { action: first, minutes };
            }
            // What is not fixed by now is rounding.
            if total(&weights) <= 0.0 {
                break;
            }
        }
        best
    }
}

/// Returns the place of the first of those whose value per minute is the largest, to 1e-9 of it; a cost of 0 counts
/// as infinite, and what has no value is left out.
pub(super) fn largest(rated: impl Iterator<Item = (f64, f64)>) -> Option<usize> {
    let mut best: Option<(usize, f64)> = None;
    for (n, (value, minutes)) in rated.enumerate().filter(|(_, (value, _))| *value > 0.0) {
        let rate = if minutes > 0.0 { value / minutes } else { f64::INFINITY };
        if best.is_none_or(|(_, most)| rate > most * (1.0 + CLEARLY)) {
            best = Some((n, rate));
        }
    }
    best.map(|(n, _)| n)
}
