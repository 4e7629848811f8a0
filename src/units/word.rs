//! The words for units that may be typed: one table.

use super::error::{UnitError, quotable};
use super::measure::Measure;

/// A unit that may be typed after a number.
#[derive(Debug, PartialEq)]
pub(super) struct Word {
    pub(super) measure: Measure,
    /// How it may be spelt, in small letters; the first is how an error shows it, in whatever letters.
    spellings: &'static [&'static str],
    /// How many base units it is, as an upper and a lower part; both are exact.
    pub(super) scale: (f64, f64),
    /// Where its zero lies, in its own unit: 32 for degrees Fahrenheit.
    pub(super) zero: f64,
}

impl Word {
    /// Returns how an error shows it.
    pub(super) fn shown(&self) -> &'static str {
        self.spellings[0]
    }

    /// Tells whether the unit is also spelt so.
    pub(super) fn is_spelt(&self, typed: &str) -> bool {
        self.spellings.contains(&typed.to_lowercase().as_str())
    }

    /// Finds the word for a unit of the wanted kind.
    pub(super) fn find(typed: &str, wanted: Measure) -> Result<&'static Word, UnitError> {
        let small = typed.to_lowercase();
        let small = small.strip_suffix('.').unwrap_or(&small).split_whitespace().collect::<Vec<_>>().join(" ");
        let named = |word: &&&Word| word.spellings.contains(&small.as_str());
        if let Some(word) = WORDS.iter().filter(|word| word.measure == wanted).find(named) {
            return Ok(word);
        }
        let (fitting, other): (Vec<_>, Vec<_>) = WORDS.iter().partition(|word| word.measure == wanted);
        let did_you_mean = nearest(&small, &fitting);
        match other.iter().find(named) {
            Some(word) => {
                Err(UnitError::OtherMeasure { unit: quotable(typed), measures: word.measure, wanted, did_you_mean })
            }
            None => Err(UnitError::UnknownUnit { unit: quotable(typed), wanted, did_you_mean }),
        }
    }
}

