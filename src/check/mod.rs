//! Proves a linked guide: on no path is a step reached before what it rests on.
//!
//! [`flow`] holds the two analyses; every other file is one check with its message. Each kind of finding has a page
//! with an example, [`Code::page`](crate::finding::Code::page), and the pages are run as tests.

pub mod cover;
pub mod flow;
pub mod rejoin;

pub mod compare;
mod end_unguarded;
mod fault_table;
mod figures;
mod idle_gate;
mod idle_step;
pub(crate) mod kit_numbers;
mod long_stretch;
pub mod mend;
mod need_unmet;
mod no_finish;
mod no_way_out;
mod one_way_unguarded;
mod open_repeat;
mod remedy_no_gain;
mod unreachable;
mod unworded;
mod walks;
mod wording;

use std::sync::Arc;

use crate::finding::{Code, Finding, Severity, Source};
use crate::guide::document::Document;
use crate::guide::{Guide, Library, Step, StepIdx};
use flow::Flow;

pub use figures::check_figures;

/// What checking one file found.
#[derive(Debug, Clone)]
pub struct Checked {
    /// The guide's id; empty where the file could not be read so far.
    pub id: String,
    /// The linked guide, where reading and linking found no error.
    pub guide: Option<Guide>,
    /// Everything found, sorted by file, line, column and code.
    pub findings: Vec<Finding>,
}

impl Checked {
    /// Returns how many steps the expanded guide has, 0 where it could not be linked.
    pub fn n_steps(&self) -> usize {
        self.guide.as_ref().map_or(0, Guide::len)
    }

    /// Returns how many findings weigh as much.
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity() == severity).count()
    }

    /// Tells whether the guide can be walked: it links and every proof holds.
    pub fn is_sound(&self) -> bool {
        self.guide.is_some() && self.count(Severity::Error) == 0
    }
}

/// Reads, links and checks a file.
///
/// ```
/// use stepjig::check::check_file;
/// use stepjig::finding::Source;
/// use stepjig::guide::Library;
///
/// let text = r#"
/// stepjig = 1
/// [guide]
/// id = "press"
/// title = "Press"
/// [[step]]
/// id = "press-nib"
/// do = "Press the coupler home."
/// needs = ["body.glued"]
/// gives = ["coupler.pressed"]
/// [[step]]
/// id = "end"
/// end = "finished"
/// needs = ["coupler.pressed"]
/// "#;
/// let checked = check_file(&Library::empty(), &Source::new("press.toml", text));
/// let error = checked.findings.iter().find(|finding| finding.code.as_str() == "never-given").unwrap();
/// assert_eq!(error.place.to_string(), "press.toml:9:10");
/// ```
pub fn check_file(library: &Library, source: &Arc<Source>) -> Checked {
    let linked = library.link(source);
    let mut findings = linked.findings;
    if let Some(guide) = &linked.guide {
        findings.extend(check(guide));
        if guide.steps().any(|(_, step)| !step.trouble.is_empty()) {
            remedy_no_gain::check(library, &Flow::new(guide), &mut findings);
        }
    } else if let Some(document) = &linked.document
        && findings.is_empty()
    {
        wording::check(document, &mut findings);
        findings.extend(fault_table::check(library, document));
    }
    crate::finding::sort(&mut findings);
    let id = linked.document.map_or(String::new(), |document| document.id.value.clone());
    Checked { id, guide: linked.guide, findings }
}

/// Checks a linked guide: the proofs, the warnings about its graph, and the wording of its texts.
pub fn check(guide: &Guide) -> Vec<Finding> {
    let mut findings = proofs(guide);
    let mut worded = |document: &Arc<Document>, used_at: &[crate::finding::Place]| {
        let mut of_file = Vec::new();
        wording::check(document, &mut of_file);
        findings.extend(of_file.into_iter().map(|finding| finding.used_at(used_at.to_vec())));
    };
    if !guide.document().linked {
        worded(guide.document(), &[]);
    }
    for (document, used_at) in guide.procedures().chain(guide.care().into_iter().flat_map(Guide::procedures)) {
        worded(document, used_at);
    }
    crate::finding::sort(&mut findings);
    findings
}

/// Checks the graph alone.
pub fn proofs(guide: &Guide) -> Vec<Finding> {
    let flow = Flow::new(guide);
    let mut findings = Vec::new();
    let useful = need_unmet::check(&flow, &mut findings);
    unreachable::check(&flow, &mut findings);
    no_finish::check(&flow, &mut findings);
    no_way_out::check(&flow, &mut findings);
    one_way_unguarded::check(&flow, &mut findings);
    end_unguarded::check(&flow, &mut findings);
    idle_step::check(&flow, &useful, &mut findings);
    idle_gate::check(&flow, &useful, &mut findings);
    unworded::check(&flow, &mut findings);
    long_stretch::check(&flow, &mut findings);
    open_repeat::check(&flow, &mut findings);
    kit_numbers::check(guide, &mut findings);
    crate::finding::sort(&mut findings);
    findings
}

/// Returns a finding about a step, at its id.
fn about(code: Code, guide: &Guide, idx: StepIdx, message: String) -> Finding {
    let step = guide.step(idx);
    about_at(code, step, step.place(), message)
}

/// Returns a finding about a step, at a place of it.
fn about_at(code: Code, step: &Step, place: crate::finding::Place, message: String) -> Finding {
    Finding::new(code, place, message).step(&*step.id).used_at(step.used_at().to_vec())
}
