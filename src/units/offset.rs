//! A difference of lengths, which may be below zero.

use std::cmp::Ordering;
use std::fmt;
use std::str::FromStr;

use super::typed::Typed;
use super::{Length, LengthUnit, Measure, UnitError};

/// How far something is above (or, negative, below) something else: a [`Length`] with a side, from -10 m to 10 m.
///
/// ```
/// use stepjig::units::{Length, Offset};
///
/// let below_the_rim = Offset::parse("-0.03 mm", None)?;
/// assert_eq!(below_the_rim.in_mm(), -0.03);
/// assert!(below_the_rim < Offset::from(Length::from_mm(0.0)?));
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Offset {
    size: Length,
    /// Never set on a size of zero, so that equal offsets are the same.
    negative: bool,
}

impl Offset {
    pub(super) fn new(size: Length, negative: bool) -> Offset {
        Offset { size, negative: negative && size.in_mm() > 0.0 }
    }

    /// Returns an offset of so many millimetres.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, below -10 000 or above 10 000.
    pub fn from_mm(mm: f64) -> Result<Offset, UnitError> {
        Ok(Offset::new(Length::from_mm(mm.abs())?, mm < 0.0))
    }

    /// Returns an offset of so many inches, which it is shown in.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, or more than 10 m either way.
    pub fn from_inches(inches: f64) -> Result<Offset, UnitError> {
        Ok(Offset::new(Length::from_inches(inches.abs())?, inches < 0.0))
    }

    /// Reads a length that may have a sign: `-0.03 mm`, `+1/64 in`, `0.1 mm`. Else as [`Length::parse`].
    ///
    /// # Errors
    /// As [`Length::parse`], but for the sign.
    pub fn parse(text: &str, bare: Option<LengthUnit>) -> Result<Offset, UnitError> {
        let typed = Typed::read(text, Measure::Length, bare.map(LengthUnit::word))?;
        Ok(Offset::new(Length::from_typed(&typed, bare)?, typed.negative))
    }

    /// Returns it in millimetres, negative if it is below.
    pub fn in_mm(self) -> f64 {
        if self.negative { -self.size.in_mm() } else { self.size.in_mm() }
    }

    /// Returns it in inches, negative if it is below.
    pub fn in_inches(self) -> f64 {
        if self.negative { -self.size.in_inches() } else { self.size.in_inches() }
    }

    /// Returns how large it is, without its side.
    pub fn size(self) -> Length {
        self.size
    }

    /// Returns as much to the other side.
    pub fn negated(self) -> Offset {
        Offset::new(self.size, !self.negative)
    }

    /// Returns half of it, to the same side.
    pub fn half(self) -> Offset {
        Offset { size: self.size.half(), ..self }
    }

    /// Returns it in both units, the one it was written in first: `−0.03 mm (−0.0012 in)`.
    ///
    /// Differences are small, so inches that are no 64th are in decimals, at most 4.
    pub fn both(self) -> String {
        let other = match self.size.unit() {
            LengthUnit::Millimetre => LengthUnit::Inch,
            LengthUnit::Inch => LengthUnit::Millimetre,
        };
        format!("{self} ({})", Offset { size: self.size.written_in(other), ..self })
    }

    /// Returns a text that reads back as the very same offset.
    pub fn exact(self) -> String {
        let sign = if self.negative { "-" } else { "" };
        format!("{sign}{}", self.size.exact())
    }
}

/// A length is so far above nothing.
impl From<Length> for Offset {
    fn from(size: Length) -> Offset {
        Offset::new(size, false)
    }
}

/// As the length, with `−` (U+2212) if it is below.
impl fmt::Display for Offset {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.size.to_string();
        // What is rounded to nothing has no sign.
        let sign = if self.negative && !size.starts_with("0\u{a0}") { "−" } else { "" };
        f.pad(&format!("{sign}{size}"))
    }
}

/// As [`Offset::parse`] without a unit for bare numbers.
impl FromStr for Offset {
    type Err = UnitError;

    fn from_str(text: &str) -> Result<Offset, UnitError> {
        Offset::parse(text, None)
    }
}

impl PartialOrd for Offset {
    fn partial_cmp(&self, other: &Offset) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Offset {
    fn cmp(&self, other: &Offset) -> Ordering {
        self.in_mm().total_cmp(&other.in_mm())
    }
}
