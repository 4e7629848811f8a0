//! Lengths, which are never below zero.

use std::cmp::Ordering;
use std::fmt;
use std::str::FromStr;

use super::error::quotable;
use super::finite::Finite;
use super::number::shown;
use super::typed::{Typed, no_unit};
use super::word::{INCH, MILLIMETRE, Word};
use super::{Measure, Offset, UnitError, inch_fraction};

/// How far a sum of inches may miss a 64th by its binary digits alone, in mm, and still be shown as that 64th.
const HAIR: f64 = 1e-11;

/// A length, from 0 to 10 m, that remembers whether it was written in millimetres or inches.
///
/// 25/64 in is exactly 9.921875 mm (1 in = 25.4 mm, exact: international yard and pound agreement, 1959). Two lengths
/// are equal when they are equally long, whichever way they were written.
///
/// ```
/// use stepjig::units::Length;
///
/// let drill: Length = "10.5 mm".parse()?;
/// assert_eq!(drill.both().replace('\u{a0}', " "), "10.5 mm (13/32 in + 0.181 mm)");
/// assert_eq!(Length::parse("1 in", None)?, Length::parse("25.4 mm", None)?);
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Length {
    mm: Finite,
    unit: LengthUnit,
}

/// The unit a length is written in, or the one a shop writes its bare numbers in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LengthUnit {
    /// Millimetres; centimetres are shown as millimetres.
    Millimetre,
    /// Inches, in fractions or decimals.
    Inch,
}

impl LengthUnit {
    pub(super) fn word(self) -> &'static Word {
        match self {
            LengthUnit::Millimetre => &MILLIMETRE,
            LengthUnit::Inch => &INCH,
        }
    }
}

impl Length {
    /// Returns a length of so many millimetres.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, below 0, or above 10 000.
    pub fn from_mm(mm: f64) -> Result<Length, UnitError> {
        Length::checked(mm, LengthUnit::Millimetre, None)
    }

    /// Returns a length of so many inches, which it is shown in.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, below 0, or above 10 m.
    pub fn from_inches(inches: f64) -> Result<Length, UnitError> {
        Length::checked(inches * 254.0 / 10.0, LengthUnit::Inch, None)
    }

    /// Returns the length of so many 64ths of an inch, at most 10 m.
    ///
    /// # Errors
    /// [`UnitError::OutOfRange`] above 10 m.
    pub fn from_64ths(n_64ths: u32) -> Result<Length, UnitError> {
        Length::checked(inch_fraction::in_mm(n_64ths), LengthUnit::Inch, None)
    }

    /// Reads a length: `25/64`, `25/64"`, `1 1/2 in`, `1-1/2"`, `.391 in`, `9.92mm`, `1 cm`, `⅜″`.
    ///
    /// A bare fraction is in inches. Any other bare number is in `bare`, the shop's unit, or is refused with both
    /// readings if there is none. An inch is divided in halves to 128ths or tenths to thousandths, a millimetre in
    /// halves, quarters or tenths; other fractions are slips, and are refused with what was likely meant.
    ///
    /// # Errors
    /// [`UnitError`], of which [`UnitError::DecimalComma`] carries the reading that a prompt may ask back.
    pub fn parse(text: &str, bare: Option<LengthUnit>) -> Result<Length, UnitError> {
        let typed = Typed::read(text, Measure::Length, bare.map(LengthUnit::word))?;
        let length = Length::from_typed(&typed, bare)?;
        if typed.negative && length.in_mm() > 0.0 {
            return Err(UnitError::negative(&typed.text, Measure::Length));
        }
        Ok(length)
    }

    /// Reads a difference of lengths, which may be below zero: `-0.03 mm`, `+1/64 in`. Else as [`Length::parse`].
    ///
    /// # Errors
    /// As [`Length::parse`], but for the sign.
    pub fn parse_signed(text: &str, bare: Option<LengthUnit>) -> Result<Offset, UnitError> {
        Offset::parse(text, bare)
    }

    /// Returns the length in millimetres, 0 to 10 000.
    pub fn in_mm(self) -> f64 {
        self.mm.0
    }

    /// Returns the length in inches.
    pub fn in_inches(self) -> f64 {
        self.mm.0 * 10.0 / 254.0
    }

    /// Returns half of it: a radius for a diameter.
    pub fn half(self) -> Length {
        Length { mm: Finite(self.mm.0 / 2.0), ..self }
    }

    /// Returns the unit it was written in, which it is shown in first.
    pub fn unit(self) -> LengthUnit {
        self.unit
    }

    /// Returns the same length, to be shown in the given unit first.
    pub fn written_in(self, unit: LengthUnit) -> Length {
        Length { unit, ..self }
    }

    /// Returns the nearest 64th of an inch (halfway goes up), and how far this length is above it.
    pub fn nearest_64th(self) -> (Length, Offset) {
        let mm = Finite(inch_fraction::in_mm(inch_fraction::nearest_64ths(self.in_mm())));
        let nearest = Length { mm, unit: LengthUnit::Inch };
        (nearest, self.written_in(LengthUnit::Millimetre) - nearest)
    }

    /// Returns the length in both units, the one it was written in first.
    ///
    /// Inches are the nearest 64th with what is over or under it, if it is not exact: `25/64 in (9.922 mm)`,
    /// `10.5 mm (13/32 in + 0.181 mm)`, `0.391 in (25/64 in + 0.01 mm, 9.931 mm)`. Less than half of a 64th is shown
    /// in decimals of an inch. Millimetres are rounded to 3 decimals; numbers and units are joined by U+00A0.
    pub fn both(self) -> String {
        let mm = self.mm_text();
        match (self.unit, self.beside_64th()) {
            (LengthUnit::Millimetre, Some(beside)) => format!("{mm} ({beside})"),
            (LengthUnit::Millimetre, None) => format!("{mm} ({})", self.inch_text()),
            (LengthUnit::Inch, Some(beside)) if beside != self.inch_text() => {
                format!("{} ({beside}, {mm})", self.inch_text())
            }
            (LengthUnit::Inch, _) => format!("{} ({mm})", self.inch_text()),
        }
    }

