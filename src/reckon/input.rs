//! What a reckoning asks for.

use super::DataFile;
use crate::units::Measure;

/// One value that a reckoning asks for, or can use.
#[derive(Debug)]
pub struct Input {
    /// Its name, as the shell and guides write it.
    pub name: &'static str,
    /// What is read.
    pub kind: Kind,
    /// What it means, in a turner's words: "the outside of the tube, measured".
    pub meaning: &'static str,
    /// What is taken where nothing is given.
    pub usual: Usual,
}

impl Input {
    /// Returns what it is in a few words, the beginning of its meaning: "the outside of the tube".
    pub fn words(&self) -> &'static str {
        self.meaning.split([',', ';', ':', '(']).next().unwrap_or(self.name).trim_end()
    }

    /// Returns a text that it reads, to show how it is typed.
    pub fn example(&self) -> String {
        let near = |usual: f64, least: f64, most: f64, unit: &str| format!("{} {unit}", usual.clamp(least, most));
        match self.kind {
            Kind::Length { least, most } | Kind::Bore { least, most, .. } | Kind::Lengths { least, most } => {
                near(10.0, least, most, "mm")
            }
            Kind::Angle { least, most } => near(20.0, least, most, "deg"),
            Kind::Turns { least, most } => 1.25_f64.clamp(least, most).to_string(),
            Kind::Clock => "2:30".to_owned(),
            Kind::Seconds { least, most } => near(20.0, least, most, "s"),
            Kind::Minutes { least, most } => near(20.0, least, most, "min"),
            Kind::Temperature { least, most } => near(20.0, least, most, "C"),
            Kind::Humidity => "50 %".to_owned(),
            Kind::Speed { least, most } => near(1500.0, least, most, "rev/min"),
            Kind::SurfaceSpeed { least, most } => near(60.0, least, most, "m/min"),
            Kind::Stress { least, most } => near(2000.0, least, most, "MPa"),
            Kind::Climate => "20C/65%".to_owned(),
            Kind::Count { least, most } => 3.clamp(least, most).to_string(),
            Kind::Number { most, .. } => most.to_string(),
            Kind::Choice(words) | Kind::Choices(words) => words.first().copied().unwrap_or_default().to_owned(),
            Kind::Name(_) => self.kind.examples().to_owned(),
        }
    }
}

