//! The exact minutes of a small table by laying out every set of findings: no set is met twice, and nothing is hashed.
//!
//! Every action is either unused or has shown one of the outcomes after which the walk goes on, so the sets of
//! findings are the numbers of a mixed radix. The last digit of a place means unused, so what an action leads to
//! always has a smaller number, and one sweep upwards solves them all. Values are held not divided by the chance of
//! the findings: what an action leads to is then a plain sum.

use super::lanes::{dot, total};
use super::moves::Move;
use super::space::LaidOut;

/// Returns the least expected minutes from a belief, if the sets of findings are no more than `most`.
///
/// `over` and the moves' prices hold one number for each cause. Actions that have become useless are harmless: they
/// cost and tell nothing.
pub(super) fn solve(belief: &[f64], over: &[f64], moves: &[&Move], most: usize) -> Option<LaidOut> {
    let mut sets: usize = 1;
    for chosen in moves {
        sets = sets.checked_mul(chosen.onward.len() + 1).filter(|sets| *sets <= most)?;
    }
    let mut places = Vec::with_capacity(moves.len());
    let mut stride = sets;
    for chosen in moves {
        stride /= chosen.onward.len() + 1;
        places.push(Place { stride, onward: chosen.onward.len(), price: Price::new(&chosen.price) });
    }
    let over = Price::new(over);
    let mut sweep = Sweep { causes: belief.len(), over, moves, places, values: vec![0.0; sets], unused: Vec::new() };
    let mut weights = vec![0.0; belief.len() * (moves.len() + 1)];
    weights[..belief.len()].copy_from_slice(belief);
    sweep.fill(0, 0, &mut weights);
    let mass = total(belief);
    let each: Vec<f64> = sweep.places.iter().map(|place| sweep.cost(place, sets - 1, belief, mass)).collect();
    let minutes = each.iter().copied().fold(sweep.over.of(belief, mass), f64::min);
    Some(LaidOut { minutes, each, sets })
}

/// A cost by cause; the same for all of them more often than not.
enum Price<'a> {
    Flat(f64),
    ByCause(&'a [f64]),
}

impl Price<'_> {
    fn new(price: &[f64]) -> Price<'_> {
        match price {
            [first, rest @ ..] if rest.iter().all(|minutes| minutes == first) => Price::Flat(*first),
            _ => Price::ByCause(price),
        }
    }

    fn of(&self, weights: &[f64], mass: f64) -> f64 {
        match self {
            Price::Flat(minutes) => minutes * mass,
            Price::ByCause(minutes) => dot(minutes, weights),
        }
    }
}

struct Place<'a> {
    stride: usize,
    onward: usize,
    price: Price<'a>,
}

struct Sweep<'a> {
    causes: usize,
    over: Price<'a>,
    moves: &'a [&'a Move],
    places: Vec<Place<'a>>,
    /// For each set of findings the least minutes, times the chance of the set.
    values: Vec<f64>,
    /// The actions that are unused in the set that is being built.
    unused: Vec<usize>,
}

impl Sweep<'_> {
    /// Solves all sets whose first `depth` digits make up `number`. The causes' weights after those findings lead
    /// `weights`; what follows them is room for the digits to come.
    fn fill(&mut self, depth: usize, number: usize, weights: &mut [f64]) {
        let Some(place) = self.places.get(depth) else {
            self.values[number] = self.value(number, &weights[..self.causes]);
            return;
        };
        let (stride, onward) = (place.stride, place.onward);
        let (own, rest) = weights.split_at_mut(self.causes);
        for digit in 0..onward {
            let chance = &self.moves[depth].onward[digit].chance;
            for ((next, weight), chance) in rest.iter_mut().zip(own.iter()).zip(chance) {
                *next = weight * chance;
            }
            self.fill(depth + 1, number + digit * stride, rest);
        }
        rest[..self.causes].copy_from_slice(own);
        self.unused.push(depth);
        self.fill(depth + 1, number + onward * stride, rest);
        self.unused.pop();
    }

    fn value(&self, number: usize, weights: &[f64]) -> f64 {
        let mass = total(weights);
        let costs = self.unused.iter().map(|n| self.cost(&self.places[*n], number, weights, mass));
        costs.fold(self.over.of(weights, mass), f64::min)
    }

    /// Returns the least minutes if a certain unused action is next.
    fn cost(&self, place: &Place<'_>, number: usize, weights: &[f64], mass: f64) -> f64 {
        // The digit says unused; the outcomes stand below it.
        let onward: f64 = (1..=place.onward).map(|below| self.values[number - below * place.stride]).sum();
        place.price.of(weights, mass) + onward
    }
}
