//! What must hold for any table, though nobody knows its answer.

use super::super::fault_tables::random::{self, Dice, Size};
use super::super::fault_tables::reference;
use proptest::prelude::*;
use stepjig::trouble::belief::Belief;
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Next, Plan, Rule, by_rule, plan};
use stepjig::trouble::problem::{CauseDraft, CheckDraft, Draft, Effect, Goal, OutcomeDraft, Problem, StartOverDraft};

const SIZE: Size = Size { causes: 5, checks: 3, remedies: 3, sure: false };

fn solved(draft: &Draft) -> Plan {
    let problem = Problem::new(draft).unwrap_or_else(|faults| panic!("{faults:?}"));
    let plan = plan(&problem, &Findings::none(), &Budget::default()).expect("nothing was found");
    assert!(plan.exact, "{plan:?}");
    plan
}

/// Returns the least minutes when the causes of a group alone are possible, and the chance of the group.
fn within(draft: &Draft, group: &dyn Fn(usize) -> bool) -> (f64, f64) {
    let sum: f64 = draft.causes.iter().map(|cause| cause.weight).sum();
    let mut part = draft.clone();
    for (n, cause) in part.causes.iter_mut().enumerate().filter(|(n, _)| !group(*n)) {
        assert!(n < 64);
        cause.weight = 0.0;
    }
    let chance = part.causes.iter().map(|cause| cause.weight).sum::<f64>() / sum;
    (if chance > 0.0 { solved(&part).minutes } else { 0.0 }, chance)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_minutes_are_at_most_those_of_starting_over(seed in any::<u64>()) {
        let draft = random::table(&mut Dice(seed), SIZE, Goal::Fix);
        let problem = Problem::new(&draft).expect("it is sound");
        let belief = Belief::prior(&problem);
        let over: f64 =
            (0..SIZE.causes).map(|cause| belief.chance(cause) * problem.start_over(cause).expect("it is said")).sum();
        let plan = solved(&draft);
        prop_assert!(plan.minutes <= over + 1e-9 * over.max(1.0));
        prop_assert_eq!(plan.tied.contains(&Next::StartOver), over <= plan.minutes + 1e-9 * (1.0 + plan.minutes));
    }

    #[test]
    fn one_action_more_never_costs(seed in any::<u64>()) {
        let whole = random::table(&mut Dice(seed), SIZE, Goal::Fix);
        let least = solved(&whole).minutes;
        for n in 0..SIZE.checks {
            let mut without = whole.clone();
            without.checks.remove(n);
            prop_assert!(least <= solved(&without).minutes + 1e-9 * least.max(1.0));
        }
        for n in 0..SIZE.remedies {
            let mut without = whole.clone();
            without.remedies.remove(n);
            prop_assert!(least <= solved(&without).minutes + 1e-9 * least.max(1.0));
        }
    }

    /// A free check that only tells is as good first as anywhere.
    #[test]
    fn a_free_check_is_made_at_once(seed in any::<u64>()) {
        let mut draft = random::table(&mut Dice(seed), SIZE, Goal::Fix);
        draft.checks[0].minutes = 0.0;
        for outcome in &mut draft.checks[0].outcomes {
            (outcome.effect, outcome.after) = (Effect::Continue, 0.0);
        }
        let problem = Problem::new(&draft).expect("it is sound");
        let is_useful = Belief::prior(&problem).useful(&problem, &Findings::none()).contains(&0);
        prop_assert_eq!(solved(&draft).tied.contains(&Next::Do(0)), is_useful);
    }

    #[test]
    fn the_minutes_are_concave_over_groups_of_causes(seed in any::<u64>(), split in 1..31u64) {
        let draft = random::table(&mut Dice(seed), SIZE, Goal::Fix);
        let least = solved(&draft).minutes;
        let (one, p) = within(&draft, &|cause| split >> cause & 1 == 1);
        let (other, q) = within(&draft, &|cause| split >> cause & 1 == 0);
        prop_assert!(p * one + q * other <= least + 1e-9 * least.max(1.0), "{p} {one} {q} {other} {least}");
    }

    #[test]
    fn the_best_plan_is_no_worse_than_any_rule_and_rolling_out_none_than_greed(seed in any::<u64>(), fix in any::<bool>()) {
        let goal = if fix { Goal::Fix } else { Goal::Identify { confidence: 0.9 } };
        let draft = random::table(&mut Dice(seed), SIZE, goal);
        let problem = Problem::new(&draft).expect("it is sound");
        let least = solved(&draft).minutes;
        let by = |rule| by_rule(&problem, &Findings::none(), rule).expect("nothing was found").map(|by| by.minutes);
        let slack = 1e-9 * least.max(1.0);
        let (greedy, rolled) = (by(Rule::Greedy).expect("any goal"), by(Rule::RolledOut).expect("any goal"));
        prop_assert!(least <= rolled + slack && rolled <= greedy + slack, "{least} {rolled} {greedy}");
        prop_assert_eq!(by(Rule::RemediesAlone).is_some(), fix);
        if let Some(alone) = by(Rule::RemediesAlone) {
            prop_assert!(least <= alone + slack);
        }
    }

    #[test]
    fn the_same_table_gives_the_same_plan(seed in any::<u64>()) {
        let draft = random::table(&mut Dice(seed), SIZE, Goal::Identify { confidence: 0.9 });
        prop_assert_eq!(solved(&draft), solved(&draft));
    }

    /// What is left out is as if it were not in the table.
    #[test]
    fn an_action_that_is_left_out_is_as_if_it_were_not_there(seed in any::<u64>()) {
        let draft = random::table(&mut Dice(seed), SIZE, Goal::Fix);
        let problem = Problem::new(&draft).expect("it is sound");
        let mut findings = Findings::none();
        findings.leave_out(&problem, "check-0").expect("it is listed");
        let left_out = plan(&problem, &findings, &Budget::default()).expect("nothing was found");
        let mut without = draft;
        without.checks.remove(0);
        let least = solved(&without).minutes;
        prop_assert!((left_out.minutes - least).abs() <= 1e-9 * least.max(1.0));
    }
}

