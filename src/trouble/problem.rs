//! The fault table in numbers: causes, checks and remedies with the chance of each outcome, what starting over costs.

use super::belief::ambiguity_groups;
use super::bits::Bits;
use super::fault::Fault;
use super::read_draft::read;

/// What the person wants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Goal {
    /// The fewest expected minutes to a good pen.
    Fix,
    /// The fewest expected minutes to know the cause, so that the next pen is spared it.
    Identify {
        /// How sure is sure enough: the chance of one ambiguity group, above 0 and at most 1.
        confidence: f64,
    },
}

/// What happens when an outcome shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Effect {
    /// More is known; the walk goes on.
    Continue,
    /// The pen is good; the walk ends.
    Fixed,
    /// The blank is lost; the walk ends with starting over, or, where the cause is wanted, goes on over its pieces.
    Lost,
}

/// Whether an action is there to learn something or to put it right. Only the goal [`Goal::Identify`] and the simple
/// rules ask for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// It is there to learn something.
    Check,
    /// It is there to put it right.
    Remedy,
}

/// One number for each of some causes, by the cause's id; a cause that is not named has 0.
pub type ByCause = Vec<(String, f64)>;

/// A fault table as it was written, not yet checked: what [`Problem::new`] takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// What is wanted.
    pub goal: Goal,
    /// Each explanation of the failure. Exactly one is true.
    pub causes: Vec<CauseDraft>,
    /// The checks, in the order in which equal ones are preferred.
    pub checks: Vec<CheckDraft>,
    /// The remedies, in the order in which equal ones are preferred.
    pub remedies: Vec<RemedyDraft>,
    /// Starting over. May be absent where the cause is wanted and no check can lose the blank.
    pub start_over: Option<StartOverDraft>,
}

/// A cause as it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct CauseDraft {
    /// Its id.
    pub id: String,
    /// How likely it is beside the others: 0 or more; only the ratios count.
    pub weight: f64,
}

/// A check as it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckDraft {
    /// Its id: no other check or remedy has it.
    pub id: String,
    /// What it costs, 0 to [`MOST_MINUTES`].
    pub minutes: f64,
    /// Two or more.
    pub outcomes: Vec<OutcomeDraft>,
}

/// An outcome of a check as it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct OutcomeDraft {
    /// Its words: no other outcome of the check has them.
    pub label: String,
    /// What happens then.
    pub effect: Effect,
    /// Minutes more where it shows, such as those that rejoining adds, 0 to [`MOST_MINUTES`].
    pub after: f64,
    /// The chance of it under each cause, 0 to 1. Over the outcomes of a check these sum to 1 for every cause.
    pub chance: ByCause,
}

/// A remedy as it was written. Whether it worked is seen at once: its outcomes are `fixed`, `not fixed` and, where it
/// can lose the blank, `lost`.
#[derive(Debug, Clone, PartialEq)]
pub struct RemedyDraft {
    /// Its id: no other check or remedy has it.
    pub id: String,
    /// What it costs, 0 to [`MOST_MINUTES`].
    pub minutes: f64,
    /// The chance that it puts the pen right, under each cause.
    pub cures: ByCause,
    /// The chance that it loses the blank, under each cause.
    pub loses: ByCause,
    /// Minutes more after it has worked, such as those that rejoining adds.
    pub after_fixed: f64,
    /// Minutes more, beside starting over, after it has lost the blank.
    pub after_lost: f64,
}

/// Starting over as it was written: always possible, always works.
#[derive(Debug, Clone, PartialEq)]
pub struct StartOverDraft {
    /// A new blank brought to the same point, 0 to [`MOST_MINUTES`].
    pub minutes: f64,
    /// Minutes more after it, such as those that rejoining adds.
    pub after: f64,
    /// Minutes more where the cause would bite the next blank too.
    pub again: ByCause,
}

/// The most minutes that anything may cost.
pub const MOST_MINUTES: f64 = 1e9;

/// A checked fault table. Causes and actions are known by their place: causes as listed; the checks as listed, then
/// the remedies as listed.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    pub(super) goal: Goal,
    pub(super) causes: Vec<Cause>,
    pub(super) actions: Vec<Action>,
    /// Minutes of starting over under each cause, `again` included; absent where that cannot come up.
    pub(super) over: Option<Vec<f64>>,
    /// What a blank that is lost costs where the cause is wanted: starting over without `again`.
    pub(super) charge: f64,
    /// The ambiguity group of each cause, and how many groups there are.
    pub(super) group_of: Vec<usize>,
    pub(super) groups: usize,
}

