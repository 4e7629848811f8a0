//! From a table as it was written to a checked one, collecting all that is wrong.

use std::collections::{HashMap, HashSet};

use super::fault::Fault;
use super::problem::{
    Action, ByCause, Cause, CheckDraft, Draft, Effect, Goal, Kind, MOST_MINUTES, Outcome, Problem, RemedyDraft,
    StartOverDraft,
};

/// How far a row may miss 1 and still be scaled to it.
const SLACK: f64 = 1e-9;

pub(super) fn read(draft: &Draft) -> Result<Problem, Vec<Fault>> {
    let mut reader = Reader { places: HashMap::new(), faults: Vec::new() };
    let causes = reader.causes(draft);
    let mut ids = HashSet::new();
    let mut actions = Vec::new();
    for check in &draft.checks {
        reader.unique(&mut ids, &check.id);
        actions.push(reader.check(check));
    }
    for remedy in &draft.remedies {
        reader.unique(&mut ids, &remedy.id);
        actions.push(reader.remedy(remedy));
    }
    let (over, charge) = match &draft.start_over {
        Some(start_over) => reader.start_over(start_over),
        None => {
            reader.without_start_over(draft.goal, &actions);
            (None, 0.0)
        }
    };
    if let Goal::Identify { confidence } = draft.goal
        && !(confidence > 0.0 && confidence <= 1.0)
    {
        reader.faults.push(Fault::BadConfidence { confidence });
    }
    if reader.faults.is_empty() {
        let group_of = vec![0; causes.len()];
        Ok(Problem { goal: draft.goal, causes, actions, over, charge, group_of, groups: 0 })
    } else {
        Err(reader.faults)
    }
}

struct Reader<'a> {
    /// Where each cause stands.
    places: HashMap<&'a str, usize>,
    faults: Vec<Fault>,
}

impl<'a> Reader<'a> {
    fn causes(&mut self, draft: &'a Draft) -> Vec<Cause> {
        for (place, cause) in draft.causes.iter().enumerate() {
            if self.places.insert(&cause.id, place).is_some() {
                self.faults.push(Fault::RepeatedCause { cause: cause.id.clone() });
            }
            if !(cause.weight >= 0.0 && cause.weight.is_finite()) {
                self.faults.push(Fault::BadWeight { cause: cause.id.clone(), weight: cause.weight });
            }
        }
        // Scaled by the largest first, so that the sum of huge weights stays finite.
        let largest = draft.causes.iter().map(|cause| cause.weight).fold(0.0, f64::max);
        if largest == 0.0 {
            self.faults.push(Fault::NoCause);
        }
        let sum: f64 = draft.causes.iter().map(|cause| cause.weight / largest).sum();
        let prior = |weight: f64| weight / largest / sum;
        draft.causes.iter().map(|cause| Cause { id: cause.id.clone(), prior: prior(cause.weight) }).collect()
    }

    fn unique(&mut self, ids: &mut HashSet<&'a str>, id: &'a str) {
        if !ids.insert(id) {
            self.faults.push(Fault::RepeatedAction { action: id.to_owned() });
        }
    }

    fn check(&mut self, check: &CheckDraft) -> Action {
        self.minutes(check.minutes, Some(&check.id), None);
        if check.outcomes.len() < 2 {
            self.faults.push(Fault::FewOutcomes { action: check.id.clone(), outcomes: check.outcomes.len() });
        }
        let mut labels = HashSet::new();
        let mut outcomes = Vec::new();
        let mut sound = true;
        for outcome in &check.outcomes {
            if !labels.insert(&outcome.label) {
                let (action, outcome) = (check.id.clone(), outcome.label.clone());
                self.faults.push(Fault::RepeatedOutcome { action, outcome });
            }
            self.minutes(outcome.after, Some(&check.id), Some(&outcome.label));
            let chance = self.chances(&check.id, &outcome.label, &outcome.chance, &mut sound);
            let (label, effect, after) = (outcome.label.clone(), outcome.effect, outcome.after);
            outcomes.push(Outcome { label, effect, after, chance });
        }
        if sound && check.outcomes.len() >= 2 {
            self.scale(&check.id, &mut outcomes);
        }
        Action::new(&check.id, Kind::Check, check.minutes, outcomes)
    }

