//! A walk that is played by a program, with what was said in it.

use std::sync::Arc;

use jiff::{SignedDuration, Timestamp};

use super::reading::reading;
use super::{Move, Said};
use crate::check::rejoin::onward;
use crate::guide::{Condition, Guide, Kind, Label, StepIdx, Way};
use crate::reckon::Data;
use crate::walk::apply::way;
use crate::walk::sum::{Comes, Sum};
use crate::walk::{Event, Leave, Phase, State, Walk};

/// A walk, its clock, and what was said in it so far.
pub(super) struct Player<'g> {
    walk: Walk<'g>,
    now: Timestamp,
    pub(super) moves: Vec<Move>,
}

impl<'g> Player<'g> {
    pub(super) fn new(guide: &'g Guide, data: &Arc<Data>) -> Player<'g> {
        let now = Timestamp::UNIX_EPOCH;
        Player { walk: Walk::begin(guide, now).with_data(Arc::clone(data)), now, moves: Vec::new() }
    }

    pub(super) fn guide(&self) -> &'g Guide {
        self.walk.guide()
    }

    pub(super) fn state(&self) -> &State {
        self.walk.state()
    }

    pub(super) fn here(&self) -> StepIdx {
        self.walk.state().here
    }

    pub(super) fn phase(&self) -> &Phase {
        &self.walk.state().phase
    }

    /// Says at a hold that all of it is true, at a wait that its sign is there: what comes before the step's own answer.
    /// Tells whether there was such a thing to say.
    pub(super) fn get_to_work(&mut self) -> bool {
        match *self.phase() {
            Phase::Hold => {
                let event = Event::Confirmed { step: self.id(self.here()), at: self.now };
                self.take(&event, Said::Yes);
            }
            Phase::Waiting(wait) => self.look(wait, true),
            Phase::At | Phase::Open | Phase::Ended => return false,
        }
        true
    }

    /// Says whether the sign of a wait is there at which the walk stands.
    pub(super) fn look(&mut self, wait: StepIdx, ready: bool) {
        if let Some(due) = self.state().pending.iter().find(|pending| pending.step == wait).map(|pending| pending.due) {
            self.now = self.now.max(due);
        }
        let event = Event::Looked { wait: self.id(wait), ready, at: self.now };
        self.take(&event, Said::Sign { wait, ready });
    }

    /// Says at a hold what is not true.
    pub(super) fn deny(&mut self, conditions: &[Condition]) {
        let mut names = self.names(conditions).into_iter();
        let Some(condition) = names.next() else { return };
        let event = Event::Denied { step: self.id(self.here()), condition, also: names.collect(), at: self.now };
        self.take(&event, Said::No(conditions.to_vec()));
    }

    /// Says that something went wrong.
    pub(super) fn call_trouble(&mut self, lost: &[Condition]) {
        let event = Event::Trouble { lost: self.names(lost), at: self.now };
        self.take(&event, Said::Trouble(lost.to_vec()));
    }

    /// Says that a step that was passed over just now, being done already, is to be done once more.
    pub(super) fn again(&mut self, step: StepIdx) {
        let event = Event::Again { step: self.id(step), at: self.now };
        self.take(&event, Said::Again);
    }

    /// Gives a sum its values.
    pub(super) fn give(&mut self, values: &[(String, String)]) {
        let event = Event::Given { to: self.id(self.here()), values: values.to_vec(), at: self.now };
        self.take(&event, Said::Values(values.to_vec()));
    }

    /// Leaves the step; tells whether it has such a way.
    pub(super) fn leave(&mut self, by: Leave) -> bool {
        let (guide, here) = (self.guide(), self.here());
        let Some(taken) = way(guide, self.state(), here, &by) else { return false };
        let (label, trouble) = (taken.label.clone(), taken.trouble.clone());
        self.pass(guide.step(here).minutes + waited(&guide.step(here).kind, &label));
        let reading = match &by {
            Leave::Reading { said, .. } => Some(said.clone()),
            _ => None,
        };
        let event = Event::Left { step: self.id(here), by, at: self.now };
        self.take(&event, Said::Left { label, reading, trouble });
        true
    }

