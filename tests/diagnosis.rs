//! Fault diagnosis against its reference tables, against brute force, and against what must hold for any table.

mod fault_tables;

use fault_tables::{all, findings, list, number, reference, text};
use stepjig::trouble::belief::{Belief, ambiguity_groups};
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Next, plan};
use stepjig::trouble::problem::Problem;

fn close(name: &str, found: f64, expected: f64) {
    let slack = 1e-9 * (1.0 + expected.abs());
    assert!((found - expected).abs() <= slack, "{name}: {found}, not {expected}");
}

fn named(problem: &Problem, next: Next) -> String {
    match next {
        Next::Do(action) => problem.actions()[action].id().to_owned(),
        Next::StartOver => "start over".to_owned(),
        Next::Stop => "stop".to_owned(),
    }
}

#[test]
fn posteriors_evidence_and_minutes_to_go_are_those_of_the_reference() {
    for table in all() {
        for (n, state) in list(&table.expect["states"]).enumerate() {
            let name = format!("{}, state {n}", table.name);
            let findings = findings(&table.problem, state);
            let belief = Belief::after(&table.problem, &findings).expect("it can happen");
            assert!((belief.evidence() - number(&state["evidence"])).abs() <= 1e-12, "{name}");
            for (cause, chance) in state["posterior"].as_object().expect("a posterior") {
                let found = belief.chance(table.problem.cause(cause).expect("a cause"));
                assert!((found - number(chance)).abs() <= 1e-12, "{name}, {cause}: {found}, not {chance}");
            }
            let Some(minutes) = state["cost_to_go"].as_f64() else { continue };
            let plan = plan(&table.problem, &findings, &Budget::default()).expect("it can happen");
            assert!(plan.exact, "{name}: {plan:?}");
            close(&name, plan.minutes, minutes);
            let tied: Vec<String> = plan.tied.iter().map(|next| named(&table.problem, *next)).collect();
            let mut best: Vec<String> = list(&state["best_next"]).map(text).collect();
            if best.is_empty() {
                best.push("stop".to_owned());
            }
            assert_eq!(tied, best, "{name}");
        }
    }
}

#[test]
fn the_least_minutes_and_the_first_actions_are_those_of_the_reference() {
    for table in all() {
        let plan = plan(&table.problem, &Findings::none(), &Budget::default()).expect("nothing was found");
        println!("{} {plan:?}", table.name);
        let optimal = &table.expect["optimal"];
        let expected = number(&optimal["cost"]);
        let slack = optimal["tolerance"].as_f64().unwrap_or(1e-9) * (1.0 + expected);
        assert!(plan.exact && (plan.minutes - expected).abs() <= slack, "{}: {plan:?}", table.name);
        let tied: Vec<String> = plan.tied.iter().map(|next| named(&table.problem, *next)).collect();
        assert_eq!(tied, list(&optimal["first"]).map(text).collect::<Vec<_>>(), "{}", table.name);
    }
}

#[test]
fn ambiguity_groups_are_those_of_the_reference() {
    for table in all() {
        let id = |cause: &usize| table.problem.causes()[*cause].id().to_owned();
        let found: Vec<Vec<String>> =
            ambiguity_groups(&table.problem).iter().map(|group| group.iter().map(id).collect()).collect();
        let expected: Vec<Vec<String>> =
            list(&table.expect["ambiguity_groups"]).map(|group| list(group).map(text).collect()).collect();
        assert_eq!(found, expected, "{}", table.name);
    }
}
