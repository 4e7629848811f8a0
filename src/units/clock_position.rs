//! Clock positions: where something points, seen as on the face of a clock.

use std::fmt;
use std::str::FromStr;

use super::error::UnitError;
use super::finite::Finite;
use super::typed::{plain, split};
use super::word::Word;
use super::{Angle, Measure};

/// Where something points on the face of a clock: clockwise from 12, half a degree to the minute.
///
/// Kept as minutes from 0 (12 o'clock) up to but not 720, with their fractions. On a pen, the face is seen with the
/// capped pen's finial end towards you.
///
/// ```
/// use stepjig::units::{Angle, ClockPosition};
///
/// let clip = ClockPosition::from_angle(Angle::from_degrees(216.0)?);
/// assert_eq!(clip.to_string(), "7:12");
/// assert_eq!("3 o'clock".parse::<ClockPosition>()?.to_angle().degrees(), 90.0);
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct ClockPosition(Finite);

impl ClockPosition {
    /// 12 o'clock.
    pub const TWELVE: ClockPosition = ClockPosition(Finite(0.0));

    /// Returns the position so many minutes after 12, brought into 0 to 720.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, or more than 1000 times round.
    pub fn from_minutes(minutes: f64) -> Result<ClockPosition, UnitError> {
        Measure::ClockPosition.check(minutes, None).map(ClockPosition::wrapped)
    }

    /// Returns where something points that is turned clockwise from 12 by an angle.
    pub fn from_angle(angle: Angle) -> ClockPosition {
        ClockPosition::wrapped(angle.degrees() * 2.0)
    }

    /// Reads a position: `4 o'clock`, `2:30`, `12:00`, `7:12`, a bare `4`, or an angle with its unit, `90 deg`.
    ///
    /// # Errors
    /// [`UnitError`] if no clock face shows it: hours are 1 to 12 (0:30 is 12:30), minutes 0 to 59.
    pub fn parse(text: &str) -> Result<ClockPosition, UnitError> {
        let text = plain(text, Measure::ClockPosition)?;
        if let Some((hour, minute)) = text.split_once(':') {
            let minute = minute.trim();
            let minute = o_clock(minute).unwrap_or(minute);
            return on_the_face(&text, hour.trim(), minute);
        }
        if let Some(hour) = o_clock(&text) {
            return on_the_face(&text, hour, "00");
        }
        let (number, unit) = split(&text);
        if !number.is_empty() && !unit.is_empty() {
            return match Word::find(unit, Measure::Angle) {
                Ok(_) => Angle::parse(&text).map(ClockPosition::from_angle),
                Err(_) => Err(Word::find(unit, Measure::ClockPosition)
                    .err()
                    .unwrap_or_else(|| UnitError::not_on_the_clock(&text, None))),
            };
        }
        on_the_face(&text, &text, "00")
    }

    /// Returns the minutes after 12, from 0 up to but not 720.
    pub fn minutes(self) -> f64 {
        self.0.0
    }

    /// Returns the angle clockwise from 12, from 0 up to but not 360 degrees.
    pub fn to_angle(self) -> Angle {
        Angle::from_checked(self.0.0 / 2.0)
    }

    /// Returns how far it is clockwise from here to another position, from 0 up to but not 360 degrees.
    pub fn clockwise_to(self, other: ClockPosition) -> Angle {
        Angle::from_checked((other.0.0 - self.0.0) / 2.0).within_a_turn()
    }

    /// Returns the position after turning by an angle, clockwise if it is positive.
    pub fn turned_by(self, angle: Angle) -> ClockPosition {
        ClockPosition::wrapped(self.0.0 + angle.degrees() * 2.0)
    }

    /// Returns hour and minute in figures, to the nearest minute: `12:00`, `4:00`, `7:12`.
    pub fn figures(self) -> String {
        let (hour, minute) = self.hour_and_minute();
        format!("{hour}:{minute:02}")
    }

    /// Returns a text that reads back as the very same position.
    pub fn exact(self) -> String {
        match self.0.0.fract() {
            0.0 => self.figures(),
            _ => self.to_angle().exact(),
        }
    }

    fn hour_and_minute(self) -> (u32, u32) {
        // From 0 to 720, so it fits.
        let minutes = self.0.0.round() as u32 % 720;
        (if minutes < 60 { 12 } else { minutes / 60 }, minutes % 60)
    }

    fn wrapped(minutes: f64) -> ClockPosition {
        // A hair below zero would be rounded to a whole time round; and a hair above, halved into degrees, would be
        // smaller than what can be typed.
        match minutes.rem_euclid(720.0) {
            ..1e-90 | 720.0.. => ClockPosition::TWELVE,
            rest => ClockPosition(Finite(rest)),
        }
    }
}

/// Returns what stands before "o'clock".
fn o_clock(text: &str) -> Option<&str> {
    let start = text.len().checked_sub("o'clock".len());
    let cut = |start: usize, ending: &str| {
        let (before, end) = text.split_at_checked(start)?;
        end.eq_ignore_ascii_case(ending).then(|| before.trim_end())
    };
    start.and_then(|start| cut(start, "o'clock").or_else(|| cut(start + 1, "oclock")))
}

fn on_the_face(typed: &str, hour: &str, minute: &str) -> Result<ClockPosition, UnitError> {
    let (Some(h), Some(m)) = (figure(hour), figure(minute).filter(|_| minute.len() == 2)) else {
        return Err(UnitError::not_on_the_clock(typed, slip_of(hour, minute)));
    };
    match (h, m) {
        (0..=12, 0..=59) => Ok(ClockPosition::wrapped(f64::from(h % 12 * 60 + m))),
        (13..=23, 0..=59) => Err(UnitError::not_on_the_clock(typed, Some(format!("{}:{m:02}", h - 12)))),
        _ => Err(UnitError::not_on_the_clock(typed, None)),
    }
}

/// Returns what `2.30`, `2.5` or `2:5` may have been meant for.
fn slip_of(hour: &str, minute: &str) -> Option<String> {
    let (hour, part) = match hour.split_once(['.', ',']) {
        Some(split) => split,
        None if minute.len() == 1 => {
            return Some(format!("{hour}:0{}", figure(minute)?)).filter(|_| figure(hour).is_some());
        }
        None => return None,
    };
    let h = figure(hour).filter(|h| (1..=12).contains(h))?;
    match (part, figure(part)?) {
        ("5", _) => Some(format!("{h}:30")),
        ("25", _) => Some(format!("{h}:15")),
        ("75", _) => Some(format!("{h}:45")),
        (_, m @ 0..=59) if part.len() == 2 => Some(format!("{h}:{m:02}")),
        _ => None,
    }
}

/// Reads one or two digits.
fn figure(text: &str) -> Option<u32> {
    match text.len() {
        1..=2 if text.chars().all(|c| c.is_ascii_digit()) => text.parse().ok(),
        _ => None,
    }
}

/// `4 o'clock` on the hour, with U+00A0 after the number, else `7:12`; to the nearest minute.
impl fmt::Display for ClockPosition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.hour_and_minute() {
            (hour, 0) => f.pad(&format!("{hour}\u{a0}o'clock")),
            _ => f.pad(&self.figures()),
        }
    }
}

/// As [`ClockPosition::parse`].
impl FromStr for ClockPosition {
    type Err = UnitError;

    fn from_str(text: &str) -> Result<ClockPosition, UnitError> {
        ClockPosition::parse(text)
    }
}
