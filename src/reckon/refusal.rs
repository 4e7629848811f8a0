//! Why a reckoning is not worked out.

use std::fmt;

use super::input::Input;
use crate::finding::Place;
use crate::units::UnitError;

/// Why a reckoning is not worked out. `{}` says which value and what is wrong; [`help`](Refusal::help) what to do.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Refusal {
    /// A value that it cannot do without.
    Missing {
        /// The input's name.
        input: &'static str,
        /// What it means.
        meaning: &'static str,
    },
    /// A name that it does not ask for.
    Unknown {
        /// The name as it was typed.
        typed: String,
        /// The name that is spelt nearly so.
        near: Option<&'static str>,
        /// All names that it asks for.
        names: Vec<&'static str>,
    },
    /// A value that was given twice.
    Twice {
        /// The input's name.
        input: &'static str,
    },
    /// A text that does not read.
    Unreadable {
        /// The input's name.
        input: &'static str,
        /// What is wrong with it.
        fault: UnitError,
    },
    /// A value that no bench has seen, or that cannot be.
    OutOfRange {
        /// The input's name.
        input: &'static str,
        /// The value as it was typed.
        typed: String,
        /// From where to where it goes, "3 mm to 60 mm".
        range: String,
        /// What may have slipped: "did you mean 9.92 mm?".
        slip: Option<String>,
        /// A value that would do: the one that may have been meant, else an example; none where others decide.
        meant: Option<String>,
    },
    /// A word that is none of those it may be.
    NotListed {
        /// The input's name.
        input: &'static str,
        /// The word as it was typed.
        typed: String,
        /// Those that are spelt nearly so, or all where they are few.
        near: Vec<String>,
        /// What can be given instead: "or give its `e`, `nu` and `strength`".
        instead: Option<&'static str>,
    },
    /// A listed thing lacks the figure that the sum needs; it is never guessed.
    NoFigure {
        /// What it is of.
        of: String,
        /// The figure.
        figure: &'static str,
        /// What can be given instead.
        instead: &'static str,
    },
    /// Values that cannot be true together, or of which one too many was given.
    Contradicts {
        /// The input that is refused.
        input: &'static str,
        /// What it contradicts, in a clause.
        why: String,
        /// What to do.
        help: String,
    },
    /// A table that the shop laid over the shipped one has a fault.
    Table {
        /// Where, in the shop's file.
        place: Place,
        /// What is wrong.
        fault: String,
    },
}

impl Refusal {
    /// Returns the input that another value would put right, where it is one alone.
    pub fn input(&self) -> Option<&'static str> {
        match self {
            Refusal::Missing { input, .. }
            | Refusal::Unreadable { input, .. }
            | Refusal::OutOfRange { input, .. }
            | Refusal::NotListed { input, .. } => Some(input),
            _ => None,
        }
    }

    /// Returns the text that may be read instead, if only a decimal comma was wrong: what a prompt asks back once.
    pub fn comma_reading(&self) -> Option<&str> {
        match self {
            Refusal::Unreadable { fault, .. } => fault.comma_reading(),
            _ => None,
        }
    }

    /// Returns what to do about it, and for a value of an input how another is typed: "give it as `bushing=13.1mm`".
    pub fn what_to_type(&self, input: Option<&Input>) -> Option<String> {
        let how = input.and_then(|input| self.give_it_as(input));
        match (self.help(), how) {
            (Some(help), Some(how)) if help.ends_with('?') => Some(format!("{help} {how}")),
            (Some(help), Some(how)) => Some(format!("{help}; {how}")),
            (help, how) => help.or(how),
        }
    }

    fn give_it_as(&self, input: &Input) -> Option<String> {
        let value = match self {
            Refusal::Unreadable { fault, .. } => {
                let meant = fault.comma_reading().or_else(|| fault.readings().first().map(String::as_str));
                meant.map_or_else(|| input.example(), str::to_owned)
            }
            Refusal::OutOfRange { meant, .. } => meant.clone()?,
            _ => return None,
        };
        // Without a space it is one word in a shell too.
        Some(format!("give it as `{}={}`", input.name, value.split_whitespace().collect::<String>()))
    }

    /// Returns what to do about it, where there is something to say.
    pub fn help(&self) -> Option<String> {
        match self {
            Refusal::Missing { input, meaning } => Some(format!("give it as {input}=…: {meaning}")),
            Refusal::Unknown { near: Some(near), .. } => Some(format!("did you mean `{near}`?")),
            Refusal::Unknown { names, .. } => Some(format!("it asks for: {}", names.join(", "))),
            Refusal::Twice { .. } => Some("give it once".to_owned()),
            Refusal::Unreadable { fault, .. } => {
                fault.help().or_else(|| Some("type the value alone, with its unit".to_owned()))
            }
            Refusal::OutOfRange { slip, .. } => {
                slip.clone().or_else(|| Some("is the point in its place, and the unit right?".to_owned()))
            }
            Refusal::NotListed { near, instead, .. } => {
                let near = (!near.is_empty()).then(|| format!("one of: {}", near.join(", ")));
                // After nothing there is nothing to say "or" to.
                let instead = instead.map(|text| if near.is_none() { text.trim_start_matches("or ") } else { text });
                let parts: Vec<String> = near.into_iter().chain(instead.map(str::to_owned)).collect();
                (!parts.is_empty()).then(|| parts.join("; "))
            }
            Refusal::NoFigure { instead, .. } => Some((*instead).to_owned()),
            Refusal::Contradicts { help, .. } => Some(help.clone()),
            Refusal::Table { .. } => Some("mend that entry, or take it out of the file".to_owned()),
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::Missing { input, .. } => write!(f, "`{input}` is missing"),
            Refusal::Unknown { typed, .. } => write!(f, "`{typed}` is nothing that it asks for"),
            Refusal::Twice { input } => write!(f, "`{input}` is given twice"),
            Refusal::Unreadable { input, fault } => write!(f, "`{input}`: {fault}"),
            Refusal::OutOfRange { input, typed, range, .. } => {
                write!(f, "`{input}`: `{typed}` is out of range, it goes from {range}")
            }
            Refusal::NotListed { input, typed, .. } => write!(f, "`{input}`: `{typed}` is not listed"),
            Refusal::NoFigure { of, figure, .. } => write!(f, "there is no published {figure} for {of}"),
            Refusal::Contradicts { input, why, .. } => write!(f, "`{input}`: {why}"),
            Refusal::Table { place, fault } => write!(f, "{place}: {fault}"),
        }
    }
}

impl std::error::Error for Refusal {}
