//! Where a walk stands: a pure fold over its events.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::trouble::Trouble;
use crate::guide::{Condition, ConditionSet, Guide, StepIdx};

/// What is going on at the present step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Phase {
    /// The step is shown and waits for its answer.
    At,
    /// A one-way step waits for its needs to be confirmed.
    Hold,
    /// The needs of the one-way step are confirmed; it is being done.
    Open,
    /// The step needs what this wait gives, and waits for its sign.
    Waiting(StepIdx),
    /// The walk is over.
    Ended,
}

/// A wait that runs while other work goes on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pending {
    /// The wait.
    pub step: StepIdx,
    /// What it will give.
    pub gives: Vec<Condition>,
    /// When it began.
    pub start: Timestamp,
    /// When it is due.
    pub due: Timestamp,
}

/// A step that was come to, with what was held on arrival.
#[derive(Debug, Clone, PartialEq)]
pub struct Visit {
    /// The step.
    pub step: StepIdx,
    /// What was held on arrival.
    pub held: ConditionSet,
    /// Everything that has been removed since.
    pub removed: ConditionSet,
    /// Whether it is a one-way step that has been done.
    pub one_way: bool,
}

/// Where a walk stands.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// The present step.
    pub here: StepIdx,
    /// What is going on there.
    pub phase: Phase,
    /// What is true of the work; what a pending wait will give counts here.
    pub held: ConditionSet,
    /// What has been given so far, the latest last; not all of it is held still.
    pub(super) given: Vec<Condition>,
    /// Waits that run meanwhile.
    pub pending: Vec<Pending>,
    /// The steps come to, oldest first, the present one not among them; `back` takes the last.
    pub visits: Vec<Visit>,
    /// Readings by gauge id, as they are said.
    pub readings: BTreeMap<String, String>,
    /// Kit numbers measured or corrected in this job.
    pub numbers: BTreeMap<String, String>,
    /// What reckonings were given in this job, by step or name: inputs with what was typed.
    pub(super) given_values: BTreeMap<String, Vec<(String, String)>>,
    /// Until this step is come to, a step whose gives are all held stands.
    pub standing_until: Option<StandingUntil>,
    /// Steps that stood and were passed over on the way to the present one.
    pub passed_over: Vec<StepIdx>,
    /// Steps that have stood once, which stand no more.
    pub(super) stood: Vec<StepIdx>,
    /// When the present wait began, where the present step is a wait.
    pub wait_start: Option<Timestamp>,
    /// The time of the last event.
    pub clock: Timestamp,
    /// How far the clock was found moved back, in seconds, at the last event.
    pub clock_back_s: i64,
    /// When the walk began.
    pub began: Timestamp,
    /// When it was laid aside, if it is.
    pub parked: Option<Timestamp>,
    /// The step last left, for the word on resuming.
    pub last_left: Option<StepIdx>,
    /// Why the walk is at the present step, where it did not come there by a way.
    pub rejoined: Option<String>,
    /// What is to be said of what was typed last: a reading out of its limits, a number put right.
    pub remark: Option<String>,
    /// How things stood before the last `no`, `not ready`, trouble or correction, where nothing has been done since:
    /// `back` takes such a slip back whole.
    pub before_slip: Option<Box<State>>,
    /// The fault table that is being asked, if one is.
    pub trouble: Option<Trouble>,
    /// The name under which the measured numbers are to be kept at the end.
    pub keep_kit: Option<String>,
    /// The time zone in which times are said.
    pub zone: TimeZone,
    /// What to say at the end.
    pub record: Record,
}

/// Where the window in which steps can stand closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StandingUntil {
    /// At this step, where trouble was called.
    Step(StepIdx),
    /// Not before the end.
    End,
}

