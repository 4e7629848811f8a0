//! How long something takes.

use std::fmt;
use std::str::FromStr;
use std::time::Duration;

use super::error::{UnitError, quotable};
use super::finite::Finite;
use super::number::shown;
use super::typed::{Typed, could_be, no_unit, plain, split};
use super::word::Word;
use super::{Measure, Unit};

/// A span of time, from 0 to 3650 days. A day is 24 h.
///
/// ```
/// use stepjig::units::Span;
///
/// let cure: Span = "1 h 30 min".parse()?;
/// assert_eq!(cure.minutes(), 90.0);
/// assert!("overnight".parse::<Span>().is_err());
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span(Finite);

impl Span {
    /// Returns a span of so many seconds.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, below 0, or above 3650 days.
    pub fn from_seconds(seconds: f64) -> Result<Span, UnitError> {
        Measure::Time.check(seconds, None).map(|seconds| Span(Finite(seconds)))
    }

    /// Returns a span of so many minutes.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, below 0, or above 3650 days.
    pub fn from_minutes(minutes: f64) -> Result<Span, UnitError> {
        Span::from_seconds(minutes * 60.0)
    }

    /// Returns a span of so many hours.
    ///
    /// # Errors
    /// [`UnitError`] if the number is not finite, below 0, or above 3650 days.
    pub fn from_hours(hours: f64) -> Result<Span, UnitError> {
        Span::from_seconds(hours * 3_600.0)
    }

    /// Reads a span: `20 min`, `1 h 30 min`, `24h`, `90 s`, `½ h`, `2 days`, `1 week`. Parts go from large to small.
    ///
    /// # Errors
    /// [`UnitError`] if it is no span: a bare number, a range, or a word such as "overnight" is none.
    pub fn parse(text: &str) -> Result<Span, UnitError> {
        Span::parse_in(text, None)
    }

    /// Reads a span as [`Span::parse`], a bare number in the given unit, if that is one of time.
    ///
    /// # Errors
    /// As [`Span::parse`], but for a bare number.
    pub fn parse_with(text: &str, bare: Unit) -> Result<Span, UnitError> {
        Span::parse_in(text, Some(bare.word()).filter(|word| word.measure == Measure::Time))
    }

    /// Returns the seconds.
    pub fn seconds(self) -> f64 {
        self.0.0
    }

    /// Returns the minutes.
    pub fn minutes(self) -> f64 {
        self.0.0 / 60.0
    }

    /// Returns the hours.
    pub fn hours(self) -> f64 {
        self.0.0 / 3_600.0
    }

    /// Returns the span for the standard library's clocks, to the nanosecond.
    pub fn to_duration(self) -> Duration {
        // Checked to be within 0 and 3650 days, where this cannot panic.
        Duration::from_secs_f64(self.0.0)
    }

    /// Returns a text that reads back as the very same span.
    pub fn exact(self) -> String {
        let said = self.to_string().replace('\u{a0}', " ");
        match Span::parse(&said) {
            Ok(read) if read == self => said,
            _ => format!("{} s", self.0.0),
        }
    }

    fn parse_in(text: &str, bare: Option<&'static Word>) -> Result<Span, UnitError> {
        let text = plain(text, Measure::Time)?;
        if let Some(sorry) = uncounted(&text) {
            return Err(sorry);
        }
        let mut seconds = 0.0;
        let mut smallest = f64::INFINITY;
        let mut rest = text.as_str();
        while !rest.is_empty() {
            let part;
            (part, rest) = first_part(rest);
            let typed = Typed::read(part, Measure::Time, bare)?;
            let is_alone = part.len() == text.len();
            let word = match (typed.word, bare) {
                (Some(word), _) => word,
                (None, Some(bare)) if is_alone => bare,
                (None, _) if rest.is_empty() => return Err(could_be(&text, &text, smaller(smallest))),
                (None, _) => return Err(no_unit(&text, part, Measure::Time)),
            };
            let value = Measure::Time.check(typed.value(word), Some(&text))?;
            if smallest <= word.scale.0 {
                return Err(UnitError::OutOfOrder { typed: quotable(&text) });
            }
            smallest = word.scale.0;
            seconds += value;
        }
        Measure::Time.check(seconds, Some(&text)).map(|seconds| Span(Finite(seconds)))
    }
}

/// Returns the units that may follow one of so many seconds.
fn smaller(seconds: f64) -> &'static [&'static str] {
    match seconds {
        ..=60.0 => &["s"],
        ..=3_600.0 => &["min", "s"],
        _ => &["s", "min", "h"],
    }
}

/// Returns the first number with its unit, and what follows it.
fn first_part(text: &str) -> (&str, &str) {
    let (number, _) = split(text);
    let after_number = text.find(number).unwrap_or(0) + number.len();
    let unit = text[after_number..].trim_start_matches(' ');
    let unit_end = unit.find(|c: char| c == ' ' || c.is_ascii_digit()).unwrap_or(unit.len());
    let (part, rest) = text.split_at(text.len() - unit.len() + unit_end);
    (part.trim(), rest.trim())
}

/// Tells of texts that are near to a time: "overnight", and 1:30, which may be hours or minutes.
fn uncounted(text: &str) -> Option<UnitError> {
    let typed = quotable(text);
    if ["overnight", "over night", "a night", "a while"].contains(&text.to_lowercase().as_str()) {
        return Some(UnitError::NotCounted { typed });
    }
    let (large, small) = text.split_once(':')?;
    let digits = |text: &str| (1..=2).contains(&text.len()) && text.chars().all(|c| c.is_ascii_digit());
    if !(digits(large) && digits(small)) {
        return None;
    }
    let readings = vec![format!("{large} h {small} min"), format!("{large} min {small} s")];
    Some(UnitError::NoUnit { typed, readings })
}

/// `90 s` as `1 min 30 s`, `20 min`, `1 h 30 min`, `24 h`, `2 days 3 h`; days from 48 h on. Rounded to the second from
/// a minute on, and to 3 decimals below.
impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.0 < 59.9995 {
            return f.pad(&format!("{}\u{a0}s", shown(self.0.0, 3)));
        }
        // At most 3650 days, so it fits.
        let seconds = self.0.0.round() as u32;
        let (days, seconds) = if seconds < 48 * 3_600 { (0, seconds) } else { (seconds / 86_400, seconds % 86_400) };
        let parts = [(days, "days"), (seconds / 3_600, "h"), (seconds / 60 % 60, "min"), (seconds % 60, "s")];
        let said: Vec<_> = parts.iter().filter(|(n, _)| *n > 0).map(|(n, unit)| format!("{n}\u{a0}{unit}")).collect();
        f.pad(&said.join(" "))
    }
}

/// As [`Span::parse`].
impl FromStr for Span {
    type Err = UnitError;

    fn from_str(text: &str) -> Result<Span, UnitError> {
        Span::parse(text)
    }
}
