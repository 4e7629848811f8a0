//! A lower bound on the minutes to a good pen that is more than knowing the cause: for every two causes, what it
//! costs not to know which of them it is.
//!
//! Let `told(c)` be the least minutes if the cause is known to be `c`. Under the cause `c` an action then costs a
//! *regret*: its price, and what knowing the cause would cost after it, less what it would cost before. Every walk's
//! minutes are `told` plus the regrets on its way, so the least minutes are the mean of `told` plus the least mean
//! regret. Now each regret of an action under `c` is dealt out to the pairs of causes that `c` is in. A policy for
//! all causes is one for each pair, and each pair could do no worse alone with its own share of the regrets: the sum
//! of the pairs' least regrets is a lower bound, whatever the shares (a cost partitioning; Katz and Domshlak 2010).
//! With remedies alone, each sure and for one cause, it is exact.
//!
//! A pair is small enough to be laid out. What an action shows alike for both causes is left out: it changes nothing.

use std::ops::Range;

use super::moves::{Move, Onward};
use super::shares::Shares;

/// The most numbers that one pair's table, and all of them, may hold. Checks that tell least are left out of a
/// larger one: as if they told all, which keeps it a lower bound.
const MOST_IN_A_PAIR: usize = 1 << 12;
const MOST_IN_ALL: usize = 1 << 20;

/// See the file.
pub(super) struct Pairs {
    pairs: Vec<Placed>,
    /// The digits of all pairs, and their tables, one after the other.
    digits: Vec<Digit>,
    least: Vec<f64>,
    /// For each action the pairs that it matters to, and its digit there, if it is not one that settles the pair.
    mattering: Vec<Vec<(usize, Option<Digit>)>>,
}

/// The pairs at a point: for each its place in its table and its least regret, and the sum of these.
pub(super) struct Regrets {
    places: Vec<usize>,
    of: Vec<f64>,
    pub sum: f64,
}

/// A pair whose digits and table lie among those of all.
struct Placed {
    one: usize,
    other: usize,
    digits: Range<usize>,
    /// Where its table begins.
    first: usize,
}

/// A pair in the making.
struct Pair {
    one: usize,
    other: usize,
    /// The actions whose outcomes are told apart here, each with how far apart its outcomes stand in the table.
    digits: Vec<Digit>,
    /// For each set of findings the least regret, per chance of the two causes.
    least: Vec<f64>,
}

#[derive(Clone, Copy)]
struct Digit {
    action: usize,
    outcomes: usize,
    stride: usize,
}

/// What knowing a cause would cost if some actions were used already.
pub(super) type Told<'a> = dyn Fn(usize, &dyn Fn(usize) -> bool) -> f64 + 'a;

/// The walk that the pairs are taken from.
pub(super) struct Whole<'a> {
    pub belief: &'a [f64],
    pub over: &'a [f64],
    pub moves: &'a [Move],
    pub told: &'a Told<'a>,
}

impl Pairs {
    /// Returns the pairs of a walk, none where there would be too many.
    pub fn new(whole: &Whole<'_>) -> Pairs {
        let causes = whole.belief.len();
        if causes * causes * whole.moves.len() > MOST_IN_ALL / 4 {
            return Pairs::none(whole.moves.len());
        }
        let shares = Shares::new(whole);
        let mut pairs = Pairs::none(whole.moves.len());
        for one in 0..causes {
            for other in one + 1..causes {
                let left = MOST_IN_ALL - pairs.least.len();
                if let Some(pair) = Pair::new(whole, &shares, one, other, left) {
                    pairs.add(whole, pair);
                }
            }
        }
        pairs
    }

    fn none(actions: usize) -> Pairs {
        Pairs { pairs: Vec::new(), digits: Vec::new(), least: Vec::new(), mattering: vec![Vec::new(); actions] }
    }

    fn add(&mut self, whole: &Whole<'_>, pair: Pair) {
        for (action, _) in whole.moves.iter().enumerate().filter(|(_, chosen)| chosen.matters_to(pair.one, pair.other))
        {
            let digit = pair.digits.iter().find(|digit| digit.action == action).copied();
            self.mattering[action].push((self.pairs.len(), digit));
        }
        let digits = self.digits.len()..self.digits.len() + pair.digits.len();
        self.pairs.push(Placed { one: pair.one, other: pair.other, digits, first: self.least.len() });
        self.digits.extend(pair.digits);
        self.least.extend(pair.least);
    }

    /// Returns the least regrets at a point: `shown` holds for each action the place of the outcome that it has shown
    /// among those after which the walk goes on, or their number if it is unused.
    pub fn regrets(&self, belief: &[f64], shown: &[u8]) -> Regrets {
        let mut regrets = Regrets { places: Vec::with_capacity(self.pairs.len()), of: Vec::new(), sum: 0.0 };
        regrets.of.reserve(self.pairs.len());
        for pair in &self.pairs {
            let (one, other) = (belief[pair.one], belief[pair.other]);
            let mut place = 0;
            let mut regret = 0.0;
            if one > 0.0 && other > 0.0 {
                let digits = &self.digits[pair.digits.clone()];
                place = pair.first + digits.iter().map(|d| usize::from(shown[d.action]) * d.stride).sum::<usize>();
                regret = (one + other) * self.least[place];
            }
            regrets.places.push(place);
            regrets.of.push(regret);
            regrets.sum += regret;
        }
        regrets
    }

