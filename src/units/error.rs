//! What was wrong with a text or a number, and what may have been meant.

use std::fmt;

use super::Measure;

/// What was wrong with a text or a number.
///
/// `{}` shows what is wrong in one clause, [`help`](UnitError::help) says what to do about it, and `{:#}` shows both.
/// Texts that were typed are kept short enough to show, with control characters made visible.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum UnitError {
    /// Nothing was typed.
    Empty {
        /// What should have been.
        wanted: Measure,
    },
    /// More was typed than any reading needs.
    TooLong {
        /// How many characters there were.
        chars: usize,
        /// The most there may be.
        most: usize,
    },
    /// There is no number where one must be.
    NotANumber {
        /// What was typed.
        typed: String,
        /// What should have been.
        wanted: Measure,
    },
    /// The number is not a number, or infinite.
    NotFinite {
        /// What should have been.
        wanted: Measure,
    },
    /// The number is below zero where nothing can be.
    Negative {
        /// What was typed.
        typed: String,
        /// What it should be.
        wanted: Measure,
    },
    /// The number is absurdly small or large.
    OutOfRange {
        /// What was typed.
        typed: String,
        /// From where to where it may go.
        range: &'static str,
        /// What it should be.
        wanted: Measure,
    },
    /// The lower number of a fraction is zero.
    ZeroDenominator {
        /// What was typed.
        typed: String,
    },
    /// A fraction that no rule or drill is marked with.
    OddFraction {
        /// What was typed.
        typed: String,
        /// How fractions are written.
        rule: &'static str,
        /// What may have been meant.
        suggestion: Option<String>,
    },
    /// A comma stands where the decimal point should. A prompt may ask back once, and then read the suggestion.
    DecimalComma {
        /// What was typed.
        typed: String,
        /// The same with a point, and its unit: it can be read as it stands.
        suggestion: String,
    },
    /// The number has no unit, and could be read in more than one.
    NoUnit {
        /// What was typed.
        typed: String,
        /// The ways it could be read.
        readings: Vec<String>,
    },
    /// The unit is none that is known.
    UnknownUnit {
        /// The unit as it was typed.
        unit: String,
        /// What should have been.
        wanted: Measure,
        /// Units that are spelt nearly so.
        did_you_mean: Vec<&'static str>,
    },
    /// The unit measures something else.
    OtherMeasure {
        /// The unit as it was typed.
        unit: String,
        /// What it measures.
        measures: Measure,
        /// What should have been.
        wanted: Measure,
        /// Units of the wanted kind that are spelt nearly so.
        did_you_mean: Vec<&'static str>,
    },
    /// No clock face shows this.
    NotOnTheClock {
        /// What was typed.
        typed: String,
        /// What may have been meant.
        suggestion: Option<String>,
    },
    /// A time that cannot be counted, such as "overnight".
    NotCounted {
        /// What was typed.
        typed: String,
    },
    /// The parts of a time do not go from large to small.
    OutOfOrder {
        /// What was typed.
        typed: String,
    },
    /// The label of a gauge's unit is none that is known.
    UnknownLabel {
        /// The label.
        label: String,
        /// The label that is spelt nearly so.
        did_you_mean: Option<&'static str>,
    },
}

impl UnitError {
    /// Returns what to do about it, in one clause, where there is something to say.
    pub fn help(&self) -> Option<String> {
        match self {
            UnitError::Empty { wanted } | UnitError::NotANumber { wanted, .. } => {
                Some(format!("write it like {}", wanted.examples()))
            }
            UnitError::TooLong { .. } | UnitError::NotFinite { .. } => None,
            UnitError::Negative { typed, .. } => {
                let positive = typed.trim_start_matches(['-', '−']).trim_start();
                Some(format!("did you mean {positive}?"))
            }
            UnitError::OutOfRange { .. } => Some("is the point in its place, and the unit right?".to_owned()),
            UnitError::ZeroDenominator { .. } => Some("the lower number is never 0: 25/64".to_owned()),
            UnitError::OddFraction { rule, suggestion: None, .. } => Some((*rule).to_owned()),
            UnitError::OddFraction { rule, suggestion: Some(suggestion), .. } => {
                Some(format!("did you mean {suggestion}? {rule}"))
            }
            UnitError::DecimalComma { suggestion, .. } => Some(format!("{suggestion}? write a point")),
            UnitError::NoUnit { readings, .. } => Some(format!("{}? say which", one_of(readings))),
            UnitError::UnknownUnit { did_you_mean, wanted, .. } if did_you_mean.is_empty() => {
                Some(format!("write it like {}", wanted.examples()))
            }
            UnitError::OtherMeasure { did_you_mean, wanted, .. } if did_you_mean.is_empty() => {
                Some(format!("write it like {}", wanted.examples()))
            }
            UnitError::UnknownUnit { did_you_mean, .. } | UnitError::OtherMeasure { did_you_mean, .. } => {
                Some(format!("did you mean {}?", one_of(did_you_mean)))
            }
            UnitError::NotOnTheClock { suggestion: Some(suggestion), .. } => {
                Some(format!("did you mean {suggestion}?"))
            }
            UnitError::NotOnTheClock { suggestion: None, .. } => {
                Some(format!("write it like {}", Measure::ClockPosition.examples()))
            }
            UnitError::NotCounted { .. } => Some("say the hours, such as 12 h".to_owned()),
            UnitError::OutOfOrder { .. } => {
                Some("the largest part comes first, and each part once: 1 h 30 min".to_owned())
            }
            UnitError::UnknownLabel { did_you_mean: Some(label), .. } => Some(format!("did you mean `{label}`?")),
            UnitError::UnknownLabel { did_you_mean: None, .. } => {
                let labels = super::Unit::ALL.map(super::Unit::label);
                Some(format!("use one of: {}", labels.join(" ")))
            }
        }
    }

