//! A fault table proved alone: each check and remedy from what surely holds when its turn comes.
//!
//! What surely holds is what the table needs, less what any other action may have removed before and gone on.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::{proofs, wording};
use crate::finding::{Code, Finding, Place, Span};
use crate::guide::document::{Document, Text};
use crate::guide::fault_table::{RawFaultTable, RawRemedy};
use crate::guide::{AS_IT_STANDS, Condition, FIXED, Guide, Library, Way};
use crate::trouble::findings::Findings;
use crate::trouble::plan::{Budget, compile};
use crate::trouble::problem::MOST_MINUTES;
use crate::trouble::table::{Endings, Table};
use crate::trouble::warnings::{Warning, warnings};

/// How many nodes a policy may have that is looked through for remedies it never comes to.
const MOST_NODES: usize = 100_000;

/// Proves a table that was read without an error.
pub(super) fn check(library: &Library, document: &Arc<Document>) -> Vec<Finding> {
    let Some(table) = document.fault_table.as_deref() else { return Vec::new() };
    // Alone, each parameter stands for a branch of the kit's numbers of its own name.
    let with: Vec<(String, String)> =
        document.takes.iter().map(|taken| (taken.value.clone(), format!("kit.{}", taken.value))).collect();
    let table = table.filled(&document.takes, &with, |_| None);
    let alone = Alone { library, document, table: &table };
    let mut findings = Vec::new();
    alone.fixed_answers(&mut findings);
    alone.hardly_meant(&mut findings);
    let needs: BTreeSet<&str> = table.needs.iter().map(|need| need.value.as_str()).collect();
    let removed: Vec<BTreeSet<String>> = table.remedies.iter().map(|remedy| alone.removed_by(remedy, &needs)).collect();
    for (n, remedy) in table.remedies.iter().enumerate() {
        let others = removed.iter().enumerate().filter(|(other, _)| *other != n).flat_map(|(_, removed)| removed);
        let gone: BTreeSet<&str> = others
            .map(String::as_str)
            .chain(table.checks.iter().flat_map(removed_by_check))
            .chain(undone_by(remedy))
            .collect();
        let held: Vec<String> = needs.difference(&gone).map(|name| (*name).to_owned()).collect();
        alone.remedy(remedy, &held, &mut findings);
    }
    crate::finding::sort(&mut findings);
    findings.dedup();
    findings
}

/// Returns what a remedy removes before anything is done.
fn undone_by(remedy: &RawRemedy) -> impl Iterator<Item = &str> {
    remedy.undoes.iter().map(|name| name.value.as_str())
}

/// Returns what a check's answers remove where the table goes on after them.
fn removed_by_check(check: &crate::guide::fault_table::RawCheck) -> impl Iterator<Item = &str> {
    let goes_on = check.outcomes.iter().filter(|outcome| !outcome.fixed && !outcome.lost);
    goes_on.flat_map(|outcome| outcome.spoils.iter().chain(&outcome.undoes)).map(|name| name.value.as_str())
}

struct Alone<'c> {
    library: &'c Library,
    document: &'c Arc<Document>,
    table: &'c RawFaultTable,
}

