//! A walk that a guide is tried by: what is said at its steps, and what must come of it.

use super::{Condition, EndKind, StepIdx};
use crate::finding::{Code, Place};

/// A walk that a guide is tried by.
#[derive(Debug, Clone)]
pub struct Rehearsal {
    /// What it tries.
    pub title: String,
    /// Where it is written.
    pub place: Place,
    /// Kit numbers that go before the guide's, by path.
    pub numbers: Vec<(String, String)>,
    /// What is said at a step, one reply for each time that it is come to; at other times, and at all other steps, the
    /// walk goes on as where nothing is amiss.
    pub replies: Vec<(StepIdx, Vec<Reply>)>,
    /// Steps that are passed by as if they could be.
    pub leaves_out: Vec<StepIdx>,
    /// Where it must arrive, or where the finding must show; none where that may be anywhere.
    pub arrives: Option<Arrival>,
    /// The finding that must show.
    pub finding: Option<Code>,
}

/// Where a rehearsal must arrive.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Arrival {
    /// At this step, when all that it has to say is said.
    At(StepIdx),
    /// At any end of this kind.
    End(EndKind),
}

/// What is said at a step.
#[derive(Debug, Clone, PartialEq)]
pub enum Reply {
    /// It is done; of a sum, whatever it comes to.
    Done,
    /// The answer of this number, from 0.
    Answer(usize),
    /// A reading in the gauge's unit.
    Reading {
        /// As it is said, with its unit.
        said: String,
        /// Its value in the gauge's unit.
        value: f64,
    },
    /// The sum comes to this verdict, whatever was read.
    Verdict(String),
    /// Values for the sum, which is then worked out.
    Values(Vec<(String, String)>),
    /// The sign of the wait is there.
    Ready,
    /// It is not.
    NotReady,
    /// The step, which is optional, is passed by.
    Skip,
    /// At the hold of a one-way step, these needs are not true.
    No(Vec<Condition>),
    /// Something went wrong, and these are no longer true.
    Trouble(Vec<Condition>),
}
