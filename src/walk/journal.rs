//! The journal of a job: one JSON line a record, each with its own checksum.
//!
//! ```text
//! {"v":1,"job":"demo","seq":17,"at":"2026-11-25T10:55:00Z","event":{…},"crc":"4f2a09d1"}⏎
//! ```
//!
//! - `v`: the format, [`FORMAT`].
//! - `job`: the job's name, so that a line pasted from another journal is noticed.
//! - `seq`: 1 for the first record, one more for each after it. It alone orders the records: the clock may go back.
//! - `at`: when it happened, as the caller's clock said.
//! - `event`: what happened; this module is generic over it.
//! - `crc`: CRC-32/ISO-HDLC, eight lower-case hex digits, of **the line without this field and without its line end**:
//!   every byte before `,"crc":"`, and then one `}`. That is again a JSON object, so the sum can be checked with
//!   `sed 's/,"crc":"[0-9a-f]*"}$/}/'` and any CRC-32 program.
//!
//! A line is a record once its line end is on disk; [`encode`] writes nothing else, [`decode`] believes nothing else.
//! Every later format must keep `{"v":N,` at the front of a line and the checksum at its end, so that an old program
//! can tell a newer journal from a damaged one.
//!
//! # What is done about damage
//!
//! | what is found | called | what becomes of the journal |
//! | --- | --- | --- |
//! | the last line has no line end, does not end in a checksum, or holds NUL bytes (a write that was cut short) | [`Damage::TornTail`] | it is set aside and said; appending goes on |
//! | anything else that is wrong with a line, or a number left out or used twice | [`Damage::Middle`] | read-only; intact records before **and after** it are kept |
//! | an intact line of a newer format, or a last line that was begun in one | [`Refused::NewerFormat`] | refused; nothing is written |
//! | more bytes than [`Limits::file`] | [`Refused::TooLong`] | refused unread |
//!
//! A bad last line that does end in a checksum is *not* taken for a torn one: it may have been confirmed to a person and
//! been damaged since, so nothing is cut off unasked.
//!
//! # Example
//! ```
//! use stepjig::walk::journal::{Record, decode, encode};
//!
//! let record = Record { seq: 1, at: "2026-11-25T10:55:00Z".parse().unwrap(), event: "glued".to_owned() };
//! let line = encode("demo", &record).unwrap();
//! assert_eq!(
//!     line,
//!     "{\"v\":1,\"job\":\"demo\",\"seq\":1,\"at\":\"2026-11-25T10:55:00Z\",\"event\":\"glued\",\"crc\":\"55092672\"}\n"
//! );
//!
//! let journal = decode::<String>(line.as_bytes(), "demo").unwrap();
//! assert_eq!(journal.records, [record]);
//! assert!(journal.damage.is_empty());
//! ```

mod damage;
mod decode;

use std::fmt;

use jiff::Timestamp;
use serde::Serialize;

pub use damage::{Damage, Refused, Why};
pub use decode::{Journal, decode, decode_within};

/// The format that [`encode`] writes and the newest that [`decode`] reads.
pub const FORMAT: u64 = 1;

/// One thing that happened in a job, with its place in the order and its time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Record<E> {
    /// Its number in the journal, from 1 without gaps.
    pub seq: u64,
    /// When it happened, by the clock of the machine; later records may have earlier times.
    pub at: Timestamp,
    /// What happened.
    pub event: E,
}

/// How much is read before giving up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// The most bytes in a line, its line end included.
    pub line: usize,
    /// The most bytes in a journal.
    pub file: u64,
}

impl Default for Limits {
    /// Returns the program's own limits: lines of 64 KiB, journals of 64 MiB.
    fn default() -> Limits {
        Limits { line: 64 << 10, file: 64 << 20 }
    }
}

/// Why an event cannot be written as a line.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum EncodeError {
    /// The event cannot be said in JSON.
    NotJson {
        /// What the JSON writer said.
        message: String,
    },
    /// The line would be longer than a reader accepts.
    TooLong {
        /// Its length in bytes, line end included.
        bytes: usize,
        /// The most that is read.
        most: usize,
    },
}

impl fmt::Display for EncodeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            EncodeError::NotJson { message } => write!(f, "the event cannot be written as JSON: {message}"),
            EncodeError::TooLong { bytes, most } => {
                write!(f, "the record is too long: {bytes} bytes, and {most} is the most")
            }
        }
    }
}

impl std::error::Error for EncodeError {}

/// A line without its checksum: the field order is part of the format.
#[derive(Serialize)]
struct Unsigned<'a, E> {
    v: u64,
    job: &'a str,
    seq: u64,
    at: Timestamp,
    event: &'a E,
}

