//! A guide in which some steps may be passed by: what would happen if somebody left them out.

use petgraph::graph::{DiGraph, NodeIndex};

use super::{Guide, Kind, Label, StepIdx, Way, WayIdx};

/// Returns the graph of so many steps: an edge for each way that leads to a step.
pub(in crate::guide) fn graph_of(n_steps: usize, ways: &[Way]) -> DiGraph<(), WayIdx> {
    let mut graph = DiGraph::with_capacity(n_steps, ways.len());
    for _ in 0..n_steps {
        graph.add_node(());
    }
    for (n, way) in ways.iter().enumerate() {
        if let Some(to) = way.to {
            graph.add_edge(NodeIndex::new(way.from.index()), NodeIndex::new(to.index()), WayIdx(n as u32));
        }
    }
    graph
}

impl Guide {
    /// Returns the guide as it would be if these steps were optional.
    ///
    /// Passing one by does nothing to the work and leads where the step leads when it is done; a question is passed by
    /// as by the first answer that leads on, a run to where it returns. The steps keep their numbers, the ways do not.
    #[must_use]
    pub fn leaving_out(&self, steps: &[StepIdx]) -> Guide {
        let mut guide = Guide { ways: Vec::with_capacity(self.ways.len() + steps.len()), ..self.clone() };
        for n in 0..self.steps.len() {
            let idx = StepIdx(n as u32);
            let first = guide.ways.len() as u32;
            guide.ways.extend_from_slice(self.ways_out(idx));
            if let (true, false, Some(to)) = (steps.contains(&idx), guide.steps[n].optional, self.behind(idx)) {
                guide.steps[n].optional = true;
                guide.ways.push(Way::plain(idx, Label::Skip, Some(to)));
            }
            guide.steps[n].ways = first..guide.ways.len() as u32;
        }
        guide.graph = graph_of(guide.steps.len(), &guide.ways);
        guide
    }

    /// Returns where a step leads when it is done.
    fn behind(&self, idx: StepIdx) -> Option<StepIdx> {
        // The last return carries what the run gives; others lead to it.
        let back = self.steps().rev().find(|(_, step)| matches!(step.kind, Kind::Return { run } if run == idx));
        let from = back.map_or(idx, |(back, _)| back);
        self.next_step(from)
    }
}
