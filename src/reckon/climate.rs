//! What wood stands in: air, by its warmth and humidity, or simply how moist the wood is.

use super::given::quoted;
use super::{Input, Refusal};
use crate::units::{Quantity, Unit, UnitError};

/// The temperatures that the moisture equation was tabled for, 30 °F to 210 °F, in °C.
const TABLED: (f64, f64) = (-10.0 / 9.0, 890.0 / 9.0);

/// Wood holds no more water in its walls than this, in percent; what is over it does not move the wood.
const SATURATED: f64 = 30.0;

/// What wood stands in, or has come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Climate {
    /// Air, in which the wood comes to rest at a moisture content.
    Air(Air),
    /// The wood's own moisture content, in percent of its dry weight, 0 to 30.
    Moisture(f64),
}

/// Air of a temperature and a humidity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    celsius: f64,
    percent: f64,
}

impl Air {
    /// Returns air of a temperature, −1.1 to 98.9 °C (30 to 210 °F), and a relative humidity, between 0 and 100 %;
    /// nothing for any other.
    pub fn new(celsius: f64, percent: f64) -> Option<Air> {
        let fits = (TABLED.0..=TABLED.1).contains(&celsius) && 0.0 < percent && percent < 100.0;
        fits.then_some(Air { celsius, percent })
    }

    /// Returns the temperature in °C.
    pub fn celsius(self) -> f64 {
        self.celsius
    }

    /// Returns the relative humidity, in percent.
    pub fn percent(self) -> f64 {
        self.percent
    }
}

impl Input {
    /// Reads `20C/65%`, in either order, or a moisture content, `8 %`. A temperature carries its unit: 70 in °C dries
    /// wood, and in °F is a room.
    pub(super) fn climate(&self, text: &str) -> Result<Climate, Refusal> {
        let unreadable = |fault| Refusal::Unreadable { input: self.name, fault };
        let Some((left, right)) = text.split_once('/') else {
            return self.moisture(text, Quantity::parse(text, Unit::Percent, None).map_err(unreadable)?);
        };
        let (warm, damp) = if left.contains('%') { (right, left) } else { (left, right) };
        let celsius = Quantity::parse(warm, Unit::Celsius, None).map_err(unreadable)?;
        if !warm.contains(char::is_alphabetic) {
            let readings = ["C", "F"].map(|unit| format!("{} {unit}", quoted(warm))).to_vec();
            return Err(unreadable(UnitError::NoUnit { typed: quoted(warm), readings }));
        }
        self.within(warm, celsius, TABLED.0, TABLED.1).map_err(|_| {
            let range = "30 °F to 210 °F (−1.1 °C to 98.9 °C), what the table holds".to_owned();
            self.out_of_range(warm, range, None)
        })?;
        let percent = Quantity::parse(damp, Unit::Percent, None).map_err(unreadable)?;
        self.humidity(damp, percent)?;
        Ok(Climate::Air(Air { celsius: celsius.value(), percent: percent.value() }))
    }

    fn moisture(&self, text: &str, percent: Quantity) -> Result<Climate, Refusal> {
        if percent.value() <= SATURATED {
            return Ok(Climate::Moisture(percent.value()));
        }
        let slip = "is it the air's humidity? that goes with its temperature, 20C/65%".to_owned();
        Err(self.out_of_range(text, "0 % to 30 %: wood wetter than that does not move".to_owned(), Some(slip)))
    }
}

/// The pair as it is typed, `20 °C/65 %`, or the moisture content; with U+00A0 before the units.
impl std::fmt::Display for Climate {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let shown = |value: f64| (value * 10.0).round() / 10.0;
        match self {
            Climate::Air(air) => write!(f, "{}\u{a0}°C/{}\u{a0}%", shown(air.celsius), shown(air.percent)),
            Climate::Moisture(percent) => write!(f, "{}\u{a0}%", shown(*percent)),
        }
    }
}
