//! Stresses, strengths and stiffnesses: force over area.

use std::fmt;
use std::str::FromStr;

use super::finite::Finite;
use super::number::shown;
use super::typed::{Typed, no_unit};
use super::{Measure, UnitError};

/// Force over area, from 0 to 1000 GPa: how strong, how stiff or how much pressed something is.
///
/// 1 N/mm² is 1 MPa; 1 psi is 4.448 221 615 260 5 N over 645.16 mm², exactly (pound-force from the pound of 1959 and
/// the standard gravity of 1901).
///
/// ```
/// use stepjig::units::Stress;
///
/// let cherry: Stress = "3.9MPa".parse()?;
/// assert_eq!(cherry.in_mpa(), 3.9);
/// assert_eq!("1.2 GPa".parse::<Stress>()?.in_mpa(), 1200.0);
///
/// let refused = "3.9".parse::<Stress>().unwrap_err();
/// assert_eq!(refused.help().as_deref(), Some("3.9 MPa, 3.9 GPa or 3.9 psi? say which"));
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stress(Finite);

impl Stress {
    /// Returns a stress of so many MPa.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, below 0, or above 1 000 000.
    pub fn from_mpa(mpa: f64) -> Result<Stress, UnitError> {
        Measure::Stress.check(mpa, None).map(|mpa| Stress(Finite(mpa)))
    }

    /// Returns a stress of so many whole GPa: the stiffness of a metal, as a constant.
    pub const fn from_whole_gpa(gpa: u8) -> Stress {
        Stress(Finite(gpa as f64 * 1000.0))
    }

    /// Reads a stress: `3.9 MPa`, `1.2GPa`, `4 N/mm2`, `570 psi`. A bare number is refused with its readings.
    ///
    /// # Errors
    /// [`UnitError`] if it is no stress.
    pub fn parse(text: &str) -> Result<Stress, UnitError> {
        let typed = Typed::read(text, Measure::Stress, None)?;
        let word = typed.word.ok_or_else(|| no_unit(&typed.text, &typed.text, Measure::Stress))?;
        Measure::Stress.check(typed.value(word), Some(&typed.text)).map(|mpa| Stress(Finite(mpa)))
    }

    /// Returns it in MPa, which is N/mm².
    pub fn in_mpa(self) -> f64 {
        self.0.0
    }

    /// Returns a text that reads back as the very same stress.
    pub fn exact(self) -> String {
        format!("{} MPa", self.0.0)
    }
}

/// `3.9 MPa`, from 1000 MPa on `1.2 GPa`, with U+00A0 before the unit; at most 3 decimals.
impl fmt::Display for Stress {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&match self.0.0 {
            gpa @ 1000.0.. => format!("{}\u{a0}GPa", shown(gpa / 1000.0, 3)),
            mpa => format!("{}\u{a0}MPa", shown(mpa, 3)),
        })
    }
}

/// As [`Stress::parse`].
impl FromStr for Stress {
    type Err = UnitError;

    fn from_str(text: &str) -> Result<Stress, UnitError> {
        Stress::parse(text)
    }
}