/// One explanation of the failure.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    pub(super) id: String,
    pub(super) prior: f64,
}

/// A check or a remedy.
#[derive(Debug, Clone, PartialEq)]
pub struct Action {
    pub(super) id: String,
    pub(super) kind: Kind,
    pub(super) minutes: f64,
    pub(super) outcomes: Vec<Outcome>,
    /// For each outcome the causes under which it shows, if every chance is 0 or 1.
    pub(super) sure: Option<Vec<Bits>>,
}

/// What an action may show.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    pub(super) label: String,
    pub(super) effect: Effect,
    pub(super) after: f64,
    /// One number for each cause.
    pub(super) chance: Vec<f64>,
}

impl Problem {
    /// Checks a fault table. Rows that miss 1 by no more than 1e-9 are scaled to 1.
    ///
    /// # Errors
    /// All that is wrong with it, in the order causes, checks, remedies, starting over, goal.
    pub fn new(draft: &Draft) -> Result<Problem, Vec<Fault>> {
        let mut problem = read(draft)?;
        let groups = ambiguity_groups(&problem);
        problem.groups = groups.len();
        for (n, group) in groups.iter().enumerate() {
            group.iter().for_each(|cause| problem.group_of[*cause] = n);
        }
        Ok(problem)
    }

    /// Returns what is wanted.
    pub fn goal(&self) -> Goal {
        self.goal
    }

    /// Returns the causes as listed.
    pub fn causes(&self) -> &[Cause] {
        &self.causes
    }

    /// Returns the checks as listed, then the remedies as listed.
    pub fn actions(&self) -> &[Action] {
        &self.actions
    }

    /// Returns the place of a cause.
    pub fn cause(&self, id: &str) -> Option<usize> {
        self.causes.iter().position(|cause| cause.id == id)
    }

    /// Returns the place of a check or remedy.
    pub fn action(&self, id: &str) -> Option<usize> {
        self.actions.iter().position(|action| action.id == id)
    }

    /// Returns the minutes of starting over under a cause, what it costs again included; none where the table does
    /// not know starting over.
    pub fn start_over(&self, cause: usize) -> Option<f64> {
        self.over.as_ref().and_then(|over| over.get(cause)).copied()
    }
}

impl Cause {
    /// Returns its id.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// Returns its chance before anything was found, 0 to 1: its weight as a share of all weights.
    pub fn prior(&self) -> f64 {
        self.prior
    }
}

impl Action {
    pub(super) fn new(id: &str, kind: Kind, minutes: f64, outcomes: Vec<Outcome>) -> Action {
        let mut chances = outcomes.iter().flat_map(|outcome| &outcome.chance);
        let sure = chances.all(|chance| [0.0, 1.0].contains(chance)).then(|| {
            let shows = |outcome: &Outcome| Bits::of(outcome.chance.len(), |cause| outcome.chance[cause] == 1.0);
            outcomes.iter().map(shows).collect()
        });
        Action { id: id.to_owned(), kind, minutes, outcomes, sure }
    }

    /// Returns its id.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// Returns whether it is a check or a remedy.
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// Returns what it costs, before what an outcome adds.
    pub fn minutes(&self) -> f64 {
        self.minutes
    }

    /// Returns its outcomes as listed; of a remedy `fixed`, `not fixed` and perhaps `lost`.
    pub fn outcomes(&self) -> &[Outcome] {
        &self.outcomes
    }

    /// Returns the place of an outcome.
    pub fn outcome(&self, label: &str) -> Option<usize> {
        self.outcomes.iter().position(|outcome| outcome.label == label)
    }
}

impl Outcome {
    /// Returns its words.
    pub fn label(&self) -> &str {
        &self.label
    }

    /// Returns what happens then.
    pub fn effect(&self) -> Effect {
        self.effect
    }

    /// Returns the minutes more that it costs where it shows.
    pub fn after(&self) -> f64 {
        self.after
    }

    /// Returns its chance under a cause, 0 to 1; 0 for a cause that there is not.
    pub fn chance(&self, cause: usize) -> f64 {
        self.chance.get(cause).copied().unwrap_or(0.0)
    }
}
