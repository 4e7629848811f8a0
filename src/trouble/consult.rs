//! A fault table being asked: what was found, what comes next, and why.

use super::belief::{Belief, Contradiction};
use super::findings::{Findings, NoFinding};
use super::plan::{Budget, Next, Plan, plan};
use super::problem::Effect;
use super::table::Table;

/// A table, what was found so far, and the minutes that it took.
#[derive(Debug, Clone)]
pub struct Consultation {
    table: Table,
    findings: Findings,
    spent: f64,
}

/// Where a consultation stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The best next action, with its expected minutes.
    pub plan: Plan,
    /// The chance of each cause, in the order of the table.
    pub chances: Vec<f64>,
    /// The chance of having seen what was found, before anything was.
    pub evidence: f64,
    /// How many minutes more it would take on average to go on without the next action; none where it is not one.
    pub saves: Option<f64>,
    /// What beginning again costs now, in minutes; none where the table does not say.
    pub start_over: Option<f64>,
}

/// How likely a remedy is to do what, by what is believed now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prospect {
    /// The chance that it cures.
    pub cures: f64,
    /// The chance that it loses the blank.
    pub loses: f64,
}

/// Says a chance as a count of 100.
///
/// ```
/// use stepjig::trouble::consult::in_100;
/// assert_eq!([0.5, 0.001, -1e-17, -0.0].map(in_100), ["50", "under 1", "0", "0"]);
/// ```
pub fn in_100(chance: f64) -> String {
    match chance * 100.0 {
        count if count > 0.0 && count < 0.5 => "under 1".to_owned(),
        // A hair below zero is none, and so is the zero with a sign that nothing sums to.
        count => format!("{:.0}", count.max(0.0) + 0.0),
    }
}

impl Consultation {
    /// Begins with nothing found.
    pub fn begin(table: Table) -> Consultation {
        Consultation { table, findings: Findings::none(), spent: 0.0 }
    }

    /// Returns the table.
    pub fn table(&self) -> &Table {
        &self.table
    }

    /// Returns what was found.
    pub fn findings(&self) -> &Findings {
        &self.findings
    }

    /// Returns the minutes of attention spent so far.
    pub fn spent(&self) -> f64 {
        self.spent
    }

    /// Tells whether a finding has made the pen good, or has lost the blank.
    pub fn ended(&self) -> Option<Effect> {
        [Effect::Fixed, Effect::Lost].into_iter().find(|effect| self.findings.has(&self.table.problem, *effect))
    }

    /// Takes what an action has shown, both by name.
    ///
    /// # Errors
    /// [`NoFinding`]; nothing has changed then.
    pub fn see(&mut self, action: &str, outcome: &str) -> Result<(), NoFinding> {
        let finding = self.findings.see(&self.table.problem, action, outcome)?;
        self.spent += self.table.problem.actions()[finding.action()].minutes();
        Ok(())
    }

    /// Takes an action out that cannot be done here.
    ///
    /// # Errors
    /// [`NoFinding`] if there is no such action.
    pub fn leave_out(&mut self, action: &str) -> Result<(), NoFinding> {
        self.findings.leave_out(&self.table.problem, action)
    }

    /// Returns where it stands.
    ///
    /// # Errors
    /// [`Contradiction`] if no cause of the table explains what was found.
    pub fn standing(&self, budget: &Budget<'_>) -> Result<Standing, Contradiction> {
        let problem = &self.table.problem;
        let belief = Belief::after(problem, &self.findings)?;
        let plan = plan(problem, &self.findings, budget)?;
        let start_over = self.table.start_over(belief.chances());
        let saves = match plan.next {
            Next::Do(action) => self.without(action, budget).map(|without| (without - plan.minutes).max(0.0)),
            Next::StartOver | Next::Stop => None,
        };
        Ok(Standing { plan, chances: belief.chances().to_vec(), evidence: belief.evidence(), saves, start_over })
    }

    /// Returns the expected minutes where one action is left out.
    fn without(&self, action: usize, budget: &Budget<'_>) -> Option<f64> {
        let problem = &self.table.problem;
        let mut findings = self.findings.clone();
        findings.leave_out(problem, problem.actions()[action].id()).ok()?;
        plan(problem, &findings, budget).ok().map(|plan| plan.minutes)
    }

    /// Returns what a remedy is likely to do, by these chances of the causes.
    pub fn prospect(&self, action: usize, chances: &[f64]) -> Prospect {
        self.table.prospect(action, chances)
    }
}

impl Table {
    /// Returns what a remedy is likely to do, by these chances of the causes.
    pub fn prospect(&self, action: usize, chances: &[f64]) -> Prospect {
        let of = |effect: Effect| {
            let outcomes = self.problem.actions()[action].outcomes().iter();
            let showing = outcomes.filter(|outcome| outcome.effect() == effect);
            let under = |(cause, chance): (usize, &f64)| showing.clone().map(|o| o.chance(cause)).sum::<f64>() * chance;
            chances.iter().enumerate().map(under).sum()
        };
        Prospect { cures: of(Effect::Fixed), loses: of(Effect::Lost) }
    }
}
