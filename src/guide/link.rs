//! Links a guide: expands its procedures, resolves every name, builds the graph.
//!
//! Two passes. [`expand`] lays the steps of the guide and of the procedures it runs out in one order, each with the
//! scope it was met in. [`ways`] then resolves targets, readings and effects, when every step is known. A finding
//! inside a procedure carries the places where the procedure is run.

mod care;
mod effects;
mod expand;
mod fault_table;
mod kinds;
mod limits;
mod parameters;
mod rehearsal;
mod remedy;
mod scope;
mod texts;
mod ways;

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use super::document::{Document, KitValue, RawStep, Shelf};
use super::library::Library;
use super::model::{Condition, ConditionSet, Guide, Layer, Rests, Step, StepIdx, Way, graph_of};
use super::read;
use crate::finding::{Code, Finding, Place, Severity, Source, Span};
pub use remedy::{AS_IT_STANDS, FIXED};
use scope::Scope;

/// A guide file, read and linked as far as it goes.
#[derive(Debug, Clone)]
pub struct Linked {
    /// The file as it was read; none where not even its kind could be told.
    pub document: Option<Arc<Document>>,
    /// The guide; none where there is an error among the findings, or the file is no guide.
    pub guide: Option<Guide>,
    /// What was found in reading and linking, in the order of the report.
    pub findings: Vec<Finding>,
}

impl Library {
    /// Reads and links a guide file against this library.
    ///
    /// A procedure or fault table is only read: it is linked where a guide runs it.
    ///
    /// ```
    /// use stepjig::finding::Source;
    /// use stepjig::guide::Library;
    ///
    /// let text = "stepjig = 1\n[guide]\nid = \"mop\"\ntitle = \"Mop\"\n[[step]]\nid = \"a\"\ndo = \"Mop.\"\nthen = \"b\"\n";
    /// let linked = Library::empty().link(&Source::new("mop.toml", text));
    /// assert!(linked.guide.is_none());
    /// assert_eq!(linked.findings[0].code.as_str(), "no-such-step");
    /// assert_eq!(linked.findings[0].place.to_string(), "mop.toml:8:8");
    /// ```
    pub fn link(&self, source: &Arc<Source>) -> Linked {
        let (document, mut findings) = read(source, self.limits());
        let document = document.map(Arc::new);
        let mut guide = None;
        if let Some(document) = document.as_ref().filter(|document| document.shelf == Shelf::Guide) {
            if document.steps.is_empty() {
                // Nothing to link; the reader has said so.
            } else {
                let linked = link(self, document, Numbers::OfTheKit);
                findings.extend(linked.1);
                let (care, of_care) = self.link_care(document).unzip();
                findings.extend(of_care.into_iter().flatten());
                let clean = findings.iter().all(|finding| finding.severity() == Severity::Warning);
                guide = linked.0.filter(|_| clean);
                if let Some(guide) = &mut guide {
                    guide.care = care.flatten().map(Arc::new);
                }
            }
        }
        crate::finding::sort(&mut findings);
        findings.dedup();
        Linked { document, guide, findings }
    }

    /// Reads and links the guide of that id.
    pub fn link_id(&self, id: &str) -> Option<Linked> {
        Some(self.link(&self.guide(id)?))
    }
}

/// Links a guide's document; a guide is returned only where there is no error finding.
fn link(library: &Library, document: &Arc<Document>, numbers: Numbers) -> (Option<Guide>, Vec<Finding>) {
    let mut linker = Linker {
        library,
        findings: Vec::new(),
        procedures: BTreeMap::new(),
        first_use: Vec::new(),
        conditions: Vec::new(),
        by_name: HashMap::with_capacity(document.steps.len()),
        kit: document.kit.iter().map(|(path, value)| (path.value.clone(), value.clone())).collect(),
        paths: BTreeSet::new(),
        numbers,
        steps: Vec::with_capacity(document.steps.len()),
        instance_of: Vec::with_capacity(document.steps.len()),
        scope_of: Vec::with_capacity(document.steps.len()),
        ids: HashMap::with_capacity(document.steps.len()),
        instances: Vec::new(),
        words: Vec::new(),
        takes: HashMap::new(),
        table_titles: BTreeMap::new(),
        passing: ConditionSet::default(),
        too_many: false,
        expanded: 0,
    };
    linker.paths = linker.kit.keys().cloned().collect();
    linker.guide(document);
    let ways = linker.ways();
    let rehearsals = linker.rehearsals(document, &ways);
    let clean = linker.findings.iter().all(|finding| finding.severity() == Severity::Warning);
    let findings = std::mem::take(&mut linker.findings);
    (clean.then(|| Guide { rehearsals, ..linker.into_guide(document, ways) }), findings)
}

/// Which kit numbers texts may use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Numbers {
    /// Those of the kit, and what gauges set.
    OfTheKit,
    /// Any: the file is looked at without a kit.
    Any,
}

