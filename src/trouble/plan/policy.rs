//! The policy from a point on, as a graph that can be printed.

use std::collections::HashMap;
use std::fmt;

use super::budget::MOST_IN_A_ROW;
use super::hash::Spread;
use super::noisy::Noisy;
use super::solver::Solver;
use super::space::{Branch, Space};
use super::sure::Sure;
use super::{Budget, Next, ended};
use crate::trouble::belief::{Belief, Contradiction};
use crate::trouble::findings::Findings;
use crate::trouble::problem::{Effect, Goal, Problem};

/// What to do at each point that can be come to, from the first on.
///
/// Two points are one node if they have the same posterior, the same useful actions left, and the same state of the
/// blank. No walk through the graph comes to a node twice.
#[derive(Debug, Clone, PartialEq)]
pub struct Policy {
    /// The nodes, each before those that it leads to for the first time; the first is where the walk begins.
    pub nodes: Vec<Node>,
    /// Minutes that no policy can beat.
    pub bound: f64,
    /// Whether the policy is the best there is.
    pub exact: bool,
}

/// A point of the walk.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// What to do here.
    pub next: Next,
    /// The expected minutes from here.
    pub minutes: f64,
    /// The chance of each cause here, as the table lists them.
    pub chances: Vec<f64>,
    /// What can show, as listed, with a chance above 0; empty where one starts over or stops.
    pub ways: Vec<Way>,
}

/// An outcome of a node's action.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// The place of the outcome among those of the action.
    pub outcome: usize,
    /// Its chance at the node, above 0 and at most 1.
    pub chance: f64,
    /// Minutes that the outcome itself costs: what rejoining adds, and, where the cause is wanted, a blank that is
    /// lost now.
    pub minutes: f64,
    /// Where it leads.
    pub to: To,
}

/// Where an outcome leads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum To {
    /// To the node with this place.
    Node(usize),
    /// The pen is good.
    Fixed,
    /// The blank is lost, and starting over costs so many minutes.
    Lost {
        /// The expected minutes of starting over.
        minutes: f64,
    },
}

/// Why there is no policy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoPolicy {
    /// The findings contradict the table.
    Contradiction(Contradiction),
    /// The graph has more nodes than are wanted, or more than a thousand actions in a row.
    TooLarge {
        /// The most that are wanted.
        most: usize,
    },
}

/// Returns the best policy from some findings on as a graph of at most so many nodes.
///
/// Where the search finishes within the budget it is followed at every node, and the first node's minutes are those
/// of [`super::plan`]. Else the best policy that is known is followed.
///
/// # Errors
/// [`NoPolicy`] if no cause explains the findings, or there are more nodes.
pub fn compile(problem: &Problem, findings: &Findings, budget: &Budget<'_>, most: usize) -> Result<Policy, NoPolicy> {
    let belief = Belief::after(problem, findings).map_err(NoPolicy::Contradiction)?;
    if let Some(ended) = ended(problem, findings, &belief) {
        let node = Node { next: ended.next, minutes: ended.minutes, chances: belief.chances, ways: Vec::new() };
        return Ok(Policy { nodes: vec![node], bound: ended.minutes, exact: true });
    }
    match Sure::new(problem, &belief, findings) {
        Some(sure) => Compiler::new(problem, sure, budget, most).compile(),
        None => Compiler::new(problem, Noisy::new(problem, &belief, findings), budget, most).compile(),
    }
}

struct Compiler<'a, S: Space> {
    problem: &'a Problem,
    solver: Solver<'a, S>,
    most: usize,
    nodes: Vec<Node>,
    /// What is known of the first node.
    bound: f64,
    exact: bool,
    places: HashMap<Box<[u64]>, usize, Spread>,
    /// How many actions in a row led to the node that is added.
    depth: usize,
}

impl<'a, S: Space> Compiler<'a, S> {
    fn new(problem: &'a Problem, space: S, budget: &'a Budget<'a>, most: usize) -> Self {
        let solver = Solver::new(space, budget);
        Compiler {
            problem,
            solver,
            most,
            nodes: Vec::new(),
            bound: 0.0,
            exact: true,
            places: HashMap::default(),
            depth: 0,
        }
    }

    fn compile(mut self) -> Result<Policy, NoPolicy> {
        let root = self.solver.search.space.root();
        self.node(&root)?;
        Ok(Policy { nodes: self.nodes, bound: self.bound, exact: self.exact })
    }

