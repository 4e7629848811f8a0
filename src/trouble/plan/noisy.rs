//! The walk over any table: a point is the posterior and the actions left.

use std::collections::HashMap;
use std::rc::Rc;

use super::alone::{Choice, Remedies, Remedy};
use super::hash::Spread;
use super::lanes::dot;
use super::lattice::{self, Limit};
use super::moves::Move;
use super::pairs::{Pairs, Whole};
use super::search::Known;
use super::space::{Branch, Facts, LaidOut, Space};
use crate::trouble::belief::{Belief, entropy};
use crate::trouble::bits::Bits;
use crate::trouble::findings::Findings;
use crate::trouble::problem::{Effect, Goal, Problem};

/// How close the confidence must be reached.
const CONFIDENCE_SLACK: f64 = 1e-12;

/// Posteriors that agree to this share of 1 are one point. The minutes from two such points differ by less than that
/// times what starting over costs, so costs stay right to 1e-9.
const GRID: f64 = (1u64 << 40) as f64;

/// See the file.
pub(super) struct Noisy {
    all_causes: usize,
    causes: usize,
    /// The table's places of the causes here.
    places: Vec<usize>,
    root: Point,
    /// What starting over costs under each cause; empty where the cause is wanted.
    over: Vec<f64>,
    /// The ambiguity group of each cause and their number, with the confidence that ends the walk.
    until: Option<(Vec<usize>, usize, f64)>,
    moves: Vec<Move>,
    /// Which actions are useful for each set of possible causes that was met.
    useful: HashMap<Bits, Rc<Bits>, Spread>,
    /// What knowing the cause would cost, for each set of actions left that can end the walk.
    told: HashMap<Bits, Rc<[f64]>, Spread>,
    /// The actions that can fix, and for each cause those in rising order of price per chance of ending the walk.
    fixing: Bits,
    order: Vec<Vec<usize>>,
    remedies: Remedies,
    /// Made when it is first asked for.
    pairs: Option<Rc<Pairs>>,
}

/// A point of the walk.
#[derive(Debug, Clone)]
pub(super) struct Point {
    /// The chance of each cause.
    pub belief: Vec<f64>,
    /// The actions that are useful and left.
    pub open: Bits,
    /// Whether the blank is lost.
    pub lost: bool,
    /// For each action the place of what it has shown among its onward outcomes; their number if it is unused.
    pub shown: Box<[u8]>,
}

impl Noisy {
    pub fn new(problem: &Problem, belief: &Belief, findings: &Findings) -> Noisy {
        let places = belief.support();
        let useful = belief.useful(problem, findings);
        let lost = findings.has(problem, Effect::Lost);
        let pick = |all: &[f64]| places.iter().map(|place| all[*place]).collect::<Vec<f64>>();
        let over = match (problem.goal, &problem.over) {
            (Goal::Fix, Some(over)) => pick(over),
            _ => Vec::new(),
        };
        let moves: Vec<Move> = useful.iter().map(|place| Move::new(problem, *place, &places, &over)).collect();
        let until = match problem.goal {
            Goal::Fix => None,
            Goal::Identify { confidence } => {
                let group_of = places.iter().map(|place| problem.group_of[*place]).collect();
                Some((group_of, problem.groups, confidence))
            }
        };
        let fixing = Bits::of(moves.len(), |n| moves[n].cures.iter().any(|chance| *chance > 0.0));
        let remedy = |(action, chosen): (usize, &Move)| Remedy {
            action,
            minutes: chosen.facts.minutes,
            price: chosen.price.clone(),
            cures: chosen.cures.clone(),
            goes_on: chosen.goes_on.clone(),
        };
        let list = moves.iter().enumerate().filter(|(_, chosen)| chosen.facts.is_remedy).map(remedy).collect();
        let remedies = Remedies { over: over.clone(), list };
        let order = (0..places.len()).map(|cause| by_index(&moves, cause)).collect();
        let shown = moves.iter().map(|chosen| shown(chosen.onward.len())).collect();
        let root = Point { belief: pick(&belief.chances), open: Bits::of(moves.len(), |_| true), lost, shown };
        Noisy {
            all_causes: problem.causes.len(),
            causes: places.len(),
            places,
            root,
            over,
            until,
            moves,
            useful: HashMap::default(),
            told: HashMap::default(),
            fixing,
            order,
            remedies,
            pairs: None,
        }
    }

