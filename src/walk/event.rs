//! What can happen in a walk. Each event is one line of the journal.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// The way by which a step is left.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Leave {
    /// Done.
    Then,
    /// The answer of this number, from 0.
    Answer(usize),
    /// A reading in the gauge's unit, with what was typed.
    Reading {
        /// The reading as it is shown again, with its unit.
        said: String,
        /// Its value in the gauge's unit.
        value: f64,
    },
    /// The wait was over.
    Ready,
    /// The wait was not over.
    NotReady,
    /// The reckoning's verdict.
    Verdict(String),
    /// An optional step was passed by.
    Skip,
}

/// Something that happened. Steps and conditions are named, so that the line can be read by a person.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Event {
    /// The walk began, with these conditions held already; the first step is found by rejoin.
    Begun {
        /// When.
        at: Timestamp,
        /// What was true then.
        held: Vec<String>,
    },
    /// The needs of a one-way step were confirmed.
    Confirmed {
        /// The step.
        step: String,
        /// When.
        at: Timestamp,
    },
    /// At the hold of a one-way step, a need turned out not to be true.
    Denied {
        /// The step.
        step: String,
        /// The need.
        condition: String,
        /// Further needs that are not true either.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        also: Vec<String>,
        /// When.
        at: Timestamp,
    },
    /// A step was left.
    Left {
        /// The step.
        step: String,
        /// By which way.
        by: Leave,
        /// When it was done, which may lie before it was typed.
        at: Timestamp,
    },
    /// The sign of a wait that ran meanwhile was there, or was not.
    Looked {
        /// The wait's step.
        wait: String,
        /// Whether it was over.
        ready: bool,
        /// When.
        at: Timestamp,
    },
    /// The last step was taken back. Across a one-way step `held` says what is still true of what it gave.
    Back {
        /// The step gone back to.
        to: String,
        /// What the person says is true of what was asked; `None` where nothing was asked.
        held: Option<Vec<String>>,
        /// What comes and goes and is still so, by the person's word: a mask that has stayed on.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        still: Vec<String>,
        /// When.
        at: Timestamp,
    },
    /// Something went wrong: these conditions are no longer true.
    Trouble {
        /// What is no longer true.
        lost: Vec<String>,
        /// When.
        at: Timestamp,
    },
    /// A fault table is asked.
    InTrouble {
        /// What happened.
        what: super::trouble::TroubleEvent,
        /// When.
        at: Timestamp,
    },
    /// A step that stood is to be done again.
    Again {
        /// The step.
        step: String,
        /// When.
        at: Timestamp,
    },
    /// A kit number was corrected by hand.
    Number {
        /// The kit path.
        path: String,
        /// The value.
        value: String,
        /// When.
        at: Timestamp,
    },
    /// A reckoning is given values.
    Given {
        /// The reckoning's step, or the name of one that is called at any step.
        to: String,
        /// Its inputs, each with what was typed.
        values: Vec<(String, String)>,
        /// When.
        at: Timestamp,
    },
    /// The measured numbers are to be kept under a name at the end.
    KeepKit {
        /// The name.
        name: String,
        /// When.
        at: Timestamp,
    },
    /// A part that was borrowed from another kit is reordered or given back.
    Settled {
        /// The part.
        part: String,
        /// Where it came from.
        kit: String,
        /// When.
        at: Timestamp,
    },
    /// A remark.
    Note {
        /// What it says.
        text: String,
        /// When.
        at: Timestamp,
    },
    /// The walk was laid aside.
    Parked {
        /// When.
        at: Timestamp,
    },
    /// The walk was taken up again.
    Resumed {
        /// When.
        at: Timestamp,
    },
}

impl Event {
    /// Returns when it happened.
    pub fn at(&self) -> Timestamp {
        match self {
            Event::Begun { at, .. }
            | Event::Confirmed { at, .. }
            | Event::Denied { at, .. }
            | Event::Left { at, .. }
            | Event::Looked { at, .. }
            | Event::Back { at, .. }
            | Event::Trouble { at, .. }
            | Event::InTrouble { at, .. }
            | Event::Again { at, .. }
            | Event::Number { at, .. }
            | Event::Given { at, .. }
            | Event::KeepKit { at, .. }
            | Event::Settled { at, .. }
            | Event::Note { at, .. }
            | Event::Parked { at }
            | Event::Resumed { at } => *at,
        }
    }
}
