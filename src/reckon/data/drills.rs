//! Drill bits: those of the inch sets, metric ones in even steps, and a shop's own.

use std::fmt;

use super::Refusal;
use super::sheet::{Row, Sheet};
use crate::units::Length;

/// Up to here metric bits are taken to be had in even steps, in mm.
const METRIC_MOST: f64 = 25.0;

/// A set that bits are sold in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BitSet {
    /// 64ths of an inch, to 3/4 in.
    Fraction,
    /// A to Z.
    Letter,
    /// 80 to 1; a higher number is a smaller bit.
    Number,
    /// Millimetres.
    Metric,
}

/// A drill bit.
#[derive(Debug, Clone, PartialEq)]
pub struct Bit {
    /// The set it is from.
    pub set: BitSet,
    /// Its name in the set: `Z`, `7`, `13/32`, `10.5`.
    pub name: String,
    /// Its diameter. What it drills in wood is often a little wider.
    pub diameter: Length,
    /// Whether a shop has listed it.
    pub is_own: bool,
}

/// All bits, from small to large.
#[derive(Debug)]
pub struct Drills {
    bits: Vec<Bit>,
    source: String,
}

impl BitSet {
    /// All sets, in the order a list shows them.
    pub const ALL: [BitSet; 4] = [BitSet::Fraction, BitSet::Letter, BitSet::Number, BitSet::Metric];

    /// Returns its name, as `sets` takes it.
    pub fn name(self) -> &'static str {
        match self {
            BitSet::Fraction => "fraction",
            BitSet::Letter => "letter",
            BitSet::Number => "number",
            BitSet::Metric => "metric",
        }
    }
}

/// As one asks for it at a counter: `letter Z`, `number 7`, `13/32 in`, `10.5 mm`.
impl fmt::Display for Bit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.set {
            BitSet::Letter | BitSet::Number => f.pad(&format!("{}\u{a0}{}", self.set.name(), self.name)),
            BitSet::Fraction | BitSet::Metric => self.diameter.fmt(f),
        }
    }
}

impl Drills {
    /// Reads them. A shop that lists metric bits has those, else they go in steps of `metric_step`.
    pub(super) fn read(sheet: &Sheet, metric_step: Length) -> Result<Drills, Refusal> {
        let mut bits = Vec::new();
        for set in BitSet::ALL {
            let diameter = |_: &str, entry: &toml::Value| diameter(set, entry);
            let bit = |Row { name, value, is_own }| Bit { set, name, diameter: value, is_own };
            bits.extend(sheet.rows(set.name(), diameter)?.into_iter().map(bit));
        }
        if bits.iter().all(|bit| bit.set != BitSet::Metric) {
            bits.extend(steps(metric_step));
        }
        bits.sort_by_key(|bit| (bit.diameter, bit.set));
        Ok(Drills { bits, source: sheet.text("source", "sizes").to_owned() })
    }

    /// Returns the bits of some sets, from small to large.
    pub fn of<'d>(&'d self, sets: &'d [BitSet]) -> impl Iterator<Item = &'d Bit> {
        self.bits.iter().filter(|bit| sets.contains(&bit.set))
    }

    /// Returns the bit of some sets that is nearest to a size; of two as near, the smaller.
    pub fn nearest<'d>(&'d self, size: Length, sets: &'d [BitSet]) -> Option<&'d Bit> {
        self.of(sets).min_by_key(|bit| (bit.diameter - size).size())
    }

    /// Returns where the sizes come from.
    pub fn source(&self) -> &str {
        &self.source
    }
}

/// Reads a size: a number in the set's own unit, or a text that says it.
fn diameter(set: BitSet, entry: &toml::Value) -> Result<Length, String> {
    let read = match (entry, set) {
        (toml::Value::String(text), _) => Length::parse(text, None),
        (toml::Value::Float(number), BitSet::Metric) => Length::from_mm(*number),
        (toml::Value::Float(number), _) => Length::from_inches(*number),
        (toml::Value::Integer(number), BitSet::Metric) => Length::from_mm(*number as f64),
        (toml::Value::Integer(number), _) => Length::from_inches(*number as f64),
        _ => return Err("it is neither a number nor a text".to_owned()),
    };
    match read {
        Ok(length) if 0.0 < length.in_mm() => Ok(length),
        Ok(_) => Err("a bit is wider than nothing".to_owned()),
        Err(fault) => Err(format!("{fault:#}")),
    }
}

/// Metric bits: the multiples of a step. A step too fine to be sold gives none.
fn steps(step: Length) -> impl Iterator<Item = Bit> {
    let n = if step.in_mm() < 0.01 { 0.0 } else { (METRIC_MOST / step.in_mm() + 1e-9).floor() };
    // At most 2500.
    (1..=n as u32).filter_map(move |n| {
        let diameter = Length::from_mm(f64::from(n) * step.in_mm()).ok()?;
        Some(Bit { set: BitSet::Metric, name: diameter.in_mm().to_string(), diameter, is_own: false })
    })
}
