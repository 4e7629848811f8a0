//! How fast the rim of turned work passes the tool.

use std::fmt;
use std::str::FromStr;

use super::finite::Finite;
use super::number::shown;
use super::typed::{Typed, no_unit};
use super::word::METRE_A_MINUTE;
use super::{Measure, UnitError};

/// How fast a surface passes a tool, from 0 to 10 000 m/min.
///
/// A foot is exactly 0.3048 m (international yard and pound agreement, 1959).
///
/// ```
/// use stepjig::units::SurfaceSpeed;
///
/// let brass: SurfaceSpeed = "200 ft/min".parse()?;
/// assert_eq!(brass.in_metres_a_minute(), 60.96);
/// assert_eq!(brass.both().replace('\u{a0}', " "), "61 m/min (200 ft/min)");
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct SurfaceSpeed(Finite);

impl SurfaceSpeed {
    /// Returns a surface speed of so many metres a minute.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, below 0, or above 10 000.
    pub fn from_metres_a_minute(metres: f64) -> Result<SurfaceSpeed, UnitError> {
        Measure::SurfaceSpeed.check(metres, None).map(|metres| SurfaceSpeed(Finite(metres)))
    }

    /// Returns a surface speed of so many feet a minute.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, below 0, or above 10 000 m/min.
    pub fn from_feet_a_minute(feet: f64) -> Result<SurfaceSpeed, UnitError> {
        SurfaceSpeed::from_metres_a_minute(feet * 3_048.0 / 10_000.0)
    }

    /// Reads a surface speed: `60 m/min`, `200ft/min`, `1.5 m/s`. A bare number is refused with both readings.
    ///
    /// # Errors
    /// [`UnitError`] if it is no surface speed.
    pub fn parse(text: &str) -> Result<SurfaceSpeed, UnitError> {
        let typed = Typed::read(text, Measure::SurfaceSpeed, None)?;
        let word = typed.word.ok_or_else(|| no_unit(&typed.text, &typed.text, Measure::SurfaceSpeed))?;
        let metres = Measure::SurfaceSpeed.check(typed.value(word), Some(&typed.text))?;
        Ok(SurfaceSpeed(Finite(metres)))
    }

    /// Returns the metres a minute.
    pub fn in_metres_a_minute(self) -> f64 {
        self.0.0
    }

    /// Returns the feet a minute.
    pub fn in_feet_a_minute(self) -> f64 {
        self.0.0 * 10_000.0 / 3_048.0
    }

    /// Returns it in both units: `61 m/min (200 ft/min)`, each with at most one decimal.
    pub fn both(self) -> String {
        format!("{self} ({}\u{a0}ft/min)", shown(self.in_feet_a_minute(), 1))
    }

    /// Returns a text that reads back as the very same surface speed.
    pub fn exact(self) -> String {
        format!("{} {}", self.0.0, METRE_A_MINUTE.shown())
    }
}

/// Metres a minute with at most one decimal: `61 m/min`.
impl fmt::Display for SurfaceSpeed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{}\u{a0}{}", shown(self.0.0, 1), METRE_A_MINUTE.shown()))
    }
}

/// As [`SurfaceSpeed::parse`].
impl FromStr for SurfaceSpeed {
    type Err = UnitError;

    fn from_str(text: &str) -> Result<SurfaceSpeed, UnitError> {
        SurfaceSpeed::parse(text)
    }
}
