//! The linked guide: steps, the ways between them, and the conditions they are about.

mod condition;
mod leaving_out;
mod path;
mod rehearsal;
mod rests;
mod step;

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use petgraph::graph::{DiGraph, NodeIndex};

use super::document::{Document, KitValue};
use super::phrase;
use crate::finding::Place;

pub use condition::{Condition, ConditionSet};
pub(super) use leaving_out::graph_of;
pub use rehearsal::{Arrival, Rehearsal, Reply};
pub(super) use rests::{Layer, Rests};
pub use step::{EndKind, Kind, Label, Mention, Pause, Step, StepIdx, TroubleCall, Way, WayIdx};

/// A linked guide.
#[derive(Debug, Clone)]
pub struct Guide {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) edition: Option<String>,
    pub(super) use_when: Option<String>,
    pub(super) not_when: Option<String>,
    pub(super) care: Option<Arc<Guide>>,
    pub(super) document: Arc<Document>,
    pub(super) procedures: Vec<(Arc<Document>, Arc<[Place]>)>,
    pub(super) steps: Vec<Step>,
    pub(super) ways: Vec<Way>,
    pub(super) graph: DiGraph<(), WayIdx>,
    pub(super) conditions: Vec<String>,
    pub(super) by_name: HashMap<String, Condition>,
    pub(super) words: Vec<Option<String>>,
    pub(super) passing: ConditionSet,
    pub(super) kit: BTreeMap<String, KitValue>,
    pub(super) measured: BTreeSet<String>,
    pub(super) rests: Rests,
    pub(super) rehearsals: Vec<Rehearsal>,
    /// The title of each fault table that a step or a way calls, by its id.
    pub(super) table_titles: BTreeMap<String, String>,
}

impl Guide {
    /// Returns its id.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// Returns its title.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// Returns its edition, where the file gives one.
    pub fn edition(&self) -> Option<&str> {
        self.edition.as_deref()
    }

    /// Returns when to use it.
    pub fn use_when(&self) -> Option<&str> {
        self.use_when.as_deref()
    }

    /// Returns when not to.
    pub fn not_when(&self) -> Option<&str> {
        self.not_when.as_deref()
    }

    /// Returns what the owner of the pen does, as a guide of its own that runs one procedure; none where the guide names
    /// none.
    pub fn care(&self) -> Option<&Guide> {
        self.care.as_deref()
    }

    /// Returns the file it was linked from.
    pub fn document(&self) -> &Arc<Document> {
        &self.document
    }

    /// Yields the procedures it runs, each with where it is run first.
    pub fn procedures(&self) -> impl Iterator<Item = (&Arc<Document>, &[Place])> {
        self.procedures.iter().map(|(document, places)| (document, &**places))
    }

    /// Returns the walks that it is tried by, as its file has them.
    pub fn rehearsals(&self) -> &[Rehearsal] {
        &self.rehearsals
    }

    /// Returns the title of a fault table that it calls; none where the table was not at hand when it was linked.
    pub fn table_title(&self, table: &str) -> Option<&str> {
        self.table_titles.get(table).map(String::as_str)
    }

    /// Returns how many steps it has, each run's beginning and return included.
    pub fn len(&self) -> usize {
        self.steps.len()
    }

    /// Tells whether it has no step; a guide that links has at least one.
    pub fn is_empty(&self) -> bool {
        self.steps.is_empty()
    }

    /// Yields the steps in the expanded order of the file.
    pub fn steps(&self) -> impl DoubleEndedIterator<Item = (StepIdx, &Step)> + ExactSizeIterator {
        self.steps.iter().enumerate().map(|(n, step)| (StepIdx(n as u32), step))
    }

    /// Returns a step's number, the same on paper and on screen: its place in the expanded order, where no procedure
    /// begins or returns.
    pub fn number(&self, idx: StepIdx) -> Option<usize> {
        let before = self.steps[..idx.index()].iter().filter(|step| step.has_number()).count();
        self.step(idx).has_number().then_some(before + 1)
    }

    /// Returns the first step.
    pub fn first(&self) -> StepIdx {
        StepIdx(0)
    }

    /// Returns a step.
    pub fn step(&self, idx: StepIdx) -> &Step {
        &self.steps[idx.index()]
    }

    /// Returns the step at a place in the expanded order.
    pub(crate) fn step_at(&self, index: usize) -> StepIdx {
        debug_assert!(index < self.steps.len());
        StepIdx(index as u32)
    }

    /// Returns the graph: a node a step, an edge a way that leads to a step.
    pub(crate) fn graph(&self) -> &DiGraph<(), WayIdx> {
        &self.graph
    }

    /// Returns the step of a full id.
    pub fn step_of_id(&self, id: &str) -> Option<StepIdx> {
        self.steps().find(|(_, step)| &*step.id == id).map(|(idx, _)| idx)
    }

    /// Returns all ways, those out of a step together and in the order a person would read them.
    pub fn ways(&self) -> &[Way] {
        &self.ways
    }

