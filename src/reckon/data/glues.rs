//! Glues by their chemistry, and what makes each harden sooner or later.

use serde::Deserialize;

use super::Refusal;
use super::sheet::{Row, Sheet, fields};
use crate::units::{Length, Quantity, Unit};

/// A glue.
#[derive(Debug, Clone, PartialEq)]
pub struct Glue {
    /// Its name: the chemistry.
    pub name: String,
    /// Other names for it.
    pub also: Vec<String>,
    /// What makes it harden sooner or later.
    pub hardening: Hardening,
    /// The sign that it is hard, which goes before any clock.
    pub sign: String,
    /// What else to know, in a sentence.
    pub note: Option<String>,
    /// Where its figures come from.
    pub source: String,
}

/// What makes a glue harden sooner or later.
#[derive(Debug, Clone, PartialEq)]
pub enum Hardening {
    /// Warmth: so many times as fast for every 10 °C.
    Warmth {
        /// The factor that is usual.
        factor: f64,
        /// The least and the most that it is.
        band: [f64; 2],
        /// Under this, in °C, it may stall and stay soft.
        cold: Option<f64>,
    },
    /// Moisture of the air, in percent of relative humidity.
    Damp {
        /// From where to where it hardens as it is rated.
        good: [f64; 2],
        /// Under this it is slow.
        slow_under: f64,
        /// Over this it sets at once, and is weaker.
        shock_over: f64,
        /// In a wider gap the middle may stay wet.
        fills: Length,
    },
}

/// All glues.
#[derive(Debug)]
pub struct Glues(Vec<Glue>);

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Raw {
    #[serde(default)]
    also: Vec<String>,
    factor: Option<f64>,
    band: Option<[f64; 2]>,
    cold: Option<String>,
    good: Option<[f64; 2]>,
    slow_under: Option<f64>,
    shock_over: Option<f64>,
    fills: Option<String>,
    sign: String,
    note: Option<String>,
    source: String,
}

impl Glues {
    pub(super) fn read(sheet: &Sheet) -> Result<Glues, Refusal> {
        let rows = sheet.rows("glue", |name, entry| read(name, fields(entry)?))?;
        let source = |row: Row<Glue>| match row.is_own {
            true => Glue { source: format!("{} (the shop's own)", row.value.source), ..row.value },
            false => row.value,
        };
        Ok(Glues(rows.into_iter().map(source).collect()))
    }

    /// Returns the glue with a name, or another name for it.
    pub fn named(&self, name: &str) -> Option<&Glue> {
        self.0.iter().find(|glue| glue.names().any(|known| known == name))
    }

    /// Returns all of them.
    pub fn all(&self) -> &[Glue] {
        &self.0
    }
}

impl Glue {
    /// Returns its names, the chemistry first.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(&self.name).chain(&self.also).map(String::as_str)
    }
}

fn read(name: &str, raw: Raw) -> Result<Glue, String> {
    let hardening = match &raw {
        Raw { factor: Some(factor), band: Some(band), good: None, slow_under: None, shock_over: None, .. } => {
            warmth(*factor, *band, raw.cold.as_deref())?
        }
        Raw {
            good: Some(good),
            slow_under: Some(slow),
            shock_over: Some(shock),
            fills: Some(fills),
            factor: None,
            band: None,
            ..
        } => damp(*good, *slow, *shock, fills)?,
        _ => return Err("it takes `factor` and `band`, or `good`, `slow-under`, `shock-over` and `fills`".to_owned()),
    };
    let Raw { also, sign, note, source, .. } = raw;
    Ok(Glue { name: name.to_owned(), also, hardening, sign, note, source })
}

fn warmth(factor: f64, band: [f64; 2], cold: Option<&str>) -> Result<Hardening, String> {
    let [least, most] = band;
    if !(1.0 < least && least <= factor && factor <= most && most <= 5.0) {
        return Err("`factor` lies in its `band`, and that between 1 and 5".to_owned());
    }
    let celsius = |text: &str| Quantity::parse(text, Unit::Celsius, None).map(Quantity::value);
    let cold = cold.map(celsius).transpose().map_err(|fault| format!("`cold`: {fault:#}"))?;
    Ok(Hardening::Warmth { factor, band, cold })
}

fn damp(good: [f64; 2], slow_under: f64, shock_over: f64, fills: &str) -> Result<Hardening, String> {
    let rises = 0.0 <= slow_under && slow_under <= good[0] && good[0] < good[1] && good[1] <= shock_over;
    if !(rises && shock_over <= 100.0) {
        return Err("`slow-under`, `good` and `shock-over` go up, from 0 to 100".to_owned());
    }
    let fills = Length::parse(fills, None).map_err(|fault| format!("`fills`: {fault:#}"))?;
    Ok(Hardening::Damp { good, slow_under, shock_over, fills })
}
