//! A reading: a value with the unit of its gauge.

use std::cmp::Ordering;
use std::fmt;

use super::number::shown;
use super::typed::read_value;
use super::{Angle, ClockPosition, Length, LengthUnit, Measure, Offset, Span, Unit, UnitError};

/// What a gauge read, or a limit of it: a value with the gauge's unit.
///
/// A length keeps the unit it was typed in, so that it is shown so; [`value`](Quantity::value) is in the gauge's.
/// Two quantities of one kind compare by what they measure (25.4 mm equals 1 in); those of different kinds do not
/// compare. Clock positions compare by minutes after 12: a limit from 11:00 to 1:00 is the caller's to turn.
///
/// ```
/// use stepjig::units::{Quantity, Unit};
///
/// let reading = Quantity::parse("25/64", Unit::Millimetre, None)?;
/// let limit = Quantity::new(9.9, Unit::Millimetre)?;
/// assert!(limit <= reading);
/// assert_eq!(reading.value(), 9.921875);
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Quantity {
    amount: Amount,
    unit: Unit,
}

#[derive(Debug, Clone, Copy)]
enum Amount {
    Length(Offset),
    Angle(Angle),
    Clock(ClockPosition),
    Time(Span),
    /// Weight, share, temperature or speed, in its base unit.
    Plain(f64),
}

impl Quantity {
    /// Returns a value in a unit. A length may be below zero here, as a limit may be; `clock` counts hours.
    ///
    /// # Errors
    /// [`UnitError`] if the value is not finite, or out of the range of what is measured.
    pub fn new(value: f64, unit: Unit) -> Result<Quantity, UnitError> {
        let amount = match unit {
            Unit::Millimetre => Amount::Length(Offset::from_mm(value)?),
            Unit::Inch => Amount::Length(Offset::from_inches(value)?),
            Unit::Degree => Amount::Angle(Angle::from_degrees(value)?),
            Unit::Turn => Amount::Angle(Angle::from_turns(value)?),
            Unit::Clock => Amount::Clock(ClockPosition::from_minutes(value * 60.0)?),
            Unit::Second => Amount::Time(Span::from_seconds(value)?),
            Unit::Minute => Amount::Time(Span::from_minutes(value)?),
            Unit::Hour => Amount::Time(Span::from_hours(value)?),
            Unit::Gram | Unit::Percent | Unit::Celsius | Unit::TurnsAMinute => {
                Amount::Plain(unit.measures().check(value, None)?)
            }
        };
        Ok(Quantity { amount, unit })
    }

    /// Reads what was typed at a gauge, in any unit of the same kind. `bare` is the shop's unit for lengths.
    ///
    /// A bare number is in the gauge's unit, but for lengths, where it follows the rule of [`Length::parse`]. A clock
    /// position may be typed as an angle, and an angle in turns.
    ///
    /// # Errors
    /// [`UnitError`] if it is no such reading, or a length below zero.
    pub fn parse(text: &str, unit: Unit, bare: Option<LengthUnit>) -> Result<Quantity, UnitError> {
        let amount = match unit.measures() {
            Measure::Length => Amount::Length(Length::parse(text, bare)?.into()),
            _ => Quantity::parse_other(text, unit)?,
        };
        Ok(Quantity { amount, unit })
    }

    /// Reads as [`Quantity::parse`], and lets a length be below zero: for a gauge that has a limit below zero.
    ///
    /// # Errors
    /// As [`Quantity::parse`], but for the sign of a length.
    pub fn parse_signed(text: &str, unit: Unit, bare: Option<LengthUnit>) -> Result<Quantity, UnitError> {
        let amount = match unit.measures() {
            Measure::Length => Amount::Length(Offset::parse(text, bare)?),
            _ => Quantity::parse_other(text, unit)?,
        };
        Ok(Quantity { amount, unit })
    }

    fn parse_other(text: &str, unit: Unit) -> Result<Amount, UnitError> {
        Ok(match unit.measures() {
            Measure::ClockPosition => Amount::Clock(ClockPosition::parse(text)?),
            Measure::Time => Amount::Time(Span::parse_with(text, unit)?),
            Measure::Angle => Amount::Angle(Angle::from_checked(read_value(text, Measure::Angle, unit.word())?)),
            measure => Amount::Plain(read_value(text, measure, unit.word())?),
        })
    }

