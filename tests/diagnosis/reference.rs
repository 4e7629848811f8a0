//! The thirteen tables under `tests/data/diagnosis`, whose answers were found in exact rational arithmetic.
//!
//! Each file names its source. The published ones: `pattipati-1990` is the example with six states and five tests of
//! Pattipati and Alexandridis (IEEE Transactions on Systems, Man, and Cybernetics 20(4), 1990), `casebase-1999-table1`
//! and `-table3` are from Balakrishnan and Semmelbauer (Decision Support Systems, 1999), and `focused-tests` is the
//! special case of their section 4.1.1; `chest-clinic` is the network of Lauritzen and Spiegelhalter (1988);
//! `own-repair` is the setting of Kadane and Simon (1977) and Heckerman, Breese and Rommelse (1995); `start-problem` is
//! a textbook exercise.

use super::super::fault_tables::{self, Reference, all, findings, list, number, reference, text};
use stepjig::trouble::belief::{Belief, ambiguity_groups};
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Next, Rule, bounds, by_rule, plan};
use stepjig::trouble::problem::{Goal, Problem};

fn close(name: &str, found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack * expected.abs().max(1.0), "{name}: {found}, not {expected}");
}

fn named(problem: &Problem, next: Next) -> String {
    match next {
        Next::Do(action) => problem.actions()[action].id().to_owned(),
        Next::StartOver => "start over".to_owned(),
        Next::Stop => "stop".to_owned(),
    }
}

/// To 1e-9 of the minutes, but for a table whose answer is not known that well.
fn slack(table: &Reference) -> f64 {
    table.expect["optimal"]["tolerance"].as_f64().unwrap_or(1e-9)
}

#[test]
fn posteriors_and_evidence() {
    let mut states = 0;
    for table in all() {
        for (n, state) in list(&table.expect["states"]).enumerate() {
            let name = format!("{}, state {n}", table.name);
            let findings = findings(&table.problem, state);
            let belief = match Belief::after(&table.problem, &findings) {
                Err(_) if state["contradiction"] == true => continue,
                belief => belief.unwrap_or_else(|wrong| panic!("{name}: {wrong}")),
            };
            assert!((belief.evidence() - number(&state["evidence"])).abs() <= 1e-12, "{name}: {}", belief.evidence());
            for (cause, chance) in state["posterior"].as_object().expect("a posterior") {
                let found = belief.chance(table.problem.cause(cause).expect("a cause"));
                assert!((found - number(chance)).abs() <= 1e-12, "{name}, {cause}: {found}, not {chance}");
            }
            states += 1;
        }
    }
    assert!(states > 50, "{states}");
}

#[test]
fn minutes_to_go_and_all_tied_actions_after_findings() {
    let mut solved = 0;
    for table in all() {
        for (n, state) in list(&table.expect["states"]).enumerate() {
            let Some(minutes) = state["cost_to_go"].as_f64() else { continue };
            let name = format!("{}, state {n}", table.name);
            let findings = findings(&table.problem, state);
            let plan = plan(&table.problem, &findings, &Budget::default()).expect("it can happen");
            assert!(plan.exact, "{name}: {plan:?}");
            close(&name, plan.minutes, minutes, 1e-9);
            let tied: Vec<String> = plan.tied.iter().map(|next| named(&table.problem, *next)).collect();
            let mut best: Vec<String> = list(&state["best_next"]).map(|next| text(next).replace('_', " ")).collect();
            if best.is_empty() {
                best.push("stop".to_owned());
            }
            assert_eq!(tied, best, "{name}");
            solved += 1;
        }
    }
    assert!(solved > 40, "{solved}");
}

#[test]
fn the_first_impossible_finding_is_named() {
    let table = reference("pattipati-1990");
    let mut findings = Findings::none();
    for (check, outcome) in [("t1", "fail"), ("t2", "pass"), ("t5", "pass"), ("t3", "pass")] {
        findings.see(&table.problem, check, outcome).expect("both are listed");
    }
    let contradiction = Belief::after(&table.problem, &findings).expect_err("no state explains it");
    assert_eq!((contradiction.action.as_str(), contradiction.outcome.as_str()), ("t5", "pass"));
    assert_eq!(plan(&table.problem, &findings, &Budget::default()), Err(contradiction));
}