/// Returns `record` as the one line that stands for it, with its line end.
///
/// # Errors
/// [`EncodeError`] if the event has no JSON form (a map whose keys are not text), or if the line is longer than
/// [`Limits::line`] of the default limits.
pub fn encode<E: Serialize>(job: &str, record: &Record<E>) -> Result<String, EncodeError> {
    let unsigned = Unsigned { v: FORMAT, job, seq: record.seq, at: record.at, event: &record.event };
    let mut line =
        serde_json::to_string(&unsigned).map_err(|error| EncodeError::NotJson { message: error.to_string() })?;
    let sum = crc32fast::hash(line.as_bytes());
    line.pop();
    line.push_str(&format!(",\"crc\":\"{sum:08x}\"}}\n"));
    let most = Limits::default().line;
    if line.len() > most { Err(EncodeError::TooLong { bytes: line.len(), most }) } else { Ok(line) }
}

/// The bytes of `line` (without line end) that its checksum covers, less the closing brace, and the checksum that it
/// bears; `None` if it does not end in one.
fn split_sum(line: &[u8]) -> Option<(&[u8], u32)> {
    const FIELD: &[u8] = b",\"crc\":\"";
    const DIGITS: usize = 8;
    let unclosed = line.strip_suffix(b"\"}")?;
    let (front, digits) = unclosed.split_at_checked(unclosed.len().checked_sub(DIGITS)?)?;
    let front = front.strip_suffix(FIELD)?;
    // Only what `encode` writes: `from_str_radix` alone would take `+` and capitals, and so hide a flipped bit.
    let written_by_us = digits.iter().all(|digit| matches!(digit, b'0'..=b'9' | b'a'..=b'f'));
    let digits = std::str::from_utf8(digits).ok().filter(|_| written_by_us)?;
    Some((front, u32::from_str_radix(digits, 16).ok()?))
}

/// The checksum of a line whose bytes before `,"crc":"` are `front`.
fn sum_of(front: &[u8]) -> u32 {
    let mut sum = crc32fast::Hasher::new();
    sum.update(front);
    sum.update(b"}");
    sum.finalize()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(event: &str) -> Record<String> {
        Record { seq: 17, at: "2026-11-25T10:55:00Z".parse().unwrap(), event: event.to_owned() }
    }

    #[test]
    fn the_checksum_is_crc_32_iso_hdlc() {
        // The check value that the catalogue of parametrised CRC algorithms gives for CRC-32/ISO-HDLC, the CRC of
        // IEEE 802.3: the sum of the nine digits "123456789".
        assert_eq!(crc32fast::hash(b"123456789"), 0xCBF4_3926);
    }

    #[test]
    fn the_checksum_covers_the_line_without_its_field() {
        let line = encode("demo", &record("cap \"on\"\nand off")).unwrap();
        let (front, sum) = split_sum(line.trim_end().as_bytes()).unwrap();
        let without = [front, b"}"].concat();
        assert_eq!(sum, crc32fast::hash(&without));
        assert_eq!(sum, sum_of(front));
        let object: serde_json::Value = serde_json::from_slice(&without).unwrap();
        assert_eq!(object["event"], "cap \"on\"\nand off");
        assert!(object.get("crc").is_none());
    }

    #[test]
    fn a_line_has_one_line_end_whatever_the_event_says() {
        let line = encode("demo", &record("a\nb\r\n\u{2028}c\0")).unwrap();
        assert_eq!(line.matches('\n').count(), 1);
        assert!(line.ends_with("\"}\n"));
        assert!(!line.contains('\0'));
    }

    #[test]
    fn only_lower_case_hex_is_a_checksum() {
        for (line, expected) in [
            (&br#"{"a":1,"crc":"0123abcd"}"#[..], Some((&br#"{"a":1"#[..], 0x0123_abcd))),
            (br#"{"a":1,"crc":"0123ABCD"}"#, None),
            (br#"{"a":1,"crc":"+123abcd"}"#, None),
            (br#"{"a":1,"crc":"123abcd"}"#, None),
            (br#"{"a":1,"crc":"0123abcd"} "#, None),
            (br#"{"a":1,"crC":"0123abcd"}"#, None),
            (b"0123abcd\"}", None),
            (b"\"}", None),
            (b"", None),
        ] {
            assert_eq!(split_sum(line), expected, "{}", line.escape_ascii());
        }
    }

    #[test]
    fn what_cannot_be_read_back_is_not_written() {
        let event = std::collections::BTreeMap::from([((1, 2), 3)]);
        let refused = encode("demo", &Record { seq: 1, at: Timestamp::UNIX_EPOCH, event }).unwrap_err();
        assert_eq!(refused.to_string(), "the event cannot be written as JSON: key must be a string");

        let room = (64 << 10) - encode("demo", &record("")).unwrap().len();
        assert_eq!(encode("demo", &record(&"x".repeat(room))).unwrap().len(), 65_536);
        let refused = encode("demo", &record(&"x".repeat(room + 1))).unwrap_err();
        assert_eq!(refused, EncodeError::TooLong { bytes: 65_537, most: 65_536 });
        assert_eq!(refused.to_string(), "the record is too long: 65537 bytes, and 65536 is the most");
    }
}
