//! What was typed, taken apart into sign, number and unit.

use super::Measure;
use super::error::{UnitError, quotable};
use super::number::{Fault, Number};
use super::word::Word;

/// The most characters a reading may have.
const MOST_CHARS: usize = 200;

/// A reading that was typed.
pub(super) struct Typed {
    /// The whole text, trimmed, in plain characters.
    pub(super) text: String,
    pub(super) negative: bool,
    pub(super) number: Number,
    /// The unit, if one was typed.
    pub(super) word: Option<&'static Word>,
}

impl Typed {
    /// Takes a text apart. `bare` is the unit of a number without one, if that is settled.
    pub(super) fn read(text: &str, wanted: Measure, bare: Option<&'static Word>) -> Result<Typed, UnitError> {
        let text = plain(text, wanted)?;
        let (negative, rest) = match text.strip_prefix(['-', '+']) {
            Some(rest) => (text.starts_with('-'), rest.trim_start()),
            None => (false, text.as_str()),
        };
        let (number, unit) = split(rest);
        let word = match unit {
            "" => None,
            // "nan" and "inf" would otherwise be taken for mistyped units.
            _ if number.is_empty() => return Err(UnitError::not_a_number(&text, wanted)),
            _ => Some(Word::find(unit, wanted)?),
        };
        let number = Number::read(number).map_err(|fault| {
            let sign = if negative { "-" } else { "" };
            explain(fault, &text, sign, word.or(bare), wanted)
        })?;
        Ok(Typed { text, negative, number, word })
    }

    /// Returns the value in the base unit.
    pub(super) fn value(&self, word: &Word) -> f64 {
        let (upper, lower) = word.scale;
        let sign = if self.negative { -1.0 } else { 1.0 };
        match word.zero {
            0.0 => sign * self.number.times(word.scale),
            zero => (sign * self.number.times((1.0, 1.0)) - zero) * upper / lower,
        }
    }
}

/// Reads a value in its base unit; `bare` is the unit of a number without one.
pub(super) fn read_value(text: &str, wanted: Measure, bare: &'static Word) -> Result<f64, UnitError> {
    let typed = Typed::read(text, wanted, Some(bare))?;
    wanted.check(typed.value(typed.word.unwrap_or(bare)), Some(&typed.text))
}

fn explain(fault: Fault, text: &str, sign: &str, word: Option<&Word>, wanted: Measure) -> UnitError {
    match (fault, word) {
        (Fault::NotANumber, _) => UnitError::not_a_number(text, wanted),
        (Fault::ZeroDenominator, _) => UnitError::ZeroDenominator { typed: quotable(text) },
        (Fault::TopHeavy, _) => UnitError::OddFraction {
            typed: quotable(text),
            rule: "after a whole number the fraction is less than one, like 1 1/2",
            suggestion: None,
        },
        (Fault::DecimalComma(number), Some(word)) => {
            UnitError::DecimalComma { typed: quotable(text), suggestion: format!("{sign}{number} {}", word.shown()) }
        }
        (Fault::DecimalComma(number), None) => no_unit(text, &format!("{sign}{number}"), wanted),
    }
}

/// Returns the error for a number that could be read in more than one unit.
pub(super) fn no_unit(text: &str, number: &str, wanted: Measure) -> UnitError {
    match wanted {
        Measure::Time => could_be(text, number, &["s", "min", "h"]),
        Measure::SurfaceSpeed => could_be(text, number, &["m/min", "ft/min"]),
        Measure::Stress => could_be(text, number, &["MPa", "GPa", "psi"]),
        _ => could_be(text, number, &["mm", "in"]),
    }
}

/// Returns the error for a number that could be read in any of these units.
pub(super) fn could_be(text: &str, number: &str, units: &[&str]) -> UnitError {
    let readings = units.iter().map(|unit| format!("{} {unit}", quotable(number))).collect();
    UnitError::NoUnit { typed: quotable(text), readings }
}

/// Returns the text trimmed and in plain characters: `½` as 1/2, `″` as ", other dashes and spaces as - and space.
pub(super) fn plain(text: &str, wanted: Measure) -> Result<String, UnitError> {
    let text = text.trim();
    // Counting all of a huge text is no use to anyone; a bounded look is enough to refuse it.
    if text.len() > MOST_CHARS {
        let chars = text.chars().count();
        if chars > MOST_CHARS {
            return Err(UnitError::TooLong { chars, most: MOST_CHARS });
        }
    }
    if text.is_empty() {
        return Err(UnitError::Empty { wanted });
    }
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '″' | '”' | '“' => plain.push('"'),
            '’' | '‘' | '′' | '`' => plain.push('\''),
            '⁄' | '∕' => plain.push('/'),
            '−' | '–' | '‐' | '‑' => plain.push('-'),
            'º' => plain.push('°'),
            c if c.is_whitespace() => plain.push(' '),
            c => match vulgar_fraction(c) {
                Some(fraction) => {
                    if !plain.ends_with(' ') {
                        plain.push(' ');
                    }
                    plain.push_str(fraction);
                }
                None => plain.push(c),
            },
        }
    }
    Ok(plain.trim().replace("''", "\""))
}

fn vulgar_fraction(c: char) -> Option<&'static str> {
    Some(match c {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅕' => "1/5",
        '⅒' => "1/10",
        _ => return None,
    })
}

/// Splits a text after its number.
pub(super) fn split(text: &str) -> (&str, &str) {
    let end = text.find(|c: char| !(c.is_ascii_digit() || " .,/-".contains(c))).unwrap_or(text.len());
    (text[..end].trim(), text[end..].trim())
}