    /// Returns the ways out of a step.
    pub fn ways_out(&self, idx: StepIdx) -> &[Way] {
        let range = &self.step(idx).ways;
        &self.ways[range.start as usize..range.end as usize]
    }

    /// Yields the ways into a step, with their numbers.
    pub fn ways_in(&self, idx: StepIdx) -> impl Iterator<Item = (WayIdx, &Way)> {
        self.graph
            .edges_directed(NodeIndex::new(idx.index()), petgraph::Direction::Incoming)
            .map(|edge| (*edge.weight(), &self.ways[edge.weight().index()]))
            .inspect(|(_, way)| debug_assert!(way.to.is_some()))
    }

    /// Yields the numbers of the ways out of a step.
    pub fn ways_out_idx(&self, idx: StepIdx) -> impl Iterator<Item = WayIdx> {
        self.step(idx).ways.clone().map(WayIdx)
    }

    /// Returns a way by its number.
    pub fn way(&self, idx: WayIdx) -> &Way {
        &self.ways[idx.index()]
    }

    /// Returns how many conditions it is about.
    pub fn n_conditions(&self) -> usize {
        self.conditions.len()
    }

    /// Yields all conditions in order of first mention.
    pub fn conditions(&self) -> impl Iterator<Item = Condition> + use<> {
        (0..self.conditions.len() as u32).map(Condition)
    }

    /// Returns a condition's name.
    pub fn name(&self, condition: Condition) -> &str {
        &self.conditions[condition.index()]
    }

    /// Returns the condition of that name.
    pub fn condition(&self, name: &str) -> Option<Condition> {
        self.by_name.get(name).copied()
    }

    /// Returns the words a person is told a condition in, where the guide gives them.
    pub fn words(&self, condition: Condition) -> Option<&str> {
        self.words[condition.index()].as_deref()
    }

    /// Returns how a condition is said to a person: its words, else its name with dots as spaces.
    pub fn said(&self, condition: Condition) -> String {
        match (self.words(condition), self.name(condition).strip_prefix("read.")) {
            (Some(words), _) => words.to_owned(),
            (None, Some(gauge)) => match self.step_of_id(gauge) {
                Some(step) => format!("the reading is taken: {}", self.step(step).text),
                None => format!("the reading {gauge} is taken"),
            },
            (None, None) => self.name(condition).replace(['.', '-'], " "),
        }
    }

    /// Tells whether a condition comes and goes.
    pub fn is_passing(&self, condition: Condition) -> bool {
        self.passing.contains(condition)
    }

    /// Returns the conditions that come and go.
    pub fn passing(&self) -> &ConditionSet {
        &self.passing
    }

    /// Returns the kit's numbers by path, as the guide gives them.
    pub fn kit(&self) -> &BTreeMap<String, KitValue> {
        &self.kit
    }

    /// Puts another value in the place of a kit number, such as one off a kit file.
    ///
    /// Returns whether the guide has such a number.
    #[must_use]
    pub fn set_number(&mut self, path: &str, value: KitValue) -> bool {
        let sets = |step: &Step| matches!(&step.kind, Kind::Gauge { sets: Some(sets), .. } if sets == path);
        let known = self.kit.contains_key(path) || self.steps.iter().any(sets);
        if known {
            self.kit.insert(path.to_owned(), value);
            self.measured.insert(path.to_owned());
        }
        known
    }

    /// Returns the paths of the numbers that came off a kit file.
    pub fn measured(&self) -> &BTreeSet<String> {
        &self.measured
    }

    /// Returns these conditions and all that was built on them.
    pub fn built_on(&self, roots: impl IntoIterator<Item = Condition>) -> ConditionSet {
        self.rests.closure(roots)
    }

    /// Tells whether a way removes a condition, whatever it gives again.
    pub fn removes(&self, way: &Way, condition: Condition) -> bool {
        way.removes.contains(&condition)
            || way.drops_passing && self.is_passing(condition)
            || self.rests.is_undone(condition, &way.undoes)
    }

    /// Returns those of some conditions that undoing the roots leaves.
    pub(crate) fn left(&self, of: &[Condition], roots: &[Condition]) -> Vec<Condition> {
        self.rests.left(of, roots)
    }

    /// Changes what is held as leaving a step by a way does; returns what was removed and not given again.
    pub fn leave(&self, held: &mut ConditionSet, way: &Way) -> ConditionSet {
        let mut removed = self.rests.closure(way.undoes.iter().copied());
        removed.extend(way.removes.iter().copied());
        if way.drops_passing {
            removed.extend(self.passing.iter());
        }
        for condition in &way.gives {
            removed.remove(*condition);
        }
        let gone = removed.iter().filter(|condition| held.remove(*condition)).collect();
        held.extend(way.gives.iter().copied());
        gone
    }

    /// Returns a text of the guide with its references said by `number`, which is given `kit.…` and `read.…` names.
    pub fn say(&self, text: &str, number: impl Fn(&str) -> Option<String>) -> String {
        phrase::said(text, number)
    }
}
