//! From a point of the walk to what to do there: lay it out, or search, or fall back to a rule.

use super::Next;
use super::budget::Budget;
use super::rules;
use super::search::{Known, Search};
use super::space::Space;

/// Minutes that agree to this share are tied.
const TIED: f64 = 1e-9;

/// What to do at a point.
#[derive(Debug, Clone)]
pub(super) struct Answer {
    pub tied: Vec<Next>,
    pub minutes: f64,
    pub bound: f64,
    pub exact: bool,
    pub points: u64,
}

/// See the file.
pub(super) struct Solver<'a, S: Space> {
    pub search: Search<'a, S>,
}

impl<'a, S: Space> Solver<'a, S> {
    pub fn new(space: S, budget: &'a Budget<'a>) -> Solver<'a, S> {
        Solver { search: Search::new(space, budget) }
    }

    /// Returns what to do at the root.
    pub fn answer(&mut self) -> Answer {
        let root = self.search.space.root();
        self.at(&root)
    }

    /// Returns what to do at a point.
    pub fn at(&mut self, point: &S::Point) -> Answer {
        let open = self.search.space.open(point);
        if open.is_empty() && self.search.space.over(point).is_none() {
            return Answer { tied: vec![Next::Stop], minutes: 0.0, bound: 0.0, exact: true, points: self.search.points };
        }
        if let Some(laid_out) = self.search.laid_out(point) {
            let mut each: Vec<(Option<usize>, f64)> = open.iter().map(|n| Some(*n)).zip(laid_out.each).collect();
            each.extend(self.search.space.over(point).map(|over| (None, over)));
            return self.exactly(laid_out.minutes, &each);
        }
        let known = self.searched(point);
        if !(known.high - known.low <= TIED * known.high) {
            return self.nearly(point, known);
        }
        let least = known.high;
        let limit = least + TIED * (1.0 + least);
        let mut each = Vec::new();
        for action in open {
            let found = self.search.if_next(point, action, limit);
            each.push((Some(action), if found.low > limit { f64::INFINITY } else { found.high }));
        }
        each.extend(self.search.space.over(point).map(|over| (None, over)));
        if each.iter().all(|(_, cost)| *cost > limit) {
            // Stopped before what ties was found out: what reaches the least is known all the same.
            each = vec![(self.follow(point), least)];
        }
        self.exactly(least, &each)
    }

    fn searched(&mut self, point: &S::Point) -> Known {
        if self.search.space.over(point).is_some() {
            return self.search.value(point, f64::INFINITY);
        }
        let high = self.search.rules.greedy(&mut self.search.space, point);
        let low = self.search.space.lower(point);
        if high - low <= TIED * high {
            return Known { low, high, action: rules::greedy_action(&mut self.search.space, point) };
        }
        let found = self.search.value(point, high + TIED * (1.0 + high));
        Known { low: found.low.max(low).min(high), high: found.high.min(high), action: found.action }
    }

    fn exactly(&self, minutes: f64, each: &[(Option<usize>, f64)]) -> Answer {
        let is_tied = |cost: f64| cost <= minutes + TIED * (1.0 + minutes);
        let tied =
            each.iter().filter(|(_, cost)| is_tied(*cost)).map(|(action, _)| self.next(*action)).collect();
        Answer { tied, minutes, bound: minutes, exact: true, points: self.search.points }
    }

    fn next(&self, action: Option<usize>) -> Next {
        match action {
            Some(action) => Next::Do(self.search.space.action(action).place),
            None => Next::StartOver,
        }
    }

    fn nearly(&mut self, point: &S::Point, known: Known) -> Answer {
        let next = self.follow(point);
        let tied = vec![self.next(next)];
        Answer { tied, minutes: known.high, bound: known.low, exact: false, points: self.search.points }
    }

    /// Returns what the best policy that is known does at a point.
    fn follow(&mut self, point: &S::Point) -> Option<usize> {
        if let Some(Known { action: Some(action), .. }) = self.search.recall(point) {
            return Some(action);
        }
        match rules::remedies_alone(&mut self.search.space, point) {
            Some(alone) => alone.action,
            None => rules::greedy_action(&mut self.search.space, point),
        }
    }
}
