//! The policy as a graph, the figures of a table, and the warnings about it.

use super::super::fault_tables::{self, FIX, IDENTIFY, all, list, number, random, reference, text};
use stepjig::trouble::figures::figures;
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Next, NoPolicy, Policy, To, compile};
use stepjig::trouble::problem::{Goal, Problem};
use stepjig::trouble::warnings::{Warning, warnings};

fn policy(problem: &Problem) -> Policy {
    compile(problem, &Findings::none(), &Budget::default(), 10_000).expect("it is small")
}

/// Plays a policy through once for each cause, adding up what each way through costs; returns the mean minutes and
/// the number of ways, ends included, as if nothing were merged.
fn played(problem: &Problem, policy: &Policy) -> (f64, usize) {
    let mut mean = 0.0;
    let mut points = 0;
    for (cause, facts) in problem.causes().iter().enumerate() {
        let (minutes, tree) = from(problem, policy, 0, cause);
        mean += facts.prior() * minutes;
        points = tree;
    }
    (mean, points)
}

fn from(problem: &Problem, policy: &Policy, node: usize, cause: usize) -> (f64, usize) {
    let node = &policy.nodes[node];
    let action = match node.next {
        Next::Do(action) => &problem.actions()[action],
        Next::StartOver => return (problem.start_over(cause).expect("it is said"), 1),
        Next::Stop => return (0.0, 1),
    };
    let mut minutes = action.minutes();
    let mut points = 1;
    for way in &node.ways {
        let chance = action.outcomes()[way.outcome].chance(cause);
        let (rest, below) = match way.to {
            To::Node(to) => from(problem, policy, to, cause),
            To::Fixed => (0.0, 1),
            To::Lost { .. } => (problem.start_over(cause).expect("it is said"), 1),
        };
        minutes += chance * (way.minutes + rest);
        points += below;
    }
    (minutes, points)
}

#[test]
fn a_policy_played_cause_by_cause_takes_the_minutes_that_it_says() {
    for table in all() {
        let policy = fault_tables::policy(table.name);
        let (mean, _) = played(&table.problem, policy);
        let said = policy.nodes[0].minutes;
        assert!((mean - said).abs() <= 1e-9 * said.max(1.0), "{}: {mean}, not {said}", table.name);
    }
    for seed in 0..300 {
        for goal in [Goal::Fix, Goal::Identify { confidence: 0.9 }] {
            let problem = Problem::new(&random::small(seed, goal)).expect("it is sound");
            let policy = policy(&problem);
            let (mean, _) = played(&problem, &policy);
            let said = policy.nodes[0].minutes;
            assert!((mean - said).abs() <= 1e-9 * said.max(1.0), "seed {seed}, {goal:?}: {mean}, not {said}");
        }
    }
}

