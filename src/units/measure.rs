//! What can be measured, and between which bounds a value makes sense: one table, with the words errors use.

use super::UnitError;
use super::number::shown;

/// What a unit or a reading measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Measure {
    /// How long, wide or thick something is.
    Length,
    /// How far something is turned.
    Angle,
    /// Where something points on the face of a clock.
    ClockPosition,
    /// How long something takes.
    Time,
    /// How heavy something is.
    Weight,
    /// A share of a hundred, such as moisture.
    Share,
    /// How warm something is.
    Temperature,
    /// How fast something turns.
    Speed,
    /// How fast a surface passes a tool.
    SurfaceSpeed,
    /// How strong, stiff or pressed something is.
    Stress,
}

impl Measure {
    /// Returns the word for it, with its article: "a length".
    pub fn name(self) -> &'static str {
        self.bounds().name
    }

    /// Returns the word for it without its article: "length".
    pub(super) fn noun(self) -> &'static str {
        self.name().split_once(' ').map_or(self.name(), |(_, noun)| noun)
    }

    /// Returns a few texts that read well, for an error's help.
    pub fn examples(self) -> &'static str {
        match self {
            Measure::Length => "25/64, .391 in or 9.92 mm",
            Measure::Angle => "90 deg or 1/4 turn",
            Measure::ClockPosition => "4 o'clock or 2:30",
            Measure::Time => "90 s, 20 min or 1 h 30 min",
            Measure::Weight => "23.4 g",
            Measure::Share => "7.5 %",
            Measure::Temperature => "21 C",
            Measure::Speed => "1200 rev/min",
            Measure::SurfaceSpeed => "60 m/min or 200 ft/min",
            Measure::Stress => "3.9 MPa or 1.2 GPa",
        }
    }

    /// Refuses a value that no bench has seen. The value is in the base unit: mm, degrees, minutes of the clock face,
    /// seconds, grams, percent, °C, turns a minute, metres a minute, MPa. `typed` is what the error quotes, else the
    /// value.
    pub(super) fn check(self, value: f64, typed: Option<&str>) -> Result<f64, UnitError> {
        let Bounds { lowest, highest, base, range, .. } = self.bounds();
        if !value.is_finite() {
            return Err(UnitError::NotFinite { wanted: self });
        }
        if lowest <= value && value <= highest {
            // Minus zero becomes zero, so that equal values are shown alike; and so does what is too small to be
            // written out in a reading, so that every value can be.
            return Ok(if value.abs() < 1e-100 { 0.0 } else { value });
        }
        let typed = typed.map_or_else(|| format!("{} {base}", shown(value, 3)), str::to_owned);
        if value < 0.0 && lowest == 0.0 {
            return Err(UnitError::negative(&typed, self));
        }
        Err(UnitError::out_of_range(&typed, range, self))
    }

    fn bounds(self) -> Bounds {
        let (name, lowest, highest, base, range) = match self {
            Measure::Length => ("a length", 0.0, 10_000.0, "mm", "0 to 10 m"),
            Measure::Angle => ("an angle", -360_000.0, 360_000.0, "deg", "-1000 to 1000 turns"),
            Measure::ClockPosition => {
                ("a clock position", -720_000.0, 720_000.0, "min on the clock", "-1000 to 1000 times round")
            }
            Measure::Time => ("a time", 0.0, 315_360_000.0, "s", "0 to 3650 days"),
            Measure::Weight => ("a weight", 0.0, 100_000.0, "g", "0 to 100 kg"),
            Measure::Share => ("a percentage", 0.0, 1_000.0, "%", "0 to 1000 %"),
            Measure::Temperature => ("a temperature", -100.0, 500.0, "°C", "-100 to 500 °C"),
            Measure::Speed => ("a speed", 0.0, 100_000.0, "rev/min", "0 to 100000 rev/min"),
            Measure::SurfaceSpeed => ("a surface speed", 0.0, 10_000.0, "m/min", "0 to 10000 m/min"),
            Measure::Stress => ("a stress", 0.0, 1_000_000.0, "MPa", "0 to 1000 GPa"),
        };
        Bounds { name, lowest, highest, base, range }
    }
}

struct Bounds {
    name: &'static str,
    lowest: f64,
    highest: f64,
    /// The base unit, as an error shows it after the value.
    base: &'static str,
    /// The range in words.
    range: &'static str,
}
