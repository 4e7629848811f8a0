//! The exact search: branch and bound, depth first, over the points of the walk.

use std::collections::HashMap;

use super::budget::{Budget, MOST_IN_A_ROW};
use super::hash::Spread;
use super::lattice::Limit;
use super::rules::Rules;
use super::space::{Branch, Space};

/// Bounds that agree to this share are one number.
const EXACT: f64 = 1e-13;

/// The most sets of findings that are laid out at once: eight bytes each.
const MOST_SETS: usize = 1 << 26;

/// How much work is done between two questions whether to stop.
const EVERY: u64 = 256 * A_POINT;

/// How many sets of findings can be laid out while the search looks at one point.
const A_POINT: u64 = 32;

/// What is known of the minutes from a point: they are no fewer than `low`, and a policy is known that takes `high`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    pub low: f64,
    pub high: f64,
    /// The first action of that policy; none to start over, to stop, or where only a rule is known.
    pub action: Option<usize>,
}

impl Known {
    /// Tells whether nothing is left between the two.
    pub fn is_settled(&self) -> bool {
        self.low >= self.high
    }

    /// Takes another action's bounds into those of the best.
    pub fn offer(&mut self, low: f64, high: f64, action: usize) {
        self.low = self.low.min(low);
        if high < self.high {
            (self.high, self.action) = (high, Some(action));
        }
    }

    pub fn is_exact(&self) -> bool {
        self.high.is_finite() && self.high - self.low <= EXACT * (1.0 + self.high)
    }
}

/// The search and all that it has found out.
pub(super) struct Search<'a, S: Space> {
    pub space: S,
    pub rules: Rules,
    known: HashMap<Box<[u64]>, Known, Spread>,
    budget: &'a Budget<'a>,
    /// How much work was done, in sets of findings.
    pub work: u64,
    pub stopped: bool,
    /// How many actions in a row led to the point that is looked at.
    depth: usize,
    /// When it is next asked whether to stop.
    ask_at: u64,
}

/// An action with what is known of it before the search goes below it.
struct Candidate<P> {
    action: usize,
    price: f64,
    branches: Vec<Branch<P>>,
    known: Vec<Known>,
    /// What it takes at least, from another source than what it leads to.
    least: f64,
    low: f64,
    high: f64,
}

/// An action as it was seen so far.
enum Seen<P> {
    AtAGlance { action: usize, low: f64 },
    Closely(Candidate<P>),
}

impl<P> Seen<P> {
    fn low(&self) -> f64 {
        match self {
            Seen::AtAGlance { low, .. } => *low,
            Seen::Closely(candidate) => candidate.low,
        }
    }

    fn known(&self) -> Known {
        match self {
            Seen::AtAGlance { action, low } => Known { low: *low, high: f64::INFINITY, action: Some(*action) },
            Seen::Closely(candidate) => candidate.known(),
        }
    }
}

