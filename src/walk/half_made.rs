//! What to ask of a half-made pen: stage by stage, the latest first, so that a few answers settle it.

use crate::check::flow::Flow;
use crate::guide::{Condition, ConditionSet, Guide, Kind, StepIdx};

/// A run of steps under one title.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stage {
    /// Its title.
    pub title: String,
    /// Its first step.
    pub first: StepIdx,
    /// The first step after it; none after the last stage.
    pub after: Option<StepIdx>,
}

/// Returns the guide's stages in order; none where the guide names no stage.
pub fn stages(guide: &Guide) -> Vec<Stage> {
    let mut stages: Vec<Stage> = Vec::new();
    for (idx, step) in guide.steps() {
        let Some(title) = step.stage.as_deref() else { continue };
        if stages.last().is_some_and(|stage| stage.title == title) {
            continue;
        }
        if let Some(before) = stages.last_mut() {
            before.after = Some(idx);
        }
        stages.push(Stage { title: title.to_owned(), first: idx, after: None });
    }
    stages
}

/// Returns what must be true of the work for picking up at a step.
pub fn held_at(flow: &Flow<'_>, step: StepIdx) -> ConditionSet {
    let guide = flow.guide();
    flow.live_at(step).iter().filter(|condition| !guide.is_passing(*condition)).collect()
}

/// Returns what a finished pen is.
pub fn held_when_finished(guide: &Guide) -> ConditionSet {
    let finished = guide.steps().filter(|(_, step)| matches!(step.kind, Kind::End(crate::guide::EndKind::Finished)));
    finished.flat_map(|(_, step)| step.needs.iter().map(|need| need.condition)).collect()
}

/// Returns the lasting conditions that the steps of a stage give, the latest first.
pub fn given_in(guide: &Guide, stage: &Stage) -> Vec<Condition> {
    let inside = |idx: StepIdx| stage.first <= idx && stage.after.is_none_or(|after| idx < after);
    let mut given = Vec::new();
    for (_, step) in guide.steps().rev().filter(|(idx, _)| inside(*idx)) {
        for gives in step.gives.iter().rev().map(|mention| mention.condition) {
            if !guide.is_passing(gives) && !given.contains(&gives) {
                given.push(gives);
            }
        }
    }
    given
}

/// Returns conditions with all that they rest on.
pub fn with_what_they_rest_on(guide: &Guide, conditions: &[Condition]) -> ConditionSet {
    let is_under = |under: &Condition| {
        let built_on = guide.built_on([*under]);
        conditions.iter().any(|condition| built_on.contains(*condition))
    };
    guide.conditions().filter(is_under).collect()
}
