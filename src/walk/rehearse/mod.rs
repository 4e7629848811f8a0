//! Rehearsals: walks through a guide that try it, before anybody works by it.
//!
//! [`Cover`](crate::check::cover::Cover) computes the fewest walks that take every way of a guide; [`play_route`] plays
//! one of them, so that it can be walked at a table. [`rehearse`] plays one that is written in the guide and says whether
//! it held. Both play in the [`Walk`](super::Walk) that a job is walked by: what holds, what stands and where one picks
//! up again is as it is at the bench. The clock is the rehearsal's own; each step takes the minutes that the guide gives.
//!
//! **Trouble.** A way into trouble asks no fault table here. It is called; what it removes is gone; the walk picks up
//! again where the guide does with what still holds, and comes back to where trouble was called. What a table does is
//! rehearsed at the table itself. It counts as a branch that is taken.

mod coverage;
mod player;
mod reading;
mod route;
mod written;

pub use coverage::{Branch, Coverage, branch_said, coverage};
pub use route::{Played, play_route};
pub use written::{Outcome, rehearse};

use crate::guide::{Condition, Label, StepIdx, TroubleCall};

/// One thing that was said in a rehearsal, and what came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// The step where it was said.
    pub step: StepIdx,
    /// What was said.
    pub said: Said,
    /// Where the walk stood then.
    pub to: StepIdx,
    /// Whether it got there by picking up again, and not by a way.
    pub picked_up: bool,
}

/// What was said in a rehearsal.
#[derive(Debug, Clone, PartialEq)]
pub enum Said {
    /// The step was left.
    Left {
        /// By which way.
        label: Label,
        /// The reading, with its unit, where the step is a gauge.
        reading: Option<String>,
        /// The fault table that the way leads to.
        trouble: Option<TroubleCall>,
    },
    /// At a hold: all of it is true.
    Yes,
    /// At a hold: these are not true.
    No(Vec<Condition>),
    /// The sign of a wait that ran meanwhile is there, or is not.
    Sign {
        /// The wait.
        wait: StepIdx,
        /// Whether it is there.
        ready: bool,
    },
    /// Values for a sum.
    Values(Vec<(String, String)>),
    /// A step that was passed over, being done already, is to be done once more.
    Again,
    /// Something went wrong, and these are no longer true.
    Trouble(Vec<Condition>),
}
