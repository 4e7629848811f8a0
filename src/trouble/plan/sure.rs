//! The walk over a table whose every chance is 0 or 1: a point is the set of causes still possible.
//!
//! The set alone settles the belief, and which actions are useful: one that was used shows the same for all causes
//! that are left, and has fixed all that it can.

use std::collections::HashMap;

use super::alone::{Choice, Remedies, Remedy};
use super::huffman::fewest_minutes;
use super::lattice::Limit;
use super::search::Known;
use super::space::{Branch, Facts, LaidOut, Space};
use super::splits::{Given, Splits};
use crate::trouble::belief::{Belief, entropy, is_useful};
use crate::trouble::bits::Bits;
use crate::trouble::findings::Findings;
use crate::trouble::problem::{Effect, Goal, Kind, Outcome, Problem};

/// How close the confidence must be reached.
const CONFIDENCE_SLACK: f64 = 1e-12;

/// Up to so many causes the chance of an outcome is summed cause by cause.
const FEW: usize = 64;

/// See the file.
pub(super) struct Sure<'a> {
    problem: &'a Problem,
    /// The chance of each cause at the root.
    weights: &'a [f64],
    root: Point,
    moves: Vec<Move<'a>>,
    /// What knowing each cause would cost: its cheapest sure remedy, or starting over. Empty where the cause is
    /// wanted.
    told: Vec<f64>,
    /// The causes that no action here can tell apart share a number; made when it is first asked for.
    class_of: Option<Vec<usize>>,
    remedies: Option<Remedies>,
    /// The search for the cause; made when it is first asked for.
    splits: Option<Splits>,
}

/// A point of the walk.
#[derive(Debug, Clone)]
pub(super) struct Point {
    possible: Bits,
    lost: bool,
}

struct Move<'a> {
    facts: Facts,
    outcomes: &'a [Outcome],
    /// For each outcome the causes under which it shows.
    shows: &'a [Bits],
    /// Whether the price is the bare minutes, whatever it shows.
    is_flat: bool,
}