/// One expansion of a file: the guide's own steps, or a procedure at one place.
struct Instance {
    document: Arc<Document>,
    scope: Arc<Scope>,
    prefix: String,
    used_at: Arc<[Place]>,
    /// Where each of its own ids begins.
    heads: HashMap<String, StepIdx>,
    /// Its own ids that have no step because of a fault that is told.
    unlaid: BTreeSet<String>,
    /// Its steps in order: the raw step, the node that is entered and the node that is left.
    order: Vec<Laid>,
    /// Where a `return` of it leads.
    return_to: Option<StepIdx>,
}

/// What a step that is laid belongs to.
struct Inside {
    stage: Option<Arc<str>>,
    run: Option<StepIdx>,
}

struct Laid {
    raw: usize,
    head: StepIdx,
    tail: StepIdx,
    /// The first nodes of the procedure's expansions, where it is a run: each leads into the next.
    inside: Vec<usize>,
    /// Whether another value of its `each` follows: that comes next, whatever `then` says.
    goes_on: bool,
}

struct Linker<'l> {
    library: &'l Library,
    findings: Vec<Finding>,
    /// What each fault table that is named takes.
    takes: HashMap<String, Vec<String>>,
    /// The title of each, where it can be read.
    table_titles: BTreeMap<String, String>,
    procedures: BTreeMap<String, Option<Arc<Document>>>,
    first_use: Vec<(Arc<Document>, Arc<[Place]>)>,
    conditions: Vec<String>,
    by_name: HashMap<String, Condition>,
    kit: BTreeMap<String, KitValue>,
    /// Kit numbers that exist: given, or set by a gauge.
    paths: BTreeSet<String>,
    numbers: Numbers,
    steps: Vec<Step>,
    /// Which instance each step was laid out by.
    instance_of: Vec<usize>,
    /// The parameters in force at each step.
    scope_of: Vec<Arc<Scope>>,
    ids: HashMap<Arc<str>, StepIdx>,
    instances: Vec<Instance>,
    words: Vec<(Condition, String)>,
    passing: ConditionSet,
    too_many: bool,
    /// Bytes of the texts, ids and names that were laid out.
    expanded: usize,
}

impl Linker<'_> {
    fn intern(&mut self, name: &str) -> Condition {
        if let Some(known) = self.by_name.get(name) {
            return *known;
        }
        let condition = Condition(self.conditions.len() as u32);
        self.conditions.push(name.to_owned());
        self.by_name.insert(name.to_owned(), condition);
        condition
    }

    /// Reports a finding in an instance; inside a procedure it names where the procedure is run.
    fn report(&mut self, instance: usize, code: Code, span: &Span, message: String) -> &mut Finding {
        let instance = &self.instances[instance];
        let finding = Finding::new(code, instance.document.place(span), message).used_at(instance.used_at.to_vec());
        self.findings.push(finding);
        self.findings.last_mut().expect("one was just added")
    }

    /// Tells whether there are few enough findings that names are still suggested.
    fn suggests(&self) -> bool {
        self.findings.len() < crate::finding::SUGGESTIONS
    }

    fn raw<'d>(document: &'d Document, laid: &Laid) -> &'d RawStep {
        &document.steps[laid.raw]
    }

    fn into_guide(mut self, document: &Arc<Document>, ways: Vec<Way>) -> Guide {
        let graph = graph_of(self.steps.len(), &ways);
        let mut words = vec![None; self.conditions.len()];
        for (condition, said) in std::mem::take(&mut self.words) {
            words[condition.index()].get_or_insert(said);
        }
        let rests = self.rests(&ways);
        Guide {
            id: document.id.value.clone(),
            title: document.title.clone(),
            edition: document.edition.clone(),
            use_when: document.use_when.as_ref().map(|text| text.value.clone()),
            not_when: document.not_when.as_ref().map(|text| text.value.clone()),
            care: None,
            document: Arc::clone(document),
            procedures: self.first_use,
            steps: self.steps,
            ways,
            graph,
            conditions: self.conditions,
            by_name: self.by_name,
            words,
            passing: self.passing,
            kit: self.kit,
            measured: document.measured.iter().map(|path| path.value.clone()).collect(),
            rests,
            rehearsals: Vec::new(),
            table_titles: self.table_titles,
        }
    }

    /// Returns what rests on what: a condition on each lasting need of a step that gives it.
    fn rests(&self, ways: &[Way]) -> Rests {
        let layer = |step: &Step| {
            let own = step.gives.iter().map(|mention| mention.condition);
            let of_ways = ways[step.way_range()].iter().flat_map(|way| &way.gives);
            let mut gives: Vec<Condition> = own.chain(of_ways.copied()).collect();
            let run = match step.kind {
                super::model::Kind::Return { run } => Some(&self.steps[run.index()]),
                _ => None,
            };
            let needs = step.needs.iter().chain(run.into_iter().flat_map(|run| &run.needs));
            let mut needs: Vec<Condition> =
                needs.map(|need| need.condition).filter(|need| !self.passing.contains(*need)).collect();
            for conditions in [&mut needs, &mut gives] {
                conditions.sort_unstable();
                conditions.dedup();
            }
            Layer { needs, gives }
        };
        let layers = self.steps.iter().map(layer).filter(|layer| !layer.needs.is_empty() && !layer.gives.is_empty());
        Rests::new(self.conditions.len(), layers.collect())
    }
}