    /// Returns the text that may be read instead, if only the decimal comma was wrong: what a prompt asks back once.
    pub fn comma_reading(&self) -> Option<&str> {
        match self {
            UnitError::DecimalComma { suggestion, .. } => Some(suggestion),
            _ => None,
        }
    }

    /// Returns the texts that may have been meant, where only the unit is missing: "13 mm", "13 in".
    pub fn readings(&self) -> &[String] {
        match self {
            UnitError::NoUnit { readings, .. } => readings,
            _ => &[],
        }
    }

    pub(super) fn negative(typed: &str, wanted: Measure) -> UnitError {
        UnitError::Negative { typed: quotable(typed), wanted }
    }

    pub(super) fn out_of_range(typed: &str, range: &'static str, wanted: Measure) -> UnitError {
        UnitError::OutOfRange { typed: quotable(typed), range, wanted }
    }

    pub(super) fn not_a_number(typed: &str, wanted: Measure) -> UnitError {
        UnitError::NotANumber { typed: quotable(typed), wanted }
    }

    pub(super) fn not_on_the_clock(typed: &str, suggestion: Option<String>) -> UnitError {
        UnitError::NotOnTheClock { typed: quotable(typed), suggestion }
    }
}

impl fmt::Display for UnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            UnitError::Empty { wanted } => write!(f, "{} is missing", wanted.name())?,
            UnitError::TooLong { chars, most } => {
                write!(f, "{chars} characters are too long for a reading, which takes at most {most}")?;
            }
            UnitError::NotANumber { typed, wanted } => write!(f, "`{typed}` is not {}", wanted.name())?,
            UnitError::NotFinite { wanted } => write!(f, "{} must be a finite number", wanted.name())?,
            UnitError::Negative { typed, wanted } => write!(f, "{} is never below zero: `{typed}`", wanted.name())?,
            UnitError::OutOfRange { typed, range, wanted } => {
                write!(f, "`{typed}` is out of range: {} goes from {range}", wanted.name())?;
            }
            UnitError::ZeroDenominator { typed } => write!(f, "`{typed}` divides by zero")?,
            UnitError::OddFraction { typed, .. } => write!(f, "`{typed}` is not a fraction that is in use")?,
            UnitError::DecimalComma { typed, .. } => write!(f, "`{typed}` has a decimal comma")?,
            UnitError::NoUnit { typed, .. } => write!(f, "`{typed}` has no unit")?,
            UnitError::UnknownUnit { unit, wanted, .. } => {
                write!(f, "`{unit}` is not a unit of {}", wanted.noun())?;
            }
            UnitError::OtherMeasure { unit, measures, wanted, .. } => {
                write!(f, "`{unit}` is a unit of {}, and {} is wanted", measures.noun(), wanted.name())?;
            }
            UnitError::NotOnTheClock { typed, .. } => write!(f, "`{typed}` is not on the face of a clock")?,
            UnitError::NotCounted { typed } => write!(f, "`{typed}` is not a time that can be counted")?,
            UnitError::OutOfOrder { typed } => write!(f, "the parts of `{typed}` are out of order")?,
            UnitError::UnknownLabel { label, .. } => write!(f, "no gauge reads in `{label}`")?,
        }
        match self.help() {
            Some(help) if f.alternate() => write!(f, ": {help}"),
            _ => Ok(()),
        }
    }
}

impl std::error::Error for UnitError {}

/// Returns "a, b or c".
fn one_of<S: AsRef<str>>(choices: &[S]) -> String {
    let mut said = String::new();
    for (n, choice) in choices.iter().enumerate() {
        if n > 0 {
            said.push_str(if n + 1 == choices.len() { " or " } else { ", " });
        }
        said.push_str(choice.as_ref());
    }
    said
}

/// Returns a typed text short and safe enough to be shown: what a stranger types must not steer a terminal.
pub(super) fn quotable(typed: &str) -> String {
    const MOST: usize = 40;
    let mut quoted: String = typed.chars().take(MOST).map(visible).collect();
    if typed.chars().count() > MOST {
        quoted.push('…');
    }
    quoted
}

fn visible(c: char) -> char {
    let steers = matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}');
    if c.is_control() || steers { '\u{fffd}' } else { c }
}
