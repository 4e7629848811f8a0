//! What a person sees at the present step: data, laid out elsewhere.

use jiff::Timestamp;

use super::state::{Phase, State};
use super::sum::{self, Sum};
use super::tell;
use crate::finding::plain_text::cleaned;
use crate::finding::sentence::ended;
use crate::guide::{EndKind, Guide, Kind, Label};
use crate::reckon::Data;
use crate::units::{ClockPosition, Length, Quantity, Unit};

/// What is wanted of the person now.
#[derive(Debug, Clone, PartialEq)]
pub enum Wanted {
    /// `done`, by Enter too.
    Done,
    /// The word `done`: the step cannot be taken back.
    DoneWord,
    /// `yes` for all needs, or `no N`.
    Hold,
    /// One of the answers.
    Answer(Vec<String>),
    /// A reading in this unit, between limits as they are said.
    Reading {
        /// The unit's label.
        unit: String,
        /// The limits in words, empty where there are none.
        limits: String,
    },
    /// The sign of a wait.
    Sign,
    /// A reckoning's result is shown: on, or another value for one of its inputs.
    Verdict,
    /// A reckoning wants a value.
    Value {
        /// The input's name.
        name: String,
        /// The words that it takes, where it is one of a few.
        choices: Vec<String>,
    },
    /// Nothing: the walk is over.
    Nothing,
}

/// The present step as a person sees it; all texts have their numbers put in.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// The step's id.
    pub id: String,
    /// The stage it belongs to.
    pub stage: Option<String>,
    /// The step's number on the checklist, where it has one.
    pub number: Option<usize>,
    /// How many steps this path has had, this one included.
    pub n: usize,
    /// How many steps this path has, as far as can be told.
    pub of: usize,
    /// Why the walk is here, where it did not come by a way.
    pub rejoined: Option<String>,
    /// What is to be said of the last answer.
    pub remark: Option<String>,
    /// Steps that stood and were passed over on the way here.
    pub passed_over: Vec<String>,
    /// The step's text.
    pub title: String,
    /// The place or machine.
    pub at: Option<String>,
    /// Signal word, hazard and how to avoid it.
    pub cautions: Vec<(&'static str, String)>,
    /// What must be true, where it is to be confirmed.
    pub needs: Vec<String>,
    /// Moves that cannot be interrupted.
    pub moves: Vec<String>,
    /// What to do when it goes wrong.
    pub if_wrong: Option<String>,
    /// A note.
    pub tell: Option<String>,
    /// At a gauge, what the kit file says that it will read.
    pub known: Option<String>,
    /// What to have at hand.
    pub parts: Vec<String>,
    /// Marks on a clock face.
    pub clock: Vec<(String, ClockPosition)>,
    /// Lines about the wait, where there is one.
    pub wait: Vec<String>,
    /// At a reckoning, what it comes to, or what it wants.
    pub sum: Vec<String>,
    /// Whether it can be skipped.
    pub optional: bool,
    /// Whether it cannot be taken back.
    pub one_way: bool,
    /// What is wanted.
    pub wanted: Wanted,
}

impl Scene {
    /// Returns the scene with every text cleaned.
    pub(super) fn plain(self) -> Scene {
        let all = |texts: Vec<String>| texts.into_iter().map(cleaned).collect();
        Scene {
            id: cleaned(self.id),
            stage: self.stage.map(cleaned),
            number: self.number,
            n: self.n,
            of: self.of,
            rejoined: self.rejoined.map(cleaned),
            remark: self.remark.map(cleaned),
            passed_over: all(self.passed_over),
            title: cleaned(self.title),
            at: self.at.map(cleaned),
            cautions: self.cautions.into_iter().map(|(word, said)| (word, cleaned(said))).collect(),
            needs: all(self.needs),
            moves: all(self.moves),
            if_wrong: self.if_wrong.map(cleaned),
            tell: self.tell.map(cleaned),
            known: self.known.map(cleaned),
            parts: all(self.parts),
            clock: self.clock.into_iter().map(|(mark, at)| (cleaned(mark), at)).collect(),
            wait: all(self.wait),
            sum: all(self.sum),
            optional: self.optional,
            one_way: self.one_way,
            wanted: match self.wanted {
                Wanted::Answer(answers) => Wanted::Answer(all(answers)),
                Wanted::Reading { unit, limits } => Wanted::Reading { unit: cleaned(unit), limits: cleaned(limits) },
                other => other,
            },
        }
    }
}