#[test]
fn the_chances_at_every_node_sum_to_1() {
    for table in all() {
        for node in &fault_tables::policy(table.name).nodes {
            assert!((node.chances.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            let ways: f64 = node.ways.iter().map(|way| way.chance).sum();
            assert!(node.ways.is_empty() || (ways - 1.0).abs() < 1e-12, "{}: {ways}", table.name);
            assert_eq!(node.ways.is_empty(), !matches!(node.next, Next::Do(_)), "{}", table.name);
        }
    }
}

/// The reference counts the nodes where something is decided or one starts over. Where it is not for a tie, the
/// graph has as many.
#[test]
fn the_graphs_are_as_large_as_those_of_the_reference() {
    for table in all() {
        let optimal = &table.expect["optimal"];
        let (Some(states), Some(points)) = (optimal["policy_states"].as_u64(), optimal["policy_tree_nodes"].as_u64())
        else {
            continue;
        };
        let policy = fault_tables::policy(table.name);
        let decided = policy.nodes.iter().filter(|node| node.next != Next::Stop).count() as u64;
        let (_, tree) = played(&table.problem, policy);
        assert_eq!((decided, tree as u64), (states, points), "{}", table.name);
    }
}

#[test]
fn a_graph_that_is_too_large_is_refused() {
    let problem = reference("stuck-tube").problem;
    let refused = compile(&problem, &Findings::none(), &Budget::default(), 5);
    assert_eq!(refused, Err(NoPolicy::TooLarge { most: 5 }));
}

#[test]
fn the_figures_of_a_table() {
    for name in IDENTIFY.into_iter().chain(FIX) {
        let table = reference(name);
        let found = figures(&table.problem, &Budget::default(), 10_000);
        let groups: Vec<Vec<String>> =
            list(&table.expect["ambiguity_groups"]).map(|group| list(group).map(text).collect()).collect();
        let prior = |id: &String| table.problem.causes()[table.problem.cause(id).expect("it is listed")].prior();
        let alone: f64 = groups.iter().filter(|group| group.len() == 1).flatten().map(prior).sum();
        let size: f64 = groups.iter().map(|group| group.len() as f64 * group.iter().map(prior).sum::<f64>()).sum();
        assert!((found.share_isolated - alone).abs() < 1e-12, "{name}: {found:?}");
        assert!((found.mean_group_size - size).abs() < 1e-12, "{name}: {found:?}");
        let minutes =
            if FIX.contains(&name) { found.minutes_to_a_pen.expect("it is to be fixed") } else { found.mean_minutes };
        let least = number(&table.expect["optimal"]["cost"]);
        if !["chest-clinic", "sawn-blank"].contains(&name) {
            assert!((minutes.value - least).abs() <= 1e-7 * least, "{name}: {found:?}");
        }
        assert!(found.worst_walk.expect("it is small") >= least, "{name}: {found:?}");
    }
}

#[test]
fn the_figures_of_one_test_for_each_cause_by_hand() {
    let found = figures(&reference("focused-tests").problem, &Budget::default(), 100);
    // The last two causes share the fifth test.
    assert_eq!((found.mean_checks.value, found.worst_walk), (found.mean_minutes.value, Some(5.0)));
    assert!((found.mean_checks.value - 2.53).abs() < 1e-12 && found.minutes_to_a_pen.is_none());
}

fn warned(name: &'static str) -> Vec<Warning> {
    warnings(&reference(name).problem, Some(fault_tables::policy(name)))
}

#[test]
fn what_is_hardly_meant_is_told() {
    let own = |text: &str| text.to_owned();
    let alike = warned("own-repair");
    let expected: Vec<Warning> =
        ["b", "c", "d", "e"].map(|other| Warning::AlikeButForRemedies { one: own("a"), other: own(other) }).into();
    assert_eq!(alike, expected);
    let told = warned("printer-no-output");
    assert!(told.contains(&Warning::TellsNothing { check: own("busy-time") }), "{told:?}");
    assert!(
        told.contains(&Warning::AlikeButForRemedies { one: own("application"), other: own("data-file") }),
        "{told:?}"
    );
    let problem = reference("pc-trap").problem;
    assert_eq!(warned("pc-trap").iter().filter(|warning| matches!(warning, Warning::NeverBest { .. })).count(), 1);
    assert!(!warnings(&problem, None).iter().any(|warning| matches!(warning, Warning::NeverBest { .. })));
    assert_eq!(warned("stuck-tube"), Vec::new());
}

#[test]
fn a_cause_that_nothing_makes_likeliest_is_told() {
    let mut draft = reference("stuck-tube").draft;
    // Beside the glue it is never seen: all that it shows, the glue shows too, and that is much likelier.
    draft.causes[2].weight = 1e-9;
    let problem = Problem::new(&draft).expect("it is sound");
    let told = warnings(&problem, None);
    assert_eq!(told, [Warning::NeverLikeliest { cause: "debris".to_owned() }]);
}

/// Odds of 3 to 1, and one check: by hand, 3 x 0.4 is above 0.9, and 3 x 0.25 is below.
#[test]
fn a_cause_is_told_though_it_comes_near() {
    let told = |chance: f64| {
        let mut draft = reference("stuck-tube").draft;
        (draft.checks, draft.remedies) = (draft.checks[..1].to_vec(), Vec::new());
        for cause in &mut draft.causes {
            cause.weight = match cause.id.as_str() {
                "debris" => 3.0,
                "tight-hole" => 1.0,
                _ => 0.0,
            };
        }
        let chances = [("debris", [chance, 1.0 - chance, 0.0]), ("tight-hole", [0.9, 0.1, 0.0])];
        for (n, outcome) in draft.checks[0].outcomes.iter_mut().enumerate() {
            for (id, given) in &mut outcome.chance {
                let own = chances.iter().find(|(cause, _)| cause == id);
                *given = own.map_or([1.0, 0.0, 0.0][n], |(_, chances)| chances[n]);
            }
        }
        warnings(&Problem::new(&draft).expect("it is sound"), None)
    };
    assert_eq!(told(0.4), [Warning::NeverLikeliest { cause: "tight-hole".to_owned() }]);
    assert_eq!(told(0.25), []);
}
