//! The only place where a walk's state changes.

mod slip;
mod trouble;

use jiff::{SignedDuration, Timestamp};

use super::event::{Event, Leave};
use super::rejoin;
use super::state::{Pending, Phase, StandingUntil, State, Visit};
use super::sum::lay_over;
use crate::check::flow::Flow;
use crate::guide::{Condition, ConditionSet, Guide, Kind, Label, StepIdx, Way};

/// Applies one event. The same events give the same state, whenever they are applied.
///
/// An event that names a step or condition the guide does not have changes nothing but the clock.
pub fn apply(guide: &Guide, flow: &Flow<'_>, state: &mut State, event: &Event) {
    let mut fold = Fold { guide, flow, state };
    fold.clock(event.at());
    fold.slip(event);
    match event {
        Event::Begun { held, at } => fold.begun(held, *at),
        Event::Confirmed { .. } => fold.state.phase = Phase::Open,
        Event::Denied { condition, also, .. } => fold.denied(condition, also),
        Event::Left { step, by, at } => fold.left(step, by, *at),
        Event::Looked { wait, ready, .. } => fold.looked(wait, *ready),
        Event::Back { held, still, .. } => fold.back(held.as_deref(), still),
        Event::Trouble { lost, .. } => fold.trouble(lost),
        Event::InTrouble { what, .. } => fold.in_trouble(what),
        Event::Again { step, .. } => fold.again(step),
        Event::Number { path, value, .. } => fold.number(path, value),
        Event::Given { to, values, .. } => fold.given(to, values),
        Event::KeepKit { name, .. } => fold.state.keep_kit = Some(name.clone()),
        Event::Settled { part, kit, .. } => fold.settled(part, kit),
        Event::Note { text, .. } => fold.state.record.notes.push(text.clone()),
        Event::Parked { at } => {
            fold.state.parked = Some(*at);
            fold.drop_passing();
        }
        Event::Resumed { at } => fold.resumed(*at),
    }
}

struct Fold<'f, 'g> {
    guide: &'g Guide,
    flow: &'f Flow<'g>,
    state: &'f mut State,
}

impl Fold<'_, '_> {
    /// Takes the time of an event; where the clock was moved back, waits keep what was left of them.
    fn clock(&mut self, at: Timestamp) {
        let back = self.state.clock.duration_since(at);
        self.state.clock_back_s = 0;
        if back > SignedDuration::ZERO && self.state.began != Timestamp::UNIX_EPOCH {
            self.state.clock_back_s = back.as_secs();
            self.state.before_slip = None;
            let moved = |time: Timestamp| time.checked_sub(back).unwrap_or(time);
            for wait in &mut self.state.pending {
                (wait.start, wait.due) = (moved(wait.start), moved(wait.due));
            }
            self.state.wait_start = self.state.wait_start.map(moved);
        }
        self.state.clock = at;
    }

    fn conditions(&self, names: &[String]) -> Vec<Condition> {
        names.iter().filter_map(|name| self.guide.condition(name)).collect()
    }

    fn begun(&mut self, held: &[String], at: Timestamp) {
        self.state.began = at;
        let held = self.conditions(held).into_iter().filter(|condition| !self.guide.is_passing(*condition));
        self.state.held = held.collect();
        self.state.given = rejoin::latest_first(self.guide)
            .into_iter()
            .rev()
            .filter(|given| self.state.held.contains(*given))
            .collect();
        let mut start = self.guide.first();
        if !self.state.held.is_empty() {
            self.state.standing_until = Some(StandingUntil::End);
            if let Some(rejoin) = rejoin::without_job(self.flow, &self.state.held) {
                start = rejoin.step;
            }
        }
        self.arrive(start);
    }

