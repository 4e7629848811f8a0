//! The units a gauge reads in.

use std::fmt;
use std::str::FromStr;

use super::error::{UnitError, quotable};
use super::word::{
    CELSIUS, DEGREE, GRAM, HOUR, INCH, MILLIMETRE, MINUTE, O_CLOCK, PERCENT, SECOND, TURN, TURNS_A_MINUTE, Word,
};
use super::{LengthUnit, Measure, Quantity};

/// A unit that a gauge in a guide reads in, by its label there.
///
/// ```
/// use stepjig::units::{Measure, Unit};
///
/// let unit: Unit = "rev/min".parse()?;
/// assert_eq!(unit.measures(), Measure::Speed);
/// assert_eq!(unit.read("1200", None)?.value(), 1200.0);
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    /// `mm`
    Millimetre,
    /// `in`
    Inch,
    /// `deg`
    Degree,
    /// `clock`: its value is the hour, from 0 (12 o'clock) up to but not 12.
    Clock,
    /// `s`
    Second,
    /// `min`
    Minute,
    /// `h`
    Hour,
    /// `g`
    Gram,
    /// `%`
    Percent,
    /// `C`
    Celsius,
    /// `rev/min`
    TurnsAMinute,
    /// `turns`
    Turn,
}

impl Unit {
    /// All units, in the order a list shows them.
    pub const ALL: [Unit; 12] = [
        Unit::Millimetre,
        Unit::Inch,
        Unit::Degree,
        Unit::Clock,
        Unit::Second,
        Unit::Minute,
        Unit::Hour,
        Unit::Gram,
        Unit::Percent,
        Unit::Celsius,
        Unit::TurnsAMinute,
        Unit::Turn,
    ];

    /// Returns the label that guides write: `mm in deg clock s min h g % C rev/min turns`.
    pub fn label(self) -> &'static str {
        self.row().0
    }

    /// Returns a label as it is shown to a person: a temperature with its degree sign, all else as it is written.
    ///
    /// ```
    /// use stepjig::units::Unit;
    /// assert_eq!((Unit::shown("C"), Unit::shown("mm")), ("°C", "mm"));
    /// ```
    pub fn shown(label: &str) -> &str {
        if label == Unit::Celsius.label() { "°C" } else { label }
    }

    /// Returns what the unit measures.
    pub fn measures(self) -> Measure {
        self.word().measure
    }

    /// Returns the unit for lengths that it is, if it is one.
    pub fn length_unit(self) -> Option<LengthUnit> {
        match self {
            Unit::Millimetre => Some(LengthUnit::Millimetre),
            Unit::Inch => Some(LengthUnit::Inch),
            _ => None,
        }
    }

    /// Reads what was typed at a gauge of this unit; the same as [`Quantity::parse`].
    ///
    /// # Errors
    /// As [`Quantity::parse`].
    pub fn read(self, text: &str, bare: Option<LengthUnit>) -> Result<Quantity, UnitError> {
        Quantity::parse(text, self, bare)
    }

    /// Returns the unit with a label, exactly as it is written.
    ///
    /// # Errors
    /// [`UnitError::UnknownLabel`], with the label that is spelt nearly so.
    pub fn from_label(label: &str) -> Result<Unit, UnitError> {
        if let Some(unit) = Unit::ALL.into_iter().find(|unit| unit.label() == label) {
            return Ok(unit);
        }
        Err(UnitError::UnknownLabel { label: quotable(label), did_you_mean: meant(label).map(Unit::label) })
    }

    pub(super) fn word(self) -> &'static Word {
        self.row().1
    }

    fn row(self) -> (&'static str, &'static Word) {
        match self {
            Unit::Millimetre => ("mm", &MILLIMETRE),
            Unit::Inch => ("in", &INCH),
            Unit::Degree => ("deg", &DEGREE),
            Unit::Clock => ("clock", &O_CLOCK),
            Unit::Second => ("s", &SECOND),
            Unit::Minute => ("min", &MINUTE),
            Unit::Hour => ("h", &HOUR),
            Unit::Gram => ("g", &GRAM),
            Unit::Percent => ("%", &PERCENT),
            Unit::Celsius => ("C", &CELSIUS),
            Unit::TurnsAMinute => ("rev/min", &TURNS_A_MINUTE),
            Unit::Turn => ("turns", &TURN),
        }
    }
}

/// Returns the unit that a wrong label is another word for, or a slip away from.
fn meant(label: &str) -> Option<Unit> {
    if quotable(label) != label {
        return None;
    }
    let another_word = Unit::ALL.into_iter().find(|unit| unit.word().is_spelt(label));
    another_word.or_else(|| {
        let distance = |unit: &Unit| strsim::osa_distance(label, unit.label());
        let long_enough = Unit::ALL.into_iter().filter(|unit| unit.label().len() > 1);
        long_enough.min_by_key(distance).filter(|unit| distance(unit) <= unit.label().len() / 2)
    })
}

/// The label.
impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.label())
    }
}

/// As [`Unit::from_label`].
impl FromStr for Unit {
    type Err = UnitError;

    fn from_str(label: &str) -> Result<Unit, UnitError> {
        Unit::from_label(label)
    }
}
