//! The walk: one pen, one step at a time.
//!
//! [`Event`] is all that can happen; [`apply()`] is the only place where a walk's [`State`] changes; a journal is the
//! list of events. [`Walk`] puts them together with what a person sees ([`Scene`]) and what they type. Whatever it hands
//! out to be shown is cleaned: a guide's text, or a line that was typed, never acts on a terminal.

mod answer;
mod apply;
mod event;
pub mod half_made;
pub mod journal;
pub mod rehearse;
pub mod rejoin;
mod scene;
mod state;
mod sum;
mod tell;
pub mod trouble;

pub use answer::{Answer, Refusal};
pub use apply::apply;
pub use event::{Event, Leave};
pub use rejoin::Rejoin;
pub use scene::{Scene, Wanted};
pub use state::{Pending, Phase, Record, StandingUntil, State, Visit};
pub use sum::Called;
pub(crate) use tell::{clock_said, minutes_said, span_said, work_said};

use std::sync::Arc;

use jiff::Timestamp;

use crate::check::flow::Flow;
use crate::finding::plain_text::cleaned;
use crate::guide::Guide;
use crate::reckon::Data;
use crate::units::LengthUnit;

/// A guide being walked.
///
/// ```
/// use stepjig::finding::Source;
/// use stepjig::guide::Library;
/// use stepjig::walk::{Phase, Walk};
///
/// let text = r#"
/// stepjig = 1
/// [guide]
/// id = "try"
/// title = "Try"
/// [[step]]
/// id = "scuff"
/// do = "Scuff the tube."
/// gives = ["tube.scuffed"]
/// [[step]]
/// id = "end"
/// end = "finished"
/// needs = ["tube.scuffed"]
/// "#;
/// let guide = Library::empty().link(&Source::new("try.toml", text)).guide.unwrap();
/// let now = jiff::Timestamp::UNIX_EPOCH;
/// let mut walk = Walk::begin(&guide, now);
/// assert_eq!(walk.scene(now).title, "Scuff the tube.");
/// let events = walk.answer("done", now).unwrap();
/// assert_eq!(events.len(), 1);
/// assert!(matches!(walk.state().phase, Phase::Ended));
/// ```
pub struct Walk<'g> {
    guide: &'g Guide,
    flow: Flow<'g>,
    state: State,
    /// The figures that reckonings use.
    data: Arc<Data>,
    /// The shop's unit for lengths that a reckoning is given without one.
    unit: Option<LengthUnit>,
}

impl<'g> Walk<'g> {
    /// Begins a walk at the guide's first step.
    pub fn begin(guide: &'g Guide, now: Timestamp) -> Walk<'g> {
        let mut walk =
            Walk { guide, flow: Flow::new(guide), state: State::new(guide), data: Arc::default(), unit: None };
        walk.take(&Event::Begun { at: now, held: Vec::new() });
        walk
    }

    /// Takes a walk up from its events, the first of which is [`Event::Begun`].
    pub fn from_events<'e>(guide: &'g Guide, events: impl IntoIterator<Item = &'e Event>) -> Walk<'g> {
        let mut walk =
            Walk { guide, flow: Flow::new(guide), state: State::new(guide), data: Arc::default(), unit: None };
        for event in events {
            walk.take(event);
        }
        walk
    }

    /// Sets the time zone in which times are said; without it they are said in UTC.
    pub fn in_zone(mut self, zone: jiff::tz::TimeZone) -> Walk<'g> {
        self.state.zone = zone;
        self
    }

