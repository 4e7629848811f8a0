//! Drill bits: those of the inch sets, metric ones in even steps, and a shop's own.

use std::fmt;
use std::sync::Arc;

use serde::Deserialize;

use super::{Refusal, by_line, fault};
use crate::finding::Source;
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

/// A bit by its name, as it is asked for at a counter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BitName {
    /// The set it is from: one whose names are no sizes.
    pub set: BitSet,
    /// Its name in the set, in capitals: `Z`, `7`.
    pub name: String,
}

/// All bits, from small to large.
#[derive(Debug)]
pub struct Drills {
    bits: Vec<Bit>,
    source: String,
}

/// The file: the bits of each set, one a line.
#[derive(Deserialize, Default)]
#[serde(default, deny_unknown_fields)]
struct Raw {
    source: String,
    fraction: String,
    letter: String,
    number: String,
    metric: String,
}

/// What is wrong with a line of a set.
struct Wrong {
    set: BitSet,
    line: String,
    said: String,
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

impl BitName {
    /// Reads a bit's name: `letter X`, `X`, `number 7`, `no. 7`, `#7`. A number alone is none, for it may be a size.
    pub fn parse(text: &str) -> Option<BitName> {
        let text = text.trim().to_uppercase();
        let after = |words: &[&str]| words.iter().find_map(|word| text.strip_prefix(word)).map(str::trim);
        let (set, name) = match (after(&["LETTER"]), after(&["NUMBER", "NO.", "NO", "#"])) {
            (Some(name), _) => (BitSet::Letter, name),
            (None, Some(name)) if name.starts_with(|c: char| c.is_ascii_digit()) => (BitSet::Number, name),
            _ if text.len() == 1 && text.chars().all(|c| c.is_ascii_uppercase()) => (BitSet::Letter, &*text),
            _ => return None,
        };
        let is_name = !name.is_empty() && name.chars().all(|c| c.is_ascii_alphanumeric());
        is_name.then(|| BitName { set, name: name.to_owned() })
    }
}

/// `letter X`, `number 7`.
impl fmt::Display for BitName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.set.name(), self.name)
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
    /// Reads them, and a shop's own over them. A shop that lists metric bits has those, else they go in steps of
    /// `metric_step`.
    pub(super) fn read(shipped: &str, own: Option<&Arc<Source>>, metric_step: Length) -> Result<Drills, Refusal> {
        let raw = Raw::shipped(shipped);
        let mut bits = raw.bits(false).map_err(|wrong| fault::in_shipped("drills.toml", wrong.said))?;
        if let Some(source) = own {
            let wrong = |Wrong { set, line, said }: Wrong| fault::at_line(source, &[set.name()], &line, said);
            let own = fault::file::<Raw>(source)?.bits(true).map_err(wrong)?;
            bits.retain(|bit| !own.iter().any(|own| own.set == bit.set && own.name == bit.name));
            bits.extend(own);
        }
        if bits.iter().all(|bit| bit.set != BitSet::Metric) {
            bits.extend(steps(metric_step));
        }
        bits.sort_by_key(|bit| (bit.diameter, bit.set));
        Ok(Drills { bits, source: raw.source })
    }

    /// Returns the bits of some sets, from small to large.
    pub fn of<'d>(&'d self, sets: &'d [BitSet]) -> impl Iterator<Item = &'d Bit> {
        self.bits.iter().filter(|bit| sets.contains(&bit.set))
    }

    /// Returns the bit of some sets that is nearest to a size; of two as near, the smaller.
    pub fn nearest<'d>(&'d self, size: Length, sets: &'d [BitSet]) -> Option<&'d Bit> {
        self.of(sets).min_by_key(|bit| (bit.diameter - size).size())
    }

    /// Returns the bit with a name.
    pub fn named(&self, wanted: &BitName) -> Option<&Bit> {
        self.bits.iter().find(|bit| bit.set == wanted.set && bit.name.eq_ignore_ascii_case(&wanted.name))
    }

    /// Returns the names of all bits that are asked for by a name and not by their size.
    pub fn names(&self) -> impl Iterator<Item = String> {
        let named = self.bits.iter().filter(|bit| [BitSet::Letter, BitSet::Number].contains(&bit.set));
        named.map(|bit| BitName { set: bit.set, name: bit.name.clone() }.to_string())
    }

    /// Returns where the sizes come from.
    pub fn source(&self) -> &str {
        &self.source
    }
}

impl Raw {
    /// Takes the shipped text by the line.
    fn shipped(text: &str) -> Raw {
        let of = |name| by_line::block(text, name).unwrap_or("").to_owned();
        let [fraction, letter, number, metric] = BitSet::ALL.map(|set| of(set.name()));
        Raw { source: of("source"), fraction, letter, number, metric }
    }

    fn bits(&self, is_own: bool) -> Result<Vec<Bit>, Wrong> {
        let mut bits = Vec::new();
        for set in BitSet::ALL {
            let lines = match set {
                BitSet::Fraction => &self.fraction,
                BitSet::Letter => &self.letter,
                BitSet::Number => &self.number,
                BitSet::Metric => &self.metric,
            };
            for line in lines.lines().map(str::trim).filter(|line| !line.is_empty()) {
                let (name, size) = line.split_once(' ').unwrap_or((line, ""));
                let said = |wrong| format!("`{}.{name}`: {wrong}", set.name());
                let wrong = |wrong| Wrong { set, line: line.to_owned(), said: said(wrong) };
                let diameter = diameter(set, size).map_err(wrong)?;
                bits.push(Bit { set, name: name.to_owned(), diameter, is_own });
            }
        }
        Ok(bits)
    }
}

/// Reads a size: a number in the set's own unit, or with its unit.
fn diameter(set: BitSet, size: &str) -> Result<Length, String> {
    let read = match (size.trim().parse::<f64>(), set) {
        (Ok(number), BitSet::Metric) => Length::from_mm(number),
        (Ok(number), _) => Length::from_inches(number),
        (Err(_), _) => Length::parse(size, None),
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