/// What is taken where an input is not given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Usual {
    /// Nothing: it is asked for where the sum needs it.
    Asked,
    /// This text, which reads as the input.
    Text(&'static str),
    /// The entry of `practice.toml` with this key, `drill-for.least`: common practice, which a shop can set otherwise.
    Practice(&'static str),
}

/// What is read for an input, and from where to where it makes sense. The ends are good unless they are said not to be.
#[derive(Debug, Clone, Copy)]
pub enum Kind {
    /// A length, in mm.
    Length {
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// The width of a bore: a length in mm, a bit by its name, or one of these words where it cannot be measured.
    Bore {
        /// The words.
        words: &'static [&'static str],
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// Lengths with commas between, in mm each.
    Lengths {
        /// The least of each.
        least: f64,
        /// The most of each.
        most: f64,
    },
    /// An angle, in degrees; turns may be typed.
    Angle {
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// Turns; degrees may be typed.
    Turns {
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// A clock position.
    Clock,
    /// A time; a bare number is in seconds.
    Seconds {
        /// The least, in seconds.
        least: f64,
        /// The most, in seconds.
        most: f64,
    },
    /// A time; a bare number is in minutes.
    Minutes {
        /// The least, in minutes.
        least: f64,
        /// The most, in minutes.
        most: f64,
    },
    /// A temperature, in °C; °F may be typed.
    Temperature {
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// Relative humidity in percent, strictly between 0 and 100.
    Humidity,
    /// A speed in turns a minute.
    Speed {
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// A surface speed, in m/min; ft/min may be typed.
    SurfaceSpeed {
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// A stress, strength or stiffness, in MPa.
    Stress {
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// The air that wood stands in, `20C/65%`, or the wood's own moisture content, `8 %`.
    Climate,
    /// A whole number.
    Count {
        /// The least.
        least: u32,
        /// The most.
        most: u32,
    },
    /// A number without a unit, its least end excluded.
    Number {
        /// It is above this.
        above: f64,
        /// The most.
        most: f64,
    },
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Some of these words, with commas between.
    Choices(&'static [&'static str]),
    /// A name that a table lists: a wood, a glue.
    Name(DataFile),
}

impl Kind {
    /// Returns from where to where it goes, in words: "3 mm to 60 mm".
    pub fn range(self) -> String {
        match self {
            Kind::Length { least, most } => from_to(least, most, "mm"),
            Kind::Bore { words, least, most } => {
                let words = if words.is_empty() { String::new() } else { format!("{}, or ", one_of(words)) };
                format!("{words}{}, or a bit by its name", from_to(least, most, "mm"))
            }
            Kind::Lengths { least, most } => format!("each {}", from_to(least, most, "mm")),
            Kind::Angle { least, most } => from_to(least, most, "deg"),
            Kind::Turns { least, most } => from_to(least, most, "turns"),
            Kind::Clock => "any place on the clock".to_owned(),
            Kind::Seconds { least, most } => from_to(least, most, "s"),
            Kind::Minutes { least, most } => from_to(least, most, "min"),
            Kind::Temperature { least, most } => from_to(least, most, "C"),
            Kind::Humidity => "over 0 % to under 100 %: air is never quite dry, and at 100 % the wood drips".to_owned(),
            Kind::Speed { least, most } => from_to(least, most, "rev/min"),
            Kind::SurfaceSpeed { least, most } => from_to(least, most, "m/min"),
            Kind::Stress { least, most } => from_to(least, most, "MPa"),
            Kind::Climate => {
                "air of 30 F to 210 F and over 0 % to under 100 %, or a moisture of 0 % to 30 %".to_owned()
            }
            Kind::Count { least, most } => format!("{least} to {most}, a whole number"),
            Kind::Number { above, most } => format!("over {above} to {most}"),
            Kind::Choice(words) => one_of(words),
            Kind::Choices(words) => format!("{}; several with commas between", one_of(words)),
            Kind::Name(_) => "a name".to_owned(),
        }
    }

    /// Returns a text or two that read well: "25/64, .391 in or 9.92 mm".
    pub fn examples(self) -> &'static str {
        let measure = match self {
            Kind::Length { .. } => Measure::Length,
            Kind::Clock => Measure::ClockPosition,
            Kind::Seconds { .. } | Kind::Minutes { .. } => Measure::Time,
            Kind::Temperature { .. } => Measure::Temperature,
            Kind::Humidity => Measure::Share,
            Kind::Speed { .. } => Measure::Speed,
            Kind::SurfaceSpeed { .. } => Measure::SurfaceSpeed,
            Kind::Stress { .. } => Measure::Stress,
            Kind::Angle { .. } => return "20 deg",
            Kind::Turns { .. } => return "1.25 or 1 1/4",
            Kind::Lengths { .. } => return "52 mm, 40 mm",
            Kind::Climate => return "20C/65% or 8 %",
            Kind::Count { .. } => return "3",
            Kind::Number { .. } => return "0.35",
            Kind::Choice(words) | Kind::Choices(words) => return words.first().copied().unwrap_or(""),
            Kind::Name(_) => return "its name in words",
            Kind::Bore { .. } => return "25/64, .391 in, 9.92 mm, letter X or number 7",
        };
        measure.examples()
    }

    /// Returns the words of which one is to be chosen, where it is nothing else.
    pub fn choices(self) -> &'static [&'static str] {
        match self {
            Kind::Choice(words) => words,
            _ => &[],
        }
    }
}

/// Returns "3 mm to 60 mm".
pub(super) fn from_to(least: f64, most: f64, unit: &str) -> String {
    format!("{least} {unit} to {most} {unit}")
}

/// Returns "`metal` or `wood`".
fn one_of(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} or {last}", others.join(", ")),
        None => String::new(),
    }
}