impl<'a> Sure<'a> {
    /// Returns the walk, if every chance of every useful action is 0 or 1.
    pub fn new(problem: &'a Problem, belief: &'a Belief, findings: &Findings) -> Option<Sure<'a>> {
        let weights = belief.chances();
        let possible = Bits::of(weights.len(), |cause| weights[cause] > 0.0);
        let mut moves = Vec::new();
        let support = || belief.support();
        for (place, action) in problem.actions.iter().enumerate().filter(|(place, _)| findings.leaves(*place)) {
            let Some(shows) = action.sure.as_deref() else {
                if is_useful(problem, place, &support()) {
                    return None;
                }
                continue;
            };
            let is_flat = action.outcomes.iter().all(|outcome| outcome.after == 0.0 && outcome.effect != Effect::Lost);
            let facts = Facts { place, minutes: action.minutes, is_remedy: action.kind == Kind::Remedy };
            moves.push(Move { facts, outcomes: &action.outcomes, shows, is_flat });
        }
        let lost = findings.has(problem, Effect::Lost);
        let root = Point { possible, lost };
        let mut sure =
            Sure { problem, weights, root, moves, told: Vec::new(), class_of: None, remedies: None, splits: None };
        let useful: Vec<bool> = sure.moves.iter().map(|chosen| sure.is_useful(chosen, &sure.root.possible)).collect();
        let mut useful = useful.into_iter();
        sure.moves.retain(|_| useful.next().unwrap_or(false));
        sure.told = sure.told();
        Some(sure)
    }

    fn told(&self) -> Vec<f64> {
        let mut told = match (&self.problem.over, self.fixes()) {
            (Some(over), true) => over.clone(),
            _ => return Vec::new(),
        };
        for chosen in &self.moves {
            for (outcome, shows) in chosen.outcomes.iter().zip(chosen.shows) {
                if outcome.effect == Effect::Fixed {
                    let minutes = chosen.facts.minutes + outcome.after;
                    shows.iter().for_each(|cause| told[cause] = told[cause].min(minutes));
                }
            }
        }
        told
    }

    fn fixes(&self) -> bool {
        self.problem.goal == Goal::Fix
    }

    fn mass(&self, possible: &Bits) -> f64 {
        possible.iter().map(|cause| self.weights[cause]).sum()
    }

    /// Returns the mean of numbers by cause over the causes still possible.
    fn mean(&self, numbers: &[f64], possible: &Bits) -> f64 {
        possible.iter().map(|cause| self.weights[cause] * numbers[cause]).sum::<f64>() / self.mass(possible)
    }

    /// Returns the chances of groups of causes, those of chance 0 left out.
    fn grouped(&self, group_of: &[usize], possible: &Bits) -> Vec<f64> {
        let groups = group_of.iter().max().map_or(0, |last| last + 1);
        let mut chances = vec![0.0; groups];
        for cause in possible.iter() {
            chances[group_of[cause]] += self.weights[cause];
        }
        let sum: f64 = chances.iter().sum();
        chances.into_iter().filter(|chance| *chance > 0.0).map(|chance| chance / sum).collect()
    }

    fn is_known(&self, possible: &Bits) -> bool {
        let Goal::Identify { confidence } = self.problem.goal else { return false };
        // With full confidence nothing separates any more, which is seen without summing.
        let chances = || self.grouped(&self.problem.group_of, possible);
        confidence < 1.0 && chances().iter().any(|chance| *chance >= confidence - CONFIDENCE_SLACK)
    }

    fn is_useful(&self, chosen: &Move<'_>, possible: &Bits) -> bool {
        let separates = chosen.shows.iter().any(|shows| shows.splits(possible));
        if !self.fixes() {
            return separates && !chosen.facts.is_remedy;
        }
        let mut shown = chosen.outcomes.iter().zip(chosen.shows);
        separates || shown.any(|(outcome, shows)| outcome.effect == Effect::Fixed && shows.meets(possible))
    }

    fn price(&self, chosen: &Move<'_>, point: &Point) -> f64 {
        if chosen.is_flat {
            return chosen.facts.minutes;
        }
        let mass = self.mass(&point.possible);
        let mut price = chosen.facts.minutes;
        for (outcome, shows) in chosen.outcomes.iter().zip(chosen.shows) {
            let shown = shows.and(&point.possible);
            let ends = match (&self.problem.over, outcome.effect) {
                (_, Effect::Lost) if !self.fixes() && !point.lost => self.problem.charge,
                (Some(over), Effect::Lost) if self.fixes() && !shown.is_empty() => self.mean(over, &shown),
                _ => 0.0,
            };
            price += self.mass(&shown) / mass * (outcome.after + ends);
        }
        price
    }

    /// Returns the remedies as numbers by cause. One that is useless has no chance of fixing.
    fn remedies(&mut self) -> &Remedies {
        let (problem, moves) = (self.problem, &self.moves);
        self.remedies.get_or_insert_with(|| {
            let over = problem.over.clone().unwrap_or_default();
            let remedy = |(action, chosen): (usize, &Move<'_>)| {
                let mut remedy = Remedy {
                    action,
                    minutes: chosen.facts.minutes,
                    price: vec![chosen.facts.minutes; over.len()],
                    cures: vec![0.0; over.len()],
                    goes_on: vec![0.0; over.len()],
                };
                for (outcome, shows) in chosen.outcomes.iter().zip(chosen.shows) {
                    for cause in shows.iter() {
                        let ends = if outcome.effect == Effect::Lost { over[cause] } else { 0.0 };
                        remedy.price[cause] += outcome.after + ends;
                        match outcome.effect {
                            Effect::Fixed => remedy.cures[cause] = 1.0,
                            Effect::Continue => remedy.goes_on[cause] = 1.0,
                            Effect::Lost => {}
                        }
                    }
                }
                remedy
            };
            let list = moves.iter().enumerate().filter(|(_, chosen)| chosen.facts.is_remedy).map(remedy).collect();
            Remedies { over, list }
        })
    }

    /// Returns the search for the cause, where it must be known for certain and no check charges for a lost blank.
    fn splits(&mut self) -> Option<&mut Splits> {
        let charges = |outcome: &Outcome| outcome.effect == Effect::Lost && self.problem.charge > 0.0;
        let plain = !self.moves.iter().flat_map(|chosen| chosen.outcomes).any(charges);
        if self.problem.goal != (Goal::Identify { confidence: 1.0 }) || !plain {
            return None;
        }
        if self.splits.is_none() {
            let class_of = self.classes().to_vec();
            let given = |(action, chosen): (usize, &Move<'a>)| Given {
                action,
                minutes: chosen.facts.minutes,
                shows: chosen.shows.iter().zip(chosen.outcomes.iter().map(|outcome| outcome.after)).collect(),
            };
            let given: Vec<Given<'_>> = self.moves.iter().enumerate().map(given).collect();
            self.splits = Some(Splits::new(self.weights, &class_of, &given));
        }
        self.splits.as_mut()
    }

    /// Returns the number of the class of each cause.
    fn classes(&mut self) -> &[usize] {
        let moves = &self.moves;
        let causes = self.weights.len();
        self.class_of.get_or_insert_with(|| {
            let mut class_of = vec![0; causes];
            for chosen in moves {
                let mut known = HashMap::new();
                for (cause, class) in class_of.iter_mut().enumerate() {
                    let shown = chosen.shows.iter().position(|shows| shows.has(cause));
                    let next = known.len();
                    *class = *known.entry((*class, shown)).or_insert(next);
                }
                if known.len() == causes {
                    break;
                }
            }
            class_of
        })
    }
}

