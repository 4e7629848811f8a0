//! Tables far larger than a shop has: the walk through them must not run out of stack, time or range.

use super::super::fault_tables::random::Dice;
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Rule, by_rule, compile, plan};
use stepjig::trouble::problem::{CauseDraft, CheckDraft, Draft, Effect, Goal, OutcomeDraft, Problem};

/// One sure check for each cause: the deepest walk that there is.
fn one_check_for_each_cause(causes: usize) -> Problem {
    let id = |n: usize| format!("cause-{n}");
    let check = |n: usize| CheckDraft {
        id: format!("check-{n}"),
        minutes: 1.0,
        outcomes: [true, false]
            .map(|is_it| OutcomeDraft {
                label: if is_it { "it is" } else { "it is not" }.to_owned(),
                effect: Effect::Continue,
                after: 0.0,
                chance: (0..causes).map(|cause| (id(cause), f64::from(u8::from((cause == n) == is_it)))).collect(),
            })
            .into(),
    };
    let mut dice = Dice(7);
    let draft = Draft {
        goal: Goal::Identify { confidence: 1.0 },
        causes: (0..causes).map(|n| CauseDraft { id: id(n), weight: 1.0 + dice.share() }).collect(),
        checks: (0..causes).map(check).collect(),
        remedies: Vec::new(),
        start_over: None,
    };
    Problem::new(&draft).unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// The best order is that of falling chance (Balakrishnan and Semmelbauer 1999, section 4.1.1).
#[test]
fn a_thousand_checks_one_after_the_other() {
    let problem = one_check_for_each_cause(1_000);
    let mut chances: Vec<f64> = problem.causes().iter().map(|cause| cause.prior()).collect();
    chances.sort_by(|one, other| other.total_cmp(one));
    let checks = |(n, chance): (usize, &f64)| chance * (n + 1).min(999) as f64;
    let least: f64 = chances.iter().enumerate().map(checks).sum();
    let greedy = by_rule(&problem, &Findings::none(), Rule::Greedy).expect("nothing was found").expect("any goal");
    assert!((greedy.minutes - least).abs() < 1e-9 * least, "{greedy:?}, not {least}");
    let plan = plan(&problem, &Findings::none(), &Budget::of(1_000_000)).expect("nothing was found");
    assert!(plan.bound <= least && least <= plan.minutes * (1.0 + 1e-9), "{plan:?}, not {least}");
    let policy = compile(&problem, &Findings::none(), &Budget::of(0), 2_000).expect("a node for each check");
    assert!((policy.nodes[0].minutes - least).abs() < 1e-9 * least, "{}, not {least}", policy.nodes[0].minutes);
}
