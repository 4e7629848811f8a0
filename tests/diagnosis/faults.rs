//! Each fault of a table's numbers is told with its place, all of them at once.

use super::super::fault_tables::{random, reference};
use stepjig::trouble::fault::Fault;
use stepjig::trouble::findings::{Findings, NoFinding};
use stepjig::trouble::learn::{LearnError, blend};
use stepjig::trouble::problem::{Draft, Effect, Goal, Problem};

fn changed(change: impl Fn(&mut Draft)) -> Vec<Fault> {
    let mut draft = reference("stuck-tube").draft;
    change(&mut draft);
    Problem::new(&draft).err().unwrap_or_default()
}

fn owned(text: &str) -> String {
    text.to_owned()
}

#[test]
fn each_fault_is_told_with_its_place() {
    let action = |id: &str| Some(owned(id));
    let (push, press, cause) = (owned("push"), owned("press-home"), owned("debris"));
    let told: Vec<(Vec<Fault>, Fault)> = vec![
        (changed(|t| t.causes.iter_mut().for_each(|cause| cause.weight = 0.0)), Fault::NoCause),
        (changed(|t| t.causes[1].id = owned("debris")), Fault::RepeatedCause { cause: cause.clone() }),
        (changed(|t| t.causes[2].weight = -1.0), Fault::BadWeight { cause: cause.clone(), weight: -1.0 }),
        (
            changed(|t| t.causes[2].weight = f64::INFINITY),
            Fault::BadWeight { cause: cause.clone(), weight: f64::INFINITY },
        ),
        (changed(|t| t.remedies[0].id = owned("push")), Fault::RepeatedAction { action: push.clone() }),
        (
            changed(|t| t.checks[0].outcomes[1].label = owned("solid")),
            Fault::RepeatedOutcome { action: push.clone(), outcome: owned("solid") },
        ),
        (changed(|t| t.checks[0].outcomes.truncate(1)), Fault::FewOutcomes { action: push.clone(), outcomes: 1 }),
        (
            changed(|t| t.checks[0].minutes = -0.5),
            Fault::BadMinutes { action: action("push"), of: None, minutes: -0.5 },
        ),
        (
            changed(|t| t.checks[0].outcomes[2].after = 2e9),
            Fault::BadMinutes { action: action("push"), of: Some(owned("solid")), minutes: 2e9 },
        ),
        (
            changed(|t| t.remedies[0].after_lost = -1.0),
            Fault::BadMinutes { action: action("press-home"), of: Some(owned("lost")), minutes: -1.0 },
        ),
        (
            changed(|t| t.start_over.as_mut().expect("it is said").again[0].1 = -40.0),
            Fault::BadMinutes { action: None, of: Some(owned("crooked-hole")), minutes: -40.0 },
        ),
        (
            changed(|t| t.remedies[0].cures.push((owned("rust"), 0.5))),
            Fault::UnknownCause { action: action("press-home"), cause: owned("rust") },
        ),
        (
            changed(|t| t.remedies[0].cures.push((owned("debris"), 0.5))),
            Fault::CauseTwice { action: action("press-home"), cause: cause.clone() },
        ),
        (
            changed(|t| t.start_over.as_mut().expect("it is said").again.push((owned("rust"), 1.0))),
            Fault::UnknownCause { action: None, cause: owned("rust") },
        ),
        (
            changed(|t| {
                t.checks[1].outcomes[0].chance.iter_mut().for_each(|(id, chance)| {
                    *chance = if id == "debris" { 1.5 } else { *chance };
                })
            }),
            Fault::BadChance {
                action: owned("look-in-bore"),
                outcome: owned("clean"),
                cause: cause.clone(),
                chance: 1.5,
            },
        ),
        (
            changed(|t| t.checks[1].outcomes[0].chance.retain(|(id, _)| id != "debris")),
            Fault::BadSum { action: owned("look-in-bore"), cause: cause.clone(), sum: 0.8 + 0.1 },
        ),
        (
            changed(|t| {
                t.remedies[0].loses.iter_mut().for_each(|(id, chance)| {
                    *chance = if id == "debris" { 0.75 } else { *chance };
                })
            }),
            Fault::MoreThanAlways { action: press, cause, sum: 0.35 + 0.75 },
        ),
        (changed(|t| t.start_over = None), Fault::NoStartOver { action: action("twist-with-pliers") }),
        (changed(|t| t.goal = Goal::Identify { confidence: 0.0 }), Fault::BadConfidence { confidence: 0.0 }),
    ];
    for (found, fault) in told {
        assert!(found.contains(&fault), "{fault:?} is not in {found:?}");
        assert!(!fault.to_string().ends_with('.') && fault.to_string().len() > 20, "{fault}");
        if !matches!(
            fault,
            Fault::NoStartOver { .. } | Fault::RepeatedCause { .. } | Fault::NoCause | Fault::BadWeight { .. }
        ) {
            assert_eq!(found.len(), 1, "{found:?}");
        }
    }
}

