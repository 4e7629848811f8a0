//! The linked guide: steps, the ways between them, and the conditions they are about.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::ops::Range;
use std::sync::Arc;

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};

use super::document::{Caution, Document, KitValue, RawStep};
use super::phrase;
use crate::finding::{Place, Span};

/// A step of one guide, by its place in the expanded order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepIdx(pub(super) u32);

impl StepIdx {
    /// Returns its place in the expanded order, from 0.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// A way of one guide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WayIdx(pub(super) u32);

impl WayIdx {
    /// Returns its place among the guide's ways, from 0; the ways out of a step stand together.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// Something true of the work, in one guide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Condition(pub(super) u32);

impl Condition {
    /// Returns the condition of a number.
    pub(crate) fn at(index: usize) -> Condition {
        Condition(index as u32)
    }

    /// Returns its number in the guide, from 0 in order of first mention.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// A set of conditions of one guide.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ConditionSet(Vec<u64>);

impl ConditionSet {
    /// Adds a condition; tells whether it is new.
    pub fn insert(&mut self, condition: Condition) -> bool {
        let (word, bit) = (condition.index() / 64, 1 << (condition.index() % 64));
        if self.0.len() <= word {
            self.0.resize(word + 1, 0);
        }
        let new = self.0[word] & bit == 0;
        self.0[word] |= bit;
        new
    }

    /// Takes a condition out; tells whether it was in.
    pub fn remove(&mut self, condition: Condition) -> bool {
        let was = self.contains(condition);
        if was {
            self.0[condition.index() / 64] &= !(1 << (condition.index() % 64));
        }
        was
    }

    /// Tells whether a condition is in.
    pub fn contains(&self, condition: Condition) -> bool {
        self.0.get(condition.index() / 64).is_some_and(|word| word >> (condition.index() % 64) & 1 == 1)
    }

    /// Yields the conditions in order of first mention in the guide.
    pub fn iter(&self) -> impl Iterator<Item = Condition> + '_ {
        self.0.iter().enumerate().flat_map(|(n, word)| {
            (0..64).filter(move |bit| word >> bit & 1 == 1).map(move |bit| Condition((n * 64 + bit) as u32))
        })
    }

    /// Returns the 64 conditions from `64 × chunk` on, as bits.
    pub fn word(&self, chunk: usize) -> u64 {
        self.0.get(chunk).copied().unwrap_or(0)
    }

    /// Tells whether every condition of this set is in the other.
    pub fn is_subset(&self, of: &ConditionSet) -> bool {
        self.0.iter().enumerate().all(|(n, word)| word & !of.word(n) == 0)
    }

    /// Tells whether nothing is in it.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }
}

impl FromIterator<Condition> for ConditionSet {
    fn from_iter<I: IntoIterator<Item = Condition>>(conditions: I) -> ConditionSet {
        let mut set = ConditionSet::default();
        set.extend(conditions);
        set
    }
}

impl Extend<Condition> for ConditionSet {
    fn extend<I: IntoIterator<Item = Condition>>(&mut self, conditions: I) {
        for condition in conditions {
            self.insert(condition);
        }
    }
}

/// A condition where a step names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mention {
    /// The condition.
    pub condition: Condition,
    /// Where in the step's file it is named.
    pub span: Span,
}

/// How a guide ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EndKind {
    /// A finished pen.
    Finished,
    /// The blank is lost.
    Scrap,
}

/// A wait's times.
#[derive(Debug, Clone, PartialEq)]
pub struct Pause {
    /// Minutes to wait.
    pub minutes: f64,
    /// The longest wait, in minutes.
    pub up_to: Option<f64>,
    /// The sign that it is really over.
    pub ready: String,
    /// What is being waited for.
    pub waiting_for: Option<String>,
    /// Whether other work goes on meanwhile.
    pub meanwhile: bool,
}

/// What a step is.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// One action, with the moves that cannot be interrupted.
    Do {
        /// The moves.
        in_one_go: Vec<String>,
    },
    /// A question; its answers are its ways.
    Ask,
    /// A reading.
    Gauge {
        /// The unit of the reading, as the guide names it.
        unit: String,
        /// The lowest good reading: a number, a length, or a reference in braces.
        min: Option<String>,
        /// The highest.
        max: Option<String>,
        /// The kit number that it becomes.
        sets: Option<String>,
        /// The condition that the reading has been taken.
        read: Condition,
    },
    /// A named calculation.
    Reckon {
        /// Its inputs by name: kit paths, readings in braces, or literals.
        from: Vec<(String, String)>,
    },
    /// A wait.
    Wait(Pause),
    /// The beginning of a procedure.
    Run,
    /// The end of a procedure; it carries what the run gives.
    Return {
        /// The run it belongs to.
        run: StepIdx,
    },
    /// The end of the guide.
    End(EndKind),
}