    /// Returns what tells how much not knowing the cause costs at least.
    fn pairs(&mut self) -> Rc<Pairs> {
        if let Some(pairs) = &self.pairs {
            return Rc::clone(pairs);
        }
        let pairs = Rc::new(Pairs::new(&Whole {
            belief: &self.root.belief,
            over: &self.over,
            moves: &self.moves,
            told: &|cause, is_used| self.told_one(cause, is_used),
        }));
        self.pairs = Some(Rc::clone(&pairs));
        pairs
    }

    /// Returns the actions that are useful for the causes that are possible.
    fn useful_for(&mut self, belief: &[f64]) -> Rc<Bits> {
        let support = Bits::of(self.causes, |cause| belief[cause] > 0.0);
        if let Some(useful) = self.useful.get(&support) {
            return Rc::clone(useful);
        }
        let causes: Vec<usize> = support.iter().collect();
        let fixes = self.until.is_none();
        let useful = Rc::new(Bits::of(self.moves.len(), |n| self.moves[n].is_useful(&causes, fixes)));
        self.useful.insert(support, Rc::clone(&useful));
        useful
    }

    /// Returns what each cause would cost if it were told, with the fixing actions of a set.
    ///
    /// For a known cause the outcomes tell nothing more. Each action costs its price and goes on with some chance, so
    /// an exchange of neighbours shows that rising price per chance of ending is best, up to where starting over is
    /// cheaper.
    fn told(&mut self, open: &Bits) -> Rc<[f64]> {
        let left = open.and(&self.fixing);
        if let Some(told) = self.told.get(&left) {
            return Rc::clone(told);
        }
        let told: Rc<[f64]> = (0..self.causes).map(|cause| self.told_one(cause, &|n| !left.has(n))).collect();
        self.told.insert(left, Rc::clone(&told));
        told
    }

    fn told_one(&self, cause: usize, is_used: &dyn Fn(usize) -> bool) -> f64 {
        let fixing = self.order[cause].iter().rev().filter(|n| !is_used(**n));
        fixing.fold(self.over[cause], |after, n| {
            let chosen = &self.moves[*n];
            (chosen.price[cause] + chosen.goes_on(cause) * after).min(after)
        })
    }

    fn is_over(&self, point: &Point) -> bool {
        let Some((group_of, groups, confidence)) = &self.until else { return false };
        let mut chances = vec![0.0; *groups];
        for (group, chance) in group_of.iter().zip(&point.belief) {
            chances[*group] += chance;
        }
        point.open.is_empty() || chances.iter().any(|chance| *chance >= confidence - CONFIDENCE_SLACK)
    }
}

/// Returns the place of an outcome in a byte. A check with more outcomes than that is in no pair's table.
fn shown(outcome: usize) -> u8 {
    u8::try_from(outcome).unwrap_or(u8::MAX)
}

/// Returns the actions that can fix a cause, in rising order of price per chance of ending the walk.
fn by_index(moves: &[Move], cause: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..moves.len()).filter(|n| moves[*n].cures[cause] > 0.0).collect();
    let index = |n: usize| moves[n].price[cause] / (1.0 - moves[n].goes_on(cause));
    order.sort_by(|one, other| index(*one).total_cmp(&index(*other)));
    order
}

impl Space for Noisy {
    type Point = Point;

    fn root(&self) -> Point {
        self.root.clone()
    }

    fn over(&self, point: &Point) -> Option<f64> {
        self.until.is_none().then(|| dot(&self.over, &point.belief))
    }

    fn open(&mut self, point: &Point) -> Vec<usize> {
        if self.is_over(point) { Vec::new() } else { point.open.iter().collect() }
    }

    fn act(&mut self, point: &Point, action: usize, branches: &mut Vec<Branch<Point>>) -> f64 {
        let had = point.belief.iter().filter(|chance| **chance > 0.0).count();
        for n in 0..self.moves[action].onward.len() {
            let onward = &self.moves[action].onward[n];
            let mut belief: Vec<f64> =
                point.belief.iter().zip(&onward.chance).map(|(one, other)| one * other).collect();
            let chance: f64 = belief.iter().sum();
            if chance <= 0.0 {
                continue;
            }
            belief.iter_mut().for_each(|share| *share /= chance);
            let (outcome, lost) = (onward.outcome, point.lost || onward.loses);
            let mut open = point.open.without(action);
            if belief.iter().filter(|chance| **chance > 0.0).count() < had {
                open = open.and(&self.useful_for(&belief));
            }
            let mut shown = point.shown.clone();
            shown[action] = self::shown(n);
            branches.push(Branch { outcome, chance, point: Point { belief, open, lost, shown } });
        }
        let chosen = &self.moves[action];
        dot(if point.lost { &chosen.price_lost } else { &chosen.price }, &point.belief)
    }

