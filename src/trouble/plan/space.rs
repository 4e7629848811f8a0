//! The walk as the search sees it: points where something is to be decided, and what each action leads to.
//!
//! Two forms of it: [`super::noisy`] for any table, [`super::sure`] for tables whose every chance is 0 or 1. Both hold
//! only the causes that are possible and the actions that are useful where the search begins.

use super::alone::Choice;
use super::lattice::Limit;
use super::search::Known;

/// A point of the walk that an action leads to.
#[derive(Debug, Clone)]
pub(super) struct Branch<P> {
    /// The place of the outcome among those of the action.
    pub outcome: usize,
    /// Its chance, above 0.
    pub chance: f64,
    /// Where it leads.
    pub point: P,
}

/// All points of a walk.
///
/// Costs are minutes. An action's outcomes that end the walk, and what starting over costs after them, are part of
/// its price; the other outcomes are its branches.
pub(super) trait Space {
    /// A point: the belief, what can still be done, whether the blank is lost.
    type Point: Clone;

    /// Returns where the search begins.
    fn root(&self) -> Self::Point;

    /// Returns what starting over here costs; none where the cause is wanted.
    fn over(&self, point: &Self::Point) -> Option<f64>;

    /// Returns the useful actions that are left, by their place here, in the order of preference. An identifying walk
    /// is over where there are none: the cause is known well enough, or nothing separates.
    fn open(&mut self, point: &Self::Point) -> Vec<usize>;

    /// Returns what an action costs at once, and appends where it leads.
    fn act(&mut self, point: &Self::Point, action: usize, branches: &mut Vec<Branch<Self::Point>>) -> f64;

    /// Writes what makes two points the same: the posterior, the useful actions left, whether the blank is lost.
    fn key(&mut self, point: &Self::Point, key: &mut Vec<u64>);

    /// Returns a number of minutes that no policy from here can beat.
    fn lower(&mut self, point: &Self::Point) -> f64;

    /// Returns for each of some actions a number of minutes that no policy beginning with it can beat, if that is
    /// quicker than to look at all that it leads to. It need not go on where it has reached a limit.
    fn outlook(&mut self, point: &Self::Point, actions: &[usize], limit: f64) -> Option<Vec<f64>>;

    /// Returns the mean of what knowing the cause would cost; none where the cause is wanted.
    fn told_the_cause(&mut self, point: &Self::Point) -> Option<f64>;

    /// Returns the plan of remedies alone; none where the cause is wanted.
    fn alone(&mut self, point: &Self::Point) -> Option<Choice>;

    /// Returns by how many bits each of some actions is expected to bring the entropy of the belief down.
    fn gains(&mut self, point: &Self::Point, actions: &[usize]) -> Vec<f64>;

    /// Returns a number of minutes that no policy from here that goes on while anything is open can exceed.
    fn at_most(&mut self, point: &Self::Point) -> f64;

    /// Returns how much work a point is beside one of a few causes.
    fn size(&self) -> u64;

    /// Returns the chances of the causes, as the table lists them.
    fn chances(&self, point: &Self::Point) -> Vec<f64>;

    /// Tells whether the blank is lost.
    fn is_lost(&self, point: &Self::Point) -> bool;

    /// Returns the table's place of an action, its bare cost, and whether it is a remedy.
    fn action(&self, action: usize) -> Facts;

    /// Returns what a narrower search of this space's own finds out of a point: exactly, or that it takes no fewer
    /// than so many minutes, less where it was stopped; and how many sets of causes it looked at. None where it has no
    /// such search.
    fn settled(&mut self, point: &Self::Point, minutes: f64, limit: &Limit<'_>) -> Option<(Known, usize)>;

    /// Returns the exact minutes from here by laying out every set of findings, within a limit; none where this space
    /// cannot do that.
    fn laid_out(&mut self, point: &Self::Point, limit: &Limit<'_>) -> Option<LaidOut>;
}

/// The exact minutes from a point.
#[derive(Debug, Clone)]
pub(super) struct LaidOut {
    /// The least expected minutes.
    pub minutes: f64,
    /// The same if a certain one of the open actions is next.
    pub each: Vec<f64>,
    /// How many sets of findings were laid out.
    pub sets: usize,
}

/// What the rules ask about an action.
#[derive(Debug, Clone, Copy)]
pub(super) struct Facts {
    /// Its place in the table.
    pub place: usize,
    /// What it costs before anything that an outcome adds.
    pub minutes: f64,
    /// Whether it is there to put it right.
    pub is_remedy: bool,
}
