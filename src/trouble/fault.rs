//! What can be wrong with the numbers of a fault table.

use std::fmt;

/// Something that is wrong with a fault table, and where.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// No cause has a positive weight.
    NoCause,
    /// Two causes have this id.
    RepeatedCause {
        /// The id.
        cause: String,
    },
    /// A weight is negative or no finite number.
    BadWeight {
        /// The cause.
        cause: String,
        /// The weight.
        weight: f64,
    },
    /// Two checks or remedies have this id.
    RepeatedAction {
        /// The id.
        action: String,
    },
    /// Two outcomes of a check have the same words.
    RepeatedOutcome {
        /// The check.
        action: String,
        /// The words.
        outcome: String,
    },
    /// A check has fewer than two outcomes.
    FewOutcomes {
        /// The check.
        action: String,
        /// How many it has.
        outcomes: usize,
    },
    /// Minutes are negative, no finite number, or above the most that anything may cost.
    BadMinutes {
        /// The check or remedy; none for starting over.
        action: Option<String>,
        /// The cause or outcome, where the minutes are for one alone.
        of: Option<String>,
        /// The minutes.
        minutes: f64,
    },
    /// A chance is given for a cause that there is not.
    UnknownCause {
        /// The check or remedy; none for starting over.
        action: Option<String>,
        /// The name that is no cause.
        cause: String,
    },
    /// Two numbers are given where one is wanted.
    CauseTwice {
        /// The check or remedy; none for starting over.
        action: Option<String>,
        /// The cause.
        cause: String,
    },
    /// A chance is not within 0 and 1.
    BadChance {
        /// The check or remedy.
        action: String,
        /// The outcome.
        outcome: String,
        /// The cause.
        cause: String,
        /// The chance.
        chance: f64,
    },
    /// The chances of a check's outcomes under a cause do not sum to 1.
    BadSum {
        /// The check.
        action: String,
        /// The cause.
        cause: String,
        /// What they sum to.
        sum: f64,
    },
    /// A remedy cures and loses more than always under a cause.
    MoreThanAlways {
        /// The remedy.
        action: String,
        /// The cause.
        cause: String,
        /// What both sum to.
        sum: f64,
    },
    /// Starting over is not said, and the goal is to fix, or this check or remedy can lose the blank.
    NoStartOver {
        /// What can lose the blank; none where the goal alone wants it.
        action: Option<String>,
    },
    /// The confidence is not above 0 and at most 1.
    BadConfidence {
        /// The confidence.
        confidence: f64,
    },
}

/// Lowercase, without a full stop, as part of a finding's message.
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = |action: &Option<String>| match action {
            Some(action) => format!("`{action}`"),
            None => "starting over".to_owned(),
        };
        match self {
            Fault::NoCause => write!(f, "no cause has odds above 0"),
            Fault::RepeatedCause { cause } => write!(f, "two causes are named `{cause}`"),
            Fault::BadWeight { cause, weight } => {
                write!(f, "the odds of `{cause}` are {weight}; they must be 0 or more")
            }
            Fault::RepeatedAction { action } => write!(f, "two checks or remedies are named `{action}`"),
            Fault::RepeatedOutcome { action, outcome } => write!(f, "`{action}` has two outcomes `{outcome}`"),
            Fault::FewOutcomes { action, outcomes } => {
                write!(f, "`{action}` needs two outcomes or more and has {outcomes}")
            }
            Fault::BadMinutes { action, of: None, minutes } => {
                write!(f, "the minutes of {} are {minutes}; they go from 0 to 1e9", place(action))
            }
            Fault::BadMinutes { action, of: Some(of), minutes } => {
                write!(f, "the minutes of {} for `{of}` are {minutes}; they go from 0 to 1e9", place(action))
            }
            Fault::UnknownCause { action, cause } => {
                write!(f, "{} has a number for `{cause}`, which is no cause", place(action))
            }
            Fault::CauseTwice { action, cause } => write!(f, "{} has two numbers for `{cause}`", place(action)),
            Fault::BadChance { action, outcome, cause, chance } => {
                write!(f, "the chance of `{outcome}` of `{action}` under `{cause}` is {chance}; it goes from 0 to 1")
            }
            Fault::BadSum { action, cause, sum } => {
                write!(f, "the chances of `{action}` under `{cause}` sum to {sum}, not to 1")
            }
            Fault::MoreThanAlways { action, cause, sum } => {
                write!(f, "`{action}` cures or loses `{cause}` with chance {sum}, which is above 1")
            }
            Fault::NoStartOver { action: Some(action) } => {
                write!(f, "`{action}` can lose the blank, and what starting over costs is not said")
            }
            Fault::NoStartOver { action: None } => write!(f, "what starting over costs is not said"),
            Fault::BadConfidence { confidence } => {
                write!(f, "the confidence is {confidence}; it must be above 0 and at most 1")
            }
        }
    }
}

impl std::error::Error for Fault {}
