//! `idle-gate`: a question or gauge can send the work back, and nothing needs that it was passed.

use super::about;
use super::flow::Flow;
use crate::finding::{Code, Finding};
use crate::guide::{EndKind, Guide, Kind, StepIdx, Way};

/// `useful` tells of each way whether it gives anything live where it leads.
pub(super) fn check(flow: &Flow<'_>, useful: &[bool], findings: &mut Vec<Finding>) {
    let guide = flow.guide();
    for (idx, step) in guide.steps().filter(|(idx, _)| flow.is_reachable(*idx)) {
        if !matches!(step.kind, Kind::Ask | Kind::Gauge { .. }) {
            continue;
        }
        let refuses = |way: &Way| refuses(guide, idx, way);
        let guards = guide.ways_out(idx).iter().any(refuses);
        let passed = guide.ways_out_idx(idx).any(|way| !refuses(guide.way(way)) && useful[way.index()]);
        if guards && !passed {
            let message = format!("nothing later needs that `{}` was passed", step.id);
            let given: Vec<&str> = guide
                .ways_out(idx)
                .iter()
                .filter(|way| !refuses(way))
                .flat_map(|way| way.gives.iter().map(|condition| guide.name(*condition)))
                .collect();
            let help = match given.first() {
                Some(given) => format!("let the next step that rests on it need `{given}`"),
                None => {
                    "let its good ways give a condition, and let the next step that rests on it need that condition"
                        .to_owned()
                }
            };
            findings.push(about(Code::IdleGate, guide, idx, message).help(help));
        }
    }
}

/// Tells whether a way goes to a fault table, to scrap, or back.
fn refuses(guide: &Guide, from: StepIdx, way: &Way) -> bool {
    match way.to {
        None => true,
        Some(to) => to <= from || matches!(guide.step(to).kind, Kind::End(EndKind::Scrap | EndKind::NotFixed)),
    }
}
