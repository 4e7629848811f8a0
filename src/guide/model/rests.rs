//! Which conditions rest on which.

use std::collections::HashSet;

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};

use super::condition::{Condition, ConditionSet};

/// What one step needs, and what leaving it gives: each of these rests on each of those.
#[derive(Debug, Clone, Default)]
pub(in crate::guide) struct Layer {
    pub(in crate::guide) needs: Vec<Condition>,
    pub(in crate::guide) gives: Vec<Condition>,
}

/// Which conditions rest on which.
///
/// It is kept by layers, not by pairs: a step that needs and gives thousands would have millions of those.
#[derive(Debug, Clone, Default)]
pub(in crate::guide) struct Rests {
    layers: Vec<Layer>,
    /// For each condition, the layers that need it.
    above: Vec<Vec<u32>>,
    /// For each condition, the layers that give it.
    below: Vec<Vec<u32>>,
    /// A number for each condition that never falls from a condition to what is built on it.
    height: Vec<u32>,
}

impl Rests {
    /// Returns the relation that these layers make.
    pub(in crate::guide) fn new(n_conditions: usize, layers: Vec<Layer>) -> Rests {
        let (mut above, mut below) = (vec![Vec::new(); n_conditions], vec![Vec::new(); n_conditions]);
        // A node for each condition, and behind them one for each layer.
        let mut graph = DiGraph::<(), ()>::with_capacity(n_conditions + layers.len(), 0);
        for _ in 0..n_conditions + layers.len() {
            graph.add_node(());
        }
        for (n, layer) in layers.iter().enumerate() {
            let node = NodeIndex::new(n_conditions + n);
            for need in &layer.needs {
                above[need.index()].push(n as u32);
                graph.add_edge(NodeIndex::new(need.index()), node, ());
            }
            for given in &layer.gives {
                below[given.index()].push(n as u32);
                graph.add_edge(node, NodeIndex::new(given.index()), ());
            }
        }
        // Conditions that rest on one another in a ring have one height; the rings come tops first.
        let rings = kosaraju_scc(&graph);
        let mut height = vec![0; n_conditions];
        for (below_top, ring) in rings.iter().enumerate() {
            for condition in ring.iter().map(|node| node.index()).filter(|node| *node < n_conditions) {
                height[condition] = (rings.len() - below_top) as u32;
            }
        }
        Rests { layers, above, below, height }
    }

    /// Returns these conditions and all that was built on them.
    pub(in crate::guide) fn closure(&self, roots: impl IntoIterator<Item = Condition>) -> ConditionSet {
        let mut undone = ConditionSet::default();
        let mut open: Vec<Condition> = roots.into_iter().filter(|root| undone.insert(*root)).collect();
        let mut seen = HashSet::new();
        while let Some(condition) = open.pop() {
            for layer in self.above[condition.index()].iter().filter(|layer| seen.insert(**layer)) {
                let gives = self.layers[*layer as usize].gives.iter().copied();
                open.extend(gives.filter(|above| undone.insert(*above)));
            }
        }
        undone
    }

    /// Returns those of some conditions that undoing the roots leaves.
    pub(in crate::guide) fn left(&self, of: &[Condition], roots: &[Condition]) -> Vec<Condition> {
        // All that is built on the roots may be most of a guide; it is worth looking up only for many at once.
        let undone = (of.len().max(roots.len()) > 16).then(|| self.closure(roots.iter().copied()));
        let is_undone = |condition: Condition| match &undone {
            Some(undone) => undone.contains(condition),
            None => self.is_undone(condition, roots),
        };
        of.iter().copied().filter(|condition| !is_undone(*condition)).collect()
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
        // Among a few roots it is quicker to look one after another.
        let many: Option<ConditionSet> = (roots.len() > 8).then(|| roots.iter().copied().collect());
        let (mut seen, mut seen_layers) = (HashSet::from([condition]), HashSet::new());
        let mut open = vec![condition];
        while let Some(here) = open.pop() {
            if many.as_ref().map_or_else(|| roots.contains(&here), |many| many.contains(here)) {
                return true;
            }
            for layer in self.below[here.index()].iter().filter(|layer| seen_layers.insert(**layer)) {
                let under = self.layers[*layer as usize].needs.iter().copied();
                open.extend(under.filter(|under| self.height[under.index()] >= lowest && seen.insert(*under)));
            }
        }
        false
    }
}
