//! `unworded`: a person would be asked about a condition that has no words.

use super::about_at;
use super::flow::Flow;
use crate::finding::{Code, Finding, Fix, SUGGESTIONS};
use crate::guide::{ConditionSet, Guide, edit};

pub(super) fn check(flow: &Flow<'_>, findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    let mut told = ConditionSet::default();
    for (_, step) in guide.steps() {
        let raw = step.raw_step();
        let own = [&step.needs, &step.gives, &step.spoils, &step.undoes].into_iter().flatten();
        let own: Vec<_> = own.map(|mention| (mention.condition, mention.span.clone())).collect();
        let of_ways = guide.ways()[..].get(step.way_range()).into_iter().flatten();
        let of_ways = of_ways.flat_map(|way| {
            way.gives
                .iter()
                .chain(&way.removes)
                .chain(&way.undoes)
                .map(|condition| (*condition, way.span.clone().unwrap_or_else(|| raw.id.span.clone())))
        });
        for (condition, span) in own.into_iter().chain(of_ways) {
            let name = guide.name(condition);
            if guide.words(condition).is_some() || name.starts_with("read.") || !told.insert(condition) {
                continue;
            }
            let message = format!("`{name}` has no words");
            let help = format!("say it as a person would under `[words]`: `\"{name}\" = \"{}\"`", words(name));
            findings.push(about_at(Code::Unworded, step, step.place_of(&span), message).condition(name).help(help));
        }
    }
}

/// Gives the findings of this check the fix that mends them. While something is wanted that nothing gives, a name without
/// words may be a slip, and gets none.
pub(super) fn suggest(guide: &Guide, findings: &mut [Finding]) {
    if findings.iter().any(|finding| finding.code == Code::NeverGiven) {
        return;
    }
    for finding in findings.iter_mut().filter(|finding| finding.code == Code::Unworded).take(SUGGESTIONS) {
        finding.fix = finding.condition.clone().and_then(|name| fix(guide, finding, &name, &words(&name)));
    }
}

/// Returns first words for a condition.
fn words(name: &str) -> String {
    match name.split_once('.') {
        Some((what, state)) => format!("the {what} is {}", state.replace(['.', '-'], " ")),
        None => format!("the work is {}", name.replace('-', " ")),
    }
}

/// Returns the fix that says it in words, in a step of the guide's own file; a procedure says its own.
fn fix(guide: &Guide, finding: &Finding, name: &str, words: &str) -> Option<Fix> {
    let source = &guide.document().source;
    let own = std::sync::Arc::ptr_eq(source, &finding.place.source) && !guide.document().linked;
    let edit = own.then(|| edit::add_words(source, name, words)).flatten()?;
    Some(Fix { what: format!("`{name}` gets the words \"{words}\"; read them over"), edits: vec![edit] })
}
