//! Which conditions rest on which.

use std::collections::HashSet;

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};

use super::condition::{Condition, ConditionSet};

/// Which conditions rest on which.
#[derive(Debug, Clone, Default)]
pub(in crate::guide) struct Rests {
    /// For each condition, what a step gives that needs it.
    built_on: Vec<Vec<Condition>>,
    /// The same read the other way: what each condition rests on.
    rests_on: Vec<Vec<Condition>>,
    /// A number for each condition that never falls from a condition to what is built on it.
    height: Vec<u32>,
}

impl Rests {
    /// Returns the relation of these pairs, each a condition and one that is built on it.
    pub(in crate::guide) fn new(n_conditions: usize, pairs: impl IntoIterator<Item = (Condition, Condition)>) -> Rests {
        let mut built_on = vec![Vec::new(); n_conditions];
        for (under, above) in pairs {
            built_on[under.index()].push(above);
        }
        let mut rests_on = vec![Vec::new(); n_conditions];
        let mut graph = DiGraph::<(), ()>::with_capacity(n_conditions, 0);
        for _ in 0..n_conditions {
            graph.add_node(());
        }
        for (under, above) in built_on.iter_mut().enumerate() {
            above.sort_unstable();
            above.dedup();
            for above in above.iter() {
                rests_on[above.index()].push(Condition(under as u32));
                graph.add_edge(NodeIndex::new(under), NodeIndex::new(above.index()), ());
            }
        }
        // Conditions that rest on one another in a ring have one height; the rings come tops first.
        let rings = kosaraju_scc(&graph);
        let mut height = vec![0; n_conditions];
        for (below_top, ring) in rings.iter().enumerate() {
            for node in ring {
                height[node.index()] = (rings.len() - below_top) as u32;
            }
        }
        Rests { built_on, rests_on, height }
    }

    /// Returns these conditions and all that was built on them.
    pub(in crate::guide) fn closure(&self, roots: impl IntoIterator<Item = Condition>) -> ConditionSet {
        let mut undone = ConditionSet::default();
        let mut open: Vec<Condition> = roots.into_iter().filter(|root| undone.insert(*root)).collect();
        while let Some(condition) = open.pop() {
            open.extend(self.built_on[condition.index()].iter().filter(|above| undone.insert(**above)));
        }
        undone
    }

    /// Tells whether undoing these conditions removes another: whether it is one of them or was built on one.
    ///
    /// Looks down from the condition and never below the lowest root, so that the usual jump back, which undoes what
    /// came later, costs next to nothing.
    pub(in crate::guide) fn is_undone(&self, condition: Condition, roots: &[Condition]) -> bool {
        let Some(lowest) = roots.iter().map(|root| self.height[root.index()]).min() else { return false };
        if self.height[condition.index()] < lowest {
            return false;
        }
        let mut seen = HashSet::from([condition]);
        let mut open = vec![condition];
        while let Some(here) = open.pop() {
            if roots.contains(&here) {
                return true;
            }
            let under = self.rests_on[here.index()].iter();
            open.extend(under.filter(|under| self.height[under.index()] >= lowest && seen.insert(**under)));
        }
        false
    }
}
