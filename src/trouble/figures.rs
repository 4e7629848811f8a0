//! How well a table can find out and put right what went wrong, in a few figures.
//!
//! In the spirit of the published measures of testability and diagnosability, all weighted by the chances of the
//! causes before anything was found.

use super::belief::ambiguity_groups;
use super::findings::Findings;
use super::plan::{Budget, NoPolicy, Plan, compile, plan};
use super::problem::{Goal, Kind, Problem};

/// The figures of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// The chance that the cause is alone in its ambiguity group, 0 to 1.
    pub share_isolated: f64,
    /// The expected number of causes in the true cause's ambiguity group, 1 or more; causes of weight 0 are not
    /// counted.
    pub mean_group_size: f64,
    /// The checks that it takes to know the cause as well as the table can tell it, on average.
    pub mean_checks: Figure,
    /// The minutes that it takes, on average.
    pub mean_minutes: Figure,
    /// The least expected minutes to a good pen; none where the cause is wanted.
    pub minutes_to_a_pen: Option<Figure>,
    /// The minutes of the dearest walk of the best policy for the table's own goal; none where its graph is larger
    /// than asked for.
    pub worst_walk: Option<f64>,
}

/// A figure that a search has found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The figure of the best policy that was found.
    pub value: f64,
    /// No policy has less.
    pub bound: f64,
}

/// Returns the figures of a table. Each search may take the budget; the graph for the worst walk has at most so many
/// nodes.
pub fn figures(problem: &Problem, budget: &Budget<'_>, most_nodes: usize) -> Figures {
    let groups = ambiguity_groups(problem);
    let chance = |group: &[usize]| -> f64 { group.iter().map(|cause| problem.causes()[*cause].prior()).sum() };
    let possible = |group: &[usize]| group.iter().filter(|cause| problem.causes()[**cause].prior() > 0.0).count();
    let share_isolated = groups.iter().filter(|group| possible(group) == 1).map(|group| chance(group)).sum();
    let mean_group_size = groups.iter().map(|group| chance(group) * possible(group) as f64).sum();
    let at_unit_costs = identifying(problem, true);
    let at_real_costs = identifying(problem, false);
    let of = |problem: &Problem| match plan(problem, &Findings::none(), budget) {
        Ok(Plan { minutes, bound, .. }) => Figure { value: minutes, bound },
        // Without findings nothing is contradicted.
        Err(_) => Figure { value: 0.0, bound: 0.0 },
    };
    let worst_walk = match compile(problem, &Findings::none(), budget, most_nodes) {
        Ok(policy) => Some(policy.worst_walk(problem)),
        Err(NoPolicy::TooLarge { .. } | NoPolicy::Contradiction(_)) => None,
    };
    Figures {
        share_isolated,
        mean_group_size,
        mean_checks: of(&at_unit_costs),
        mean_minutes: of(&at_real_costs),
        minutes_to_a_pen: (problem.goal() == Goal::Fix).then(|| of(problem)),
        worst_walk,
    }
}

/// Returns the same table where the cause is wanted with full confidence; at unit costs a check costs 1 and nothing
/// else costs anything.
fn identifying(problem: &Problem, at_unit_costs: bool) -> Problem {
    let mut identifying = problem.clone();
    identifying.goal = Goal::Identify { confidence: 1.0 };
    if at_unit_costs {
        identifying.charge = 0.0;
        for action in identifying.actions.iter_mut().filter(|action| action.kind == Kind::Check) {
            action.minutes = 1.0;
            action.outcomes.iter_mut().for_each(|outcome| outcome.after = 0.0);
        }
    }
    identifying
}
