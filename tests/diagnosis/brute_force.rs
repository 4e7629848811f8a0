//! Small made-up tables against the definition followed word for word.

use super::super::fault_tables::naive::Naive;
use super::super::fault_tables::random;
use proptest::prelude::*;
use stepjig::trouble::belief::Belief;
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Next, bounds, compile, plan};
use stepjig::trouble::problem::{Draft, Goal, Problem};

fn goal(n: u8) -> Goal {
    match n {
        0 | 1 => Goal::Fix,
        2 => Goal::Identify { confidence: 1.0 },
        _ => Goal::Identify { confidence: 0.8 },
    }
}

fn sound(draft: &Draft) -> Problem {
    Problem::new(draft).unwrap_or_else(|faults| panic!("{faults:?}\n{draft:#?}"))
}

/// All outcomes of all actions at once, each with its chance together with each cause: with four actions of three
/// outcomes 81 of them. The belief after some findings is a sum over those that agree with them.
fn by_enumeration(naive: &Naive, findings: &[(usize, usize)]) -> (f64, Vec<f64>) {
    let mut joint = vec![0.0; naive.prior.len()];
    let sizes: Vec<usize> = naive.actions.iter().map(|action| action.outcomes.len()).collect();
    for mut world in 0..sizes.iter().product::<usize>() {
        let mut shown = Vec::new();
        for size in &sizes {
            shown.push(world % size);
            world /= size;
        }
        if findings.iter().all(|(action, outcome)| shown[*action] == *outcome) {
            for (cause, joint) in joint.iter_mut().enumerate() {
                let rows = naive.actions.iter().zip(&shown).map(|(action, shown)| action.outcomes[*shown].row[cause]);
                *joint += naive.prior[cause] * rows.product::<f64>();
            }
        }
    }
    let evidence: f64 = joint.iter().sum();
    (evidence, joint.iter().map(|joint| joint / evidence).collect())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn beliefs_are_those_of_all_outcomes_enumerated(seed in any::<u64>(), order in any::<u64>()) {
        let draft = random::small(seed, Goal::Fix);
        let (problem, naive) = (sound(&draft), Naive::new(&draft));
        let mut dice = random::Dice(order);
        let mut findings = Findings::none();
        let mut seen = Vec::new();
        for _ in 0..dice.within(0, naive.actions.len()) {
            let action = dice.within(0, naive.actions.len() - 1);
            let outcome = dice.within(0, naive.actions[action].outcomes.len() - 1);
            let (id, label) = (&naive.actions[action].id, &naive.actions[action].outcomes[outcome].label);
            if findings.see(&problem, id, label).is_ok() {
                seen.push((action, outcome));
            }
        }
        let (evidence, chances) = by_enumeration(&naive, &seen);
        match Belief::after(&problem, &findings) {
            Err(_) => prop_assert_eq!(evidence, 0.0),
            Ok(belief) => {
                prop_assert!((belief.evidence() - evidence).abs() <= 1e-12, "{} {}", belief.evidence(), evidence);
                for (cause, chance) in chances.iter().enumerate() {
                    prop_assert!((belief.chance(cause) - chance).abs() <= 1e-12);
                }
                let lowest = belief.chances().iter().filter(|chance| **chance > 0.0).count();
                prop_assert_eq!(belief.support().len(), lowest);
                prop_assert!(belief.entropy() <= (lowest as f64).log2() + 1e-12);
            }
        }
    }

    #[test]
    fn plans_are_those_of_the_definition(seed in any::<u64>(), kind in 0..4u8) {
        let draft = random::small(seed, goal(kind));
        let (problem, naive) = (sound(&draft), Naive::new(&draft));
        let (least, each) = naive.solve();
        let plan = plan(&problem, &Findings::none(), &Budget::default()).expect("nothing was found");
        prop_assert!(plan.exact);
        prop_assert!((plan.minutes - least).abs() <= 1e-9 * least.max(1.0), "{} {}", plan.minutes, least);
        let next = |action: &Option<usize>| action.map_or(Next::StartOver, Next::Do);
        let near = |slack: f64| -> Vec<Next> {
            let tied = each.iter().filter(|(_, minutes)| *minutes <= least + slack * (1.0 + least));
            tied.map(|(action, _)| next(action)).collect()
        };
        // Rounding may decide what lies just at the edge of a tie.
        if near(2e-9) == near(5e-10) {
            let tied = if each.is_empty() { vec![Next::Stop] } else { near(1e-9) };
            prop_assert_eq!(&plan.tied, &tied);
        }
        let bounds = bounds(&problem, &Findings::none()).expect("nothing was found");
        prop_assert!(bounds.best <= least + 1e-9 * least.max(1.0), "{bounds:?} {least}");
        let policy = compile(&problem, &Findings::none(), &Budget::default(), 10_000).expect("it is small");
        prop_assert!((policy.nodes[0].minutes - least).abs() <= 1e-9 * least.max(1.0));
        prop_assert_eq!(policy.nodes[0].next, plan.next);
    }

    #[test]
    fn a_search_that_is_stopped_stays_between_its_bounds(seed in any::<u64>(), kind in 0..4u8, work in 0..1_000u64) {
        let draft = random::small(seed, goal(kind));
        let problem = sound(&draft);
        let (least, _) = Naive::new(&draft).solve();
        let plan = plan(&problem, &Findings::none(), &Budget::of(work)).expect("nothing was found");
        let slack = 1e-9 * least.max(1.0);
        prop_assert!(plan.bound <= least + slack && least <= plan.minutes + slack, "{least} {plan:?}");
        let policy = compile(&problem, &Findings::none(), &Budget::of(work), 10_000).expect("it is small");
        prop_assert!(policy.nodes[0].minutes <= plan.minutes + slack, "{} {plan:?}", policy.nodes[0].minutes);
        prop_assert!(policy.nodes[0].minutes >= least - slack);
    }
}
