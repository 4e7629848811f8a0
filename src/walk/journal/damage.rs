//! What can be wrong with a journal, as values; how each is met is in the table of [the module above](super).

use std::fmt;

/// A fault that leaves the rest of the journal readable.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Damage {
    /// The last line was cut short while it was written, so nobody was told that it is recorded.
    TornTail {
        /// Where the cut line begins, in bytes from 0; everything before it is whole lines.
        byte: u64,
        /// How many bytes there are of it.
        bytes: u64,
        /// The number that its record would have had.
        record: u64,
    },
    /// Something before the end is wrong. Neighbouring unusable lines make one report.
    Middle {
        /// The first line concerned, from 1.
        line: u64,
        /// Where that line begins, in bytes from 0.
        byte: u64,
        /// How many lines from there on cannot be used; 0 if something is missing and nothing unusable.
        lines: u64,
        /// How many bytes they have.
        bytes: u64,
        /// The number of the first record concerned.
        record: u64,
        /// What is wrong with the first of them.
        why: Why,
    },
}

/// What is wrong with a line that is not the torn last one.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum Why {
    /// It is not a record: no checksum at its end, or under a right one not the fields of a record.
    NotARecord,
    /// Its bytes do not add up to its checksum.
    Checksum,
    /// It is a whole record, but its event is not one that this program knows.
    Event {
        /// What the reader of the event said, in printable ASCII.
        message: String,
    },
    /// It is a whole record of another job.
    OtherJob {
        /// That job's name, in printable ASCII.
        job: String,
    },
    /// Records are missing before it.
    Gap {
        /// The number that it bears.
        found: u64,
    },
    /// Its number is not above those before it.
    Repeat {
        /// The number that it bears.
        found: u64,
    },
    /// It is longer than a line may be.
    TooLong {
        /// Its length in bytes, line end included.
        bytes: u64,
    },
}

/// Why a journal is not read at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Refused {
    /// A newer stepjig wrote in it; this one must not write and could misread.
    NewerFormat {
        /// The format of the line.
        version: u64,
        /// The line, from 1.
        line: u64,
    },
    /// It is larger than a journal may be.
    TooLong {
        /// Its length in bytes.
        bytes: u64,
        /// The most that is read.
        most: u64,
    },
}

/// One line, lower case, no full stop.
impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Damage::TornTail { byte, bytes, record } => {
                write!(f, "record {record} at byte {byte}: cut off while it was written, {bytes} bytes are there")
            }
            Damage::Middle { line, byte, lines, record, why, .. } => {
                write!(f, "record {record} at byte {byte} (line {line}): {why}")?;
                if *lines > 1 { write!(f, "; {} more unusable after it", lines - 1) } else { Ok(()) }
            }
        }
    }
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Why::NotARecord => f.write_str("not a record"),
            Why::Checksum => f.write_str("the checksum does not match"),
            Why::Event { message } => write!(f, "an event that this program does not know ({message})"),
            Why::OtherJob { job } => write!(f, "a record of another job, `{job}`"),
            Why::Gap { found } => write!(f, "missing; the next one is {found}"),
            Why::Repeat { found } => write!(f, "numbered {found}, which is not above the one before"),
            Why::TooLong { bytes } => write!(f, "a line of {bytes} bytes, which is too long"),
        }
    }
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refused::NewerFormat { version, line } => {
                write!(f, "line {line} is in journal format {version}, which needs a newer stepjig")
            }
            Refused::TooLong { bytes, most } => write!(f, "{bytes} bytes long, and {most} is the most"),
        }
    }
}

impl std::error::Error for Refused {}

/// Returns `text` with all but printable ASCII escaped, cut after some 200 characters: parsers repeat what they read,
/// and that may be hostile.
pub(super) fn printable(text: &str) -> String {
    let mut shown = String::new();
    for letter in text.chars() {
        if shown.len() >= 200 {
            shown.push_str("...");
            break;
        }
        if letter.is_ascii_graphic() || letter == ' ' {
            shown.push(letter);
        } else {
            shown.extend(letter.escape_unicode());
        }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fault_is_one_plain_line() {
        let middle = |lines, why| Damage::Middle { line: 4, byte: 300, lines, bytes: 90, record: 5, why };
        for (said, expected) in [
            (
                Damage::TornTail { byte: 300, bytes: 12, record: 5 }.to_string(),
                "record 5 at byte 300: cut off while it was written, 12 bytes are there",
            ),
            (middle(1, Why::NotARecord).to_string(), "record 5 at byte 300 (line 4): not a record"),
            (
                middle(3, Why::Checksum).to_string(),
                "record 5 at byte 300 (line 4): the checksum does not match; 2 more unusable after it",
            ),
            (
                middle(1, Why::Event { message: "unknown variant `x`".into() }).to_string(),
                "record 5 at byte 300 (line 4): an event that this program does not know (unknown variant `x`)",
            ),
            (
                middle(1, Why::OtherJob { job: "gift".into() }).to_string(),
                "record 5 at byte 300 (line 4): a record of another job, `gift`",
            ),
            (middle(0, Why::Gap { found: 7 }).to_string(), "record 5 at byte 300 (line 4): missing; the next one is 7"),
            (
                middle(1, Why::Repeat { found: 4 }).to_string(),
                "record 5 at byte 300 (line 4): numbered 4, which is not above the one before",
            ),
            (
                middle(1, Why::TooLong { bytes: 70_000 }).to_string(),
                "record 5 at byte 300 (line 4): a line of 70000 bytes, which is too long",
            ),
            (
                Refused::NewerFormat { version: 2, line: 4 }.to_string(),
                "line 4 is in journal format 2, which needs a newer stepjig",
            ),
            (Refused::TooLong { bytes: 9, most: 8 }.to_string(), "9 bytes long, and 8 is the most"),
        ] {
            assert_eq!(said, expected);
        }
    }

    #[test]
    fn hostile_text_is_defused_and_cut() {
        assert_eq!(printable("a \x1b[2J\u{202e}\u{9b}é\n"), r"a \u{1b}[2J\u{202e}\u{9b}\u{e9}\u{a}");
        assert_eq!(printable(&"x".repeat(200)), "x".repeat(200));
        assert_eq!(printable(&"x".repeat(70_000)), "x".repeat(200) + "...");
    }
}