    /// Leaves the step by this way; tells whether that can be said.
    pub(super) fn leave_by(&mut self, way: &Way) -> bool {
        let (guide, here) = (self.guide(), self.here());
        let by = match &way.label {
            Label::Then if matches!(guide.step(here).kind, Kind::Reckon { .. }) => Leave::Verdict(String::new()),
            Label::Then => Leave::Then,
            Label::Answer(_) => {
                let mut answers = guide.ways_out(here).iter().filter(|way| matches!(way.label, Label::Answer(_)));
                match answers.position(|answer| std::ptr::eq(answer, way)) {
                    Some(n) => Leave::Answer(n),
                    None => return false,
                }
            }
            Label::Within | Label::Under | Label::Over => match reading(guide, self.state(), here, &way.label) {
                Some((said, value)) => Leave::Reading { said, value },
                None => return false,
            },
            Label::Ready => Leave::Ready,
            Label::NotReady => Leave::NotReady,
            Label::Verdict(verdict) => Leave::Verdict(verdict.clone()),
            Label::Skip => Leave::Skip,
        };
        self.leave(by)
    }

    /// Returns what a sum comes to here, as the way by which it is left.
    pub(super) fn verdict(&self) -> Leave {
        let sum = Sum::of_step(self.guide(), self.state(), self.here());
        let verdict = match sum.map(|sum| sum.comes(self.walk.data())) {
            Some(Comes::To(outcome)) => outcome.verdict.unwrap_or_default(),
            _ => "",
        };
        Leave::Verdict(verdict.to_owned())
    }

    /// Returns the step that the last thing that was said led to, before what was gone through by itself.
    fn led_to(&self) -> StepIdx {
        let guide = self.guide();
        let Some(last) = self.moves.last() else { return guide.first() };
        match &last.said {
            _ if last.picked_up => last.to,
            Said::Left { label, .. } => {
                let way = guide.ways_out(last.step).iter().find(|way| way.label == *label);
                way.and_then(|way| way.to).unwrap_or(last.to)
            }
            // When the wait is over the step that waited is come to once more.
            Said::Sign { .. } => last.step,
            _ => last.to,
        }
    }

    /// Returns the steps that were come to by the last thing that was said, the present one last: where procedures begin
    /// and return, and what stood, is gone through by itself.
    pub(super) fn gone_through(&self) -> Vec<StepIdx> {
        let guide = self.guide();
        let mut met = vec![self.led_to()];
        while let Some(last) = met.last().copied().filter(|last| *last != self.here() && met.len() <= guide.len()) {
            match onward(guide, last).and_then(|way| way.to) {
                Some(next) => met.push(next),
                None => break,
            }
        }
        met
    }

    fn pass(&mut self, minutes: f64) {
        let span = SignedDuration::from_secs((minutes * 60.0).round() as i64);
        self.now = self.now.checked_add(span).unwrap_or(self.now);
    }

    fn take(&mut self, event: &Event, said: Said) {
        let step = self.here();
        self.walk.take(event);
        let to = self.here();
        let picked_up = self.state().rejoined.is_some()
            && match said {
                Said::Yes | Said::Values(_) | Said::Again => false,
                Said::Sign { .. } => to != step,
                Said::Left { .. } | Said::No(_) | Said::Trouble(_) => true,
            };
        self.moves.push(Move { step, said, to, picked_up });
    }

    fn id(&self, step: StepIdx) -> String {
        self.guide().step(step).id.to_string()
    }

    fn names(&self, conditions: &[Condition]) -> Vec<String> {
        conditions.iter().map(|condition| self.guide().name(*condition).to_owned()).collect()
    }
}

/// Returns the minutes that pass at a step besides its own.
fn waited(kind: &Kind, label: &Label) -> f64 {
    match (kind, label) {
        (Kind::Wait(pause), Label::NotReady) => pause.up_to.unwrap_or(pause.minutes),
        (Kind::Wait(pause), Label::Ready) => pause.minutes,
        _ => 0.0,
    }
}