#[test]
fn all_faults_are_told_at_once_and_in_order() {
    let found = changed(|table| {
        table.causes[0].weight = f64::NAN;
        table.checks[0].minutes = -1.0;
        table.remedies[1].minutes = f64::INFINITY;
        table.goal = Goal::Identify { confidence: 1.5 };
    });
    assert!(
        matches!(
            found.as_slice(),
            [Fault::BadWeight { .. }, Fault::BadMinutes { .. }, Fault::BadMinutes { .. }, Fault::BadConfidence { .. }]
        ),
        "{found:?}"
    );
}

#[test]
fn rows_that_nearly_sum_to_1_are_scaled() {
    let nearly = |by: f64| {
        let mut draft = reference("stuck-tube").draft;
        draft.checks[0].outcomes[0].chance.iter_mut().for_each(|(_, chance)| *chance += by);
        Problem::new(&draft)
    };
    for by in [9e-10, -9e-10] {
        let problem = nearly(by).expect("that is near enough");
        for cause in 0..5 {
            let sum: f64 = problem.actions()[0].outcomes().iter().map(|outcome| outcome.chance(cause)).sum();
            assert!((sum - 1.0).abs() < 1e-15, "{sum}");
        }
    }
    assert_eq!(nearly(2e-9).map_err(|faults| faults.len()), Err(5));
}

#[test]
fn starting_over_need_not_be_said_where_nothing_can_be_lost() {
    let mut draft = reference("sawn-blank").draft;
    draft.start_over = None;
    assert!(Problem::new(&draft).is_err());
    for outcome in draft.checks.iter_mut().flat_map(|check| &mut check.outcomes) {
        outcome.effect = Effect::Continue;
    }
    assert_eq!(Problem::new(&draft).err(), None);
}

/// Whatever numbers stand in a draft, it is a table or has faults.
#[test]
fn no_numbers_make_it_panic() {
    const ODD: [f64; 8] = [f64::NAN, f64::INFINITY, -0.0, 1e308, 5e-324, 1.0, 0.5, -1.0];
    let mut sound = 0;
    for seed in 0..4_000u64 {
        let mut draft = random::small(seed, Goal::Fix);
        let mut dice = random::Dice(seed);
        for cause in &mut draft.causes {
            if dice.chance(20) {
                cause.weight = ODD[dice.within(0, 7)];
            }
        }
        for (_, chance) in draft.remedies.iter_mut().flat_map(|remedy| &mut remedy.cures) {
            if dice.chance(5) {
                *chance = ODD[dice.within(0, 7)];
            }
        }
        if let Ok(problem) = Problem::new(&draft) {
            let plan = stepjig::trouble::plan::plan(&problem, &Findings::none(), &Default::default());
            let plan = plan.expect("nothing was found");
            assert!(plan.exact && plan.minutes.is_finite() && plan.minutes >= 0.0, "seed {seed}: {plan:?}");
            sound += 1;
        }
    }
    assert!((500..4_000).contains(&sound), "{sound}");
}

#[test]
fn what_cannot_be_a_finding_is_told() {
    let problem = reference("stuck-tube").problem;
    let mut findings = Findings::none();
    let unknown = findings.see(&problem, "tap", "solid");
    assert_eq!(unknown, Err(NoFinding::UnknownAction { action: owned("tap") }));
    let unknown = findings.see(&problem, "push", "squeaks");
    assert_eq!(unknown, Err(NoFinding::UnknownOutcome { action: owned("push"), outcome: owned("squeaks") }));
    findings.see(&problem, "push", "solid").expect("both are listed");
    let repeated = findings.see(&problem, "push", "creeps");
    assert_eq!(repeated, Err(NoFinding::Repeated { action: owned("push") }));
    assert_eq!(findings.seen().len(), 1);
}

#[test]
fn odds_are_learned_from_cases() {
    // Odds, what they weigh, cases, and by hand the chances.
    let rows = [
        ([35.0, 20.0, 45.0], 10.0, [0.0, 0.0, 0.0], [0.35, 0.2, 0.45]),
        ([1.0, 1.0, 0.0], 2.0, [3.0, 0.0, 0.0], [0.8, 0.2, 0.0]),
        ([1.0, 0.0, 0.0], 4.0, [0.0, 4.0, 0.0], [0.5, 0.5, 0.0]),
        ([9.0, 1.0, 0.0], 0.0, [1.0, 3.0, 0.0], [0.25, 0.75, 0.0]),
        ([1e308, 1e308, 0.0], 1e308, [1e308, 0.0, 0.0], [0.75, 0.25, 0.0]),
    ];
    for (odds, weighs, cases, expected) in rows {
        let found = blend(&odds, weighs, &cases).expect("it is sound");
        for (found, expected) in found.iter().zip(&expected) {
            assert!((found - expected).abs() < 1e-12, "{found}, not {expected}");
        }
    }
    assert_eq!(blend(&[1.0], 1.0, &[]), Err(LearnError::Lengths { odds: 1, cases: 0 }));
    assert_eq!(blend(&[1.0, -1.0], 1.0, &[0.0, 0.0]), Err(LearnError::BadNumber { cause: Some(1), number: -1.0 }));
    assert_eq!(blend(&[1.0], -1.0, &[0.0]), Err(LearnError::BadNumber { cause: None, number: -1.0 }));
    assert_eq!(blend(&[0.0, 0.0], 5.0, &[0.0, 0.0]), Err(LearnError::Nothing));
}
