//! Where a job's pen is picked up again: the latest step of its own walk where everything needed is held.

pub use crate::check::rejoin::{Rejoin, latest_first, onward, remaining, stands, without_job};

use super::state::State;
use crate::check::flow::Flow;
use crate::guide::StepIdx;

/// Returns the latest step of a job's own walk, the present one included, where everything needed is held.
///
/// Where none will do (a walk taken up in the middle), it is the step of the rule without a job.
pub fn in_job(flow: &Flow<'_>, state: &State) -> Option<StepIdx> {
    let lasting = state.lasting(flow.guide());
    let ready = flow.ready_for(&lasting);
    let walked = std::iter::once(state.here).chain(state.visits.iter().rev().map(|visit| visit.step));
    walked
        .into_iter()
        .find(|step| ready[step.index()])
        .or_else(|| ready[0].then(|| flow.guide().first()))
        .or_else(|| Some(without_job(flow, &lasting)?.step))
}