impl Alone<'_> {
    /// Returns what a remedy may have removed when it is over and has not cured.
    fn removed_by(&self, remedy: &RawRemedy, needs: &BTreeSet<&str>) -> BTreeSet<String> {
        let held: Vec<String> = needs.iter().map(|name| (*name).to_owned()).collect();
        let linked = self.library.link_remedy(self.document, self.table, remedy, &held, None);
        let Some(guide) = linked.guide else { return BTreeSet::new() };
        let removed = guide.ways().iter().flat_map(|way| way.removes.iter().chain(&way.undoes));
        let undone = remedy.undoes.iter().map(|name| name.value.clone());
        removed.map(|condition| guide.name(*condition).to_owned()).chain(undone).collect()
    }

    fn remedy(&self, remedy: &RawRemedy, held: &[String], findings: &mut Vec<Finding>) {
        let linked = self.library.link_remedy(self.document, self.table, remedy, held, None);
        findings.extend(linked.findings);
        let Some(guide) = linked.guide else { return };
        // The steps that stand for the table itself are not judged, but for what the cured pen needs.
        let own = |finding: &Finding| match finding.step.as_deref() {
            Some(AS_IT_STANDS) => false,
            Some(FIXED) => matches!(finding.code, Code::NeedUnmet | Code::NeverGiven),
            // Its conditions are the guide's, which has the words for them.
            step => step != Some(&remedy.id.value) || !matches!(finding.code, Code::IdleStep | Code::Unworded),
        };
        findings.extend(proofs(&guide).into_iter().filter(own));
        for (procedure, used_at) in guide.procedures() {
            let mut of_file = Vec::new();
            wording::check(procedure, &mut of_file);
            findings.extend(of_file.into_iter().map(|finding| finding.used_at(used_at.to_vec())));
        }
        if gives_nothing(&guide) {
            let message = format!("`{}` cures, and nothing is true then that was not before", remedy.id.value);
            findings.push(self.nothing(&remedy.id, message));
        }
    }

    /// Tells of answers that say that it is fixed and make nothing true.
    fn fixed_answers(&self, findings: &mut Vec<Finding>) {
        for outcome in self.table.checks.iter().flat_map(|check| &check.outcomes) {
            if outcome.fixed && outcome.gives.is_empty() {
                let message = format!("`{}` is fixed, and nothing is true then that was not before", outcome.say.value);
                findings.push(self.nothing(&outcome.say, message));
            }
        }
    }

    /// Tells what is allowed in the numbers of a table but hardly meant.
    fn hardly_meant(&self, findings: &mut Vec<Finding>) {
        let own = self.table.start_over.as_ref().and_then(|over| over.minutes);
        // Where beginning again is only computed in a job, no policy is the best one here.
        let endings = Endings { start_over: own.or(Some(MOST_MINUTES)), ..Endings::default() };
        let Ok(table) = Table::alone(self.document, &endings) else { return };
        let policy = own.and_then(|_| compile(&table.problem, &Findings::none(), &Budget::default(), MOST_NODES).ok());
        for warning in warnings(&table.problem, policy.as_ref()) {
            let (code, id, help) = match &warning {
                Warning::AlikeButForRemedies { one, .. } => {
                    (Code::AlikeCauses, one, "add a check that tells them apart, or make one cause of them")
                }
                Warning::TellsNothing { check } => {
                    (Code::IdleCheck, check, "give its answers other chances under other causes, or leave it out")
                }
                Warning::NeverBest { remedy } => {
                    (Code::IdleRemedy, remedy, "see whether its minutes and chances are meant, or leave it out")
                }
                Warning::NeverLikeliest { cause } => {
                    (Code::NeverLikeliest, cause, "add a check that speaks for it, or put it under `something else`")
                }
            };
            let place = Place::new(&self.document.source, self.place_of(id));
            findings.push(Finding::new(code, place, warning.to_string()).help(help));
        }
    }

    /// Returns where a cause, check or remedy has its id.
    fn place_of(&self, id: &str) -> Span {
        let causes = self.table.causes.iter().map(|cause| &cause.id);
        let checks = self.table.checks.iter().map(|check| &check.id);
        let mut ids = causes.chain(checks).chain(self.table.remedies.iter().map(|remedy| &remedy.id));
        ids.find(|known| known.value == id).map_or(0..0, |known| known.span.clone())
    }

    fn nothing(&self, at: &Text, message: String) -> Finding {
        let help = "say what is true of the work now: `gives = [\"…\"]`; the pen is picked up again by it";
        Finding::new(Code::FixedGivesNothing, Place::new(&self.document.source, at.span.clone()), message).help(help)
    }
}

/// Tells whether no step of a remedy makes anything lasting true.
fn gives_nothing(guide: &Guide) -> bool {
    let counts = |condition: &Condition| !guide.is_passing(*condition) && !guide.name(*condition).starts_with("read.");
    let of_remedy = |way: &&Way| &*guide.step(way.from).id != AS_IT_STANDS;
    !guide.ways().iter().filter(of_remedy).flat_map(|way| &way.gives).any(counts)
}