    fn left(&mut self, step: &str, by: &Leave, at: Timestamp) {
        if &*self.guide.step(self.state.here).id != step {
            return;
        }
        let here = self.state.here;
        let guide = self.guide;
        let Some(way) = way(guide, self.state, here, by) else { return };
        self.state.last_left = Some(here);
        self.state.rejoined = None;
        self.state.remark = None;
        self.state.passed_over.clear();
        if let Leave::Reading { said, .. } = by {
            self.state.readings.insert(step.to_owned(), said.clone());
            if matches!(way.label, Label::Under | Label::Over) {
                self.state.record.out_of_limits.push((here, said.clone()));
                self.state.remark = Some(super::scene::beyond(guide, self.state, here, said, &way.label));
            } else if let Kind::Gauge { sets: Some(path), .. } = &guide.step(here).kind {
                self.state.remark = super::scene::unlike_before(guide, self.state, path, said);
                self.state.numbers.insert(path.clone(), said.clone());
            }
            self.forget_given(here);
        }
        let skipped = way.label == Label::Skip;
        let visit = Visit {
            step: here,
            held: self.state.held.clone(),
            removed: ConditionSet::default(),
            one_way: self.guide.step(here).one_way && !skipped,
        };
        self.state.visits.push(visit);
        let record = &mut self.state.record;
        match skipped {
            true => record.skipped.push(here),
            false if record.done.contains(&here) => record.done_again.push(here),
            false => record.done.push(here),
        }
        self.effects(way);
        if let Kind::Wait(pause) = &self.guide.step(here).kind
            && pause.meanwhile
            && !skipped
        {
            let running = self.state.pending.iter().position(|wait| wait.step == here);
            let running = running.map(|at| self.state.pending.remove(at));
            let start = running.map_or(at, |wait| wait.start);
            let due = start + minutes(pause.minutes);
            self.state.pending.push(Pending { step: here, gives: way.gives.clone(), start, due });
        }
        match way.to {
            Some(to) => self.arrive(to),
            None => self.rejoin("after the trouble"),
        }
    }

    /// Does what a way does to what is held.
    fn effects(&mut self, way: &Way) {
        let gone = self.guide.leave(&mut self.state.held, way);
        self.state.given.retain(|given| !way.gives.contains(given));
        self.state.given.extend(&way.gives);
        // What a step gives for certain is no wait's to give any more.
        for wait in &mut self.state.pending {
            wait.gives.retain(|gives| !way.gives.contains(gives));
        }
        self.removed(&gone);
    }

    /// Removes conditions and all that was built on them.
    fn undo(&mut self, roots: impl IntoIterator<Item = Condition>) {
        let undone = self.guide.built_on(roots);
        let gone = undone.iter().filter(|condition| self.state.held.remove(*condition)).collect();
        self.removed(&gone);
    }

    /// Notes what was removed: for going back, and for waits that it cancels.
    fn removed(&mut self, gone: &ConditionSet) {
        for visit in &mut self.state.visits {
            visit.removed.extend(gone.iter());
        }
        self.cancel_waits();
    }

    /// Takes from each pending wait what is no longer to come; one with nothing left to give is cancelled.
    fn cancel_waits(&mut self) {
        let held = &self.state.held;
        for wait in &mut self.state.pending {
            wait.gives.retain(|gives| held.contains(*gives));
        }
        self.state.pending.retain(|wait| !wait.gives.is_empty());
    }

    /// Comes to a step: passes over what stands, goes into and out of procedures, and stops where a person is needed.
    fn arrive(&mut self, to: StepIdx) {
        let mut to = to;
        loop {
            let step = self.guide.step(to);
            let onward = rejoin::onward(self.guide, to);
            let stands = self.state.standing_until.is_some()
                && !self.state.stood.contains(&to)
                && rejoin::stands(self.guide, to, &self.state.lasting(self.guide));
            // The step itself where trouble was called may stand too: what it makes true may have been put right.
            if self.state.standing_until == Some(StandingUntil::Step(to)) {
                self.state.standing_until = None;
            }
            if stands && let Some(next) = onward.and_then(|way| way.to) {
                self.state.stood.push(to);
                if !matches!(step.kind, Kind::Return { .. }) {
                    self.state.passed_over.push(to);
                }
                to = next;
                continue;
            }
            self.state.here = to;
            if self.awaited().is_none()
                && self.passes_by_itself(to)
                && let Some(way) = onward
                && let Some(next) = way.to
            {
                self.effects(way);
                to = next;
                continue;
            }
            break;
        }
        self.stop_here();
    }

