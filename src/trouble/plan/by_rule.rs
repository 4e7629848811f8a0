//! Plans by a simple rule, and bounds that need no search: what the best plan is compared with.

use super::noisy::Noisy;
use super::rules::{self, Rules};
use super::space::Space;
use super::sure::Sure;
use super::{Next, ended};
use crate::trouble::belief::{Belief, Contradiction};
use crate::trouble::findings::Findings;
use crate::trouble::problem::Problem;

/// A rule that looks no further than a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Rule {
    /// Remedies alone, by falling chance of fixing per minute, cut where starting over makes it cheapest (Kadane and
    /// Simon 1977; Heckerman, Breese and Rommelse 1995). Only where the pen is to be fixed.
    RemediesAlone,
    /// To fix: the check that would save the most if remedies alone came after it, as long as it saves anything; else
    /// the next of the remedies alone. To identify: the check with the largest expected fall of entropy per minute.
    Greedy,
    /// At every step the action that is best if the greedy rule is followed after it (Bertsekas and Castañon 1999):
    /// never worse than the greedy rule.
    RolledOut,
}

/// What a rule does, and what that takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ByRule {
    /// What to do next.
    pub next: Next,
    /// The expected minutes from here if the rule is followed to the end. Of a walk with more than some ten thousand
    /// points, an upper bound.
    pub minutes: f64,
}

/// Returns what a rule does next, and the expected minutes if it is followed to the end; none for
/// [`Rule::RemediesAlone`] where the cause is wanted.
///
/// # Errors
/// [`Contradiction`] if no cause explains the findings.
pub fn by_rule(problem: &Problem, findings: &Findings, rule: Rule) -> Result<Option<ByRule>, Contradiction> {
    let belief = Belief::after(problem, findings)?;
    if let Some(ended) = ended(problem, findings, &belief) {
        return Ok(Some(ByRule { next: ended.next, minutes: ended.minutes }));
    }
    Ok(match Sure::new(problem, &belief, findings) {
        Some(sure) => followed(sure, rule),
        None => followed(Noisy::new(problem, &belief, findings), rule),
    })
}

/// Returns what the greedy rule does next, without following it any further: quick on the largest tables.
///
/// # Errors
/// [`Contradiction`] if no cause explains the findings.
pub fn next_by_rule(problem: &Problem, findings: &Findings) -> Result<Next, Contradiction> {
    fn first<S: Space>(mut space: S) -> Next {
        let root = space.root();
        let action = rules::greedy_action(&mut space, &root);
        next(&space, &root, action)
    }
    let belief = Belief::after(problem, findings)?;
    if let Some(ended) = ended(problem, findings, &belief) {
        return Ok(ended.next);
    }
    Ok(match Sure::new(problem, &belief, findings) {
        Some(sure) => first(sure),
        None => first(Noisy::new(problem, &belief, findings)),
    })
}

/// Minutes that no plan can beat, found without a search.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// To fix: the mean over the causes of the least minutes if the cause were told.
    pub told_the_cause: Option<f64>,
    /// The best of all bounds that need no search. To fix: what not knowing the cause costs at least is added, pair
    /// by pair of causes. To identify with sure checks: by the mean length of a Huffman code (1952) for the causes.
    /// Else the cheapest check.
    pub best: f64,
}

/// Returns minutes that no plan can beat.
///
/// # Errors
/// [`Contradiction`] if no cause explains the findings.
pub fn bounds(problem: &Problem, findings: &Findings) -> Result<Bounds, Contradiction> {
    fn of<S: Space>(mut space: S) -> Bounds {
        let root = space.root();
        Bounds { told_the_cause: space.told_the_cause(&root), best: space.lower(&root) }
    }
    let belief = Belief::after(problem, findings)?;
    if let Some(ended) = ended(problem, findings, &belief) {
        return Ok(Bounds { told_the_cause: Some(ended.minutes), best: ended.minutes });
    }
    Ok(match Sure::new(problem, &belief, findings) {
        Some(sure) => of(sure),
        None => of(Noisy::new(problem, &belief, findings)),
    })
}

fn followed<S: Space>(mut space: S, rule: Rule) -> Option<ByRule> {
    let root = space.root();
    let mut rules = Rules::default();
    let (action, minutes) = match rule {
        Rule::RemediesAlone => {
            let alone = space.alone(&root)?;
            (alone.action, alone.minutes)
        }
        Rule::Greedy => (rules::greedy_action(&mut space, &root), rules.greedy(&mut space, &root)),
        Rule::RolledOut => (rules.rollout_action(&mut space, &root).action, rules.rollout(&mut space, &root)),
    };
    Some(ByRule { next: next(&space, &root, action), minutes })
}

fn next<S: Space>(space: &S, point: &S::Point, action: Option<usize>) -> Next {
    match action {
        Some(action) => Next::Do(space.action(action).place),
        None if space.over(point).is_some() => Next::StartOver,
        None => Next::Stop,
    }
}
