//! Angles, in degrees.

use std::fmt;
use std::str::FromStr;

use super::finite::Finite;
use super::number::shown;
use super::typed::read_value;
use super::word::DEGREE;
use super::{Measure, UnitError};

/// How far something is turned, from -1000 to 1000 turns; clockwise is positive. A turn is 360 degrees.
///
/// ```
/// use stepjig::units::Angle;
///
/// let eighth: Angle = "1/8 turn".parse()?;
/// assert_eq!(eighth.degrees(), 45.0);
/// assert_eq!(eighth.to_string(), "45°");
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Angle(Finite);

impl Angle {
    /// Returns an angle of so many degrees.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, or more than 360 000 either way.
    pub fn from_degrees(degrees: f64) -> Result<Angle, UnitError> {
        Measure::Angle.check(degrees, None).map(|degrees| Angle(Finite(degrees)))
    }

    /// Returns an angle of so many turns.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, or more than 1000 either way.
    pub fn from_turns(turns: f64) -> Result<Angle, UnitError> {
        Angle::from_degrees(turns * 360.0)
    }

    /// Reads an angle: `90`, `90°`, `-12.5 deg`, `1/8 turn`. A bare number is in degrees.
    ///
    /// # Errors
    /// [`UnitError`] if it is no angle.
    pub fn parse(text: &str) -> Result<Angle, UnitError> {
        read_value(text, Measure::Angle, &DEGREE).map(Angle::from_checked)
    }

    /// Returns the degrees, as they are: 450 stays 450.
    pub fn degrees(self) -> f64 {
        self.0.0
    }

    /// Returns the turns.
    pub fn turns(self) -> f64 {
        self.0.0 / 360.0
    }

    /// Returns the angle without its whole turns, from 0 up to but not 360 degrees.
    pub fn within_a_turn(self) -> Angle {
        // A hair below zero would be rounded to a whole turn.
        match self.0.0.rem_euclid(360.0) {
            360.0.. => Angle(Finite(0.0)),
            rest => Angle(Finite(rest + 0.0)),
        }
    }

    /// Returns a text that reads back as the very same angle.
    pub fn exact(self) -> String {
        format!("{} deg", self.0.0)
    }

    pub(super) fn from_checked(degrees: f64) -> Angle {
        Angle(Finite(degrees))
    }
}

/// Degrees with at most 2 decimals: `216°`.
impl fmt::Display for Angle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{}°", shown(self.0.0, 2)))
    }
}

/// As [`Angle::parse`].
impl FromStr for Angle {
    type Err = UnitError;

    fn from_str(text: &str) -> Result<Angle, UnitError> {
        Angle::parse(text)
    }
}