#[test]
fn the_least_minutes_and_the_first_actions() {
    for table in all() {
        let plan = plan(&table.problem, &Findings::none(), &Budget::default()).expect("nothing was found");
        let optimal = &table.expect["optimal"];
        assert!(plan.exact, "{}: {plan:?}", table.name);
        close(table.name, plan.minutes, number(&optimal["cost"]), slack(&table));
        let tied: Vec<String> = plan.tied.iter().map(|next| named(&table.problem, *next)).collect();
        assert_eq!(tied, list(&optimal["first"]).map(text).collect::<Vec<_>>(), "{}", table.name);
        assert_eq!(plan.next, plan.tied[0], "{}", table.name);
    }
}

#[test]
fn simple_rules_take_what_they_take() {
    for table in all() {
        for (key, rule) in [("greedy", Rule::Greedy), ("rollout", Rule::RolledOut), ("pc", Rule::RemediesAlone)] {
            let expected = &table.expect[key];
            if expected.is_null() {
                assert!(key != "greedy", "{}", table.name);
                continue;
            }
            let found = by_rule(&table.problem, &Findings::none(), rule).expect("nothing was found");
            let found = found.unwrap_or_else(|| panic!("{}: no {key}", table.name));
            close(&format!("{}, {key}", table.name), found.minutes, number(&expected["cost"]), 1e-9);
            if let Some(first) = expected["first"].as_str() {
                assert_eq!(named(&table.problem, found.next), first.replace('_', " "), "{}, {key}", table.name);
            }
        }
    }
}

#[test]
fn bounds_are_below_the_least_minutes() {
    for table in all() {
        let bounds = bounds(&table.problem, &Findings::none()).expect("nothing was found");
        let least = number(&table.expect["optimal"]["cost"]);
        assert!(bounds.best <= least * (1.0 + slack(&table)), "{}: {bounds:?}", table.name);
        let expected = &table.expect["lower_bounds"];
        if let Some(told) = expected["told_the_cause"].as_f64() {
            close(table.name, bounds.told_the_cause.expect("the pen is to be fixed"), told, 1e-9);
        }
        if let Some(minutes) = expected["huffman_cost"].as_f64() {
            close(table.name, bounds.best, minutes, 1e-9);
        }
    }
}

/// Where every remedy is sure and fixes one cause, and there are no checks, pairs of causes say all.
#[test]
fn pairs_of_causes_say_all_where_each_remedy_fixes_one() {
    let table = reference("own-repair");
    let mut draft = table.draft.clone();
    // A chance that is not sure keeps the table off the sets of causes: it is then seen through its pairs.
    draft.remedies[0].cures[0].1 = 1.0 - 1e-9;
    let problem = Problem::new(&draft).expect("it is sound");
    let bounds = bounds(&problem, &Findings::none()).expect("nothing was found");
    close("own-repair", bounds.best, 16.65, 1e-6);
}

#[test]
fn the_policy_from_the_start_has_the_least_minutes() {
    for table in all() {
        let policy = fault_tables::policy(table.name);
        let optimal = &table.expect["optimal"];
        assert!(policy.exact, "{}", table.name);
        close(table.name, policy.nodes[0].minutes, number(&optimal["cost"]), slack(&table));
        let first = named(&table.problem, policy.nodes[0].next);
        assert_eq!(Some(first), list(&optimal["first"]).map(text).next(), "{}", table.name);
    }
}

#[test]
fn ambiguity_groups_are_found() {
    for table in all() {
        let id = |cause: &usize| table.problem.causes()[*cause].id().to_owned();
        let found: Vec<Vec<String>> =
            ambiguity_groups(&table.problem).iter().map(|group| group.iter().map(id).collect()).collect();
        let expected: Vec<Vec<String>> =
            list(&table.expect["ambiguity_groups"]).map(|group| list(group).map(text).collect()).collect();
        assert_eq!(found, expected, "{}", table.name);
    }
}

#[test]
fn the_goal_is_read() {
    assert!(matches!(reference("sawn-blank").problem.goal(), Goal::Identify { confidence: 0.9 }));
}
