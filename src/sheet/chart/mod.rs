//! A guide's chart as data: its steps, every way between them, and the stages as bands. Nothing here knows of guides.
//!
//! [`lay_out::chart`](super::lay_out::chart) makes one; [`draw`] sets it out as a [`Drawing`](super::drawing::Drawing)
//! and [`dot`](super::dot) writes it for Graphviz.

mod boxes;
mod columns;
mod draw;
mod legend;
mod page;
mod panel;
mod signs;
mod slots;
mod words;

pub use draw::draw;
pub use page::page;

use super::plain::Plain;

/// A run of steps of one stage.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Band {
    /// The stage's name as the guide gives it.
    pub stage: String,
    /// What is shown: the name, and whether it is continued.
    pub title: Plain,
}

/// What a step is, for its shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum NodeKind {
    /// Something is done.
    Action,
    /// Something is asked.
    Question,
    /// Something is read.
    Reading,
    /// Something is worked out.
    Sum,
    /// Something is waited for.
    Wait,
    /// The guide ends well.
    Finished,
    /// The guide ends, and the work is lost or not put right.
    Stopped,
}

/// A step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Node {
    /// Its number, the one that it has on the checklist.
    pub number: usize,
    /// What it is.
    pub kind: NodeKind,
    /// What it says.
    pub words: Plain,
    /// Whether it cannot be taken back.
    pub one_way: bool,
    /// Whether one stops before it until all is true that it rests on.
    pub hold: bool,
    /// The fault tables that it names.
    pub tables: Vec<Plain>,
    /// Its place in [`Chart::bands`].
    pub band: usize,
    /// Whether it is on the way that is gone when nothing goes wrong.
    pub main: bool,
    /// Whether it is in another part than the one that is drawn, and only named.
    pub elsewhere: bool,
}

/// Where a way leads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum To {
    /// To the step of this number.
    Step(usize),
    /// To a fault table of this name.
    Table(Plain),
}

/// A way out of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// The number of the step that it leaves.
    pub from: usize,
    /// Where it leads.
    pub to: To,
    /// When it is gone; empty where it goes without saying.
    pub words: Plain,
    /// What it is called in what is drawn: `way-12-15-1`, the last number telling those that join the same two apart.
    pub name: String,
}

impl Way {
    /// Returns the number of the step that it leads to, where it leads to one.
    pub fn step(&self) -> Option<usize> {
        match self.to {
            To::Step(number) => Some(number),
            To::Table(_) => None,
        }
    }

    /// Tells whether it leads back, or to the same step again.
    pub fn is_back(&self) -> bool {
        self.step().is_some_and(|to| to <= self.from)
    }
}

/// A guide, or a part of one, as a graph.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Chart {
    /// The guide's title.
    pub title: Plain,
    /// Which guide it is.
    pub stamp: Plain,
    /// The stages in the order of the file.
    pub bands: Vec<Band>,
    /// The steps, by their numbers.
    pub nodes: Vec<Node>,
    /// The ways, in the order of the steps that they leave.
    pub ways: Vec<Way>,
}

impl Chart {
    /// Returns the step of a number.
    pub fn node(&self, number: usize) -> Option<&Node> {
        let at = self.nodes.binary_search_by_key(&number, |node| node.number).ok()?;
        self.nodes.get(at)
    }

    /// Yields the names of the stages, each once, in the order of the file.
    pub fn stages(&self) -> impl Iterator<Item = &str> {
        let known = |n: usize| self.bands[..n].iter().any(|band| band.stage == self.bands[n].stage);
        (0..self.bands.len()).filter(move |n| !known(*n)).map(|n| &*self.bands[n].stage)
    }

    /// Returns the steps of one stage with the ways into and out of it; none where there is no such stage.
    ///
    /// The steps outside that these ways join are named and belong [elsewhere](Node::elsewhere).
    pub fn part(&self, stage: &str) -> Option<Chart> {
        let is_in = |number: usize| self.node(number).is_some_and(|node| self.bands[node.band].stage == stage);
        self.bands.iter().find(|band| band.stage == stage)?;
        let joins = |way: &&Way| is_in(way.from) || way.step().is_some_and(is_in);
        let ways: Vec<Way> = self.ways.iter().filter(joins).cloned().collect();
        let mut numbers: Vec<usize> = self.nodes.iter().map(|node| node.number).filter(|n| is_in(*n)).collect();
        numbers.extend(ways.iter().flat_map(|way| [Some(way.from), way.step()]).flatten());
        numbers.sort_unstable();
        numbers.dedup();
        let node = |number: &usize| {
            let node = self.node(*number)?.clone();
            Some(Node { elsewhere: !is_in(*number), ..node })
        };
        Some(Chart { nodes: numbers.iter().filter_map(node).collect(), ways, ..self.clone() })
    }
}
