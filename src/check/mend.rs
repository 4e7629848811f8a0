//! Mends what can be mended without knowing the work: applies the fixes that findings carry, until none is left.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::{Checked, check_file, idle_step, unworded};
use crate::finding::{Code, Edit, Finding, Severity, Source, edited};
use crate::guide::Library;

/// How often it is looked at again. Each round can bring to light what the last one hid; a guide needs two or three.
const ROUNDS: usize = 30;

/// A file with its mechanical faults mended.
#[derive(Debug, Clone)]
pub struct Mended {
    /// The text now.
    pub source: Arc<Source>,
    /// What was changed, in the order it was done.
    pub changes: Vec<Change>,
    /// What is found in it now.
    pub checked: Checked,
}

/// One change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Why.
    pub code: Code,
    /// The line, as the file stood then.
    pub line: usize,
    /// What was done.
    pub what: String,
}

/// Mends a file as far as its findings say how.
///
/// Only bytes that a fix names are changed. A fix after which the file is worse is not made: one that breaks the file's
/// form, or that adds an error to a guide that links. Mending what is mended changes nothing.
pub fn mend(library: &Library, source: &Arc<Source>) -> Mended {
    let mut mended = Mended { source: Arc::clone(source), changes: Vec::new(), checked: looked_at(library, source) };
    let mut refused = BTreeSet::new();
    for _ in 0..ROUNDS {
        let fixable: Vec<Finding> = fixable(&mended, &refused);
        if fixable.is_empty() {
            break;
        }
        let together = not_colliding(&fixable);
        if mended.try_all(library, &together) {
            continue;
        }
        // One of them does harm: each is tried alone, and those that do are left.
        match together.iter().find(|finding| mended.try_all(library, std::slice::from_ref(*finding))) {
            Some(_) => {}
            None => refused.extend(together.iter().map(name_of)),
        }
    }
    mended
}

/// Checks a file, with the fixes that cost a look at the whole of it.
fn looked_at(library: &Library, source: &Arc<Source>) -> Checked {
    let mut checked = check_file(library, source);
    if let Some(guide) = &checked.guide {
        idle_step::suggest(guide, &mut checked.findings);
        unworded::suggest(guide, &mut checked.findings);
    }
    checked
}

/// Returns the findings with a fix for this file, the same fix once.
fn fixable(mended: &Mended, refused: &BTreeSet<String>) -> Vec<Finding> {
    let mut known = BTreeSet::new();
    let findings = mended.checked.findings.iter();
    let own = findings.filter(|finding| finding.fix.is_some() && Arc::ptr_eq(&finding.place.source, &mended.source));
    own.filter(|finding| !refused.contains(&name_of(finding)) && known.insert(name_of(finding))).cloned().collect()
}

fn name_of(finding: &Finding) -> String {
    let what = finding.fix.as_ref().map_or("", |fix| &fix.what);
    let edits = finding.fix.iter().flat_map(|fix| &fix.edits).map(|edit| edit.text.as_str());
    let at: Vec<usize> = finding.fix.iter().flat_map(|fix| &fix.edits).map(|edit| edit.span.start).collect();
    format!("{} {what} {} {at:?}", finding.code, edits.collect::<Vec<_>>().join("|"))
}

/// Returns those that can be made together, the first of those that cannot.
fn not_colliding(findings: &[Finding]) -> Vec<Finding> {
    let mut edits: Vec<&Edit> = Vec::new();
    let mut taken = Vec::new();
    for finding in findings {
        let own: Vec<&Edit> = finding.fix.iter().flat_map(|fix| &fix.edits).collect();
        if own.iter().all(|edit| edits.iter().all(|other| !edit.collides(other))) {
            edits.extend(own);
            taken.push(finding.clone());
        }
    }
    taken
}

impl Mended {
    /// Makes these fixes if the file is none the worse for them.
    fn try_all(&mut self, library: &Library, findings: &[Finding]) -> bool {
        let edits = findings.iter().filter_map(|finding| finding.fix.as_ref()).flat_map(|fix| &fix.edits);
        let text = edited(self.source.text(), edits);
        let source = Source::new(self.source.name(), text);
        let checked = looked_at(library, &source);
        if source.text() == self.source.text() || is_worse(&self.checked, &checked) {
            return false;
        }
        self.changes.extend(findings.iter().filter_map(|finding| {
            let (line, _) = finding.place.line_column();
            Some(Change { code: finding.code, line, what: finding.fix.as_ref()?.what.clone() })
        }));
        self.source = source;
        self.checked = checked;
        true
    }
}

/// Tells whether a file is worse than it was. A fault of its form hides others, so errors are counted only where both
/// link.
fn is_worse(before: &Checked, after: &Checked) -> bool {
    let broken = |checked: &Checked| {
        let of_form =
            |finding: &&Finding| matches!(finding.code, Code::Syntax | Code::DuplicateId | Code::DuplicateAnswer);
        checked.findings.iter().filter(of_form).count()
    };
    let errors = |checked: &Checked| checked.count(Severity::Error);
    broken(after) > broken(before)
        || before.guide.is_some() && (after.guide.is_none() || errors(after) > errors(before))
}