    /// Returns the value in its unit. For `clock` that is the hour with its fraction, from 0 up to but not 12.
    pub fn value(self) -> f64 {
        match self.amount {
            Amount::Length(offset) if self.unit == Unit::Inch => offset.in_inches(),
            Amount::Length(offset) => offset.in_mm(),
            Amount::Angle(angle) if self.unit == Unit::Turn => angle.turns(),
            Amount::Angle(angle) => angle.degrees(),
            Amount::Clock(position) => position.minutes() / 60.0,
            Amount::Time(span) => match self.unit {
                Unit::Hour => span.hours(),
                Unit::Minute => span.minutes(),
                _ => span.seconds(),
            },
            Amount::Plain(value) => value,
        }
    }

    /// Returns the unit of its gauge.
    pub fn unit(self) -> Unit {
        self.unit
    }

    /// Returns the length that it is, if it is one and not below zero.
    pub fn length(self) -> Option<Length> {
        self.offset().filter(|offset| 0.0 <= offset.in_mm()).map(Offset::size)
    }

    /// Returns the length with its sign that it is, if it is one.
    pub fn offset(self) -> Option<Offset> {
        match self.amount {
            Amount::Length(offset) => Some(offset),
            _ => None,
        }
    }

    /// Returns the angle that it is, if it is one.
    pub fn angle(self) -> Option<Angle> {
        match self.amount {
            Amount::Angle(angle) => Some(angle),
            _ => None,
        }
    }

    /// Returns the clock position that it is, if it is one.
    pub fn clock_position(self) -> Option<ClockPosition> {
        match self.amount {
            Amount::Clock(position) => Some(position),
            _ => None,
        }
    }

    /// Returns the span that it is, if it is one.
    pub fn span(self) -> Option<Span> {
        match self.amount {
            Amount::Time(span) => Some(span),
            _ => None,
        }
    }

    /// Returns it as a step shows it: a length in inch and mm (see [`Length::both`]), all else as [`Display`](fmt::Display).
    pub fn both(self) -> String {
        match self.amount {
            Amount::Length(offset) => self.length().map_or_else(|| offset.both(), Length::both),
            _ => self.to_string(),
        }
    }

    /// Returns a text that [`Quantity::parse_signed`] reads back as the very same, for a file or a journal.
    pub fn exact(self) -> String {
        match self.amount {
            Amount::Length(offset) => offset.exact(),
            Amount::Angle(angle) => angle.exact(),
            Amount::Clock(position) => position.exact(),
            Amount::Time(span) => span.exact(),
            Amount::Plain(value) => format!("{value} {}", self.unit.label()),
        }
    }
}

/// The reading with its unit, U+00A0 between: `9.92 mm`, `3 o'clock`, `20 min`, `23.4 g`, `21 °C`, `1.25 turns`.
impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.amount {
            Amount::Length(offset) => offset.fmt(f),
            Amount::Angle(angle) if self.unit == Unit::Turn => {
                let turns = shown(angle.turns(), 3);
                let unit = if turns == "1" { "turn" } else { "turns" };
                f.pad(&format!("{turns}\u{a0}{unit}"))
            }
            Amount::Angle(angle) => angle.fmt(f),
            Amount::Clock(position) => position.fmt(f),
            Amount::Time(span) => span.fmt(f),
            Amount::Plain(value) => {
                let unit = if self.unit == Unit::Celsius { "°C" } else { self.unit.label() };
                f.pad(&format!("{}\u{a0}{unit}", shown(value, 3)))
            }
        }
    }
}

impl PartialEq for Quantity {
    fn eq(&self, other: &Quantity) -> bool {
        self.partial_cmp(other) == Some(Ordering::Equal)
    }
}

impl Eq for Quantity {}

impl PartialOrd for Quantity {
    fn partial_cmp(&self, other: &Quantity) -> Option<Ordering> {
        match (self.amount, other.amount) {
            (Amount::Length(one), Amount::Length(other)) => Some(one.cmp(&other)),
            (Amount::Angle(one), Amount::Angle(other)) => Some(one.cmp(&other)),
            (Amount::Clock(one), Amount::Clock(other)) => Some(one.cmp(&other)),
            (Amount::Time(one), Amount::Time(other)) => Some(one.cmp(&other)),
            (Amount::Plain(one), Amount::Plain(another)) if self.unit == other.unit => Some(one.total_cmp(&another)),
            _ => None,
        }
    }
}