/// One node of the graph.
#[derive(Debug, Clone)]
pub struct Step {
    /// Its full id, `glue-body/scuff`.
    pub id: Arc<str>,
    /// What it is.
    pub kind: Kind,
    /// What it says: the action, the question, the reckoning's name, the procedure's title.
    pub text: String,
    /// What must be true before it, readings that its text uses included.
    pub needs: Vec<Mention>,
    /// What it makes true by itself.
    pub gives: Vec<Mention>,
    /// What it removes.
    pub spoils: Vec<Mention>,
    /// What it removes with all that was built on it.
    pub undoes: Vec<Mention>,
    /// Whether it cannot be taken back.
    pub one_way: bool,
    /// Whether it can be skipped.
    pub optional: bool,
    /// Minutes of attention, 0 where the guide gives none.
    pub minutes: f64,
    /// What can hurt.
    pub cautions: Vec<Caution>,
    /// What to do when it goes wrong.
    pub if_wrong: Option<String>,
    /// Why it is done.
    pub why: Option<String>,
    /// A note.
    pub tell: Option<String>,
    /// The place or machine.
    pub at: Option<String>,
    /// What to have at hand.
    pub parts: Vec<String>,
    /// Fault tables to offer first.
    pub trouble: Vec<TroubleCall>,
    /// The stage it belongs to.
    pub stage: Option<Arc<str>>,
    /// Marks to draw on a clock face: word and position.
    pub clock: Vec<(String, String)>,
    pub(super) document: Arc<Document>,
    pub(super) raw: usize,
    pub(super) used_at: Arc<[Place]>,
    pub(super) ways: Range<u32>,
}

impl Step {
    /// Returns the place of its id in its file.
    pub fn place(&self) -> Place {
        self.place_of(&self.raw_step().id.span)
    }

    /// Returns the place of one of its spans.
    pub fn place_of(&self, span: &Span) -> Place {
        self.document.place(span)
    }

    /// Returns where the procedures that hold it are run, innermost first.
    pub fn used_at(&self) -> &[Place] {
        &self.used_at
    }

    /// Returns the step as it stands in its file.
    pub fn raw_step(&self) -> &RawStep {
        &self.document.steps[self.raw]
    }

    pub(crate) fn way_range(&self) -> Range<usize> {
        self.ways.start as usize..self.ways.end as usize
    }

    /// Returns the minutes it takes, a wait's own time included.
    pub fn minutes_with_wait(&self) -> f64 {
        match &self.kind {
            Kind::Wait(pause) => self.minutes + pause.minutes,
            _ => self.minutes,
        }
    }
}

/// Which way out of a step it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Label {
    /// The only way, done.
    Then,
    /// The answer of these words.
    Answer(String),
    /// A reading within its limits.
    Within,
    /// A reading below them.
    Under,
    /// A reading above them.
    Over,
    /// The wait was over.
    Ready,
    /// It was not.
    NotReady,
    /// The reckoning's verdict.
    Verdict(String),
    /// An optional step passed by.
    Skip,
}

/// A fault table that a step or a way calls.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TroubleCall {
    /// The table's id.
    pub table: String,
    /// Its parameters, resolved.
    pub with: Vec<(String, String)>,
}

/// A way out of a step and what it does to what is held.
///
/// `held` becomes `(held − removes − undoes with all built on them) ∪ gives`; `gives` is what is left after the way's
/// own removals.
#[derive(Debug, Clone)]
pub struct Way {
    /// The step it leaves.
    pub from: StepIdx,
    /// Which way out it is.
    pub label: Label,
    /// The step it leads to; none where it opens a fault table.
    pub to: Option<StepIdx>,
    /// The fault table it opens.
    pub trouble: Option<TroubleCall>,
    /// What it makes true.
    pub gives: Vec<Condition>,
    /// What it removes.
    pub removes: Vec<Condition>,
    /// What it removes with all that was built on it.
    pub undoes: Vec<Condition>,
    /// Whether it removes every passing condition that it does not give.
    pub drops_passing: bool,
    /// Where it is written, where it is.
    pub span: Option<Span>,
}

/// A linked guide.
#[derive(Debug, Clone)]
pub struct Guide {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) edition: Option<String>,
    pub(super) use_when: Option<String>,
    pub(super) not_when: Option<String>,
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
    pub(super) rests: Rests,
}

/// Which conditions rest on which.
#[derive(Debug, Clone, Default)]
pub(super) struct Rests {
    /// For each condition, what a step gives that needs it.
    built_on: Vec<Vec<Condition>>,
    /// The same read the other way: what each condition rests on.
    rests_on: Vec<Vec<Condition>>,
    /// A number for each condition that never falls from a condition to what is built on it.
    height: Vec<u32>,
}

impl Rests {
    /// Returns the relation of these pairs, each a condition and one that is built on it.
    pub(super) fn new(n_conditions: usize, pairs: impl IntoIterator<Item = (Condition, Condition)>) -> Rests {
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
    pub(super) fn closure(&self, roots: impl IntoIterator<Item = Condition>) -> ConditionSet {
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
    pub(super) fn is_undone(&self, condition: Condition, roots: &[Condition]) -> bool {
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

    /// Returns the file it was linked from.
    pub fn document(&self) -> &Arc<Document> {
        &self.document
    }

    /// Yields the procedures it runs, each with where it is run first.
    pub fn procedures(&self) -> impl Iterator<Item = (&Arc<Document>, &[Place])> {
        self.procedures.iter().map(|(document, places)| (document, &**places))
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
        }
        known
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

    /// Tells whether undoing these conditions removes another.
    pub(crate) fn is_undone(&self, condition: Condition, roots: &[Condition]) -> bool {
        self.rests.is_undone(condition, roots)
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
