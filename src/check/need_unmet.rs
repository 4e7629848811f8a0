//! `need-unmet` and `never-given`: a step can be reached without something it needs.

use std::collections::HashMap;

use super::about_at;
use super::flow::{Flow, bits};
use super::walks::Walks;
use crate::finding::{Code, Finding, Fix, SUGGESTIONS, nearest};
use crate::guide::{Condition, ConditionSet, Guide, StepIdx};

/// How many of the steps that give a condition are named.
const GIVERS_NAMED: usize = 3;

/// Reports every need that may be unmet; returns for each way whether it gives anything live where it leads.
pub(super) fn check(flow: &Flow<'_>, findings: &mut Vec<Finding>) -> Vec<bool> {
    let guide = flow.guide();
    let mut useful = vec![false; guide.ways().len()];
    let mut unmet: Vec<(usize, Condition)> = Vec::new();
    flow.each_chunk(|chunk| {
        for (way, given) in chunk.giving {
            if let Some(to) = guide.ways()[*way as usize].to {
                useful[*way as usize] |= given & chunk.live[to.index()] != 0;
            }
        }
        if let Some(missing) = chunk.missing() {
            for step in chunk.steps {
                let step = *step as usize;
                let lacking = chunk.needs[step] & missing[step];
                if lacking != 0 && flow.is_reachable(guide.step_at(step)) {
                    unmet.extend(bits(chunk.number, lacking).map(|condition| (step, condition)));
                }
            }
        }
    });
    if unmet.is_empty() {
        return useful;
    }
    let given: ConditionSet = guide
        .ways()
        .iter()
        .flat_map(|way| way.gives.iter().copied())
        .chain(guide.steps().flat_map(|(_, step)| step.gives.iter().map(|mention| mention.condition)))
        .collect();
    let mut givers: HashMap<Condition, Vec<StepIdx>> = HashMap::new();
    for (idx, step) in guide.steps() {
        for mention in &step.gives {
            let givers = givers.entry(mention.condition).or_default();
            if givers.len() < GIVERS_NAMED && givers.last() != Some(&idx) {
                givers.push(idx);
            }
        }
    }
    let mut walks = Walks::new(guide);
    unmet.sort_by_key(|(step, condition)| (*condition, *step));
    for (step, condition) in unmet {
        let givers = givers.get(&condition).map_or(&[][..], |givers| givers);
        let suggests = findings.len() < SUGGESTIONS;
        findings.extend(finding(flow, step, condition, &given, givers, suggests, &mut walks));
    }
    useful
}

fn finding(
    flow: &Flow<'_>,
    step: usize,
    condition: Condition,
    given: &ConditionSet,
    givers: &[StepIdx],
    suggests: bool,
    walks: &mut Walks<'_>,
) -> Option<Finding> {
    let guide = flow.guide();
    let idx = guide.step_at(step);
    let step = guide.step(idx);
    let need = step.needs.iter().find(|need| need.condition == condition)?;
    let name = guide.name(condition);
    let mut near = None;
    let (code, message, help) = if given.contains(condition) {
        let message = format!("`{}` can be reached without `{name}`", step.id);
        let givers: Vec<&str> = givers.iter().map(|giver| &*guide.step(*giver).id).collect();
        let help = if givers.is_empty() {
            "lead every walk through a way that gives it, or let the walk end before this step".to_owned()
        } else {
            format!("lead that walk through {} first, or give `{name}` on its way", or_list(&givers))
        };
        (Code::NeedUnmet, message, help)
    } else {
        let message = format!("nothing gives `{name}`, which `{}` needs", step.id);
        let others = given.iter().map(|other| guide.name(other)).filter(|_| suggests);
        near = nearest(name, others);
        let help = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("let the step that makes it true say `gives = [\"{name}\"]`"),
        };
        (Code::NeverGiven, message, help)
    };
    let place = step.place_of(&need.span);
    let mut finding = about_at(code, step, place, message).condition(name).help(help);
    if let Some(near) = near {
        finding = match misspelt_where_given(guide, condition, near) {
            Some(fix) => {
                let help = format!("`{near}` is given and has no words: did you mean `{name}` there?");
                Finding { fix: Some(fix), ..finding.help(help) }
            }
            None => finding.meant(name, near),
        };
    }
    if let Some(walk) = walks.without(condition, idx) {
        finding = finding.walk(walk.into_iter().map(|step| guide.step(step).id.to_string()).collect());
    }
    Some(finding)
}

/// Returns the fix of a name that is misspelt where it is given: what is needed has words, and what is given, once, has
/// none.
fn misspelt_where_given(guide: &Guide, needed: Condition, given: &str) -> Option<Fix> {
    let other = guide.condition(given).filter(|other| guide.words(*other).is_none())?;
    guide.words(needed)?;
    let mentions = guide.steps().flat_map(|(_, step)| step.gives.iter().map(move |mention| (step, mention)));
    let mut mentions = mentions.filter(|(_, mention)| mention.condition == other);
    let (step, mention) = mentions.next().filter(|_| mentions.next().is_none())?;
    Fix::rename(&step.place_of(&mention.span), given, guide.name(needed))
}

fn or_list(ids: &[&str]) -> String {
    ids.iter().map(|id| format!("`{id}`")).collect::<Vec<_>>().join(" or ")
}