    /// Returns a text that reads back as the very same length, for a file or a journal; a plain space before the unit.
    pub fn exact(self) -> String {
        let in_mm = format!("{} mm", self.in_mm());
        if self.unit == LengthUnit::Millimetre {
            return in_mm;
        }
        let inches = self.in_inches();
        // The division may have missed the number that was typed by its last bit.
        let decimals = [inches, inches.next_up(), inches.next_down()].map(|inches| format!("{inches} in"));
        let fraction = self.inch_text().replace('\u{a0}', " ");
        std::iter::once(fraction)
            .chain(decimals)
            .find(|text| Length::parse(text, None).is_ok_and(|read| read == self))
            .unwrap_or(in_mm)
    }

    fn checked(mm: f64, unit: LengthUnit, typed: Option<&str>) -> Result<Length, UnitError> {
        Ok(Length { mm: Finite(Measure::Length.check(mm, typed)?), unit })
    }

    /// Returns the length that was typed, whatever its sign.
    pub(super) fn from_typed(typed: &Typed, bare: Option<LengthUnit>) -> Result<Length, UnitError> {
        let word = match (typed.word, typed.number.fraction_of) {
            (Some(word), _) => word,
            (None, Some(_)) => &INCH,
            (None, None) => {
                bare.map(LengthUnit::word).ok_or_else(|| no_unit(&typed.text, &typed.text, Measure::Length))?
            }
        };
        let unit = if word == &INCH { LengthUnit::Inch } else { LengthUnit::Millimetre };
        if let Some(lower) = typed.number.fraction_of {
            check_fraction(typed, lower, unit)?;
        }
        Length::checked(typed.number.times(word.scale), unit, Some(&typed.text))
    }

    /// Returns the nearest 64th and what is over or under it, in millimetres; nothing below half of a 64th.
    fn beside_64th(self) -> Option<String> {
        let (nearest, over) = self.nearest_64th();
        let error = over.size().mm_text();
        let sign = if over.in_mm() < 0.0 { '−' } else { '+' };
        match nearest.in_mm() {
            0.0 if self.in_mm() > 0.0 => None,
            _ if over.size().in_mm() <= HAIR => Some(nearest.inch_text()),
            // A rounded "+ 0 mm" would claim that it is exact.
            _ if over.size().in_mm() < 0.0005 => Some(format!("{} within 0.001\u{a0}mm", nearest.inch_text())),
            _ => Some(format!("{} {sign} {error}", nearest.inch_text())),
        }
    }

    fn mm_text(self) -> String {
        format!("{}\u{a0}mm", shown(self.in_mm(), 3))
    }

    fn inch_text(self) -> String {
        let n_64ths = inch_fraction::nearest_64ths(self.in_mm());
        match (inch_fraction::in_mm(n_64ths) - self.in_mm()).abs() <= HAIR {
            true => format!("{}\u{a0}in", inch_fraction::text(n_64ths)),
            false => format!("{}\u{a0}in", shown(self.in_inches(), 4)),
        }
    }
}

/// Refuses a fraction that the unit is not divided in: 25/46 in, 25/64 mm.
fn check_fraction(typed: &Typed, lower: f64, unit: LengthUnit) -> Result<(), UnitError> {
    let upper = typed.number.upper();
    let (fits, rule, suggestion) = match unit {
        LengthUnit::Inch => (
            inch_fraction::is_marked(lower) || lower == 1.0,
            "an inch is divided in halves, quarters, 8ths, 16ths, 32nds and 64ths",
            inch_fraction::slip_of(upper, lower).map(|lower| format!("{upper}/{lower} in")),
        ),
        LengthUnit::Millimetre => (
            [1.0, 2.0, 4.0, 10.0].contains(&lower),
            "a fraction like this is of an inch",
            inch_fraction::is_marked(lower).then(|| format!("{upper}/{lower} in")),
        ),
    };
    match fits {
        true => Ok(()),
        false => Err(UnitError::OddFraction { typed: quotable(&typed.text), rule, suggestion }),
    }
}

/// The length in the unit it was written in: `9.92 mm`, `25/64 in`, `0.391 in`, with U+00A0 before the unit.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&match self.unit {
            LengthUnit::Millimetre => self.mm_text(),
            LengthUnit::Inch => self.inch_text(),
        })
    }
}

/// As [`Length::parse`] without a unit for bare numbers.
impl FromStr for Length {
    type Err = UnitError;

    fn from_str(text: &str) -> Result<Length, UnitError> {
        Length::parse(text, None)
    }
}

impl PartialEq for Length {
    fn eq(&self, other: &Length) -> bool {
        self.mm == other.mm
    }
}

impl Eq for Length {}

impl PartialOrd for Length {
    fn partial_cmp(&self, other: &Length) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Length {
    fn cmp(&self, other: &Length) -> Ordering {
        self.mm.cmp(&other.mm)
    }
}

/// How far the first length is above the second, shown in the first one's unit.
impl std::ops::Sub for Length {
    type Output = Offset;

    fn sub(self, other: Length) -> Offset {
        let difference = self.in_mm() - other.in_mm();
        let size = Length { mm: Finite(difference.abs()), unit: self.unit };
        Offset::new(size, difference < 0.0)
    }
}