    fn key(&mut self, point: &Point, key: &mut Vec<u64>) {
        key.clear();
        key.extend(point.belief.iter().map(|chance| (chance * GRID).round() as u64));
        key.extend(point.open.words());
        key.push(u64::from(point.lost));
    }

    fn lower(&mut self, point: &Point) -> f64 {
        if let Some(told) = self.told_the_cause(point) {
            return told + self.pairs().regrets(&point.belief, &point.shown).sum;
        }
        if self.is_over(point) {
            return 0.0;
        }
        let price = |n: usize| {
            let chosen = &self.moves[n];
            dot(if point.lost { &chosen.price_lost } else { &chosen.price }, &point.belief)
        };
        point.open.iter().map(price).fold(f64::INFINITY, f64::min)
    }

    fn outlook(&mut self, point: &Point, actions: &[usize], limit: f64) -> Option<Vec<f64>> {
        if self.until.is_some() {
            return None;
        }
        let pairs = self.pairs();
        let regrets = pairs.regrets(&point.belief, &point.shown);
        let told = self.told(&point.open);
        let low = |action: &usize| {
            let chosen = &self.moves[*action];
            let is_used = |n: usize| n == *action || !point.open.has(n);
            let known = |cause: usize| {
                let after = match () {
                    () if point.belief[cause] == 0.0 || chosen.goes_on[cause] == 0.0 => 0.0,
                    () if chosen.cures[cause] > 0.0 => self.told_one(cause, &is_used),
                    () => told[cause],
                };
                point.belief[cause] * (chosen.price[cause] + chosen.goes_on[cause] * after)
            };
            let known: f64 = (0..self.causes).map(known).sum();
            if known >= limit { known } else { known + pairs.after(&regrets, &point.belief, *action, chosen) }
        };
        Some(actions.iter().map(low).collect())
    }

    fn told_the_cause(&mut self, point: &Point) -> Option<f64> {
        self.until.is_none().then(|| dot(&self.told(&point.open), &point.belief))
    }

    fn alone(&mut self, point: &Point) -> Option<Choice> {
        self.until.is_none().then(|| self.remedies.alone(&point.belief, |n| point.open.has(n)))
    }

    fn gains(&mut self, point: &Point, actions: &[usize]) -> Vec<f64> {
        let before = entropy(point.belief.iter().copied());
        let after = |n: &usize| -> f64 {
            let left = |chance: &Vec<f64>| {
                let joint: Vec<f64> = point.belief.iter().zip(chance).map(|(one, other)| one * other).collect();
                let sum: f64 = joint.iter().sum();
                if sum > 0.0 { sum * entropy(joint.iter().map(|joint| joint / sum)) } else { 0.0 }
            };
            self.moves[*n].all.iter().map(left).sum()
        };
        actions.iter().map(|n| before - after(n)).collect()
    }

    fn at_most(&mut self, point: &Point) -> f64 {
        let dearest = |n: usize| self.moves[n].price.iter().copied().fold(0.0, f64::max);
        point.open.iter().map(dearest).sum()
    }

    fn size(&self) -> u64 {
        1 + self.causes as u64 / 32
    }

    fn chances(&self, point: &Point) -> Vec<f64> {
        let mut chances = vec![0.0; self.all_causes];
        for (place, chance) in self.places.iter().zip(&point.belief) {
            chances[*place] = *chance;
        }
        chances
    }

    fn is_lost(&self, point: &Point) -> bool {
        point.lost
    }

    fn action(&self, action: usize) -> Facts {
        self.moves[action].facts
    }

    fn settled(&mut self, _: &Point, _: f64, _: &Limit<'_>) -> Option<(Known, usize)> {
        None
    }

    fn laid_out(&mut self, point: &Point, limit: &Limit<'_>) -> Option<LaidOut> {
        if self.until.is_some() {
            return None;
        }
        let moves: Vec<&Move> = point.open.iter().map(|n| &self.moves[n]).collect();
        lattice::solve(&point.belief, &self.over, &moves, limit)
    }
}