/// Returns the scene of the present step.
pub(super) fn scene(guide: &Guide, state: &State, data: &Data, now: Timestamp) -> Scene {
    let step = guide.step(state.here);
    let say = |text: &str| state.say(guide, text);
    let (n, of) = tell::progress(guide, state);
    let mut scene = Scene {
        id: step.id.to_string(),
        stage: step.stage.as_deref().map(str::to_owned),
        number: guide.number(state.here),
        n,
        of,
        rejoined: state.rejoined.clone(),
        remark: state.remark.clone(),
        passed_over: state.passed_over.iter().map(|passed| tell::title(guide, state, *passed)).collect(),
        title: tell::title(guide, state, state.here),
        at: step.at.clone(),
        cautions: step
            .cautions
            .iter()
            .map(|caution| {
                let said = format!("{} {}", ended(&say(&caution.hazard.value)), ended(&say(&caution.avoid.value)));
                (caution.level.signal_word(), said)
            })
            .collect(),
        needs: Vec::new(),
        moves: match &step.kind {
            Kind::Do { in_one_go } => in_one_go.iter().map(|text| say(text)).collect(),
            _ => Vec::new(),
        },
        if_wrong: step.if_wrong.as_deref().map(say),
        tell: step.tell.as_deref().map(say),
        known: None,
        parts: step.parts.iter().map(|part| say(part)).collect(),
        clock: step.clock.iter().filter_map(|(mark, at)| Some((mark.clone(), say(at).parse().ok()?))).collect(),
        wait: Vec::new(),
        sum: Vec::new(),
        optional: step.optional,
        one_way: step.one_way,
        wanted: Wanted::Done,
    };
    match &state.phase {
        Phase::Hold => {
            scene.needs = tell::hold_needs(guide, state).iter().map(|need| guide.said(*need)).collect();
            scene.wanted = Wanted::Hold;
            return scene;
        }
        Phase::Waiting(wait) => {
            if let Some(pending) = state.pending.iter().find(|pending| pending.step == *wait) {
                scene.wait = tell::wait_lines(guide, state, pending.step, pending.start, pending.due, now);
            }
            scene.wanted = Wanted::Sign;
            return scene;
        }
        Phase::Ended => {
            scene.wanted = Wanted::Nothing;
            return scene;
        }
        Phase::At | Phase::Open => {}
    }
    scene.wanted = match &step.kind {
        Kind::Do { .. } | Kind::Run => {
            if step.one_way {
                Wanted::DoneWord
            } else {
                Wanted::Done
            }
        }
        Kind::Ask => Wanted::Answer(tell::answers(guide, state, state.here)),
        Kind::Gauge { unit, min, max, .. } => {
            let limit = |limit: &Option<String>| limit_said(guide, state, unit, limit.as_deref()?);
            let limits = match (limit(min), limit(max)) {
                (Some(min), Some(max)) => format!("{min} to {max}"),
                (Some(min), None) => format!("{min} or more"),
                (None, Some(max)) => format!("{max} or less"),
                (None, None) => String::new(),
            };
            if let Some(known) = known(guide, state) {
                scene.known = Some(said_number(&known));
            }
            Wanted::Reading { unit: unit.clone(), limits }
        }
        Kind::Wait(pause) if pause.meanwhile => {
            let running = state.pending.iter().find(|pending| pending.step == state.here);
            let start = running.map_or(now, |pending| pending.start);
            let due = start + jiff::SignedDuration::from_secs((pause.minutes * 60.0) as i64);
            scene.wait = tell::wait_lines(guide, state, state.here, start, due, now);
            scene.wait.push("Go on meanwhile; the step that needs it will ask for the sign.".to_owned());
            Wanted::Done
        }
        Kind::Wait(pause) => {
            let start = state.wait_start.unwrap_or(now);
            let due = start + jiff::SignedDuration::from_secs((pause.minutes * 60.0) as i64);
            scene.wait = tell::wait_lines(guide, state, state.here, start, due, now);
            Wanted::Sign
        }
        Kind::Reckon { .. } => match Sum::of_step(guide, state, state.here) {
            Some(sum) => {
                let comes = sum.comes(data);
                scene.sum = sum.told(&comes);
                scene.clock.extend(Sum::face(&comes));
                sum::wanted(&comes)
            }
            None => Wanted::Verdict,
        },
        Kind::Return { .. } | Kind::End(_) => Wanted::Nothing,
    };
    scene
}