/// Returns the words that begin so or are spelt most nearly so: a slip in a short word, two in a long one.
fn nearest(typed: &str, words: &[&'static Word]) -> Vec<&'static str> {
    let slips = if typed.chars().count() <= 4 { 1 } else { 2 };
    // A one-letter unit is one slip away from any other letter, which tells nothing.
    let long_enough = |word: &Word| word.spellings.iter().copied().filter(|spelling| spelling.chars().count() > 1);
    let distance = |spelling: &str| match spelling.starts_with(typed) {
        true => 0,
        false => strsim::osa_distance(typed, spelling),
    };
    let near = words.iter().filter_map(|word| Some((long_enough(word).map(distance).min()?, word.shown())));
    let near: Vec<_> = near.filter(|(distance, _)| *distance <= slips).collect();
    let least = near.iter().map(|(distance, _)| *distance).min();
    near.into_iter().filter(|(distance, _)| Some(*distance) == least).map(|(_, shown)| shown).collect()
}

pub(super) static MILLIMETRE: Word =
    word(Measure::Length, &["mm", "millimetre", "millimetres", "millimeter", "millimeters"], (1.0, 1.0));
static CENTIMETRE: Word =
    word(Measure::Length, &["cm", "centimetre", "centimetres", "centimeter", "centimeters"], (10.0, 1.0));
/// 1 in = 25.4 mm exactly: international yard and pound agreement, 1959.
pub(super) static INCH: Word = word(Measure::Length, &["in", "\"", "inch", "inches", "ins"], (254.0, 10.0));

pub(super) static DEGREE: Word = word(Measure::Angle, &["deg", "°", "degs", "degree", "degrees"], (1.0, 1.0));
pub(super) static TURN: Word = word(Measure::Angle, &["turns", "turn"], (360.0, 1.0));

pub(super) static SECOND: Word = word(Measure::Time, &["s", "sec", "secs", "second", "seconds"], (1.0, 1.0));
pub(super) static MINUTE: Word = word(Measure::Time, &["min", "mins", "minute", "minutes"], (60.0, 1.0));
pub(super) static HOUR: Word = word(Measure::Time, &["h", "hr", "hrs", "hour", "hours"], (3_600.0, 1.0));
static DAY: Word = word(Measure::Time, &["days", "day", "d"], (86_400.0, 1.0));
static WEEK: Word = word(Measure::Time, &["weeks", "week", "wk", "wks"], (604_800.0, 1.0));

pub(super) static GRAM: Word = word(Measure::Weight, &["g", "gram", "grams", "gramme", "grammes"], (1.0, 1.0));
static KILOGRAM: Word = word(Measure::Weight, &["kg", "kilogram", "kilograms"], (1_000.0, 1.0));
/// 1 oz = 453.592 37 g / 16 exactly: the same agreement of 1959.
static OUNCE: Word = word(Measure::Weight, &["oz", "ounce", "ounces"], (45_359_237.0, 1_600_000.0));

pub(super) static PERCENT: Word = word(Measure::Share, &["%", "percent", "per cent", "pct"], (1.0, 1.0));

pub(super) static CELSIUS: Word =
    word(Measure::Temperature, &["c", "°c", "deg c", "degrees c", "celsius", "degrees celsius"], (1.0, 1.0));
static FAHRENHEIT: Word = Word {
    measure: Measure::Temperature,
    spellings: &["f", "°f", "deg f", "degrees f", "fahrenheit", "degrees fahrenheit"],
    scale: (5.0, 9.0),
    zero: 32.0,
};

pub(super) static TURNS_A_MINUTE: Word =
    word(Measure::Speed, &["rev/min", "rpm", "r/min", "revs/min", "rev per min", "turns a minute"], (1.0, 1.0));

pub(super) static METRE_A_MINUTE: Word =
    word(Measure::SurfaceSpeed, &["m/min", "metres a minute", "meters a minute"], (1.0, 1.0));
static METRE_A_SECOND: Word = word(Measure::SurfaceSpeed, &["m/s", "metres a second", "meters a second"], (60.0, 1.0));
/// 1 ft = 0.3048 m exactly: the same agreement of 1959.
static FOOT_A_MINUTE: Word =
    word(Measure::SurfaceSpeed, &["ft/min", "sfm", "fpm", "feet a minute"], (3_048.0, 10_000.0));
static MEGAPASCAL: Word =
    word(Measure::Stress, &["MPa", "mpa", "n/mm2", "n/mm²", "n/mm^2", "megapascal", "megapascals"], (1.0, 1.0));
static GIGAPASCAL: Word = word(Measure::Stress, &["GPa", "gpa", "kn/mm2", "gigapascal", "gigapascals"], (1_000.0, 1.0));
/// Pound-force 4.448 221 615 260 5 N over the square inch of 645.16 mm².
static PSI: Word =
    word(Measure::Stress, &["psi", "lbf/in2", "lb/in2"], (44_482_216_152_605.0, 6_451_600_000_000_000.0));

static WORDS: [&Word; 24] = [
    &MILLIMETRE,
    &CENTIMETRE,
    &INCH,
    &DEGREE,
    &TURN,
    &SECOND,
    &MINUTE,
    &HOUR,
    &DAY,
    &WEEK,
    &GRAM,
    &KILOGRAM,
    &OUNCE,
    &PERCENT,
    &CELSIUS,
    &FAHRENHEIT,
    &TURNS_A_MINUTE,
    &METRE_A_MINUTE,
    &METRE_A_SECOND,
    &FOOT_A_MINUTE,
    &MEGAPASCAL,
    &GIGAPASCAL,
    &PSI,
    &O_CLOCK,
];

/// One hour on the face; clock positions themselves are read by their own rules.
pub(super) static O_CLOCK: Word = word(Measure::ClockPosition, &["o'clock", "oclock", "clock"], (60.0, 1.0));

const fn word(measure: Measure, spellings: &'static [&'static str], scale: (f64, f64)) -> Word {
    Word { measure, spellings, scale, zero: 0.0 }
}
