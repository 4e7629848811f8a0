//! The definition, word for word and slowly: an oracle that shares nothing with the library but the drafts.

use stepjig::trouble::problem::{ByCause, Draft, Effect, Goal};

/// A table as plain numbers.
pub struct Naive {
    pub prior: Vec<f64>,
    pub actions: Vec<Action>,
    pub goal: Goal,
    pub start_over: f64,
    pub again: Vec<f64>,
}

pub struct Action {
    pub id: String,
    pub is_check: bool,
    pub cost: f64,
    pub outcomes: Vec<Outcome>,
}

pub struct Outcome {
    pub label: String,
    pub effect: Effect,
    pub after: f64,
    pub row: Vec<f64>,
}

impl Naive {
    pub fn new(draft: &Draft) -> Naive {
        let sum: f64 = draft.causes.iter().map(|cause| cause.weight).sum();
        let row = |numbers: &ByCause| -> Vec<f64> {
            let of = |id: &str| numbers.iter().find(|(cause, _)| cause == id).map_or(0.0, |(_, number)| *number);
            draft.causes.iter().map(|cause| of(&cause.id)).collect()
        };
        let checks = draft.checks.iter().map(|check| Action {
            id: check.id.clone(),
            is_check: true,
            cost: check.minutes,
            outcomes: check
                .outcomes
                .iter()
                .map(|o| Outcome { label: o.label.clone(), effect: o.effect, after: o.after, row: row(&o.chance) })
                .collect(),
        });
        let remedies = draft.remedies.iter().map(|remedy| {
            let (fixes, loses) = (row(&remedy.cures), row(&remedy.loses));
            let rest = fixes.iter().zip(&loses).map(|(fixes, loses)| 1.0 - fixes - loses).collect();
            let outcome = |label: &str, effect, after, row| Outcome { label: label.to_owned(), effect, after, row };
            Action {
                id: remedy.id.clone(),
                is_check: false,
                cost: remedy.minutes,
                outcomes: vec![
                    outcome("fixed", Effect::Fixed, remedy.after_fixed, fixes),
                    outcome("not fixed", Effect::Continue, 0.0, rest),
                    outcome("lost", Effect::Lost, remedy.after_lost, loses),
                ],
            }
        });
        Naive {
            prior: draft.causes.iter().map(|cause| cause.weight / sum).collect(),
            actions: checks.chain(remedies).collect(),
            goal: draft.goal,
            start_over: draft.start_over.as_ref().map_or(0.0, |over| over.minutes + over.after),
            again: draft.start_over.as_ref().map_or(vec![0.0; draft.causes.len()], |over| row(&over.again)),
        }
    }

    /// The least minutes from the start, and each first action with its minutes; starting over is none.
    pub fn solve(&self) -> (f64, Vec<(Option<usize>, f64)>) {
        let all = (0..self.actions.len()).collect::<Vec<_>>();
        let each = self.each(&self.prior, &all, false);
        let least = each.iter().map(|(_, minutes)| *minutes).fold(f64::INFINITY, f64::min);
        (if least.is_finite() { least } else { 0.0 }, each)
    }

    fn value(&self, belief: &[f64], unused: &[usize], lost: bool) -> f64 {
        let least =
            self.each(belief, unused, lost).into_iter().map(|(_, minutes)| minutes).fold(f64::INFINITY, f64::min);
        if least.is_finite() { least } else { 0.0 }
    }

    fn each(&self, belief: &[f64], unused: &[usize], lost: bool) -> Vec<(Option<usize>, f64)> {
        if self.is_over(belief, unused) {
            return Vec::new();
        }
        let useful = unused.iter().filter(|action| self.is_useful(**action, belief));
        let mut each: Vec<(Option<usize>, f64)> =
            useful.map(|action| (Some(*action), self.cost(belief, unused, lost, *action))).collect();
        if self.goal == Goal::Fix {
            each.push((None, self.over(belief)));
        }
        each
    }

    fn cost(&self, belief: &[f64], unused: &[usize], lost: bool, action: usize) -> f64 {
        let rest: Vec<usize> = unused.iter().copied().filter(|other| *other != action).collect();
        let mut cost = self.actions[action].cost;
        for outcome in &self.actions[action].outcomes {
            let chance: f64 = belief.iter().zip(&outcome.row).map(|(b, l)| b * l).sum();
            if chance <= 0.0 {
                continue;
            }
            let after: Vec<f64> = belief.iter().zip(&outcome.row).map(|(b, l)| b * l / chance).collect();
            let then = match (self.goal, outcome.effect) {
                (Goal::Fix, Effect::Fixed) => 0.0,
                (Goal::Fix, Effect::Lost) => self.over(&after),
                (Goal::Fix, Effect::Continue) => self.value(&after, &rest, lost),
                (Goal::Identify { .. }, effect) => {
                    let loses = effect == Effect::Lost;
                    let charge = if loses && !lost { self.start_over } else { 0.0 };
                    charge + self.value(&after, &rest, lost || loses)
                }
            };
            cost += chance * (outcome.after + then);
        }
        cost
    }

    fn over(&self, belief: &[f64]) -> f64 {
        belief.iter().zip(&self.again).map(|(b, again)| b * (self.start_over + again)).sum()
    }

    fn is_useful(&self, action: usize, belief: &[f64]) -> bool {
        let action = &self.actions[action];
        let possible: Vec<usize> = (0..belief.len()).filter(|cause| belief[*cause] > 0.0).collect();
        let separates = action.outcomes.iter().any(|outcome| {
            possible
                .iter()
                .any(|one| possible.iter().any(|other| (outcome.row[*one] - outcome.row[*other]).abs() > 1e-12))
        });
        let fixes = action
            .outcomes
            .iter()
            .any(|outcome| outcome.effect == Effect::Fixed && possible.iter().any(|cause| outcome.row[*cause] > 0.0));
        if self.goal == Goal::Fix { separates || fixes } else { action.is_check && separates }
    }

    fn is_over(&self, belief: &[f64], unused: &[usize]) -> bool {
        let Goal::Identify { confidence } = self.goal else { return false };
        let alike = |one: usize, other: usize| {
            let checks = self.actions.iter().filter(|action| action.is_check);
            checks.flat_map(|check| &check.outcomes).all(|o| (o.row[one] - o.row[other]).abs() <= 1e-12)
        };
        let known = (0..belief.len()).any(|one| {
            let group: f64 = (0..belief.len()).filter(|other| alike(one, *other)).map(|other| belief[other]).sum();
            group >= confidence - 1e-12
        });
        known || !unused.iter().any(|action| self.is_useful(*action, belief))
    }
}
