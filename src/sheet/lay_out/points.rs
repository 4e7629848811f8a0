//! The points of a guide that must not be got wrong: steps that cannot be taken back, readings, waits, forks.

use std::collections::BTreeSet;

use super::numbers::{Numbered, minutes};
use super::step::limit_with;
use crate::guide::{Kind, Label, StepIdx};

/// A step that must not be got wrong, or several that a procedure repeats for other pieces.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Point {
    /// The numbers of its steps.
    pub(super) steps: Vec<usize>,
    pub(super) stage: String,
    /// What it is called.
    pub(super) name: String,
    /// What it says.
    pub(super) words: String,
    pub(super) what: What,
    /// Whether it is met where all goes well.
    pub(super) is_met: bool,
    /// The stage and the run of each of its steps.
    from: Vec<(String, String)>,
    /// The step's id inside its procedure.
    tail: String,
}

/// What must not be got wrong.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum What {
    /// It cannot be taken back: what its hold asks.
    OneWay {
        /// What must be true.
        hold: Vec<Asked>,
    },
    /// A reading.
    Reading {
        /// Its limits and unit.
        limits: String,
    },
    /// A wait.
    Wait,
    /// A question on which the path turns.
    Question,
}

/// What a hold asks.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Asked {
    /// What must be true.
    pub(super) words: String,
    /// The step that gives it.
    pub(super) giver: Option<String>,
    /// How many steps lie between.
    pub(super) ago: usize,
}

impl Point {
    /// Takes the same step of another run in, where it says the same but for the piece and its numbers.
    fn take_in(&mut self, other: &Point) -> bool {
        let like = |(stage, run): &(String, String)| {
            let (other_stage, other_run) = &other.from[0];
            pair(run, other_run)
                .is_some_and(|(own, others)| stage == other_stage || stage.replace(own, others) == *other_stage)
        };
        if self.tail != other.tail || !self.from.iter().any(like) {
            return false;
        }
        let both = || {
            let what = match (&self.what, &other.what) {
                (What::OneWay { hold: a }, What::OneWay { hold: b }) if a.len() == b.len() => {
                    What::OneWay { hold: a.iter().zip(b).map(|(a, b)| a.with(b)).collect::<Option<_>>()? }
                }
                (What::Reading { limits: a }, What::Reading { limits: b }) => What::Reading { limits: merged(a, b)? },
                (a, b) if a == b => a.clone(),
                _ => return None,
            };
            Some((what, merged(&self.words, &other.words)?, merged(&self.stage, &other.from[0].0)?))
        };
        let Some((what, words, stage)) = both() else { return false };
        (self.what, self.words, self.stage) = (what, words, stage);
        self.steps.extend(&other.steps);
        self.from.extend(other.from.iter().cloned());
        true
    }
}

impl Asked {
    fn with(&self, other: &Asked) -> Option<Asked> {
        let giver = match (&self.giver, &other.giver) {
            (Some(own), Some(other)) => Some(merged(own, other)?),
            _ => None,
        };
        Some(Asked { words: merged(&self.words, &other.words)?, giver, ago: self.ago.max(other.ago) })
    }
}

/// Returns the one word in which two names differ, `body` and `cap` of `glue-body` and `glue-cap`.
fn pair<'t>(a: &'t str, b: &'t str) -> Option<(&'t str, &'t str)> {
    let words = |name: &'t str| name.split(['-', '/']);
    let mut differ = words(a).zip(words(b)).filter(|(a, b)| a != b);
    let pair = differ.next()?;
    (differ.next().is_none() && words(a).count() == words(b).count()).then_some(pair)
}

