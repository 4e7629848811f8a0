//! Something went wrong: what is most likely the cause, and what to do next so that it costs the fewest minutes.
//!
//! A fault table names the causes with their odds, the checks and remedies with their minutes and the chance of each
//! outcome under each cause, and what starting over costs. Exactly one cause is true; given it, what one action shows
//! says nothing about another; an action asked again shows the same, so it is used once. From these follow
//!
//! * the [`belief`]: the chance of each cause given the [`findings`], by Bayes' rule;
//! * the [`plan`]: what to do next so that the expected minutes are the fewest, to a good pen or to a cause that is
//!   known, with a bound that no plan can beat, and the whole policy as a graph;
//! * the odds [learned](learn) from the shop's cases, the [`figures`] of a table, and [`warnings`] about it.
//!
//! Everything here is a sum: no clock, no chance, no files. The same table gives the same plan on every machine.
//!
//! ```
//! use stepjig::trouble::findings::Findings;
//! use stepjig::trouble::plan::{Budget, Next, plan};
//! use stepjig::trouble::problem::{
//!     CauseDraft, Draft, Goal, Problem, RemedyDraft, StartOverDraft,
//! };
//!
//! // Two causes, a remedy for each, and a new blank for 60 minutes.
//! let cause = |id: &str, weight| CauseDraft { id: id.to_owned(), weight };
//! let remedy = |id: &str, minutes, cures: &str| RemedyDraft {
//!     id: id.to_owned(),
//!     minutes,
//!     cures: vec![(cures.to_owned(), 1.0)],
//!     loses: vec![],
//!     after_fixed: 0.0,
//!     after_lost: 0.0,
//! };
//! let problem = Problem::new(&Draft {
//!     goal: Goal::Fix,
//!     causes: vec![cause("debris", 3.0), cause("tight-hole", 1.0)],
//!     checks: vec![],
//!     remedies: vec![remedy("ream", 8.0, "tight-hole"), remedy("blow-out", 2.0, "debris")],
//!     start_over: Some(StartOverDraft { minutes: 60.0, after: 0.0, again: vec![] }),
//! })
//! .expect("the table is sound");
//!
//! let mut findings = Findings::none();
//! let first = plan(&problem, &findings, &Budget::default())?;
//! assert_eq!(first.next, Next::Do(problem.action("blow-out").expect("it is listed")));
//! assert_eq!(first.minutes, 2.0 + 0.25 * 8.0);
//!
//! findings.see(&problem, "blow-out", "not fixed").expect("both are listed");
//! assert_eq!(plan(&problem, &findings, &Budget::default())?.minutes, 8.0);
//! # Ok::<(), stepjig::trouble::belief::Contradiction>(())
//! ```

pub mod belief;
mod bits;
pub mod chart;
pub mod consult;
pub mod fault;
pub mod figures;
pub mod findings;
pub mod learn;
pub mod plan;
pub mod problem;
mod read_draft;
pub mod table;
pub mod warnings;
