//! `unworded`: a person would be asked about a condition that has no words.

use super::about_at;
use super::flow::Flow;
use crate::finding::{Code, Finding};
use crate::guide::ConditionSet;

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
            let words = match name.split_once('.') {
                Some((what, state)) => format!("the {what} is {}", state.replace(['.', '-'], " ")),
                None => format!("the work is {}", name.replace('-', " ")),
            };
            let help = format!("say it as a person would under `[words]`: `\"{name}\" = \"{words}\"`");
            findings.push(about_at(Code::Unworded, step, step.place_of(&span), message).condition(name).help(help));
        }
    }
}
