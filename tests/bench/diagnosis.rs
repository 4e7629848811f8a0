//! How long fault diagnosis takes: the tables of a shop, noisy ones, and ones far larger than any shop has.
//!
//! Prints the median of a few runs, and of what was not proved how far it may be from the best:
//! `cargo bench --bench diagnosis`.

#[path = "../fault_tables/mod.rs"]
mod fault_tables;

use std::hint::black_box;
use std::time::{Duration, Instant};

use fault_tables::random::Dice;
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Plan, next_by_rule, plan};
use stepjig::trouble::problem::{
    CauseDraft, CheckDraft, Draft, Effect, Goal, OutcomeDraft, Problem, RemedyDraft, StartOverDraft,
};

const TIMES: usize = 5;

/// How large a table is, and how many outcomes each check has.
#[derive(Clone, Copy)]
struct Shape {
    causes: usize,
    checks: usize,
    remedies: usize,
    outcomes: usize,
}

/// A table whose checks are right in 70 to 98 of 100 cases, and whose remedies fix four causes in ten with a chance
/// of 50 to 95 in 100, the others hardly, and lose the blank in up to 5 of 100.
fn noisy(seed: u64, shape: Shape) -> Problem {
    let mut dice = Dice(seed);
    let causes = causes(&mut dice, shape.causes);
    let ids: Vec<String> = causes.iter().map(|cause| cause.id.clone()).collect();
    let mut checks = Vec::new();
    for n in 0..shape.checks {
        let rows: Vec<Vec<f64>> = ids
            .iter()
            .map(|_| {
                let shown = dice.within(0, shape.outcomes - 1);
                let right = 0.7 + 0.28 * dice.share();
                let wrong = (1.0 - right) / (shape.outcomes - 1) as f64;
                (0..shape.outcomes).map(|outcome| if outcome == shown { right } else { wrong }).collect()
            })
            .collect();
        checks.push(check(n, 0.5 + 3.0 * dice.share(), shape.outcomes, &ids, |cause, outcome| rows[cause][outcome]));
    }
    let mut remedies = Vec::new();
    for n in 0..shape.remedies {
        let cures = |dice: &mut Dice| if dice.chance(40) { 0.5 + 0.45 * dice.share() } else { 0.1 * dice.share() };
        remedies.push(RemedyDraft {
            id: format!("remedy-{n}"),
            minutes: 2.0 + 18.0 * dice.share(),
            cures: ids.iter().map(|id| (id.clone(), cures(&mut dice))).collect(),
            loses: ids.iter().map(|id| (id.clone(), 0.05 * dice.share())).collect(),
            after_fixed: 0.0,
            after_lost: 0.0,
        });
    }
    let start_over = Some(StartOverDraft { minutes: 45.0, after: 0.0, again: Vec::new() });
    sound(&Draft { goal: Goal::Fix, causes, checks, remedies, start_over })
}

/// A table of sure checks with two outcomes each, at 1 minute or at 1 to 10.
fn sure(seed: u64, causes_and_checks: usize, unequal: bool) -> Problem {
    let mut dice = Dice(seed);
    let causes = causes(&mut dice, causes_and_checks);
    let ids: Vec<String> = causes.iter().map(|cause| cause.id.clone()).collect();
    let mut checks = Vec::new();
    for n in 0..causes_and_checks {
        let rows: Vec<bool> = ids.iter().map(|_| dice.chance(50)).collect();
        let minutes = if unequal { 1.0 + 9.0 * dice.share() } else { 1.0 };
        checks.push(check(n, minutes, 2, &ids, |cause, outcome| f64::from(u8::from(rows[cause] == (outcome == 0)))));
    }
    sound(&Draft { goal: Goal::Identify { confidence: 1.0 }, causes, checks, remedies: Vec::new(), start_over: None })
}

fn causes(dice: &mut Dice, causes: usize) -> Vec<CauseDraft> {
    (0..causes).map(|n| CauseDraft { id: format!("cause-{n}"), weight: 1.0 + 9.0 * dice.share() }).collect()
}

fn check(n: usize, minutes: f64, outcomes: usize, ids: &[String], chance: impl Fn(usize, usize) -> f64) -> CheckDraft {
    let outcome = |outcome: usize| OutcomeDraft {
        label: format!("shows {outcome}"),
        effect: Effect::Continue,
        after: 0.0,
        chance: ids.iter().enumerate().map(|(cause, id)| (id.clone(), chance(cause, outcome))).collect(),
    };
    CheckDraft { id: format!("check-{n}"), minutes, outcomes: (0..outcomes).map(outcome).collect() }
}

fn sound(draft: &Draft) -> Problem {
    Problem::new(draft).unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// Returns the median time of a few runs, and what the last returned.
fn timed<R>(mut run: impl FnMut() -> R) -> (Duration, R) {
    let mut taken = Vec::new();
    let mut last = None;
    for _ in 0..TIMES {
        let start = Instant::now();
        last = Some(black_box(run()));
        taken.push(start.elapsed());
    }
    taken.sort();
    (taken[TIMES / 2], last.expect("it ran"))
}

fn planned(name: &str, problem: &Problem, budget: &Budget<'_>, aim: &str) {
    let (taken, plan): (_, Plan) = timed(|| plan(problem, &Findings::none(), budget).expect("nothing was found"));
    let proof = match plan.exact {
        true => "proved".to_owned(),
        false => format!("within {:.2} %", 100.0 * (plan.minutes / plan.bound - 1.0)),
    };
    println!("{name:<44} {taken:>10.1?}  {:>9.4} min  {proof}, {} of work   ({aim})", plan.minutes, plan.work);
}

fn main() {
    // A filter, as for tests: only what has these words in its name is measured.
    let only: Vec<String> = std::env::args().skip(1).filter(|argument| !argument.starts_with('-')).collect();
    let is_wanted = |name: &str| only.is_empty() || only.iter().any(|words| name.contains(words.as_str()));
    for table in fault_tables::all().filter(|table| is_wanted(table.name)) {
        planned(table.name, &table.problem, &Budget::default(), "50 ms");
    }
    for (outcomes, work) in [(2, 8_000_000), (3, 80_000_000)] {
        for seed in 0..3 {
            let name = format!("noisy 12 x 10 of {outcomes} outcomes + 6, seed {seed}");
            if is_wanted(&name) {
                let problem = noisy(seed, Shape { causes: 12, checks: 10, remedies: 6, outcomes });
                planned(&name, &problem, &Budget::of(work), "1 s");
            }
        }
    }
    for (size, unequal, work, aim) in [
        (1_000, false, 0, "within 1 % in 1 s"),
        (200, false, 0, ""),
        (200, true, 0, ""),
        (200, true, 64_000_000, "a few s"),
    ] {
        let name = format!("sure {size} x {size}{}, {work} of work", if unequal { ", unequal minutes" } else { "" });
        if is_wanted(&name) {
            planned(&name, &sure(1, size, unequal), &Budget::of(work), aim);
        }
    }
    if is_wanted("next check") {
        let problem = sure(1, 1_000, true);
        let (taken, next) = timed(|| next_by_rule(&problem, &Findings::none()).expect("nothing was found"));
        println!("{:<44} {taken:>10.1?}  {next:?}   (1 ms)", "next check, sure 1000 x 1000");
    }
}
