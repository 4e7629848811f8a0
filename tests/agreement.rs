//! The program against an independent reading of its definitions, over made-up guides: finding by finding, rejoin by
//! rejoin.
//!
//! Deliberately independent and slow, see `oracle/mod.rs`. `STEPJIG_SEEDS=100..200` chooses other seeds.

mod oracle;

use std::collections::{BTreeMap, BTreeSet};
use std::{env, ops::Range, thread};

use oracle::flow::{self, Finding};
use oracle::model::{Guide, Set};
use oracle::random::{self, Dice};
use oracle::{adapter, rejoin, toml, walk};

/// The codes that the oracle reports; the lint rules of wording are not its business.
const COMPARED: [&str; 11] = [
    "unreachable",
    "no-way-out",
    "no-finish",
    "need-unmet",
    "never-given",
    "one-way-unguarded",
    "end-unguarded",
    "missing-way",
    "idle-step",
    "idle-gate",
    "unworded",
];

/// Codes that a well-formed file never has: one of these means that it was misread.
const MISREAD: [&str; 16] = [
    "syntax",
    "unknown-key",
    "missing-key",
    "wrong-type",
    "bad-value",
    "duplicate-id",
    "two-kinds",
    "no-such-step",
    "no-such-procedure",
    "no-such-trouble",
    "no-such-value",
    "no-such-reckoning",
    "run-loop",
    "one-answer",
    "duplicate-answer",
    "reserved-answer",
];

#[test]
fn wild_guides_have_the_same_findings() {
    for_each_seed(0..2000, |seed| same_findings(&random::wild(seed)));
}

#[test]
fn clean_guides_have_the_same_findings_and_rejoins() {
    for_each_seed(0..1000, |seed| {
        let guide = random::clean(seed);
        same_findings(&guide)?;
        let mut dice = Dice(seed);
        (0..3).try_for_each(|_| same_rejoin(&guide, &random::held(&guide, &mut dice)))
    });
}

/// The oracle's own promise, played out: in a clean guide no walk, and no rejoin, meets an unmet need.
#[test]
fn the_oracle_keeps_its_promise() {
    for_each_seed(0..300, |seed| {
        let (guide, mut dice) = (random::clean(seed), Dice(seed));
        for _ in 0..4 {
            walk::from_start(&guide, &mut dice)?;
            let held = random::held(&guide, &mut dice);
            if let Some(found) = rejoin::rejoin(&guide, &held) {
                walk::picked_up(&guide, &mut dice, &found.step, &held).map_err(|e| format!("{e}; {held:?}"))?;
            }
        }
        Ok(())
    });
}

/// The oracle's two ways to say what holds: the fixpoint over sets, and a search for a walk that arrives without.
#[test]
fn the_oracle_agrees_with_itself() {
    for_each_seed(0..100, |seed| {
        let guide = random::wild(seed);
        let edges = flow::edges(&guide);
        let holds = flow::forward(&guide, &edges);
        guide.conditions().iter().try_for_each(|condition| {
            let lens = flow::shortest_lens(&guide, &edges, condition);
            match holds.iter().find(|(step, holds)| holds.contains(condition) == lens.contains_key(*step)) {
                Some((step, _)) => Err(format!("{condition} at {step}")),
                None => Ok(()),
            }
        })
    });
}

fn same_findings(guide: &Guide) -> Result<(), String> {
    let (expected, found) = (flow::findings(guide), adapter::findings(&toml::render(guide)));
    if let Some(misread) = found.iter().find(|f| MISREAD.contains(&f.code.as_str())) {
        return Err(format!("the file was misread: {misread:?}"));
    }
    let (expected, keys) = (keys(&expected), keys(&found));
    if expected != keys {
        let missing: Vec<_> = expected.difference(&keys).collect();
        let extra: Vec<_> = keys.difference(&expected).collect();
        return Err(format!("missing: {missing:?}\nextra: {extra:?}"));
    }
    let edges = flow::edges(guide);
    let mut lens = BTreeMap::new();
    found.iter().filter(|f| f.code == "need-unmet").try_for_each(|f| {
        let (step, condition, walk) = whole(f)?;
        let shortest = lens.entry(condition).or_insert_with(|| flow::shortest_lens(guide, &edges, condition));
        if walk.last() != Some(step) || !flow::walk_is_valid(guide, &edges, walk, condition) {
            return Err(format!("no such walk, or it has what is said to be missing: {f:?}"));
        }
        match shortest[step] {
            len if len == walk.len() => Ok(()),
            len => Err(format!("the shortest walk has {len} steps: {f:?}")),
        }
    })
}

fn whole(finding: &Finding) -> Result<(&String, &String, &Vec<String>), String> {
    match finding {
        Finding { step: Some(step), condition: Some(condition), walk: Some(walk), .. } => Ok((step, condition, walk)),
        _ => Err(format!("a step, a condition and a walk are wanted: {finding:?}")),
    }
}

/// What is compared of a finding; where a missing word is reported does not matter.
fn keys(findings: &[Finding]) -> BTreeSet<(String, Option<String>, Option<String>)> {
    let compared = findings.iter().filter(|f| COMPARED.contains(&f.code.as_str()));
    let place = |f: &Finding| if f.code == "unworded" { None } else { f.step.clone() };
    compared.map(|f| (f.code.clone(), place(f), f.condition.clone())).collect()
}

fn same_rejoin(guide: &Guide, held: &Set) -> Result<(), String> {
    let names: Vec<&str> = held.iter().map(String::as_str).collect();
    let (expected, found) = (rejoin::rejoin(guide, held), adapter::rejoin(&toml::render(guide), &names));
    let same = match (&expected, &found) {
        (None, None) => true,
        (Some(e), Some((step, minutes, again))) => {
            let minutes_of_way = rejoin::cost_of_way(guide, held, again);
            let right_way = again.first() == Some(step) && minutes_of_way.is_some_and(|m| close(m, *minutes));
            e.step == *step && close(e.minutes, *minutes) && right_way && again.len() == e.again.len()
        }
        _ => false,
    };
    if same { Ok(()) } else { Err(format!("held {held:?}\nexpected {expected:?}\nfound {found:?}")) }
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// Runs `test` on every seed, on two threads, and shows the smallest guide that fails.
fn for_each_seed(seeds: Range<u64>, test: impl Fn(u64) -> Result<(), String> + Sync) {
    let seeds = chosen_seeds().unwrap_or(seeds);
    let on_thread = |odd: u64| seeds.clone().filter(|s| s % 2 == odd).find_map(|s| Some((s, test(s).err()?)));
    let failures: Vec<(u64, String)> = thread::scope(|scope| {
        let on_thread = &on_thread;
        let threads: Vec<_> = (0..2).map(|odd| scope.spawn(move || on_thread(odd))).collect();
        threads.into_iter().filter_map(|thread| thread.join().expect("no panic")).collect()
    });
    let told: String = failures.iter().map(|(seed, why)| format!("\nseed {seed}: {why}\n")).collect();
    assert!(failures.is_empty(), "{told}");
}

fn chosen_seeds() -> Option<Range<u64>> {
    let chosen = env::var("STEPJIG_SEEDS").ok()?;
    let (from, to) = chosen.split_once("..")?;
    Some(from.parse().ok()?..to.parse().ok()?)
}