    /// Tells whether a node needs no person: a return, or a run with nothing to say.
    fn passes_by_itself(&self, idx: StepIdx) -> bool {
        let step = self.guide.step(idx);
        match step.kind {
            Kind::Return { .. } => true,
            Kind::Run => step.cautions.is_empty() && step.tell.is_none() && !step.optional,
            _ => false,
        }
    }

    /// Returns the pending wait whose result the present step needs.
    fn awaited(&self) -> Option<StepIdx> {
        let needs = &self.guide.step(self.state.here).needs;
        let needed = |wait: &&Pending| needs.iter().any(|need| wait.gives.contains(&need.condition));
        self.state.pending.iter().find(needed).map(|wait| wait.step)
    }

    /// Sets the phase of the present step.
    fn stop_here(&mut self) {
        let step = self.guide.step(self.state.here);
        self.state.wait_start = None;
        self.state.phase = match (&step.kind, self.awaited()) {
            (_, Some(wait)) => Phase::Waiting(wait),
            (Kind::End(_), None) => Phase::Ended,
            (Kind::Wait(_), None) => {
                self.state.wait_start = Some(self.state.clock);
                if step.one_way { Phase::Hold } else { Phase::At }
            }
            (_, None) if step.one_way => Phase::Hold,
            (_, None) => Phase::At,
        };
    }

    fn looked(&mut self, wait: &str, ready: bool) {
        let Some(at) = self.state.pending.iter().position(|pending| &*self.guide.step(pending.step).id == wait) else {
            return;
        };
        let wait = self.state.pending.remove(at);
        if !ready {
            self.undo(wait.gives);
        }
        self.drop_passing();
        if self.is_safe_here() {
            let here = self.state.here;
            self.arrive(here);
        } else if ready {
            self.rejoin("the wait took the fresh work with it");
        } else {
            self.rejoin("it was not ready");
        }
    }

    fn denied(&mut self, condition: &str, also: &[String]) {
        let denied: Vec<Condition> = self.guide.condition(condition).into_iter().chain(self.conditions(also)).collect();
        self.undo(denied);
        self.state.remark = None;
        self.rejoin("something it needs is not true");
    }

    fn trouble(&mut self, lost: &[String]) {
        let lost = self.conditions(lost);
        self.undo(lost);
        self.state.remark = None;
        self.rejoin("after the trouble");
    }

    /// Keeps what a reckoning was given.
    fn given(&mut self, to: &str, values: &[(String, String)]) {
        lay_over(self.state.given_values.entry(to.to_owned()).or_default(), values);
    }

    /// Forgets what was typed at sums beside an earlier reading of a gauge that they take.
    fn forget_given(&mut self, gauge: StepIdx) {
        let read = self.guide.step(gauge);
        let Kind::Gauge { sets, .. } = &read.kind else { return };
        let names: Vec<String> = std::iter::once(format!("{{read.{}}}", read.id))
            .chain(sets.iter().map(|path| format!("{{{path}}}")))
            .collect();
        for (_, step) in self.guide.steps() {
            if let Kind::Reckon { from } = &step.kind
                && from.iter().any(|(_, text)| names.iter().any(|name| text.contains(name.as_str())))
            {
                self.state.given_values.remove(&*step.id);
            }
        }
    }

