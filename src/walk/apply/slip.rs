//! Going back, and what a slip of typing is taken back to.

use super::super::event::Event;
use super::super::state::StandingUntil;
use super::super::trouble::TroubleEvent;
use super::Fold;
use crate::guide::Condition;

impl Fold<'_, '_> {
    /// Keeps how things stand before an event that may be a slip, and forgets it once something else is done.
    pub(super) fn slip(&mut self, event: &Event) {
        match event {
            Event::Denied { .. }
            | Event::Looked { ready: false, .. }
            | Event::Trouble { .. }
            | Event::InTrouble { what: TroubleEvent::Opened { .. }, .. }
            | Event::Number { .. } => {
                self.state.before_slip = None;
                self.state.before_slip = Some(Box::new(self.state.clone()));
            }
            Event::InTrouble { what, .. } => match what.can_be_taken_back() {
                // At a fault table one thing after another can be taken back.
                Some(true) => self.state.before_slip = Some(Box::new(self.state.clone())),
                Some(false) => self.state.before_slip = None,
                None => {}
            },
            Event::Back { .. }
            | Event::Note { .. }
            | Event::KeepKit { .. }
            | Event::Settled { .. }
            | Event::Given { .. } => {}
            Event::Parked { .. } | Event::Resumed { .. } if self.state.trouble.is_some() => {}
            _ => self.state.before_slip = None,
        }
    }

    pub(super) fn back(&mut self, still_true: Option<&[String]>, still_so: &[String]) {
        // Nobody can say that what was not so is so still.
        let was = self.state.passing_to_go_back(self.guide);
        let still_so: Vec<Condition> =
            self.conditions(still_so).into_iter().filter(|condition| was.contains(condition)).collect();
        if let Some(before) = self.state.before_slip.take() {
            let (clock, back) = (self.state.clock, self.state.clock_back_s);
            let given_values = std::mem::take(&mut self.state.given_values);
            let (notes, parked_s) = (std::mem::take(&mut self.state.record.notes), self.state.record.parked_s);
            *self.state = *before;
            (self.state.clock, self.state.clock_back_s) = (clock, back);
            (self.state.record.notes, self.state.record.parked_s) = (notes, parked_s);
            self.state.given_values = given_values;
            self.drop_passing();
            self.state.held.extend(still_so);
            self.cancel_waits();
            if self.state.trouble.is_none() && !self.is_safe_here() {
                self.rejoin("going back");
            }
            return;
        }
        let Some(visit) = self.state.visits.pop() else { return };
        let was_at = self.state.here;
        self.state.last_left = self.state.visits.last().map(|visit| visit.step);
        self.state.record.taken_back.push(visit.step);
        self.state.held = visit.held.iter().filter(|condition| !visit.removed.contains(*condition)).collect();
        if let Some(names) = still_true {
            let still_true = self.conditions(names);
            self.state.held.extend(still_true);
        }
        self.drop_passing();
        self.state.held.extend(still_so.into_iter().filter(|condition| visit.held.contains(*condition)));
        self.cancel_waits();
        self.state.passed_over.clear();
        self.state.rejoined = None;
        self.state.remark = None;
        if visit.one_way {
            self.state.standing_until.get_or_insert(StandingUntil::Step(was_at));
            self.state.stood.clear();
        }
        self.state.here = visit.step;
        if self.is_safe_here() { self.arrive(visit.step) } else { self.rejoin("going back") }
    }
}