/// Two checks that both saw the blank apart: the second finds it lost already.
#[test]
fn a_blank_is_paid_for_once() {
    let check = |n: usize, half: [f64; 4]| CheckDraft {
        id: format!("saw-{n}"),
        minutes: 1.0,
        outcomes: [half, half.map(|chance| 1.0 - chance)]
            .into_iter()
            .enumerate()
            .map(|(shown, chances)| OutcomeDraft {
                label: format!("shows {shown}"),
                effect: Effect::Lost,
                after: 0.0,
                chance: chances.iter().enumerate().map(|(cause, chance)| (format!("cause-{cause}"), *chance)).collect(),
            })
            .collect(),
    };
    let draft = Draft {
        goal: Goal::Identify { confidence: 1.0 },
        causes: (0..4).map(|n| CauseDraft { id: format!("cause-{n}"), weight: 1.0 }).collect(),
        checks: vec![check(0, [1.0, 1.0, 0.0, 0.0]), check(1, [1.0, 0.0, 1.0, 0.0])],
        remedies: Vec::new(),
        start_over: Some(StartOverDraft { minutes: 10.0, after: 0.5, again: vec![("cause-0".to_owned(), 99.0)] }),
    };
    assert_eq!(solved(&draft).minutes, 1.0 + 10.5 + 1.0);
    let problem = Problem::new(&draft).expect("it is sound");
    let mut findings = Findings::none();
    findings.see(&problem, "saw-1", "shows 0").expect("both are listed");
    let after = plan(&problem, &findings, &Budget::default()).expect("it can happen");
    assert_eq!((after.next, after.minutes), (Next::Do(0), 1.0));
}

/// Larger tables go through the search, not the lattice: both must agree.
#[test]
fn the_search_and_the_lattice_agree() {
    let mut searched = 0;
    for seed in 0..60 {
        let size = Size { causes: 5, checks: 4, remedies: 4, sure: false };
        let draft = random::table(&mut Dice(seed), size, Goal::Fix);
        let problem = Problem::new(&draft).expect("it is sound");
        let laid_out = plan(&problem, &Findings::none(), &Budget::default()).expect("nothing was found");
        // With a budget below the number of sets of findings the lattice is not tried.
        let by_search = plan(&problem, &Findings::none(), &Budget::of(laid_out.work.saturating_sub(1))).expect("same");
        let slack = 1e-9 * laid_out.minutes.max(1.0);
        assert!(by_search.bound <= laid_out.minutes + slack, "seed {seed}: {by_search:?} {laid_out:?}");
        assert!(by_search.minutes >= laid_out.minutes - slack, "seed {seed}: {by_search:?} {laid_out:?}");
        if by_search.exact {
            assert!((by_search.minutes - laid_out.minutes).abs() <= slack, "seed {seed}: {by_search:?} {laid_out:?}");
            searched += usize::from(by_search.work > 0 && laid_out.work > 2_000);
        }
    }
    assert!(searched > 10, "{searched}");
}

#[test]
fn the_caller_can_stop_the_search() {
    let problem = reference("printer-no-output").problem;
    let asked = std::cell::Cell::new(0);
    let stop = || {
        asked.set(asked.get() + 1);
        asked.get() > 3
    };
    let budget = Budget { work: 2_000_000, stop: Some(&stop) };
    let plan = plan(&problem, &Findings::none(), &budget).expect("nothing was found");
    assert!(!plan.exact && plan.work < 100_000 && asked.get() == 4, "{plan:?} {}", asked.get());
    assert!(plan.bound > 0.0 && plan.bound <= plan.minutes, "{plan:?}");
}

#[test]
fn the_caller_can_stop_the_laying_out() {
    let size = Size { causes: 6, checks: 8, remedies: 6, sure: false };
    let problem = Problem::new(&random::table(&mut Dice(11), size, Goal::Fix)).expect("it is sound");
    let laid_out = plan(&problem, &Findings::none(), &Budget::of(4_000_000)).expect("nothing was found");
    assert!(laid_out.exact && laid_out.work > 20_000, "{laid_out:?}");
    let budget = Budget { work: 4_000_000, stop: Some(&|| true) };
    let stopped = plan(&problem, &Findings::none(), &budget).expect("nothing was found");
    assert!(!stopped.exact && stopped.work < 10_000, "{stopped:?}");
    assert!(stopped.bound <= laid_out.minutes && laid_out.minutes <= stopped.minutes, "{stopped:?} {laid_out:?}");
}