    /// Sets the figures that reckonings use; without it they are those that stepjig comes with.
    pub fn with_data(mut self, data: Arc<Data>) -> Walk<'g> {
        self.data = data;
        self
    }

    /// Sets the shop's unit for lengths that a reckoning is given without one; else they are refused.
    pub fn in_unit(mut self, unit: Option<LengthUnit>) -> Walk<'g> {
        self.unit = unit;
        self
    }

    /// Returns the figures that reckonings use.
    pub fn data(&self) -> &Arc<Data> {
        &self.data
    }

    /// Returns the guide.
    pub fn guide(&self) -> &'g Guide {
        self.guide
    }

    /// Returns where the walk stands.
    pub fn state(&self) -> &State {
        &self.state
    }

    /// Applies an event that has been recorded.
    pub fn take(&mut self, event: &Event) {
        apply(self.guide, &self.flow, &mut self.state, event);
    }

    /// Returns what is to be shown now.
    pub fn scene(&self, now: Timestamp) -> Scene {
        scene::scene(self.guide, &self.state, &self.data, now).plain()
    }

    /// Returns the words that can be typed now, the likeliest first.
    pub fn can_type(&self) -> Vec<String> {
        tell::can_type(self.guide, &self.state).into_iter().map(cleaned).collect()
    }

    /// Tells whether a reading at the present gauge is beyond its limits.
    pub fn is_beyond(&self, value: f64) -> bool {
        let judged = answer::judged(self.guide, &self.state, self.state.here, value);
        matches!(judged, crate::guide::Label::Under | crate::guide::Label::Over)
    }

    /// Returns when the wait that the walk stands at is due, where it stands at one.
    pub fn due(&self) -> Option<Timestamp> {
        let minutes = |minutes: f64| jiff::SignedDuration::from_secs((minutes * 60.0).round() as i64);
        match (&self.state.phase, &self.guide.step(self.state.here).kind) {
            (Phase::Waiting(wait), _) => Some(self.state.pending.iter().find(|pending| pending.step == *wait)?.due),
            (Phase::At, crate::guide::Kind::Wait(pause)) if !pause.meanwhile => {
                Some(self.state.wait_start? + minutes(pause.minutes))
            }
            _ => None,
        }
    }

    /// Returns a step's text as a person reads it now.
    pub fn title(&self, step: crate::guide::StepIdx) -> String {
        cleaned(tell::title(self.guide, &self.state, step))
    }

    /// Returns the fault tables that the guide's steps name: those of the present step first.
    pub fn trouble_calls(&self) -> Vec<crate::guide::TroubleCall> {
        trouble::calls(self.guide, &self.state)
    }

    /// Returns the fault table that an answer leads to, where it leads to one.
    pub fn leads_to_trouble(&self, event: &Event) -> Option<crate::guide::TroubleCall> {
        let Event::Left { by, .. } = event else { return None };
        apply::way(self.guide, &self.state, self.state.here, by)?.trouble.clone()
    }

    /// Returns what is still to do from the present step to a finished pen, as if all had gone well.
    pub fn onward_from_here(&self) -> Option<trouble::Onward> {
        let (held, step) = (self.state.lasting(self.guide), self.state.here);
        let (attention, waits) = rejoin::remaining(self.guide, &held, step)?;
        Some(trouble::Onward { step, attention, waits })
    }

    /// Returns where the pen would be picked up if some conditions were undone and others given, and what is then
    /// still to do; names that the guide does not have are passed over.
    pub fn onward(&self, undone: &[String], given: &[String]) -> Option<trouble::Onward> {
        let known = |names: &[String]| names.iter().filter_map(|name| self.guide.condition(name)).collect::<Vec<_>>();
        trouble::onward(self.guide, &self.flow, &self.state, &known(undone), &known(given))
    }

    /// Returns what comes and goes and, if it is still so, keeps an [`Event::Back`] from leading further back than to
    /// its own step.
    pub fn still_asked(&self, back: &Event) -> Vec<crate::guide::Condition> {
        let Event::Back { to, .. } = back else { return Vec::new() };
        let passing = self.state.passing_to_go_back(self.guide);
        let still = passing.iter().map(|condition| self.guide.name(*condition).to_owned()).collect();
        let leads_to = |event: &Event| {
            let mut tried = self.state.clone();
            apply(self.guide, &self.flow, &mut tried, event);
            tried.here
        };
        let with_them = match back.clone() {
            Event::Back { to, held, at, .. } => Event::Back { to, held, still, at },
            other => other,
        };
        let there = self.guide.step_of_id(to);
        let helps = Some(leads_to(back)) != there && Some(leads_to(&with_them)) == there;
        if helps { passing } else { Vec::new() }
    }

    /// Reads what a person typed as an event or a question, changing nothing.
    ///
    /// # Errors
    /// [`Refusal`] says what cannot be done here and what can.
    pub fn read(&self, typed: &str, now: Timestamp) -> Result<Answer, Refusal> {
        let read = answer::Reader::new(self, now).read(typed);
        read.map(Answer::plain).map_err(Refusal::plain)
    }

    /// Returns what a reckoning that is called by its name comes to now, or what it wants next; none where there is no
    /// such reckoning.
    pub fn reckon(&self, name: &str) -> Option<Called> {
        sum::called(&self.state, &self.data, name)
    }

    /// Reads what a person typed and applies it; returns the events to be recorded.
    ///
    /// # Errors
    /// [`Refusal`] says what cannot be done here and what can; nothing has changed then.
    pub fn answer(&mut self, typed: &str, now: Timestamp) -> Result<Vec<Event>, Refusal> {
        match self.read(typed, now)? {
            Answer::Event(event) => {
                self.take(&event);
                Ok(vec![event])
            }
            Answer::Tell(_) | Answer::Ask { .. } | Answer::Reckon(_) => Ok(Vec::new()),
        }
    }
}