    fn remedy(&mut self, remedy: &RemedyDraft) -> Action {
        self.minutes(remedy.minutes, Some(&remedy.id), None);
        self.minutes(remedy.after_fixed, Some(&remedy.id), Some("fixed"));
        self.minutes(remedy.after_lost, Some(&remedy.id), Some("lost"));
        let mut sound = true;
        let mut fixed = self.chances(&remedy.id, "fixed", &remedy.cures, &mut sound);
        let mut lost = self.chances(&remedy.id, "lost", &remedy.loses, &mut sound);
        let mut not_fixed = vec![0.0; fixed.len()];
        for place in 0..fixed.len() {
            let sum = fixed[place] + lost[place];
            if sum > 1.0 + SLACK && sound {
                let cause = self.name(place);
                self.faults.push(Fault::MoreThanAlways { action: remedy.id.clone(), cause, sum });
            } else if sum > 1.0 {
                fixed[place] /= sum;
                lost[place] /= sum;
            }
            not_fixed[place] = (1.0 - fixed[place] - lost[place]).max(0.0);
        }
        let can_lose = lost.iter().any(|chance| *chance > 0.0);
        let outcome = |label: &str, effect, after, chance| Outcome { label: label.to_owned(), effect, after, chance };
        let mut outcomes = vec![
            outcome("fixed", Effect::Fixed, remedy.after_fixed, fixed),
            outcome("not fixed", Effect::Continue, 0.0, not_fixed),
        ];
        if can_lose {
            outcomes.push(outcome("lost", Effect::Lost, remedy.after_lost, lost));
        }
        Action::new(&remedy.id, Kind::Remedy, remedy.minutes, outcomes)
    }

    fn start_over(&mut self, draft: &StartOverDraft) -> (Option<Vec<f64>>, f64) {
        self.minutes(draft.minutes, None, None);
        self.minutes(draft.after, None, None);
        let again = self.by_cause(None, &draft.again);
        for (place, minutes) in again.iter().enumerate() {
            let name = self.name(place);
            self.minutes(*minutes, None, Some(&name));
        }
        let charge = draft.minutes + draft.after;
        (Some(again.iter().map(|again| charge + again).collect()), charge)
    }

    fn without_start_over(&mut self, goal: Goal, actions: &[Action]) {
        let loses = |action: &&Action| {
            let can = |outcome: &Outcome| outcome.effect == Effect::Lost;
            action.outcomes.iter().any(can) && (goal == Goal::Fix || action.kind == Kind::Check)
        };
        let losing: Vec<Fault> =
            actions.iter().filter(loses).map(|action| Fault::NoStartOver { action: Some(action.id.clone()) }).collect();
        if goal == Goal::Fix && losing.is_empty() {
            self.faults.push(Fault::NoStartOver { action: None });
        }
        self.faults.extend(losing);
    }

    fn minutes(&mut self, minutes: f64, action: Option<&str>, of: Option<&str>) {
        if !(0.0..=MOST_MINUTES).contains(&minutes) {
            let (action, of) = (action.map(str::to_owned), of.map(str::to_owned));
            self.faults.push(Fault::BadMinutes { action, of, minutes });
        }
    }

    /// Returns the chances of an outcome as one number for each cause.
    fn chances(&mut self, action: &str, outcome: &str, named: &ByCause, sound: &mut bool) -> Vec<f64> {
        let before = self.faults.len();
        let chances = self.by_cause(Some(action), named);
        for (place, chance) in chances.iter().enumerate() {
            if !(0.0..=1.0 + SLACK).contains(chance) {
                let (action, outcome, cause) = (action.to_owned(), outcome.to_owned(), self.name(place));
                self.faults.push(Fault::BadChance { action, outcome, cause, chance: *chance });
            }
        }
        *sound &= self.faults.len() == before;
        chances
    }

    fn by_cause(&mut self, action: Option<&str>, named: &ByCause) -> Vec<f64> {
        let mut numbers = vec![0.0; self.places.len()];
        let mut seen = HashSet::new();
        for (cause, number) in named {
            let action = action.map(str::to_owned);
            match self.places.get(cause.as_str()) {
                None => self.faults.push(Fault::UnknownCause { action, cause: cause.clone() }),
                Some(_) if !seen.insert(cause) => self.faults.push(Fault::CauseTwice { action, cause: cause.clone() }),
                Some(place) if *place < numbers.len() => numbers[*place] = *number,
                // Only where two causes have one name, which is told already.
                Some(_) => {}
            }
        }
        numbers
    }

    /// Scales the chances under each cause so that they sum to 1, where they nearly do.
    fn scale(&mut self, action: &str, outcomes: &mut [Outcome]) {
        for place in 0..self.places.len() {
            let sum: f64 = outcomes.iter().map(|outcome| outcome.chance[place]).sum();
            if (sum - 1.0).abs() > SLACK {
                let (action, cause) = (action.to_owned(), self.name(place));
                self.faults.push(Fault::BadSum { action, cause, sum });
            } else if sum != 1.0 {
                outcomes.iter_mut().for_each(|outcome| outcome.chance[place] /= sum);
            }
        }
    }

    fn name(&self, place: usize) -> String {
        let named = self.places.iter().find(|(_, known)| **known == place);
        named.map(|(name, _)| (*name).to_owned()).unwrap_or_default()
    }
}
