//! Where the analyses coincide with plain graph theory, petgraph is asked as an outside witness.
//!
//! Only the shape of the guide goes to petgraph. What is reachable, and from where an end can be reached, is then its
//! word; and a need that one step alone gives, on all its ways, and that nothing removes, is met exactly where that step
//! strictly dominates the one that needs it.

mod oracle;

use std::collections::BTreeSet;

use oracle::flow::{self, Edge};
use oracle::model::{Guide, Set};
use oracle::{adapter, random, toml};
use petgraph::algo::dominators::simple_fast;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{Dfs, Reversed, Walker};

const SEEDS: std::ops::Range<u64> = 5000..5300;

#[test]
fn what_is_reachable_is_what_petgraph_reaches() {
    for seed in SEEDS {
        let (guide, shape) = shaped(seed);
        let reached: Set = Dfs::new(&shape, NodeIndex::new(0)).iter(&shape).map(|n| shape[n].clone()).collect();
        let unreached: Set = ids(&guide).difference(&reached).cloned().collect();
        assert_eq!(found(&guide, "unreachable"), unreached, "seed {seed}");
    }
}

#[test]
fn what_has_no_way_out_is_what_petgraph_cannot_reach_backwards() {
    for seed in SEEDS {
        let (guide, shape) = shaped(seed);
        let ends = shape.node_indices().filter(|n| guide.step(&shape[*n]).is_end());
        let back = Reversed(&shape);
        let leads_out: Set =
            ends.flat_map(|end| Dfs::new(back, end).iter(back).collect::<Vec<_>>()).map(|n| shape[n].clone()).collect();
        let reached: Set = Dfs::new(&shape, NodeIndex::new(0)).iter(&shape).map(|n| shape[n].clone()).collect();
        let trapped: Set = reached.difference(&leads_out).cloned().collect();
        assert_eq!(found(&guide, "no-way-out"), trapped, "seed {seed}");
    }
}

#[test]
fn a_need_with_one_giver_is_met_where_petgraph_says_that_it_dominates() {
    let (mut met, mut unmet) = (0, 0);
    for seed in SEEDS {
        let (guide, shape) = shaped(seed);
        let edges = flow::edges(&guide);
        let dominators = simple_fast(&shape, NodeIndex::new(0));
        let findings = adapter::findings(&toml::render(&guide));
        for node in Dfs::new(&shape, NodeIndex::new(0)).iter(&shape) {
            let step = guide.step(&shape[node]);
            for need in step.all_needs() {
                let Some(giver) = lone_giver(&edges, &need) else { continue };
                let mut above = dominators.strict_dominators(node).expect("it is reachable").map(|n| &shape[n]);
                let dominated = above.any(|id| *id == giver);
                let reported = findings.iter().any(|f| {
                    f.code == "need-unmet" && f.step.as_ref() == Some(&step.id) && f.condition.as_ref() == Some(&need)
                });
                assert_eq!(dominated, !reported, "seed {seed}: {} needs {need}, which {giver} gives", step.id);
                *(if dominated { &mut met } else { &mut unmet }) += 1;
            }
        }
    }
    assert!(met > 50 && unmet > 50, "too few needs to tell: {met} met, {unmet} not");
}

/// The one step that gives `need` on every one of its ways, if no other gives it and nothing removes it.
fn lone_giver(edges: &[Edge], need: &str) -> Option<String> {
    let givers: BTreeSet<&String> = edges.iter().filter(|e| e.gives.contains(need)).map(|e| &e.from).collect();
    let giver = givers.first().filter(|_| givers.len() == 1)?;
    let always = edges.iter().filter(|e| e.from == **giver).all(|e| e.gives.contains(need));
    let removed = edges.iter().any(|e| e.kills.contains(need) && !e.gives.contains(need));
    (always && !removed).then(|| giver.to_string())
}

/// A guide whose ways are all there, and its shape: nodes in file order, named by their ids.
fn shaped(seed: u64) -> (Guide, DiGraph<String, ()>) {
    let guide = (0..).map(|n| random::wild(seed + 1000 * n)).find(is_whole).expect("some guide is whole");
    let mut shape = DiGraph::new();
    let nodes: Vec<NodeIndex> = guide.steps.iter().map(|step| shape.add_node(step.id.clone())).collect();
    for (step, node) in guide.steps.iter().zip(&nodes) {
        for exit in guide.exits(step) {
            shape.add_edge(*node, nodes[guide.place(&exit.to)], ());
        }
    }
    (guide, shape)
}

fn is_whole(guide: &Guide) -> bool {
    flow::findings(guide).iter().all(|f| f.code != "missing-way")
}

fn ids(guide: &Guide) -> Set {
    guide.steps.iter().map(|step| step.id.clone()).collect()
}

fn found(guide: &Guide, code: &str) -> Set {
    let findings = adapter::findings(&toml::render(guide));
    findings.into_iter().filter(|f| f.code == code).filter_map(|f| f.step).collect()
}
