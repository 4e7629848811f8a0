//! Trouble in a walk: what a fault table's checks and remedies do to the work, and what rejoining after each would cost.
//!
//! The table itself is asked elsewhere; its events carry the names of what they remove and give, so that a journal is
//! read without it.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::event::Event;
use super::rejoin;
use super::state::State;
use crate::check::flow::Flow;
use crate::guide::{Condition, ConditionSet, Guide, TroubleCall};

/// What can happen while a fault table is asked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TroubleEvent {
    /// A table is opened at the present step.
    Opened {
        /// The table.
        table: String,
        /// What it is about.
        with: Vec<(String, String)>,
        /// What has gone wrong, in words.
        #[serde(default)]
        title: String,
    },
    /// A check has shown something.
    Found {
        /// The check.
        check: String,
        /// Its answer's words.
        answer: String,
        /// What is no longer true by it.
        removed: Vec<String>,
        /// What is true by it.
        given: Vec<String>,
        /// Whether the pen is good by it.
        fixed: bool,
    },
    /// A check or remedy cannot be done here.
    LeftOut {
        /// The check or remedy.
        action: String,
    },
    /// A remedy is begun.
    RemedyBegun {
        /// The remedy.
        remedy: String,
        /// What it undoes before anything is done.
        undone: Vec<String>,
        /// Where the parts that it uses up come from, each with its part.
        borrowed: Vec<(String, String)>,
    },
    /// Something has happened inside the remedy that is under way.
    InRemedy(Box<Event>),
    /// The remedy is over.
    RemedyEnded {
        /// The remedy.
        remedy: String,
        /// `fixed`, `not fixed` or `lost`.
        outcome: String,
        /// What was true when it was begun and is not any more.
        removed: Vec<String>,
        /// What is true now.
        given: Vec<String>,
    },
    /// A new blank is begun.
    StartedOver {
        /// What that undoes.
        undone: Vec<String>,
        /// Where the parts that it uses up come from, each with its part.
        #[serde(default)]
        borrowed: Vec<(String, String)>,
    },
    /// What the cause was, by the person's word, after the table was closed.
    Confirmed {
        /// The table.
        table: String,
        /// The cause.
        cause: String,
    },
    /// The table is closed, and nothing was put right by it.
    Closed,
}

/// A fault table that is being asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Trouble {
    /// The table.
    pub table: String,
    /// What it is about.
    pub with: Vec<(String, String)>,
    /// What has gone wrong, in words.
    pub title: String,
    /// What was found, in order: the check or remedy and what it showed.
    pub found: Vec<(String, String)>,
    /// What cannot be done here; asked again after a time away.
    pub left_out: Vec<String>,
    /// The remedy under way, and what has happened in it.
    pub remedy: Option<(String, Vec<Event>)>,
}

/// What rejoining after an ending adds, and where it leads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Onward {
    /// The step where the pen is picked up again.
    pub step: crate::guide::StepIdx,
    /// Minutes of attention from there to a finished pen.
    pub attention: f64,
    /// Minutes of waiting on the way.
    pub waits: f64,
}

/// Returns where the pen would be picked up, and what is then still to do, if these conditions were undone and those
/// given.
pub(super) fn onward(
    guide: &Guide,
    flow: &Flow<'_>,
    state: &State,
    undone: &[Condition],
    given: &[Condition],
) -> Option<Onward> {
    let gone = guide.built_on(undone.iter().copied());
    let mut held: ConditionSet = state.lasting(guide).iter().filter(|condition| !gone.contains(*condition)).collect();
    held.extend(given.iter().copied().filter(|condition| !guide.is_passing(*condition)));
    let mut then = state.clone();
    then.held = held.clone();
    then.pending.clear();
    let step = rejoin::in_job(flow, &then)?;
    let (attention, waits) = rejoin::remaining(guide, &held, step)?;
    Some(Onward { step, attention, waits })
}

/// Returns the fault tables that a guide's steps name: those of the present step first, each once.
pub(super) fn calls(guide: &Guide, state: &State) -> Vec<TroubleCall> {
    let here = guide.step(state.here).trouble.iter();
    let all = here.chain(guide.steps().flat_map(|(_, step)| &step.trouble));
    let mut calls: Vec<TroubleCall> = Vec::new();
    for call in all {
        if !calls.contains(call) {
            calls.push(call.clone());
        }
    }
    calls
}

impl TroubleEvent {
    /// Tells whether `back` takes it back, whole; none where that stays as it was before it.
    pub(super) fn can_be_taken_back(&self) -> Option<bool> {
        match self {
            TroubleEvent::Found { .. }
            | TroubleEvent::LeftOut { .. }
            | TroubleEvent::RemedyBegun { .. }
            | TroubleEvent::StartedOver { .. } => Some(true),
            TroubleEvent::RemedyEnded { .. } => Some(false),
            TroubleEvent::InRemedy(event) => match &**event {
                // What holds before a remedy, and its run, are nobody's to do.
                Event::Left { step, .. } if step.contains('/') => Some(false),
                Event::Confirmed { .. } | Event::Denied { .. } | Event::Looked { .. } | Event::Number { .. } => {
                    Some(false)
                }
                _ => None,
            },
            TroubleEvent::Opened { .. } | TroubleEvent::Closed | TroubleEvent::Confirmed { .. } => None,
        }
    }

    /// Returns it as an event of the walk.
    pub fn at(self, at: Timestamp) -> Event {
        Event::InTrouble { what: self, at }
    }
}