    /// Returns the mean of the least regrets at the points that an unused action leads to, in all.
    pub fn after(&self, regrets: &Regrets, belief: &[f64], action: usize, chosen: &Move) -> f64 {
        let mut sum = regrets.sum;
        for (n, digit) in &self.mattering[action] {
            let regret = regrets.of[*n];
            if regret == 0.0 {
                continue;
            }
            sum -= regret;
            let Some(digit) = digit else { continue };
            let Placed { one: first, other: second, .. } = self.pairs[*n];
            for (outcome, onward) in chosen.onward.iter().enumerate() {
                let (one, other) = (onward.chance[first], onward.chance[second]);
                if one > 0.0 && other > 0.0 {
                    let place = regrets.places[*n] - (digit.outcomes - outcome) * digit.stride;
                    sum += (belief[first] * one + belief[second] * other) * self.least[place];
                }
            }
        }
        sum.max(0.0)
    }
}

impl Pair {
    fn new(whole: &Whole<'_>, shares: &Shares, one: usize, other: usize, left: usize) -> Option<Pair> {
        let mut digits = Vec::new();
        let mut exits = Vec::new();
        for (action, chosen) in whole.moves.iter().enumerate() {
            let settles = |onward: &Onward| onward.chance[one] == 0.0 || onward.chance[other] == 0.0;
            if !chosen.matters_to(one, other) {
                continue;
            }
            let is_wide = chosen.onward.len() >= usize::from(u8::MAX);
            if chosen.onward.iter().all(settles) {
                exits.push(action);
            } else if is_wide && (chosen.ends(one) || chosen.ends(other)) {
                return None;
            } else if is_wide {
                exits.push(action);
            } else {
                digits.push(Digit { action, outcomes: chosen.onward.len(), stride: 0 });
            }
        }
        let gain = |digit: &Digit| shares.gain(digit.action, one, other);
        digits.sort_by(|a, b| gain(a).total_cmp(&gain(b)));
        let size = |digits: &[Digit]| {
            let factors = digits.iter().map(|digit| digit.outcomes + 1);
            factors.fold(1usize, |size, factor| size.saturating_mul(factor))
        };
        while size(&digits) > MOST_IN_A_PAIR.min(left) {
            let is_check =
                |digit: &Digit| !whole.moves[digit.action].ends(one) && !whole.moves[digit.action].ends(other);
            let least = digits.iter().position(is_check)?;
            exits.push(digits.remove(least).action);
        }
        let mut size = size(&digits);
        let mut pair = Pair { one, other, digits, least: vec![0.0; size] };
        for digit in &mut pair.digits {
            size /= digit.outcomes + 1;
            digit.stride = size;
        }
        let mut filling =
            Filling { whole, shares, exits: &exits, pair: &mut pair, unused: Vec::new(), used: Vec::new() };
        filling.fill(0, 0, whole.belief[one], whole.belief[other]);
        Some(pair)
    }
}

struct Filling<'a> {
    whole: &'a Whole<'a>,
    shares: &'a Shares,
    /// Actions after which it is known which cause it is, or taken to be.
    exits: &'a [usize],
    pair: &'a mut Pair,
    unused: Vec<usize>,
    used: Vec<usize>,
}

impl Filling<'_> {
    /// Fills in all sets of findings whose first `depth` digits make up `place`; `x` and `y` are the chances of the
    /// two causes together with those findings.
    fn fill(&mut self, depth: usize, place: usize, x: f64, y: f64) {
        let Some(digit) = self.pair.digits.get(depth).copied() else {
            self.pair.least[place] = if x > 0.0 && y > 0.0 { self.least(place, x, y) / (x + y) } else { 0.0 };
            return;
        };
        self.used.push(digit.action);
        for outcome in 0..digit.outcomes {
            let chance = &self.whole.moves[digit.action].onward[outcome].chance;
            let (x, y) = (x * chance[self.pair.one], y * chance[self.pair.other]);
            self.fill(depth + 1, place + outcome * digit.stride, x, y);
        }
        self.used.pop();
        self.unused.push(depth);
        self.fill(depth + 1, place + digit.outcomes * digit.stride, x, y);
        self.unused.pop();
    }

    fn least(&self, place: usize, x: f64, y: f64) -> f64 {
        let (one, other) = (self.pair.one, self.pair.other);
        let told = |cause: usize, also: Option<usize>| {
            (self.whole.told)(cause, &|action| also == Some(action) || self.used.contains(&action))
        };
        let (told_one, told_other) = (told(one, None), told(other, None));
        let over = x * (self.whole.over[one] - told_one) + y * (self.whole.over[other] - told_other);
        let mut least = over * self.shares.share_of_over();
        let regret = |action: usize| {
            let chosen = &self.whole.moves[action];
            let of = |cause: usize, before: f64| {
                let after = if chosen.ends(cause) { told(cause, Some(action)) } else { before };
                (chosen.price[cause] + chosen.goes_on(cause) * after - before).max(0.0)
            };
            x * self.shares.share(action, one, other) * of(one, told_one)
                + y * self.shares.share(action, other, one) * of(other, told_other)
        };
        for action in self.exits {
            least = least.min(regret(*action));
        }
        for depth in &self.unused {
            let digit = &self.pair.digits[*depth];
            let mut cost = regret(digit.action);
            for (outcome, onward) in self.whole.moves[digit.action].onward.iter().enumerate() {
                let after = place - (digit.outcomes - outcome) * digit.stride;
                cost += (x * onward.chance[one] + y * onward.chance[other]) * self.pair.least[after];
            }
            least = least.min(cost);
        }
        least
    }
}
