//! What a reckoning asks for.

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
    /// A length in mm, or one of these words where it cannot be measured.
    LengthOr {
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
    /// A name that a data table lists: a wood, a glue.
    Name,
}