    fn settled(&mut self, part: &str, kit: &str) {
        let owed = &mut self.state.record.borrowed;
        if let Some(at) = owed.iter().position(|(known, from)| known == part && from == kit) {
            owed.remove(at);
        }
    }

    fn again(&mut self, step: &str) {
        let Some(step) = self.guide.step_of_id(step) else { return };
        if let Some(at) = self.state.passed_over.iter().position(|passed| *passed == step) {
            self.state.passed_over.truncate(at);
            self.state.here = step;
            self.stop_here();
        }
    }

    fn number(&mut self, path: &str, value: &str) {
        self.state.numbers.insert(path.to_owned(), value.to_owned());
        self.state.remark = self.state.number(self.guide, path).map(|now| format!("{path} is {now} now."));
        let mut read = Vec::new();
        for (_, step) in self.guide.steps() {
            if let Kind::Gauge { sets: Some(sets), read: condition, .. } = &step.kind
                && sets == path
            {
                read.push(*condition);
                // The reading was this number, so that it is put right with it.
                if let Some(reading) = self.state.readings.get_mut(&*step.id) {
                    reading.clear();
                    reading.push_str(value);
                }
            }
        }
        let above: Vec<Condition> =
            self.guide.built_on(read.iter().copied()).iter().filter(|condition| !read.contains(condition)).collect();
        self.undo(above);
        if !self.is_safe_here() {
            self.rejoin("a number was corrected");
        }
    }

    fn resumed(&mut self, at: Timestamp) {
        if let Some(parked) = self.state.parked.take() {
            self.state.record.parked_s += at.duration_since(parked).as_secs().max(0);
        }
        self.drop_passing();
        if let Some(trouble) = &mut self.state.trouble {
            // The table is asked on; what is safe is found when it is over. What could not be done then may be now.
            trouble.left_out.clear();
        } else if !self.is_safe_here() {
            self.rejoin("after the time away");
        } else if self.state.phase == Phase::Open {
            self.state.phase = Phase::Hold;
        }
    }

    fn drop_passing(&mut self) {
        for condition in self.guide.passing().iter() {
            self.state.held.remove(condition);
        }
    }

    /// Tells whether everything that may still be needed from here on is held.
    fn is_safe_here(&self) -> bool {
        self.flow.ready_for(&self.state.held)[self.state.here.index()]
    }

    fn rejoin(&mut self, why: &str) {
        self.drop_passing();
        let from = self.state.here;
        let Some(to) = rejoin::in_job(self.flow, self.state) else { return };
        self.state.standing_until.get_or_insert(StandingUntil::Step(from));
        self.state.stood.clear();
        self.state.passed_over.clear();
        if to != from {
            let at = self.state.visits.iter().rposition(|visit| visit.step == to).unwrap_or(0);
            self.state.visits.truncate(at);
        }
        self.state.rejoined = Some(why.to_owned());
        self.arrive(to);
    }
}

fn minutes(minutes: f64) -> SignedDuration {
    SignedDuration::from_secs((minutes * 60.0).round() as i64)
}

/// Returns the way by which a step was left.
pub(super) fn way<'g>(guide: &'g Guide, state: &State, here: StepIdx, by: &Leave) -> Option<&'g Way> {
    let ways = guide.ways_out(here);
    let label = match by {
        Leave::Answer(n) => return ways.iter().filter(|way| matches!(way.label, Label::Answer(_))).nth(*n),
        Leave::Reading { value, .. } => super::answer::judged(guide, state, here, *value),
        Leave::Then => Label::Then,
        Leave::Ready => Label::Ready,
        Leave::NotReady => Label::NotReady,
        Leave::Verdict(verdict) => {
            let own = ways.iter().find(|way| way.label == Label::Verdict(verdict.clone()));
            return own.or_else(|| ways.iter().find(|way| way.label == Label::Then));
        }
        Leave::Skip => Label::Skip,
    };
    ways.iter().find(|way| way.label == label)
}
