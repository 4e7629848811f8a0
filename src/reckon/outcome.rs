//! What a reckoning comes to.

use super::Face;
use crate::units::{Angle, ClockPosition, Length, Offset, Span, Stress};

/// What a reckoning comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// The numbers, in the order they are shown.
    pub outputs: Vec<Output>,
    /// The verdict, where it has one.
    pub verdict: Option<&'static str>,
    /// What it means for the work, in a sentence or two. An estimate says that it is one, and names the sign to trust.
    pub say: String,
    /// The sum in one line that a person can follow with a pencil.
    pub working: String,
    /// Where formula, figures and thresholds come from.
    pub sources: Vec<String>,
    /// The marks to draw on the face of the capped pen, where it comes to some.
    pub face: Option<Face>,
}

/// One number of an outcome.
#[derive(Debug, Clone, PartialEq)]
pub struct Output {
    /// Its name, `stop-angle`.
    pub name: &'static str,
    /// Its value in its unit, not rounded; none where it cannot be had from what was given.
    pub value: Option<f64>,
    /// Its unit: `mm`, `deg`, `turn`, `MPa`, `m/min`, `ft/min`, `rev/min`, `min`, `%`, `µl`, `N`, or nothing for a plain number.
    pub unit: &'static str,
    /// It as a person reads it: `9.92 mm`, `3 o'clock`; where it has no value, why not.
    pub text: String,
    /// Whether it is for programs alone: a person is told it in another's text, or has no use for it.
    pub aside: bool,
}

/// Returns a name of programs, `will-split`, as a person reads it: `will split`.
pub fn in_words(name: &str) -> String {
    name.replace('-', " ")
}

impl Outcome {
    /// Returns the outputs that a person is shown.
    pub fn shown(&self) -> impl Iterator<Item = &Output> {
        self.outputs.iter().filter(|output| !output.aside)
    }

    /// Returns an output by its name.
    pub fn output(&self, name: &str) -> Option<&Output> {
        self.outputs.iter().find(|output| output.name == name)
    }
}

impl Output {
    /// Returns it as it stands after its name: its text, or that there is none and why.
    pub fn said(&self) -> String {
        match self.value {
            Some(_) => self.text.clone(),
            None => format!("none: {}", self.text),
        }
    }

    /// A length, in mm.
    pub(super) fn length(name: &'static str, length: Length) -> Output {
        Output::number(name, length.in_mm(), "mm", length.to_string())
    }

    /// A length with its sign, in mm.
    pub(super) fn offset(name: &'static str, offset: Offset) -> Output {
        Output::number(name, offset.in_mm(), "mm", offset.to_string())
    }

    /// An angle, in degrees.
    pub(super) fn angle(name: &'static str, angle: Angle) -> Output {
        Output::number(name, angle.degrees(), "deg", angle.to_string())
    }

    /// A stress, in MPa.
    pub(super) fn stress(name: &'static str, stress: Stress) -> Output {
        Output::number(name, stress.in_mpa(), "MPa", stress.to_string())
    }

    /// A clock position, in degrees after 12, read as a clock.
    pub(super) fn clock(name: &'static str, position: ClockPosition) -> Output {
        Output::number(name, position.minutes() / 2.0, "deg", position.to_string())
    }

    /// A time that is an estimate, in minutes; its text is not finer than an estimate can be.
    pub(super) fn estimate(name: &'static str, time: Span) -> Output {
        Output::number(name, time.minutes(), "min", about(time))
    }

    /// A number in a unit that has no type of its own, or in none.
    pub(super) fn number(name: &'static str, value: f64, unit: &'static str, text: String) -> Output {
        Output { name, value: Some(value), unit, text, aside: false }
    }

    /// What cannot be had from what was given, and why.
    pub(super) fn none(name: &'static str, unit: &'static str, why: &str) -> Output {
        Output { name, value: None, unit, text: why.to_owned(), aside: false }
    }

    /// The same, for programs alone.
    pub(super) fn aside(self) -> Output {
        Output { aside: true, ..self }
    }
}

/// Returns a time as an estimate is told: to the second, from 2 minutes on to the minute, from 10 hours on to the hour.
pub(super) fn about(time: Span) -> String {
    let step = match time.seconds() {
        36_000.0.. => 3_600.0,
        120.0.. => 60.0,
        1.0.. => 1.0,
        _ => return time.to_string(),
    };
    Span::from_seconds((time.seconds() / step).round() * step).unwrap_or(time).to_string()
}
