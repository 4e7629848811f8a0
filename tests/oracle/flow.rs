//! The two analyses and the findings, straight from their definitions.
//!
//! Deliberately independent and slow: full sets of names are recomputed until nothing changes, and every shortest walk
//! is a breadth-first search over (step, whether the condition holds).

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
    let mut gone = Set::from([condition.to_owned()]);
    loop {
        let lost: Vec<&String> = gone.iter().filter(|c| !guide.passing.contains(*c)).collect();
        let resting = guide.steps.iter().filter(|step| lost.iter().any(|c| step.rests_on(c)));
        let larger: Set = gone.iter().cloned().chain(resting.flat_map(Step::ever_gives)).collect();
        if larger == gone {
            return gone;
        }
        gone = larger;
    }
}

/// Returns every way of the guide with its effect.
pub fn edges(guide: &Guide) -> Vec<Edge> {
    let closures: BTreeMap<String, Set> =
        guide.conditions().into_iter().map(|c| (c.clone(), undone(guide, &c))).collect();
    let of_step = |step| {
        let exits = guide.exits(step).into_iter();
        exits.map(|exit| edge(guide, step, &exit, &|c| closures[c].clone())).collect::<Vec<_>>()
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
pub fn reachable(guide: &Guide, edges: &[Edge]) -> BTreeSet<String> {
    let mut seen = BTreeSet::from([guide.first().to_owned()]);
    loop {
        let next: Vec<String> = edges.iter().filter(|e| seen.contains(&e.from)).map(|e| e.to.clone()).collect();
        let before = seen.len();
        seen.extend(next);
        if seen.len() == before {
            return seen;
        }
    }
}

/// Returns the steps from which some walk reaches an end.
pub fn leads_out(guide: &Guide, edges: &[Edge]) -> BTreeSet<String> {
    let mut seen: BTreeSet<String> = guide.steps.iter().filter(|s| s.is_end()).map(|s| s.id.clone()).collect();
    loop {
        let before = seen.len();
        let more: Vec<String> = edges.iter().filter(|e| seen.contains(&e.to)).map(|e| e.from.clone()).collect();
        seen.extend(more);
        if seen.len() == before {
            return seen;
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
pub fn shortest_len(guide: &Guide, step: &str, condition: &str) -> Option<usize> {
    shortest_in(guide, &edges(guide), step, condition)
}

fn shortest_in(guide: &Guide, edges: &[Edge], step: &str, condition: &str) -> Option<usize> {
    let mut seen = BTreeSet::from([(guide.first().to_owned(), false)]);
    let mut queue = VecDeque::from([(guide.first().to_owned(), false, 1)]);
    while let Some((at, has, len)) = queue.pop_front() {
        if at == step && !has {
            return Some(len);
        }
        for edge in edges.iter().filter(|e| e.from == at) {
            let has = after(edge, condition, has);
            if seen.insert((edge.to.clone(), has)) {
                queue.push_back((edge.to.clone(), has, len + 1));
            }
        }
    }
    None
}

fn after(edge: &Edge, condition: &str, has: bool) -> bool {
    edge.gives.contains(condition) || (has && !edge.kills.contains(condition))
}

/// Whether `walk` starts at the first step, follows ways of the guide and can arrive without `condition`.
pub fn walk_is_valid(guide: &Guide, walk: &[String], condition: &str) -> bool {
    let edges = edges(guide);
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
            if !guide.given().contains(&need) {
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