impl<'a, S: Space> Search<'a, S> {
    pub fn new(space: S, budget: &'a Budget<'a>) -> Search<'a, S> {
        Search {
            space,
            rules: Rules::default(),
            known: HashMap::default(),
            budget,
            work: 0,
            stopped: false,
            depth: 0,
            ask_at: 0,
        }
    }

    /// Finds out the minutes from a point: exactly, or that they are no fewer than `limit`; less once the search was
    /// stopped.
    pub fn value(&mut self, point: &S::Point, limit: f64) -> Known {
        let low = self.space.lower(point);
        self.value_above(point, limit, low)
    }

    /// As [`Search::value`], where it is known that the minutes are no fewer than `low`.
    fn value_above(&mut self, point: &S::Point, limit: f64, low: f64) -> Known {
        let mut key = Vec::new();
        self.space.key(point, &mut key);
        if let Some(known) = self.known.get(key.as_slice())
            && (known.is_exact() || known.low >= limit)
        {
            return *known;
        }
        self.stopped |= self.work >= self.budget.work;
        if self.stopped || self.depth >= MOST_IN_A_ROW {
            return self.unexplored(point);
        }
        self.depth += 1;
        let known = match self.settled(point, limit) {
            Some(known) => known,
            None => self.expand(point, limit, low),
        };
        self.depth -= 1;
        let entry = self.known.entry(key.into_boxed_slice()).or_insert(known);
        entry.low = entry.low.max(known.low);
        if known.high <= entry.high {
            (entry.high, entry.action) = (known.high, known.action);
        }
        *entry
    }

    /// Returns what the space's own search finds out.
    fn settled(&mut self, point: &S::Point, limit: f64) -> Option<Known> {
        let left = self.budget.work.saturating_sub(self.work) / A_POINT;
        let most = usize::try_from(left).unwrap_or(usize::MAX);
        let (known, sets) = self.space.settled(point, limit, &Limit { most, stop: self.budget.stop })?;
        self.work += A_POINT * sets as u64;
        self.stopped |= self.work >= self.budget.work;
        Some(known)
    }

    /// Begins to count again.
    pub fn afresh(&mut self) {
        (self.work, self.ask_at) = (0, 0);
    }

    fn count(&mut self, points: u64) {
        self.work += A_POINT * points;
        self.stopped |= self.work >= self.budget.work;
        if self.work >= self.ask_at {
            self.ask_at = self.work + EVERY;
            self.stopped |= self.budget.stop.is_some_and(|stop| stop());
        }
    }

    /// What can be said of a point without expanding it.
    fn unexplored(&mut self, point: &S::Point) -> Known {
        let low = self.space.lower(point);
        let high = match self.space.alone(point) {
            Some(alone) => alone.minutes,
            None => self.rules.greedy(&mut self.space, point),
        };
        Known { low: low.min(high), high, action: None }
    }

    fn expand(&mut self, point: &S::Point, limit: f64, low: f64) -> Known {
        let mut best = Known { low: f64::INFINITY, high: f64::INFINITY, action: None };
        if let Some(alone) = self.space.alone(point) {
            best = Known { low, high: alone.minutes, action: alone.action };
            if best.is_exact() {
                self.count(1);
                return best;
            }
            best.low = self.space.over(point).unwrap_or(alone.minutes);
        }
        let open = self.space.open(point);
        if open.is_empty() && !best.high.is_finite() {
            return Known { low: 0.0, high: 0.0, action: None };
        }
        let mut candidates = self.candidates(point, open, limit.min(best.high));
        candidates.sort_by(|one, other| one.low().total_cmp(&other.low()));
        for candidate in candidates {
            let limit = limit.min(best.high);
            let found = match candidate {
                _ if self.stopped || candidate.low() >= limit => candidate.known(),
                Seen::AtAGlance { action, low } => {
                    let mut candidate = self.candidate(point, action);
                    candidate.least = low;
                    self.count(self.space.size() * candidate.branches.len() as u64);
                    self.pursue(&mut candidate, limit);
                    candidate.known()
                }
                Seen::Closely(mut candidate) => {
                    self.pursue(&mut candidate, limit);
                    candidate.known()
                }
            };
            best.low = best.low.min(found.low);
            if found.high < best.high {
                (best.high, best.action) = (found.high, found.action);
            }
        }
        best.low = best.low.min(best.high);
        best
    }

    /// Returns the actions with what is known of them before the search goes below them.
    fn candidates(&mut self, point: &S::Point, open: Vec<usize>, limit: f64) -> Vec<Seen<S::Point>> {
        if let Some(lows) = self.space.outlook(point, &open, limit) {
            self.count(1);
            return open.into_iter().zip(lows).map(|(action, low)| Seen::AtAGlance { action, low }).collect();
        }
        let candidates: Vec<Candidate<S::Point>> = open.iter().map(|action| self.candidate(point, *action)).collect();
        let glances: usize = candidates.iter().map(|candidate| candidate.branches.len()).sum();
        self.count(1 + self.space.size() * glances as u64);
        candidates.into_iter().map(Seen::Closely).collect()
    }

    fn candidate(&mut self, point: &S::Point, action: usize) -> Candidate<S::Point> {
        let mut branches = Vec::new();
        let price = self.space.act(point, action, &mut branches);
        let known: Vec<Known> = branches.iter().map(|branch| self.glance(&branch.point)).collect();
        let mut candidate = Candidate { action, price, branches, known, least: 0.0, low: 0.0, high: 0.0 };
        candidate.sum();
        candidate
    }

    /// What is known of a point at a glance.
    fn glance(&mut self, point: &S::Point) -> Known {
        let mut key = Vec::new();
        self.space.key(point, &mut key);
        if let Some(known) = self.known.get(key.as_slice()) {
            return *known;
        }
        let high = self.space.over(point).unwrap_or(f64::INFINITY);
        Known { low: self.space.lower(point).min(high), high, action: None }
    }

    /// Finds out what an action takes: exactly, or that it is no fewer than `limit` minutes.
    fn pursue(&mut self, candidate: &mut Candidate<S::Point>, limit: f64) {
        let gap = |n: &usize, candidate: &Candidate<S::Point>| {
            let known = candidate.known[*n];
            -candidate.branches[*n].chance * (known.high - known.low)
        };
        if candidate.low >= limit {
            return;
        }
        let mut order: Vec<usize> = (0..candidate.branches.len()).collect();
        order.sort_by(|one, other| gap(one, candidate).total_cmp(&gap(other, candidate)));
        for n in order {
            let known = candidate.known[n];
            if known.is_exact() {
                continue;
            }
            let branch = &candidate.branches[n];
            let allowed = (limit - candidate.low) / branch.chance + known.low;
            let found = self.value_above(&branch.point, allowed, known.low);
            candidate.known[n] = found;
            candidate.sum();
            if candidate.low >= limit && !self.stopped {
                return;
            }
        }
    }

    /// Returns the exact minutes if a certain action is next, or a number above `limit` if it takes more.
    pub fn if_next(&mut self, point: &S::Point, action: usize, limit: f64) -> Known {
        let mut candidate = self.candidate(point, action);
        if candidate.low <= limit {
            self.pursue(&mut candidate, limit + EXACT * (1.0 + limit));
        }
        candidate.known()
    }

    /// Returns what is laid out of a point at the root, if it is small enough.
    pub fn laid_out(&mut self, point: &S::Point) -> Option<super::space::LaidOut> {
        let left = usize::try_from(self.budget.work.saturating_sub(self.work)).unwrap_or(usize::MAX);
        let limit = Limit { most: MOST_SETS.min(left), stop: self.budget.stop };
        let laid_out = self.space.laid_out(point, &limit)?;
        self.work += laid_out.sets as u64;
        Some(laid_out)
    }

    /// Returns what is known of a point.
    pub fn recall(&mut self, point: &S::Point) -> Option<Known> {
        let mut key = Vec::new();
        self.space.key(point, &mut key);
        self.known.get(key.as_slice()).copied()
    }
}

impl<P> Candidate<P> {
    fn sum(&mut self) {
        let sum = |of: fn(&Known) -> f64| -> f64 {
            self.branches.iter().zip(&self.known).map(|(branch, known)| branch.chance * of(known)).sum()
        };
        (self.low, self.high) = (self.price + sum(|known| known.low), self.price + sum(|known| known.high));
    }

    fn known(&self) -> Known {
        Known { low: self.low.max(self.least), high: self.high, action: Some(self.action) }
    }
}
