//! The exact minutes of a small table by laying out every set of findings: no set is met twice, and nothing is hashed.
//!
//! Every action is either unused or has shown one of the outcomes after which the walk goes on, so the sets of
//! findings are the numbers of a mixed radix. The last digit of a place means unused, so what an action leads to
//! always has a smaller number, and one sweep upwards solves them all. Values are held not divided by the chance of
//! the findings: what an action leads to is then a plain sum, and every price is linear in the causes' weights.
//!
//! The last few digits make up a *row*: its sets lie side by side and are reckoned together.

use super::moves::Move;
use super::space::LaidOut;

/// The most sets in a row, and the most numbers that the prices of a row may take.
const MOST_IN_A_ROW: usize = 128;
const MOST_IN_PRICES: usize = 1 << 14;

/// How many rows are reckoned between two questions whether to stop.
const EVERY: u32 = 64;

/// How much may be laid out.
pub(super) struct Limit<'a> {
    /// The most sets of findings.
    pub most: usize,
    /// Stops it when it says so.
    pub stop: Option<&'a dyn Fn() -> bool>,
}

/// Returns the least expected minutes from a belief, if the sets of findings are no more than the limit.
///
/// `over` and the moves' prices hold one number for each cause. Actions that have become useless are harmless: they
/// cost and tell nothing. None also when it was stopped.
pub(super) fn solve(belief: &[f64], over: &[f64], moves: &[&Move], limit: &Limit<'_>) -> Option<LaidOut> {
    let mut sets: usize = 1;
    for chosen in moves {
        sets = sets.checked_mul(chosen.onward.len() + 1).filter(|sets| *sets <= limit.most)?;
    }
    // Prices that differ by cause have to be reckoned for each set: their digits come last, into the row.
    let mut order: Vec<usize> = (0..moves.len()).collect();
    order.sort_by_key(|n| !is_flat(&moves[*n].price));
    let ordered: Vec<&Move> = order.iter().map(|n| moves[*n]).collect();
    let mut sweep = Sweep::new(belief.len(), over, &ordered, sets);
    sweep.stop = limit.stop;
    let mut weights = vec![0.0; belief.len() * (ordered.len() + 1)];
    weights[..belief.len()].copy_from_slice(belief);
    sweep.fill(0, 0, &mut weights);
    if sweep.stopped {
        return None;
    }
    let mut each = vec![0.0; moves.len()];
    for (at, n) in order.iter().enumerate() {
        each[*n] = sweep.cost_at_first(at, belief);
    }
    let minutes = each.iter().copied().fold(sum_of_products(over, belief), f64::min);
    Some(LaidOut { minutes, each, sets })
}

fn is_flat(price: &[f64]) -> bool {
    price.iter().all(|minutes| *minutes == price[0])
}

fn sum_of_products(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

struct Place {
    stride: usize,
    onward: usize,
    price: Price,
}

/// What an action costs at once in a set.
#[derive(Clone, Copy)]
enum Price {
    /// So many minutes under any cause.
    Flat(f64),
    /// That which has this place among the priced.
    Priced(usize),
}

struct Sweep<'a> {
    moves: &'a [&'a Move],
    places: Vec<Place>,
    /// How many digits are not of the row, and how many sets a row has.
    head: usize,
    row: usize,
    /// For each number that is linear in the weights (the chance of the set, starting over, each price that differs
    /// by cause), for each cause, for each set of a row: what a weight of 1 gives.
    given: Vec<Vec<f64>>,
    /// The same numbers for the row that is being reckoned.
    reckoned: Vec<Vec<f64>>,
    /// The row's actions that are unused, for each of its sets.
    unused_in_row: Vec<Vec<usize>>,
    /// The other actions that are unused.
    unused: Vec<usize>,
    /// For each set of findings the least minutes, times the chance of the set.
    values: Vec<f64>,
    row_values: Vec<f64>,
    /// Whether to stop is asked every so many rows.
    stop: Option<&'a dyn Fn() -> bool>,
    rows: u32,
    stopped: bool,
}

/// Adds to a row what up to four weights give it. Four at once, since what is added to is then fetched but once.
fn add(row: &mut [f64], weights: &[f64], given: &[f64]) {
    let sets = row.len();
    if let [a, b, c, d] = weights {
        let (of_a, rest) = given.split_at(sets);
        let (of_b, rest) = rest.split_at(sets);
        let (of_c, of_d) = rest.split_at(sets);
        let rows = of_a.iter().zip(of_b).zip(of_c.iter().zip(of_d));
        for (sum, ((of_a, of_b), (of_c, of_d))) in row.iter_mut().zip(rows) {
            *sum += (a * of_a + b * of_b) + (c * of_c + d * of_d);
        }
        return;
    }
    for (weight, given) in weights.iter().zip(given.chunks_exact(sets)) {
        row.iter_mut().zip(given).for_each(|(sum, given)| *sum += weight * given);
    }
}

/// The places of the chance of a set and of starting over among the linear numbers.
const CHANCE: usize = 0;
const OVER: usize = 1;