/// Returns two texts as one, where they have as many words: those that differ stand side by side.
fn merged(a: &str, b: &str) -> Option<String> {
    let both = |(a, b): (&str, &str)| {
        let end = a.len() - a.trim_end_matches([',', ';', '.']).len();
        let (a, end) = a.split_at(a.len() - end);
        let b = b.strip_suffix(end).unwrap_or(b);
        // Of `step 4` and `step 8` only the number differs.
        let same = a.rfind('\u{a0}').map_or(0, |at| at + '\u{a0}'.len_utf8());
        let same = if b.get(..same) == a.get(..same) { same } else { 0 };
        if a[same..].split('/').any(|part| part == &b[same..]) {
            format!("{a}{end}")
        } else {
            format!("{a}/{}{end}", &b[same..])
        }
    };
    let words = (a.split(' ').count() == b.split(' ').count()).then(|| a.split(' ').zip(b.split(' ')));
    Some(words?.map(both).collect::<Vec<_>>().join(" "))
}

/// Returns the points of a guide in the order of its steps.
pub(super) fn points(guide: &Numbered) -> Vec<Point> {
    let met: BTreeSet<StepIdx> = guide.guide.path_from(guide.guide.first()).collect();
    let mut points: Vec<Point> = Vec::new();
    for (idx, _) in guide.guide.steps() {
        let point = guide.number(idx).and_then(|number| point(guide, idx, number, met.contains(&idx)));
        let Some(point) = point else { continue };
        if !points.iter_mut().any(|known| known.take_in(&point)) {
            points.push(point);
        }
    }
    points
}

fn point(guide: &Numbered, idx: StepIdx, number: usize, is_met: bool) -> Option<Point> {
    let step = guide.guide.step(idx);
    let (run, tail) = step.id.rsplit_once('/').unwrap_or(("", &step.id));
    let say = |text: &str| guide.say_short(text, number);
    let (words, what) = match &step.kind {
        _ if step.one_way => {
            let hold = step.needs.iter().map(|need| {
                let giver = guide.giver(need.condition, number);
                Asked {
                    words: guide.guide.said(need.condition),
                    giver: giver.map(|giver| giver.to_string()),
                    ago: giver.map_or(usize::MAX, |giver| number.abs_diff(giver)),
                }
            });
            (say(&step.text), What::OneWay { hold: hold.collect() })
        }
        Kind::Gauge { unit, .. } => {
            let limit = |label: &Label| limit_with(step, label, say);
            let unit = if unit == "clock" { "on the clock face" } else { unit };
            let limits = match (limit(&Label::Under), limit(&Label::Over)) {
                (Some(min), Some(max)) => format!("{}\u{a0}to\u{a0}{max}", min.trim_end_matches(unit).trim_end()),
                (Some(min), None) => format!("{min} or more"),
                (None, Some(max)) => format!("{max} or less"),
                (None, None) => unit.to_owned(),
            };
            (say(&step.text), What::Reading { limits })
        }
        Kind::Wait(pause) => {
            let what = pause.waiting_for.as_deref().map_or(String::new(), |what| format!(": {}", say(what)));
            (format!("{}{what}", minutes(pause.minutes)), What::Wait)
        }
        Kind::Ask if turns(guide, idx, number) => (say(&step.text), What::Question),
        _ => return None,
    };
    let name = tail.replace('-', " ");
    let name = match &step.kind {
        Kind::Wait(pause) => format!("{name} {}", minutes(pause.minutes)),
        _ => name,
    };
    let stage = super::stage_of(step).to_owned();
    let from = vec![(stage.clone(), run.to_owned())];
    Some(Point { steps: vec![number], stage, name, words, what, is_met, from, tail: tail.to_owned() })
}

/// Tells whether the path turns on a question: its answers lead to more steps than one from which the work goes on
/// without coming back to it.
fn turns(guide: &Numbered, idx: StepIdx, number: usize) -> bool {
    let answers = guide.guide.ways_out(idx).iter().filter(|way| matches!(way.label, Label::Answer(_)));
    let goes_on = |to: &StepIdx| {
        let path = guide.guide.path_from(*to);
        path.filter_map(|idx| guide.number(idx)).all(|step| step > number)
    };
    answers.filter_map(|way| way.to).filter(goes_on).filter_map(|to| guide.lands(to)).collect::<BTreeSet<_>>().len() > 1
}
