//! Where a guide's work goes on when a remedy has put it right, by the numbers of its checklist.

use super::Fault;
use crate::check::flow::Flow;
use crate::guide::fault_table::RawFaultTable;
use crate::guide::{ConditionSet, Guide, StepIdx};

/// Returns for each fault table, and each of its remedies, where the work goes on from each step that names the table.
///
/// It is the rule of a job, [`in_job`](crate::walk::rejoin::in_job), for who came on the path that is gone when
/// nothing is amiss: the latest step of that path where all that may still be needed holds.
pub(super) fn goes_on(guide: &Guide, faults: &[Fault]) -> Vec<Vec<String>> {
    let flow = Flow::new(guide);
    let path = path(guide);
    faults.iter().map(|fault| of_table(&flow, &path, fault)).collect()
}

/// A step of the path, with what holds when it is reached.
type Stop = (StepIdx, ConditionSet);

fn path(guide: &Guide) -> Vec<Stop> {
    let mut held = ConditionSet::default();
    let stop = |idx: StepIdx| {
        let reached = held.clone();
        if let Some(way) = guide.goes_on(idx) {
            guide.leave(&mut held, guide.way(way));
        }
        (idx, reached)
    };
    guide.path_from(guide.first()).map(stop).collect()
}

fn of_table(flow: &Flow<'_>, path: &[Stop], fault: &Fault) -> Vec<String> {
    let guide = flow.guide();
    let raw = fault.document.fault_table.as_deref();
    let mut goes_on: Vec<Vec<(usize, usize)>> = vec![Vec::new(); fault.table.words.remedies.len()];
    for (place, (idx, held)) in path.iter().enumerate() {
        let calls = guide.step(*idx).trouble.iter().filter(|call| *call.table == *fault.table.id);
        for call in calls {
            let filled = raw.map(|raw| raw.filled(&fault.document.takes, &call.with, |_| None));
            let lost = lost(fault, &call.with);
            for (n, to) in
                filled.iter().flat_map(|table| after(flow, &path[..=place], held, (table, &lost))).enumerate()
            {
                let numbers = guide.number(*idx).zip(to.and_then(|to| number_from(guide, to)));
                goes_on[n].extend(numbers);
            }
        }
    }
    goes_on.iter().map(|pairs| said(pairs)).collect()
}

/// Returns what the steps of each remedy may take away, by its name in the guide that calls the table so.
fn lost(fault: &Fault, with: &[(String, String)]) -> Vec<Vec<String>> {
    // A remedy's steps are linked with each parameter standing for itself.
    let named = |name: &str| -> String {
        let (first, rest) = name.split_once('.').unwrap_or((name, ""));
        let given =
            with.iter().find(|(taken, _)| taken == first).map(|(_, given)| given.rsplit('.').next().unwrap_or(given));
        match given {
            Some(given) if !rest.is_empty() => format!("{given}.{rest}"),
            _ => name.to_owned(),
        }
    };
    let of = |remedy: &Option<Guide>| -> Vec<String> {
        let Some(remedy) = remedy else { return Vec::new() };
        let taken = remedy.ways().iter().flat_map(|way| way.removes.iter().chain(&way.undoes));
        let mut taken: Vec<String> = taken.map(|condition| named(remedy.name(*condition))).collect();
        taken.sort_unstable();
        taken.dedup();
        taken
    };
    fault.remedies.iter().map(of).collect()
}

/// Returns where each remedy of a table leads back to.
fn after(
    flow: &Flow<'_>,
    path: &[Stop],
    held: &ConditionSet,
    (table, lost): (&RawFaultTable, &[Vec<String>]),
) -> Vec<Option<StepIdx>> {
    let guide = flow.guide();
    let known = |texts: &[crate::guide::document::Text]| -> Vec<_> {
        texts.iter().filter_map(|text| guide.condition(&text.value)).collect()
    };
    let leads = |(n, remedy): (usize, &crate::guide::fault_table::RawRemedy)| {
        let taken = lost.get(n).into_iter().flatten().filter_map(|name| guide.condition(name));
        let gone = guide.built_on(known(&remedy.undoes).into_iter().chain(taken));
        let mut now: ConditionSet =
            held.iter().filter(|condition| !gone.contains(*condition) && !guide.is_passing(*condition)).collect();
        now.extend(known(&remedy.gives));
        let ready = flow.ready_for(&now);
        path.iter().rev().map(|(idx, _)| *idx).find(|idx| ready[idx.index()])
    };
    table.remedies.iter().enumerate().map(leads).collect()
}

/// Returns the number of a step, or of the first after it that has one.
fn number_from(guide: &Guide, idx: StepIdx) -> Option<usize> {
    guide.path_from(idx).find_map(|idx| guide.number(idx))
}

/// Says where the work goes on: from each step of the checklist, those that go on alike together.
fn said(pairs: &[(usize, usize)]) -> String {
    let mut by_to: Vec<(usize, Vec<usize>)> = Vec::new();
    for (from, to) in pairs {
        match by_to.iter_mut().find(|(known, _)| known == to) {
            Some((_, froms)) => froms.push(*from),
            None => by_to.push((*to, vec![*from])),
        }
    }
    let (same, others): (Vec<_>, Vec<_>) = by_to.iter().partition(|(to, froms)| froms == &[*to]);
    let mut told: Vec<String> = others
        .iter()
        .map(|(to, froms)| {
            let froms: Vec<String> = froms.iter().map(usize::to_string).collect();
            format!("from {} on at {to}", froms.join(", "))
        })
        .collect();
    match (same.is_empty(), told.is_empty()) {
        (true, true) => return String::new(),
        (false, true) => return "on at the checklist's step that sent you here.".to_owned(),
        (false, false) => told.push("else on at the step that sent you here".to_owned()),
        (true, false) => {}
    }
    format!("checklist, {}.", told.join("; "))
}