impl<'a> Sweep<'a> {
    fn new(causes: usize, over: &[f64], moves: &'a [&'a Move], sets: usize) -> Sweep<'a> {
        let mut linear = vec![vec![1.0; causes], over.to_vec()];
        let mut places = Vec::with_capacity(moves.len());
        let mut stride = sets;
        for chosen in moves {
            stride /= chosen.onward.len() + 1;
            let price = match chosen.price.as_slice() {
                [minutes, ..] if is_flat(&chosen.price) => Price::Flat(*minutes),
                by_cause => {
                    linear.push(by_cause.to_vec());
                    Price::Priced(linear.len() - 1)
                }
            };
            places.push(Place { stride, onward: chosen.onward.len(), price });
        }
        let (mut head, mut row) = (moves.len(), 1);
        while head > 0 {
            let next = row * (places[head - 1].onward + 1);
            if next > MOST_IN_A_ROW || next * causes * linear.len() > MOST_IN_PRICES {
                break;
            }
            (head, row) = (head - 1, next);
        }
        let digit = |set: usize, n: usize| {
            let place: &Place = &places[n];
            set / place.stride % (place.onward + 1)
        };
        let reached = |set: usize, cause: usize| -> f64 {
            let used = (head..moves.len()).filter(|n| digit(set, *n) < places[*n].onward);
            used.map(|n| moves[n].onward[digit(set, n)].chance[cause]).product()
        };
        let given = linear
            .iter()
            .map(|number| {
                let sets = |cause: usize| (0..row).map(move |set| (set, cause));
                (0..causes).flat_map(sets).map(|(set, cause)| reached(set, cause) * number[cause]).collect()
            })
            .collect();
        let unused =
            |set: usize| (head..moves.len()).filter(|n| digit(set, *n) == places[*n].onward).collect::<Vec<usize>>();
        Sweep {
            moves,
            head,
            row,
            given,
            reckoned: vec![vec![0.0; row]; linear.len()],
            unused_in_row: (0..row).map(unused).collect(),
            unused: Vec::new(),
            values: vec![0.0; sets],
            row_values: vec![0.0; row],
            stop: None,
            rows: 0,
            stopped: false,
            places,
        }
    }

    /// Solves all sets whose first `depth` digits make up `number`. The causes' weights after those findings lead
    /// `weights`; what follows them is room for the digits to come.
    fn fill(&mut self, depth: usize, number: usize, weights: &mut [f64]) {
        let causes = self.given[CHANCE].len() / self.row;
        if self.stopped {
            return;
        }
        if depth == self.head {
            self.rows = self.rows.wrapping_add(1);
            self.stopped = self.rows.is_multiple_of(EVERY) && self.stop.is_some_and(|stop| stop());
            self.fill_row(number, &weights[..causes]);
            return;
        }
        let (stride, onward) = (self.places[depth].stride, self.places[depth].onward);
        let (own, rest) = weights.split_at_mut(causes);
        for digit in 0..onward {
            let chance = &self.moves[depth].onward[digit].chance;
            for ((next, weight), chance) in rest.iter_mut().zip(own.iter()).zip(chance) {
                *next = weight * chance;
            }
            self.fill(depth + 1, number + digit * stride, rest);
        }
        rest[..causes].copy_from_slice(own);
        self.unused.push(depth);
        self.fill(depth + 1, number + onward * stride, rest);
        self.unused.pop();
    }

    /// Solves a row, which begins with the set `number`.
    fn fill_row(&mut self, number: usize, weights: &[f64]) {
        let row = self.row;
        for (reckoned, given) in self.reckoned.iter_mut().zip(&self.given) {
            reckoned.fill(0.0);
            for (weights, given) in weights.chunks(4).zip(given.chunks(4 * row)) {
                add(reckoned, weights, given);
            }
        }
        self.row_values.copy_from_slice(&self.reckoned[OVER]);
        let mut costs = [0.0; MOST_IN_A_ROW];
        let costs = &mut costs[..row];
        for n in &self.unused {
            let place = &self.places[*n];
            match place.price {
                Price::Flat(minutes) => {
                    costs.iter_mut().zip(&self.reckoned[CHANCE]).for_each(|(cost, chance)| *cost = minutes * chance);
                }
                Price::Priced(linear) => costs.copy_from_slice(&self.reckoned[linear]),
            }
            for below in 1..=place.onward {
                let from = number - below * place.stride;
                costs.iter_mut().zip(&self.values[from..from + row]).for_each(|(cost, value)| *cost += value);
            }
            self.row_values.iter_mut().zip(costs.iter()).for_each(|(value, cost)| *value = value.min(*cost));
        }
        // What the row's own actions lead to lies in the row, before them.
        for set in 0..row {
            let mut least = self.row_values[set];
            for n in &self.unused_in_row[set] {
                let place = &self.places[*n];
                let onward: f64 = (1..=place.onward).map(|below| self.row_values[set - below * place.stride]).sum();
                least = least.min(self.price(place.price, set) + onward);
            }
            self.row_values[set] = least;
        }
        self.values[number..number + row].copy_from_slice(&self.row_values);
    }

    fn price(&self, price: Price, set: usize) -> f64 {
        match price {
            Price::Flat(minutes) => minutes * self.reckoned[CHANCE][set],
            Price::Priced(linear) => self.reckoned[linear][set],
        }
    }

    /// Returns the least minutes from the belief if a certain action is first: nothing is used then, which is the last
    /// of all sets.
    fn cost_at_first(&self, n: usize, belief: &[f64]) -> f64 {
        let place = &self.places[n];
        let first = self.values.len() - 1;
        let onward: f64 = (1..=place.onward).map(|below| self.values[first - below * place.stride]).sum();
        sum_of_products(&self.moves[n].price, belief) + onward
    }
}