/// What is told at the end of a walk.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Record {
    /// Optional steps passed by.
    pub skipped: Vec<StepIdx>,
    /// Steps taken back.
    pub taken_back: Vec<StepIdx>,
    /// Steps done more than once.
    pub done_again: Vec<StepIdx>,
    /// Readings out of their limits: the step and what was read.
    pub out_of_limits: Vec<(StepIdx, String)>,
    /// What went wrong, and how it ended, in words.
    pub troubles: Vec<String>,
    /// Parts borrowed from another kit: the part, and where it came from.
    pub borrowed: Vec<(String, String)>,
    /// Remarks.
    pub notes: Vec<String>,
    /// Seconds that the walk was laid aside.
    pub parked_s: i64,
    pub(super) done: Vec<StepIdx>,
}

impl State {
    /// Returns the state before anything has happened.
    pub fn new(guide: &Guide) -> State {
        State {
            here: guide.first(),
            phase: Phase::At,
            held: ConditionSet::default(),
            given: Vec::new(),
            pending: Vec::new(),
            visits: Vec::new(),
            readings: BTreeMap::new(),
            numbers: BTreeMap::new(),
            given_values: BTreeMap::new(),
            standing_until: None,
            passed_over: Vec::new(),
            stood: Vec::new(),
            wait_start: None,
            clock: Timestamp::UNIX_EPOCH,
            clock_back_s: 0,
            began: Timestamp::UNIX_EPOCH,
            parked: None,
            last_left: None,
            rejoined: None,
            trouble: None,
            keep_kit: None,
            remark: None,
            before_slip: None,
            zone: TimeZone::UTC,
            record: Record::default(),
        }
    }

    /// Tells whether a step has stood since the last rejoin: it stands only once.
    pub fn has_stood(&self, step: StepIdx) -> bool {
        self.stood.contains(&step)
    }

    /// Returns what is held for certain: nothing that comes and goes, nothing that a pending wait will give.
    pub fn lasting(&self, guide: &Guide) -> ConditionSet {
        let pending = |condition: &Condition| self.pending.iter().any(|wait| wait.gives.contains(condition));
        self.held.iter().filter(|condition| !guide.is_passing(*condition) && !pending(condition)).collect()
    }

    /// Returns what comes and goes and was so last: now, or before the slip that `back` takes back.
    pub(super) fn passing_to_go_back(&self, guide: &Guide) -> Vec<Condition> {
        let held = self.before_slip.as_ref().map_or(&self.held, |before| &before.held);
        held.iter().filter(|condition| guide.is_passing(*condition)).collect()
    }

    /// Returns a kit number as it was written: measured or corrected in the job first, then the guide's.
    pub fn written(&self, guide: &Guide, path: &str) -> Option<String> {
        self.numbers.get(path).cloned().or_else(|| Some(guide.kit().get(path)?.written()))
    }

    /// Returns the value of a kit number or reading as it is said: measured in the job first, then the guide's.
    pub fn number(&self, guide: &Guide, name: &str) -> Option<String> {
        let written = match name.strip_prefix("read.") {
            Some(gauge) => self.readings.get(gauge).cloned()?,
            // A remedy that is looked at without a kit has no numbers: they are called by their last word.
            None => {
                self.written(guide, name).unwrap_or_else(|| name.rsplit('.').next().unwrap_or(name).replace('-', " "))
            }
        };
        Some(super::scene::said_number(&written))
    }

    /// Returns what a reckoning was given in this job, by its step or its name.
    pub(super) fn given_to(&self, step_or_name: &str) -> &[(String, String)] {
        self.given_values.get(step_or_name).map_or(&[], Vec::as_slice)
    }

    /// Returns a text of the guide as it is read now.
    pub fn say(&self, guide: &Guide, text: &str) -> String {
        // A reading that is still to come, in what lies ahead.
        let to_come = |name: &str| name.starts_with("read.").then(|| "the reading to come".to_owned());
        guide.say(text, |name| self.number(guide, name).or_else(|| to_come(name)))
    }
}