/// Returns a step's text as a person reads it.
pub(super) fn title(guide: &Guide, state: &State, idx: crate::guide::StepIdx) -> String {
    let step = guide.step(idx);
    match &step.kind {
        Kind::End(EndKind::Finished) => "The pen is finished.".to_owned(),
        Kind::End(EndKind::NotFixed) => "It is not put right.".to_owned(),
        Kind::End(EndKind::Scrap) => "The blank is lost. Begin again with a new one.".to_owned(),
        Kind::Wait(pause) => {
            let length = tell::span_said(jiff::SignedDuration::from_secs((pause.minutes * 60.0) as i64));
            match &pause.waiting_for {
                Some(what) => format!("Wait {length}: {}", state.say(guide, what)),
                None => format!("Wait {length}"),
            }
        }
        Kind::Reckon { .. } => match crate::reckon::named(&step.text) {
            Some(reckoning) => sum::title(reckoning),
            None => format!("Work out {}.", step.text.replace('-', " ")),
        },
        _ => state.say(guide, &step.text),
    }
}

/// Returns what the kit file says that the present gauge will read, as it is written.
pub(super) fn known(guide: &Guide, state: &State) -> Option<String> {
    match &guide.step(state.here).kind {
        Kind::Gauge { sets: Some(path), .. } if guide.measured().contains(path) => state.written(guide, path),
        _ => None,
    }
}

/// Says how a reading differs from the kit file's number, where it does.
pub(super) fn unlike_before(guide: &Guide, state: &State, path: &str, said: &str) -> Option<String> {
    let known = known(guide, state)?;
    let same = match (Length::parse(&known, None), Length::parse(said, None)) {
        (Ok(known), Ok(said)) => known == said,
        _ => known == said,
    };
    let now = said_number(said);
    (!same).then(|| format!("The kit file says {}; this kit's {path} is {now} from here on.", said_number(&known)))
}

/// Says a number in inch and mm where it is a length, else as it is written.
pub(super) fn said_number(written: &str) -> String {
    Length::parse(written, None).map_or_else(|_| written.to_owned(), |length| length.both())
}

/// Returns a gauge's limit as it is said; a bare number is in the gauge's unit.
fn limit_said(guide: &Guide, state: &State, unit: &str, limit: &str) -> Option<String> {
    let said = state.say(guide, limit);
    Some(if said.parse::<f64>().is_ok() { format!("{said}\u{a0}{}", Unit::shown(unit)) } else { said })
}

/// Says how a reading lies beyond its limits.
pub(super) fn beyond(guide: &Guide, state: &State, gauge: crate::guide::StepIdx, said: &str, label: &Label) -> String {
    let Kind::Gauge { unit, min, max, .. } = &guide.step(gauge).kind else { return String::new() };
    let (limit, word) = if *label == Label::Under { (min, "under") } else { (max, "over") };
    let limit = limit.as_deref().and_then(|limit| limit_said(guide, state, unit, limit));
    format!("{said} is {word} {}.", limit.unwrap_or_default())
}

/// Returns the unit of a gauge.
pub(super) fn unit_of(guide: &Guide, gauge: crate::guide::StepIdx) -> Option<&str> {
    match &guide.step(gauge).kind {
        Kind::Gauge { unit, .. } => Some(unit),
        _ => None,
    }
}

/// Returns a gauge's limit as a number in its unit.
pub(super) fn limit_value(guide: &Guide, state: &State, unit: &str, limit: &str) -> Option<f64> {
    if let Ok(number) = limit.parse() {
        return Some(number);
    }
    let written = guide.say(limit, |name| match name.strip_prefix("read.") {
        Some(gauge) => state.readings.get(gauge).cloned(),
        None => state.written(guide, name),
    });
    let unit: Unit = unit.parse().ok()?;
    let quantity = Quantity::parse_signed(&written, unit, unit.length_unit()).ok()?;
    Some(quantity.value())
}