impl Space for Sure<'_> {
    type Point = Point;

    fn root(&self) -> Point {
        self.root.clone()
    }

    fn over(&self, point: &Point) -> Option<f64> {
        let over = self.problem.over.as_ref().filter(|_| self.fixes())?;
        Some(self.mean(over, &point.possible))
    }

    fn open(&mut self, point: &Point) -> Vec<usize> {
        if self.is_known(&point.possible) {
            return Vec::new();
        }
        (0..self.moves.len()).filter(|n| self.is_useful(&self.moves[*n], &point.possible)).collect()
    }

    fn act(&mut self, point: &Point, action: usize, branches: &mut Vec<Branch<Point>>) -> f64 {
        let chosen = &self.moves[action];
        let mass = self.mass(&point.possible);
        for (n, (outcome, shows)) in chosen.outcomes.iter().zip(chosen.shows).enumerate() {
            let possible = shows.and(&point.possible);
            if possible.is_empty() || (self.fixes() && outcome.effect != Effect::Continue) {
                continue;
            }
            let chance = self.mass(&possible) / mass;
            let point = Point { possible, lost: point.lost || outcome.effect == Effect::Lost };
            branches.push(Branch { outcome: n, chance, point });
        }
        self.price(chosen, point)
    }

    fn key(&mut self, point: &Point, key: &mut Vec<u64>) {
        key.clear();
        key.extend(point.possible.words());
        key.push(u64::from(point.lost));
    }

    fn lower(&mut self, point: &Point) -> f64 {
        let Goal::Identify { confidence } = self.problem.goal else { return self.mean(&self.told, &point.possible) };
        let open = self.open(point);
        if confidence < 1.0 {
            let cheapest = open.iter().map(|n| self.price(&self.moves[*n], point)).reduce(f64::min);
            return cheapest.unwrap_or(0.0);
        }
        if open.is_empty() {
            return 0.0;
        }
        self.classes();
        let chances = self.grouped(self.class_of.as_deref().unwrap_or(&[]), &point.possible);
        let shown = |n: &usize| self.moves[*n].shows.iter().filter(|shows| shows.meets(&point.possible)).count();
        let widest = open.iter().map(shown).max().unwrap_or(2);
        // What an outcome adds is left out: whatever a check shows, it costs its bare minutes.
        fewest_minutes(chances, widest, open.iter().map(|n| self.moves[*n].facts.minutes).collect())
    }

    fn outlook(&mut self, _: &Point, _: &[usize], _: f64) -> Option<Vec<f64>> {
        None
    }

    fn told_the_cause(&mut self, point: &Point) -> Option<f64> {
        self.fixes().then(|| self.mean(&self.told, &point.possible))
    }

    fn alone(&mut self, point: &Point) -> Option<Choice> {
        if !self.fixes() {
            return None;
        }
        let belief = self.chances(point);
        Some(self.remedies().alone(&belief, |_| true))
    }

    /// For each eight causes the sums of all their subsets are made once, so that an outcome's chance is one look-up
    /// for eight causes. The entropy of the outcomes is what a sure check brings it down by.
    fn gains(&mut self, point: &Point, actions: &[usize]) -> Vec<f64> {
        let mass = self.mass(&point.possible);
        let causes: Vec<(usize, f64)> =
            point.possible.iter().map(|cause| (cause, self.weights[cause] / mass)).collect();
        if causes.len() <= FEW {
            let chance = |shows: &Bits| -> f64 {
                causes.iter().map(|(cause, weight)| if shows.has(*cause) { *weight } else { 0.0 }).sum()
            };
            return actions.iter().map(|n| entropy(self.moves[*n].shows.iter().map(chance))).collect();
        }
        let mut sums = vec![[0.0; 256]; self.weights.len().div_ceil(8)];
        for (eight, sums) in sums.iter_mut().enumerate() {
            for subset in 1..256usize {
                let cause = eight * 8 + subset.trailing_zeros() as usize;
                let weight = if point.possible.has(cause) { self.weights[cause] / mass } else { 0.0 };
                sums[subset] = sums[subset & (subset - 1)] + weight;
            }
        }
        let chance = |shows: &Bits| -> f64 {
            let bytes = shows.words().iter().flat_map(|word| word.to_le_bytes());
            bytes.zip(&sums).map(|(byte, sums)| sums[usize::from(byte)]).sum()
        };
        actions.iter().map(|n| entropy(self.moves[*n].shows.iter().map(chance))).collect()
    }

    fn at_most(&mut self, _: &Point) -> f64 {
        self.moves
            .iter()
            .map(|chosen| {
                let after = chosen.outcomes.iter().map(|outcome| outcome.after).fold(0.0, f64::max);
                let loses = chosen.outcomes.iter().any(|outcome| outcome.effect == Effect::Lost);
                chosen.facts.minutes + after + if loses { self.problem.charge } else { 0.0 }
            })
            .sum()
    }

    fn size(&self) -> u64 {
        1 + self.weights.len() as u64 / 32
    }

    fn chances(&self, point: &Point) -> Vec<f64> {
        let mass = self.mass(&point.possible);
        let chance = |cause: usize| if point.possible.has(cause) { self.weights[cause] / mass } else { 0.0 };
        (0..self.weights.len()).map(chance).collect()
    }

    fn is_lost(&self, point: &Point) -> bool {
        point.lost
    }

    fn action(&self, action: usize) -> Facts {
        self.moves[action].facts
    }

    fn settled(&mut self, point: &Point, minutes: f64, limit: &Limit<'_>) -> Option<(Known, usize)> {
        Some(self.splits()?.value(&point.possible, minutes, limit))
    }

    fn laid_out(&mut self, _: &Point, _: &Limit<'_>) -> Option<LaidOut> {
        None
    }
}