    /// Adds a point, unless it is there already, and all that it leads to; returns its place.
    fn node(&mut self, point: &S::Point) -> Result<usize, NoPolicy> {
        let mut key = Vec::new();
        self.solver.search.space.key(point, &mut key);
        if let Some(place) = self.places.get(key.as_slice()) {
            return Ok(*place);
        }
        let place = self.nodes.len();
        if place >= self.most || self.depth >= MOST_IN_A_ROW {
            return Err(NoPolicy::TooLarge { most: self.most });
        }
        self.places.insert(key.into_boxed_slice(), place);
        if self.exact {
            // Each point is a smaller table of its own; where the first was solved, so is this.
            self.solver.search.afresh();
        }
        let answer = self.solver.at(point, false);
        if place == 0 {
            (self.bound, self.exact) = (answer.bound, answer.exact);
        }
        let next = answer.tied.first().copied().unwrap_or(Next::Stop);
        let chances = self.solver.search.space.chances(point);
        self.nodes.push(Node { next, minutes: answer.minutes, chances, ways: Vec::new() });
        if let Some(action) = answer.choice {
            self.depth += 1;
            let (minutes, ways) = self.ways(point, action, place)?;
            self.depth -= 1;
            (self.nodes[place].minutes, self.nodes[place].ways) = (minutes, ways);
        } else if next == Next::StartOver {
            self.nodes[place].minutes = self.solver.search.space.over(point).unwrap_or(0.0);
        }
        Ok(place)
    }

    /// Returns the expected minutes with an action, and all that it can show.
    fn ways(&mut self, point: &S::Point, action: usize, node: usize) -> Result<(f64, Vec<Way>), NoPolicy> {
        let mut branches: Vec<Branch<S::Point>> = Vec::new();
        let mut minutes = self.solver.search.space.act(point, action, &mut branches);
        let problem = self.problem;
        let place = self.solver.search.space.action(action).place;
        let was_lost = self.solver.search.space.is_lost(point);
        let mut ways = Vec::new();
        for (n, outcome) in problem.actions[place].outcomes.iter().enumerate() {
            let joint = |chances: &[f64]| -> Vec<f64> {
                chances.iter().zip(&outcome.chance).map(|(chance, given)| chance * given).collect()
            };
            let joint = joint(&self.nodes[node].chances);
            let chance: f64 = joint.iter().sum();
            if chance <= 0.0 {
                continue;
            }
            let mut after = outcome.after;
            let to = match branches.iter().find(|branch| branch.outcome == n) {
                Some(branch) => {
                    let to = self.node(&branch.point)?;
                    minutes += branch.chance * self.nodes[to].minutes;
                    To::Node(to)
                }
                None if outcome.effect == Effect::Lost => {
                    let over = problem.over.iter().flatten().zip(&joint).map(|(over, joint)| over * joint);
                    To::Lost { minutes: over.sum::<f64>() / chance }
                }
                None => To::Fixed,
            };
            if problem.goal != Goal::Fix && outcome.effect == Effect::Lost && !was_lost {
                after += problem.charge;
            }
            ways.push(Way { outcome: n, chance, minutes: after, to });
        }
        Ok((minutes, ways))
    }
}

impl Policy {
    /// Returns the minutes of the dearest walk through the graph: the actions, what their outcomes cost, and starting
    /// over where it comes to that.
    pub fn worst_walk(&self, problem: &Problem) -> f64 {
        // A node may lead to one before it in the list, so the depths are filled in as they are asked for.
        let mut worst = vec![None; self.nodes.len()];
        self.worst_from(problem, 0, &mut worst)
    }

    fn worst_from(&self, problem: &Problem, place: usize, worst: &mut Vec<Option<f64>>) -> f64 {
        let Some(node) = self.nodes.get(place) else { return 0.0 };
        if let Some(known) = worst[place] {
            return known;
        }
        let found = match node.next {
            Next::Do(action) => {
                let mut after: f64 = 0.0;
                for way in &node.ways {
                    let rest = match way.to {
                        To::Node(to) => self.worst_from(problem, to, worst),
                        To::Fixed => 0.0,
                        To::Lost { minutes } => minutes,
                    };
                    after = after.max(way.minutes + rest);
                }
                problem.actions[action].minutes + after
            }
            Next::StartOver | Next::Stop => node.minutes,
        };
        worst[place] = Some(found);
        found
    }
}

impl fmt::Display for NoPolicy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoPolicy::Contradiction(contradiction) => contradiction.fmt(f),
            NoPolicy::TooLarge { most } => write!(f, "the graph has more than {most} nodes"),
        }
    }
}

impl std::error::Error for NoPolicy {}
