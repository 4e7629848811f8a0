//! The fewest walks of made-up guides, loops and trouble among their ways.

use std::collections::BTreeSet;
use std::fmt::Write;

use proptest::prelude::*;
use stepjig::check::cover::{Cover, cover};
use stepjig::finding::Source;
use stepjig::guide::{Guide, Kind, Library, StepIdx};

use super::brute_force::{fewest, ways};

/// A step: where its answers lead, `None` into trouble; a step without answers is an end.
type Answers = Vec<Option<usize>>;

fn guide(steps: &[Answers]) -> Guide {
    // A linked guide may name a fault table that is nowhere.
    let mut text = String::from("stepjig = 1\nlinked = true\n[guide]\nid = \"g\"\ntitle = \"Made up\"\n");
    for (n, answers) in steps.iter().enumerate() {
        write!(text, "[[step]]\nid = \"s{n}\"\n").expect("a string takes it");
        let to = |to: &Option<usize>| to.map_or("trouble = \"t\"".to_owned(), |to| format!("to = \"s{to}\""));
        match answers.as_slice() {
            [] => text.push_str(if n % 2 == 0 { "end = \"finished\"\n" } else { "end = \"scrap\"\n" }),
            [Some(only)] => writeln!(text, "do = \"Wipe it.\"\nthen = \"s{only}\"").expect("a string takes it"),
            _ => {
                text.push_str("ask = \"What is seen?\"\nanswers = [\n");
                for (answer, leads) in answers.iter().enumerate() {
                    writeln!(text, "  {{ say = \"sign {answer}\", {} }},", to(leads)).expect("a string takes it");
                }
                text.push_str("]\n");
            }
        }
    }
    let linked = Library::empty().link(&Source::new("g.toml", text.clone()));
    linked.guide.unwrap_or_else(|| panic!("{:?}\n{text}", linked.findings))
}

/// Made-up steps: so many, with so many answers at most; the last is an end.
fn steps(most: usize, most_answers: usize) -> impl Strategy<Value = Vec<Answers>> {
    (2..=most).prop_flat_map(move |n| {
        let answer = prop_oneof![1 => Just(None), 9 => (0..n).prop_map(Some)];
        let answers = prop::collection::vec(answer, 0..=most_answers);
        (prop::collection::vec(answers, n - 1), prop::collection::vec(0..n, n - 1)).prop_map(|(mut steps, leads)| {
            for (answers, to) in steps.iter_mut().zip(leads) {
                // A step with one answer is a `do`, which leads somewhere.
                if answers.len() == 1 {
                    answers[0] = Some(to);
                }
            }
            steps.push(Vec::new());
            steps
        })
    })
}

/// Checks that each walk is one, that they take every way and every trouble by it, and that the ways that are said to
/// be apart are.
fn holds_together(guide: &Guide, cover: &Cover) -> Result<(), TestCaseError> {
    let all = ways(guide);
    let mut taken = BTreeSet::new();
    for route in &cover.routes {
        let mut here = guide.first();
        for way in &route.ways {
            prop_assert_eq!(guide.way(*way).from, here, "a walk goes on from where it is");
            here = guide.way(*way).to.unwrap_or(here);
            taken.insert(*way);
        }
        prop_assert!(matches!(guide.step(here).kind, Kind::End(_)), "a walk ends at an end");
    }
    let walked: BTreeSet<StepIdx> = all.iter().map(|(_, from, _)| *from).collect();
    let trouble = guide.steps().flat_map(|(idx, _)| guide.ways_out_idx(idx));
    let trouble = trouble.filter(|way| guide.way(*way).to.is_none() && walked.contains(&guide.way(*way).from));
    let wanted: BTreeSet<_> = all.iter().map(|(way, _, _)| *way).chain(trouble).collect();
    prop_assert_eq!(&taken, &wanted);
    if !all.is_empty() {
        prop_assert!(cover.is_smallest());
        prop_assert_eq!(cover.witness.len(), cover.routes.len());
    }
    for one in &cover.witness {
        let mut reached = BTreeSet::from([guide.way(*one).to.expect("it leads somewhere")]);
        while let Some((_, _, to)) = all.iter().find(|(_, from, to)| reached.contains(from) && !reached.contains(to)) {
            reached.insert(*to);
        }
        for other in &cover.witness {
            prop_assert!(!reached.contains(&guide.way(*other).from), "a walk takes both {one:?} and {other:?}");
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_fewer_and_no_shorter_walks_are_found_by_looking_at_all_of_them(steps in steps(6, 3)) {
        let guide = guide(&steps);
        prop_assume!(ways(&guide).len() <= 10);
        let cover = cover(&guide);
        holds_together(&guide, &cover)?;
        let to_steps = |route: &stepjig::check::cover::Route| {
            route.ways.iter().filter(|way| guide.way(**way).to.is_some()).count()
        };
        let length: usize = cover.routes.iter().map(to_steps).sum();
        prop_assert_eq!(Some((cover.routes.len(), length)).filter(|(number, _)| *number > 0), fewest(&guide));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn of_a_larger_guide_as_many_ways_lie_apart_as_there_are_walks(steps in steps(150, 4)) {
        let guide = guide(&steps);
        holds_together(&guide, &cover(&guide))?;
    }
}

#[test]
fn a_guide_whose_first_step_is_its_end_has_one_walk_and_one_that_cannot_end_has_none() {
    let only_end = cover(&guide(&[vec![]]));
    assert_eq!((only_end.routes.len(), only_end.n_ways(), only_end.is_smallest()), (1, 0, true));
    let round = cover(&guide(&[vec![Some(0), Some(0)], vec![]]));
    assert_eq!((round.routes.len(), round.bound()), (0, 0));
}

/// A question with three answers to the same step, and a loop of two that any walk takes: three walks, by hand.
#[test]
fn loops_are_taken_on_the_way_and_answers_side_by_side_want_a_walk_each() {
    let guide = guide(&[vec![Some(1), Some(1), Some(1)], vec![Some(0), Some(2)], vec![]]);
    // 0 and 1 go round: one walk takes all three answers and the way back twice, and then ends.
    assert_eq!((cover(&guide).routes.len(), cover(&guide).n_ways()), (1, 6));
    let guide = self::guide(&[vec![Some(1), Some(1), Some(1)], vec![Some(1), Some(2)], vec![]]);
    assert_eq!((cover(&guide).routes.len(), cover(&guide).n_ways()), (3, 7));
}
