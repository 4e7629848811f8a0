//! From a point of the walk to what to do there: lay it out, or search, or fall back to a rule.

use super::Next;
use super::budget::Budget;
use super::rules;
use super::search::{Known, Search};
use super::space::Space;

/// Minutes that agree to this share are tied.
const TIED: f64 = 1e-9;

/// The most open actions at a point where each is followed through by the greedy rule.
const MOST_ROLLED_OUT: usize = 64;

/// What to do at a point.
#[derive(Debug, Clone)]
pub(super) struct Answer {
    /// The action to take there; none to start over or to stop.
    pub choice: Option<usize>,
    pub tied: Vec<Next>,
    pub minutes: f64,
    pub bound: f64,
    pub exact: bool,
    pub work: u64,
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
        self.at(&root, true)
    }

    /// Returns what to do at a point, with all that ties if it is wanted.
    pub fn at(&mut self, point: &S::Point, all: bool) -> Answer {
        let open = self.search.space.open(point);
        let over = self.search.space.over(point);
        if open.is_empty() && over.is_none() {
            let work = self.search.work;
            return Answer { choice: None, tied: vec![Next::Stop], minutes: 0.0, bound: 0.0, exact: true, work };
        }
        if let Some(laid_out) = self.search.laid_out(point) {
            let mut each: Vec<(Option<usize>, f64)> = open.iter().map(|n| Some(*n)).zip(laid_out.each).collect();
            each.extend(over.map(|over| (None, over)));
            return self.exactly(laid_out.minutes, &each);
        }
        let known = self.searched(point);
        if !known.is_exact() && known.high - known.low > TIED * known.high {
            return self.nearly(point, known);
        }
        let least = known.high;
        let limit = least + TIED * (1.0 + least);
        let mut each = Vec::new();
        for action in open {
            let found = self.search.if_next(point, action, limit);
            let minutes = if found.low > limit { f64::INFINITY } else { found.high };
            each.push((Some(action), minutes));
            if minutes <= limit && !all {
                break;
            }
        }
        each.extend(over.map(|over| (None, over)));
        if each.iter().all(|(_, cost)| *cost > limit) {
            // Stopped before what ties was found out: what reaches the least is known all the same.
            each = vec![(self.best_known(point).1, least)];
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
            return Known { low, high, action: None };
        }
        let found = self.search.value(point, high + TIED * (1.0 + high));
        Known { low: found.low.max(low).min(high), high: found.high.min(high), action: None }
    }

    fn exactly(&self, minutes: f64, each: &[(Option<usize>, f64)]) -> Answer {
        let is_tied = |cost: f64| cost <= minutes + TIED * (1.0 + minutes);
        let tied: Vec<Option<usize>> =
            each.iter().filter(|(_, cost)| is_tied(*cost)).map(|(action, _)| *action).collect();
        Answer {
            choice: tied.first().copied().flatten(),
            tied: tied.into_iter().map(|action| self.next(action)).collect(),
            minutes,
            bound: minutes,
            exact: true,
            work: self.search.work,
        }
    }

    fn next(&self, action: Option<usize>) -> Next {
        match action {
            Some(action) => Next::Do(self.search.space.action(action).place),
            None => Next::StartOver,
        }
    }

    fn nearly(&mut self, point: &S::Point, known: Known) -> Answer {
        let (minutes, choice) = self.best_known(point);
        let minutes = minutes.min(known.high);
        let tied = vec![self.next(choice)];
        Answer { choice, tied, minutes, bound: known.low, exact: false, work: self.search.work }
    }

    /// Returns the minutes of the best policy that is known, and what it does at a point.
    fn best_known(&mut self, point: &S::Point) -> (f64, Option<usize>) {
        let policies = self.following(point);
        let best = policies.into_iter().min_by(|(one, _), (other, _)| one.total_cmp(other));
        best.unwrap_or((f64::INFINITY, None))
    }

    /// Returns the minutes and the next action of each policy that is known: what the search found, remedies alone,
    /// the greedy rule, and one step before it.
    ///
    /// At the point that a policy leads to, the best of them is taken again, so following is never worse than any.
    fn following(&mut self, point: &S::Point) -> Vec<(f64, Option<usize>)> {
        let mut policies = Vec::new();
        if let Some(Known { high, action: Some(action), .. }) = self.search.recall(point) {
            policies.push((high, Some(action)));
        }
        let (space, rules) = (&mut self.search.space, &mut self.search.rules);
        if let Some(alone) = space.alone(point) {
            policies.push((alone.minutes, alone.action));
        }
        policies.push((rules.greedy(space, point), rules::greedy_action(space, point)));
        if space.open(point).len() <= MOST_ROLLED_OUT {
            let rolled = rules.rollout_action(space, point);
            policies.push((rolled.minutes, rolled.action));
        }
        policies
    }
}
