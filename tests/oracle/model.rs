//! A guide as plain data: names and sets of names, nothing else.
//!
//! Deliberately independent of the library's own types, and slow: everything is looked up by name.

use std::collections::BTreeSet;

/// A set of conditions, by name.
pub type Set = BTreeSet<String>;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Effects {
    pub gives: Set,
    pub spoils: Set,
    pub undoes: Set,
}

/// A way out; without `to` it leads to the next step in the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Way {
    pub to: Option<String>,
    pub effects: Effects,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ending {
    Finished,
    Scrap,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    Do { then: Way },
    Ask { answers: Vec<Way> },
    Gauge { min: bool, max: bool, within: Way, under: Option<Way>, over: Option<Way> },
    Wait { seconds: u64, meanwhile: bool, up_to: bool, then: Way, not_ready: Option<Way> },
    End(Ending),
}

#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    pub id: String,
    pub kind: Kind,
    /// The conditions under the key `needs`; see [`Step::all_needs`].
    pub needs: Set,
    /// The gauges whose readings the text shows.
    pub reads: BTreeSet<String>,
    pub effects: Effects,
    pub one_way: bool,
    pub optional: bool,
    /// The step's own `minutes`, in seconds.
    pub seconds: Option<u64>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Guide {
    pub steps: Vec<Step>,
    pub passing: Set,
    /// Conditions left without words.
    pub unworded: Set,
}

/// One way out of a step, with everything that decides its effect.
#[derive(Clone, Debug)]
pub struct Exit {
    pub to: String,
    pub effects: Effects,
    /// Whether the step's own gives act on this way.
    pub good: bool,
    /// Whether this is an optional step being passed over: no effect at all.
    pub skip: bool,
}

impl Step {
    pub fn all_needs(&self) -> Set {
        let readings = self.reads.iter().map(|gauge| format!("read.{gauge}"));
        self.needs.iter().cloned().chain(readings).collect()
    }

    pub fn rests_on(&self, condition: &str) -> bool {
        let reading = condition.strip_prefix("read.");
        self.needs.contains(condition) || reading.is_some_and(|gauge| self.reads.contains(gauge))
    }

    pub fn is_gauge(&self) -> bool {
        matches!(self.kind, Kind::Gauge { .. })
    }

    pub fn is_end(&self) -> bool {
        matches!(self.kind, Kind::End(_))
    }

    pub fn is_finished(&self) -> bool {
        self.kind == Kind::End(Ending::Finished)
    }

    pub fn is_scrap(&self) -> bool {
        self.kind == Kind::End(Ending::Scrap)
    }

    /// A wait at which one waits: it lets passing conditions go.
    pub fn is_waited_at(&self) -> bool {
        matches!(self.kind, Kind::Wait { meanwhile: false, .. })
    }

    /// The name of the reading that a gauge gives.
    pub fn reading(&self) -> Option<String> {
        self.is_gauge().then(|| format!("read.{}", self.id))
    }

    /// Written ways in order, each with whether the step's own gives act on it.
    pub fn ways(&self) -> Vec<(&Way, bool)> {
        match &self.kind {
            Kind::Do { then } => vec![(then, true)],
            Kind::Ask { answers } => answers.iter().map(|way| (way, true)).collect(),
            Kind::Gauge { within, under, over, .. } => {
                let failing = under.iter().chain(over).map(|way| (way, false));
                std::iter::once((within, true)).chain(failing).collect()
            }
            Kind::Wait { then, not_ready, .. } => {
                std::iter::once((then, true)).chain(not_ready.iter().map(|way| (way, false))).collect()
            }
            Kind::End(_) => vec![],
        }
    }

    /// The ways of [`Step::ways`], in the same order, to be changed.
    pub fn ways_mut(&mut self) -> Vec<&mut Way> {
        match &mut self.kind {
            Kind::Do { then } => vec![then],
            Kind::Ask { answers } => answers.iter_mut().collect(),
            Kind::Gauge { within, under, over, .. } => std::iter::once(within).chain(under).chain(over).collect(),
            Kind::Wait { then, not_ready, .. } => std::iter::once(then).chain(not_ready).collect(),
            Kind::End(_) => vec![],
        }
    }

    /// Whatever the step can give, on any way.
    pub fn ever_gives(&self) -> Set {
        let on_ways = self.ways().into_iter().flat_map(|(way, _)| way.effects.gives.iter().cloned());
        self.effects.gives.iter().cloned().chain(on_ways).chain(self.reading()).collect()
    }
}

impl Guide {
    pub fn place(&self, id: &str) -> usize {
        self.steps.iter().position(|step| step.id == id).expect("a target names a step")
    }

    pub fn step(&self, id: &str) -> &Step {
        &self.steps[self.place(id)]
    }

    pub fn first(&self) -> &str {
        &self.steps[0].id
    }

    /// The id of the step after `step` in the file.
    pub fn next(&self, step: &Step) -> String {
        self.steps[self.place(&step.id) + 1].id.clone()
    }

    /// Every way out of `step`: the written ones in order, then being passed over, if it is optional.
    pub fn exits(&self, step: &Step) -> Vec<Exit> {
        let goes_to = |way: &Way| way.to.clone().unwrap_or_else(|| self.next(step));
        let mut exits: Vec<Exit> = step
            .ways()
            .into_iter()
            .map(|(way, good)| Exit { to: goes_to(way), effects: way.effects.clone(), good, skip: false })
            .collect();
        if step.optional {
            let to = match &step.kind {
                Kind::Do { then } | Kind::Wait { then, .. } => goes_to(then),
                _ => self.next(step), // an `ask` and a `gauge` have no `then`
            };
            exits.push(Exit { to, effects: Effects::default(), good: false, skip: true });
        }
        exits
    }

    /// Every condition that some step or way of the guide gives.
    pub fn given(&self) -> Set {
        self.steps.iter().flat_map(Step::ever_gives).collect()
    }

    /// Every condition that the guide mentions.
    pub fn conditions(&self) -> Set {
        let mut all = self.given();
        all.extend(self.passing.iter().cloned());
        for step in &self.steps {
            all.extend(step.all_needs());
            let on_ways = step.ways().into_iter().map(|(way, _)| &way.effects);
            for effects in on_ways.chain([&step.effects]) {
                all.extend(effects.spoils.iter().chain(&effects.undoes).cloned());
            }
        }
        all
    }
}
