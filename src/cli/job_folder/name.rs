//! The name of a job, which is also the name of its folder on any system.

use std::fmt;
use std::str::FromStr;

/// A job's name: 1 to 64 letters, digits, `-`, `_` and `.`, all ASCII.
///
/// It begins with a letter, a digit or `_` and does not end in a dot, so it is never a path, a hidden file or an
/// option; and it is not a device of Windows (`con`, `nul.txt`), to whose owners the folder may be copied.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobName(String);

impl JobName {
    /// Returns the name as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for JobName {
    type Err = JobNameError;

    fn from_str(text: &str) -> Result<JobName, JobNameError> {
        let Some(first) = text.chars().next() else { return Err(JobNameError::Empty) };
        if !(first.is_ascii_alphanumeric() || first == '_') {
            return Err(JobNameError::Begins { with: first });
        }
        if let Some(with) = text.chars().find(|letter| !letter.is_ascii_alphanumeric() && !"-_.".contains(*letter)) {
            return Err(JobNameError::Holds { with });
        }
        if text.ends_with('.') {
            return Err(JobNameError::EndsInDot);
        }
        if text.len() > 64 {
            return Err(JobNameError::TooLong { letters: text.len() });
        }
        if is_device(text) {
            return Err(JobNameError::Reserved);
        }
        Ok(JobName(text.to_owned()))
    }
}

/// Whether Windows takes a file of this name for a device, whatever follows the first dot.
fn is_device(text: &str) -> bool {
    let stem = text.split('.').next().unwrap_or(text).to_ascii_lowercase();
    let is_port = stem.len() == 4
        && (stem.starts_with("com") || stem.starts_with("lpt"))
        && stem.ends_with(|digit: char| matches!(digit, '1'..='9'));
    is_port || matches!(stem.as_str(), "con" | "prn" | "aux" | "nul")
}

impl fmt::Display for JobName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Why a text is not a job's name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum JobNameError {
    /// There is no letter in it.
    Empty,
    /// It is longer than 64 letters.
    TooLong {
        /// How many it has.
        letters: usize,
    },
    /// It begins with something else than a letter, a digit or `_`.
    Begins {
        /// What it begins with.
        with: char,
    },
    /// It holds something else than letters, digits, `-`, `_` and `.`.
    Holds {
        /// The first such character.
        with: char,
    },
    /// Its last character is a dot.
    EndsInDot,
    /// Windows keeps the name for a device.
    Reserved,
}

impl fmt::Display for JobNameError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // What was typed may be hostile: only printable ASCII is repeated as it is.
        let shown = |with: &char| match with {
            ' ' => "a space".to_owned(),
            with if with.is_ascii_graphic() => format!("`{with}`"),
            with => format!("U+{:04X}", u32::from(*with)),
        };
        match self {
            JobNameError::Empty => f.write_str("a job's name is empty"),
            JobNameError::TooLong { letters } => write!(f, "a job's name has at most 64 letters, not {letters}"),
            JobNameError::Begins { with } => {
                write!(f, "a job's name begins with a letter, a digit or `_`, not with {}", shown(with))
            }
            JobNameError::Holds { with } => {
                write!(f, "a job's name is made of the letters a to z, digits, `-`, `_` and `.`, not {}", shown(with))
            }
            JobNameError::EndsInDot => f.write_str("a job's name does not end in a dot"),
            JobNameError::Reserved => f.write_str("the name is kept for a device on Windows, so no job is called that"),
        }
    }
}

impl std::error::Error for JobNameError {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names() {
        let longest = "x".repeat(64);
        for good in ["a", "Demo", "walnut-gift.2", "2", "_draft", "a..b", "console", "com0", "com11", "lpt", &longest] {
            assert_eq!(good.parse::<JobName>().map(|name| name.to_string()), Ok(good.to_owned()));
        }
        let begins = "a job's name begins with a letter, a digit or `_`, not with ";
        let holds = "a job's name is made of the letters a to z, digits, `-`, `_` and `.`, not ";
        let reserved = "the name is kept for a device on Windows, so no job is called that";
        for (bad, said) in [
            ("", "a job's name is empty".to_owned()),
            (".", format!("{begins}`.`")),
            ("..", format!("{begins}`.`")),
            ("../x", format!("{begins}`.`")),
            (".hidden", format!("{begins}`.`")),
            ("-x", format!("{begins}`-`")),
            ("/etc", format!("{begins}`/`")),
            ("\u{202e}a", format!("{begins}U+202E")),
            ("a/b", format!("{holds}`/`")),
            ("a\\b", format!("{holds}`\\`")),
            ("a b", format!("{holds}a space")),
            ("a\x1b[2J", format!("{holds}U+001B")),
            ("a\0", format!("{holds}U+0000")),
            ("walnuß", format!("{holds}U+00DF")),
            ("a.", "a job's name does not end in a dot".to_owned()),
            ("NUL", reserved.to_owned()),
            ("con.2", reserved.to_owned()),
            ("prn", reserved.to_owned()),
            ("Aux", reserved.to_owned()),
            ("com1", reserved.to_owned()),
            ("LPT9.x", reserved.to_owned()),
            (&"x".repeat(65), "a job's name has at most 64 letters, not 65".to_owned()),
        ] {
            assert_eq!(bad.parse::<JobName>().map_err(|error| error.to_string()), Err(said), "{bad:?}");
        }
    }
}
