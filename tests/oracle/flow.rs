//! The two analyses and the findings, straight from their definitions.
//!
//! Deliberately independent and slow: full sets of names are recomputed until nothing changes, and every shortest walk
//! is a breadth-first search over (step, whether the condition holds).

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::model::{Effects, Exit, Guide, Kind, Set, Step};

/// One finding, of the oracle or of the program.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    pub code: String,
    pub step: Option<String>,
    pub condition: Option<String>,
    pub walk: Option<Vec<String>>,
}

/// A way out with its whole effect: `held` becomes `(held − kills) ∪ gives`.
#[derive(Clone, Debug)]
pub struct Edge {
    pub from: String,
    pub to: String,
    pub kills: Set,
    /// What the way gives net of its own removals.
    pub gives: Set,
}

/// Returns `condition` with all that was built on it.
pub fn undone(guide: &Guide, condition: &str) -> Set {
    let (mut gone, mut open) = (Set::new(), vec![condition.to_owned()]);
    while let Some(lost) = open.pop() {
        if gone.insert(lost.clone()) && !guide.passing.contains(&lost) {
            open.extend(guide.steps.iter().filter(|step| step.rests_on(&lost)).flat_map(Step::ever_gives));
        }
    }
    gone
}

/// Returns every way of the guide with its effect.
pub fn edges(guide: &Guide) -> Vec<Edge> {
    let closures = RefCell::new(BTreeMap::<String, Set>::new()); // each is looked for once
    let undone = |c: &str| closures.borrow_mut().entry(c.to_owned()).or_insert_with(|| undone(guide, c)).clone();
    let of_step = |step| {
        let exits = guide.exits(step).into_iter();
        exits.map(|exit| edge(guide, step, &exit, &undone)).collect::<Vec<_>>()
    };
    guide.steps.iter().flat_map(of_step).collect()
}

/// Returns one way out of `step` with its effect.
pub fn edge(guide: &Guide, step: &Step, exit: &Exit, undone: &dyn Fn(&str) -> Set) -> Edge {
    let (mut kills, mut gives) = (Set::new(), Set::new());
    if !exit.skip {
        let removed = |effects: &Effects| -> Set {
            effects.spoils.iter().cloned().chain(effects.undoes.iter().flat_map(|c| undone(c))).collect()
        };
        kills.extend(removed(&step.effects));
        kills.extend(step.reading().iter().flat_map(|reading| undone(reading)));
        gives.extend(step.reading());
        if exit.good {
            gives.extend(step.effects.gives.iter().cloned());
        }
        let removed = removed(&exit.effects);
        gives.retain(|c| !removed.contains(c));
        kills.extend(removed);
        gives.extend(exit.effects.gives.iter().cloned());
        if step.is_waited_at() {
            kills.extend(guide.passing.iter().cloned());
        }
    }
    Edge { from: step.id.clone(), to: exit.to.clone(), kills, gives }
}

/// Returns the steps that some walk from the first step reaches.
pub fn reachable(guide: &Guide, edges: &[Edge]) -> Set {
    closed(Set::from([guide.first().to_owned()]), || edges.iter().map(|e| (&e.from, &e.to)))
}

/// As [`reachable`], from the ways alone.
pub fn led_to(guide: &Guide) -> Set {
    let ways = |step: &Step| guide.exits(step).into_iter().map(|exit| (step.id.clone(), exit.to)).collect::<Vec<_>>();
    let ways: Vec<(String, String)> = guide.steps.iter().flat_map(ways).collect();
    closed(Set::from([guide.first().to_owned()]), || ways.iter().map(|(from, to)| (from, to)))
}

/// Returns the steps from which some walk reaches an end.
pub fn leads_out(guide: &Guide, edges: &[Edge]) -> Set {
    let ends = guide.steps.iter().filter(|s| s.is_end()).map(|s| s.id.clone());
    closed(ends.collect(), || edges.iter().rev().map(|e| (&e.to, &e.from)))
}

/// Adds `b` for every pair `(a, b)` whose `a` is in the set, until nothing changes.
fn closed<'a, I: Iterator<Item = (&'a String, &'a String)>>(mut set: Set, pairs: impl Fn() -> I) -> Set {
    loop {
        let before = set.len();
        for (a, b) in pairs() {
            if set.contains(a) && !set.contains(b) {
                set.insert(b.clone());
            }
        }
        if set.len() == before {
            return set;
        }
    }
}

/// `In`: what holds at each reachable step whichever way one came.
pub fn forward(guide: &Guide, edges: &[Edge]) -> BTreeMap<String, Set> {
    let all = guide.conditions();
    let seen = reachable(guide, edges);
    let mut holds: BTreeMap<String, Set> = seen.iter().map(|id| (id.clone(), all.clone())).collect();
    holds.insert(guide.first().to_owned(), Set::new());
    loop {
        let mut changed = false;
        for edge in edges.iter().filter(|e| seen.contains(&e.from)) {
            let from = &holds[&edge.from];
            let arrives = |c: &String| edge.gives.contains(c) || (from.contains(c) && !edge.kills.contains(c));
            let there = &holds[&edge.to];
            let left: Set = there.iter().filter(|c| arrives(c)).cloned().collect();
            if left.len() < there.len() {
                holds.insert(edge.to.clone(), left);
                changed = true;
            }
        }
        if !changed {
            return holds;
        }
    }
}

/// `Live`: what has to hold at each step so that nothing is missing from there on.
pub fn backward(guide: &Guide, edges: &[Edge]) -> BTreeMap<String, Set> {
    let mut live: BTreeMap<String, Set> = guide.steps.iter().map(|s| (s.id.clone(), s.all_needs())).collect();
    loop {
        let mut changed = false;
        for edge in edges.iter().rev() {
            let wanted: Vec<String> = live[&edge.to].difference(&edge.gives).cloned().collect();
            let here = live.get_mut(&edge.from).expect("every step is in the map");
            let before = here.len();
            here.extend(wanted);
            changed |= here.len() > before;
        }
        if !changed {
            return live;
        }
    }
}

/// Returns how many steps the shortest walk has that reaches `step` without `condition`, both ends counted.
pub fn shortest_len(guide: &Guide, edges: &[Edge], step: &str, condition: &str) -> Option<usize> {
    shortest_lens(guide, edges, condition).get(step).copied()
}

/// As [`shortest_len`], for every step that can be reached without `condition`.
pub fn shortest_lens(guide: &Guide, edges: &[Edge], condition: &str) -> BTreeMap<String, usize> {
    let mut lens = BTreeMap::new();
    let mut seen = BTreeSet::from([(guide.first(), false)]);
    let mut queue = VecDeque::from([(guide.first(), false, 1)]);
    while let Some((at, has, len)) = queue.pop_front() {
        if !has {
            lens.entry(at.to_owned()).or_insert(len);
        }
        for edge in edges.iter().filter(|e| e.from == at) {
            let has = after(edge, condition, has);
            if seen.insert((&edge.to, has)) {
                queue.push_back((&edge.to, has, len + 1));
            }
        }
    }
    lens
}

fn after(edge: &Edge, condition: &str, has: bool) -> bool {
    edge.gives.contains(condition) || (has && !edge.kills.contains(condition))
}

/// Whether `walk` starts at the first step, follows ways of the guide and can arrive without `condition`.
pub fn walk_is_valid(guide: &Guide, edges: &[Edge], walk: &[String], condition: &str) -> bool {
    if walk.first().map(String::as_str) != Some(guide.first()) {
        return false;
    }
    let mut can_be = BTreeSet::from([false]);
    for pair in walk.windows(2) {
        let taken = edges.iter().filter(|e| e.from == pair[0] && e.to == pair[1]);
        can_be = taken.flat_map(|e| can_be.iter().map(|has| after(e, condition, *has)).collect::<Vec<_>>()).collect();
    }
    can_be.contains(&false)
}

/// Returns every finding of the proofs and of the warnings that rest on them, without walks.
pub fn findings(guide: &Guide) -> Vec<Finding> {
    let missing = missing_ways(guide);
    if !missing.is_empty() {
        return missing; // the proofs wait until the guide is whole
    }
    let edges = edges(guide);
    let (holds, live) = (forward(guide, &edges), backward(guide, &edges));
    let (seen, out) = (reachable(guide, &edges), leads_out(guide, &edges));
    let given = guide.given();
    let mut found = vec![];
    if !guide.steps.iter().any(|s| s.is_finished() && seen.contains(&s.id)) {
        found.push(finding("no-finish", None, None));
    }
    for step in &guide.steps {
        let mut add = |code: &str, condition: Option<&String>| found.push(finding(code, Some(&step.id), condition));
        if !seen.contains(&step.id) {
            add("unreachable", None);
            continue;
        }
        if !out.contains(&step.id) {
            add("no-way-out", None);
        }
        for need in step.all_needs() {
            if !given.contains(&need) {
                add("never-given", Some(&need));
            } else if !holds[&step.id].contains(&need) {
                add("need-unmet", Some(&need));
            }
        }
        if step.one_way && step.all_needs().is_empty() {
            add("one-way-unguarded", None);
        }
        if step.is_finished() && step.all_needs().is_empty() {
            add("end-unguarded", None);
        }
        if is_idle_step(step, &edges, &live) {
            add("idle-step", None);
        }
        if is_idle_gate(guide, step, &edges, &live) {
            add("idle-gate", None);
        }
    }
    found.extend(guide.unworded.iter().map(|c| finding("unworded", None, Some(c))));
    found
}

fn finding(code: &str, step: Option<&String>, condition: Option<&String>) -> Finding {
    Finding { code: code.to_owned(), step: step.cloned(), condition: condition.cloned(), walk: None }
}

fn missing_ways(guide: &Guide) -> Vec<Finding> {
    let lacks = |step: &&Step| match &step.kind {
        Kind::Gauge { min, max, under, over, .. } => (*min && under.is_none()) || (*max && over.is_none()),
        Kind::Wait { up_to, not_ready, .. } => *up_to && not_ready.is_none(),
        _ => false,
    };
    guide.steps.iter().filter(lacks).map(|step| finding("missing-way", Some(&step.id), None)).collect()
}

fn gives_live(edge: &Edge, live: &BTreeMap<String, Set>) -> bool {
    edge.gives.iter().any(|c| live[&edge.to].contains(c))
}

fn is_idle_step(step: &Step, edges: &[Edge], live: &BTreeMap<String, Set>) -> bool {
    let acts = matches!(step.kind, Kind::Do { .. } | Kind::Wait { .. });
    acts && !step.optional && !edges.iter().any(|e| e.from == step.id && gives_live(e, live))
}

fn is_idle_gate(guide: &Guide, step: &Step, edges: &[Edge], live: &BTreeMap<String, Set>) -> bool {
    let asks = matches!(step.kind, Kind::Ask { .. } | Kind::Gauge { .. });
    let turns_back = |e: &&Edge| guide.step(&e.to).is_scrap() || guide.place(&e.to) <= guide.place(&step.id);
    let (back, on): (Vec<&Edge>, Vec<&Edge>) = edges.iter().filter(|e| e.from == step.id).partition(turns_back);
    asks && !back.is_empty() && !on.iter().any(|e| gives_live(e, live))
}
