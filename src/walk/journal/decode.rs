//! Reading a journal back: bytes in, the intact records and every fault out.

use std::borrow::Cow;

use jiff::Timestamp;
use serde::Deserialize;
use serde::de::{DeserializeOwned, IgnoredAny};

use super::damage::printable;
use super::{Damage, FORMAT, Limits, Record, Refused, Why, split_sum, sum_of};

/// What could be read of a journal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Journal<E> {
    /// The intact records, their numbers rising; without gaps unless [`Damage::Middle`] says so.
    pub records: Vec<Record<E>>,
    /// Every fault, in the order of the file; empty for a journal in order.
    pub damage: Vec<Damage>,
    whole_bytes: u64,
}

impl<E> Journal<E> {
    /// Returns whether nothing but a torn tail is wrong, so that appending may go on after the whole lines.
    pub fn may_go_on(&self) -> bool {
        self.damage.iter().all(|damage| matches!(damage, Damage::TornTail { .. }))
    }

    /// Returns how many bytes the whole lines have: the length of the file less a torn tail.
    pub fn whole_bytes(&self) -> u64 {
        self.whole_bytes
    }

    /// Returns the number of the last intact record, 0 if there is none.
    pub fn last_seq(&self) -> u64 {
        self.records.last().map_or(0, |record| record.seq)
    }
}

/// Reads the journal of `job` within the default [`Limits`].
///
/// # Errors
/// [`Refused`] if a newer format was used or there are too many bytes; any other fault is in [`Journal::damage`].
pub fn decode<E: DeserializeOwned>(bytes: &[u8], job: &str) -> Result<Journal<E>, Refused> {
    decode_within(bytes, job, Limits::default())
}

/// Reads the journal of `job` within `limits`.
///
/// # Errors
/// As [`decode`].
pub fn decode_within<E: DeserializeOwned>(bytes: &[u8], job: &str, limits: Limits) -> Result<Journal<E>, Refused> {
    let length = bytes.len() as u64;
    if length > limits.file {
        return Err(Refused::TooLong { bytes: length, most: limits.file });
    }
    let mut journal = Journal { records: Vec::new(), damage: Vec::new(), whole_bytes: length };
    let mut place = Place { line: 1, byte: 0, unusable: 0 };
    for raw in bytes.split_inclusive(|byte| *byte == b'\n') {
        let raw_bytes = raw.len() as u64;
        let is_last = place.byte + raw_bytes == length;
        let (text, ended) = raw.strip_suffix(b"\n").map_or((raw, false), |text| (text, true));
        if is_last && (!ended || is_torn(text)) {
            if let Some(version) = version_begun(text).filter(|version| *version > FORMAT) {
                return Err(Refused::NewerFormat { version, line: place.line });
            }
            let record = place.expected(&journal);
            journal.damage.push(Damage::TornTail { byte: place.byte, bytes: raw_bytes, record });
            journal.whole_bytes = place.byte;
            break;
        }
        let read = if raw.len() > limits.line {
            Err(Fault::Unusable(Why::TooLong { bytes: raw_bytes }))
        } else {
            read_line(text, job)
        };
        match read {
            Ok(record) => place.take(&mut journal, record, raw_bytes),
            Err(Fault::Newer(version)) => return Err(Refused::NewerFormat { version, line: place.line }),
            Err(Fault::Unusable(why)) => place.report(&mut journal, why, raw_bytes),
        }
        place.line += 1;
        place.byte += raw_bytes;
    }
    Ok(journal)
}

/// Where the reader is.
struct Place {
    line: u64,
    byte: u64,
    /// Lines since the last intact record that could not be used.
    unusable: u64,
}

impl Place {
    /// The number that the record here should have, an unusable line standing for one record.
    fn expected<E>(&self, journal: &Journal<E>) -> u64 {
        journal.last_seq().saturating_add(1).saturating_add(self.unusable)
    }

    /// Keeps an intact record, or reports its number.
    fn take<E>(&mut self, journal: &mut Journal<E>, record: Record<E>, bytes: u64) {
        let found = record.seq;
        if found <= journal.last_seq() {
            return self.report(journal, Why::Repeat { found }, bytes);
        }
        // Fewer than expected is in order too: a stray line end makes two unusable lines of one record.
        let expected = self.expected(journal);
        if found > expected {
            let (line, byte) = (self.line, self.byte);
            let why = Why::Gap { found };
            journal.damage.push(Damage::Middle { line, byte, lines: 0, bytes: 0, record: expected, why });
        }
        journal.records.push(record);
        self.unusable = 0;
    }

    /// Reports an unusable line, in one with the unusable line before it: a journal of nothing but line ends must not
    /// make a report of each.
    fn report<E>(&mut self, journal: &mut Journal<E>, why: Why, more: u64) {
        let record = self.expected(journal);
        self.unusable += 1;
        if self.unusable > 1
            && let Some(Damage::Middle { lines, bytes, .. }) = journal.damage.last_mut()
        {
            *lines += 1;
            *bytes += more;
        } else {
            let (line, byte) = (self.line, self.byte);
            journal.damage.push(Damage::Middle { line, byte, lines: 1, bytes: more, record, why });
        }
    }
}

/// Whether a last line that has its line end is what a crash leaves of a write: its end never came, or pages of it
/// never reached the disk and read as NUL, which no record contains.
fn is_torn(text: &[u8]) -> bool {
    split_sum(text).is_none() || text.contains(&0)
}

/// The format in which a line was begun, as far as its first bytes tell.
fn version_begun(text: &[u8]) -> Option<u64> {
    let digits = text.strip_prefix(b"{\"v\":")?;
    let end = digits.iter().position(|byte| *byte == b',')?;
    std::str::from_utf8(&digits[..end]).ok()?.parse().ok()
}

enum Fault {
    Newer(u64),
    Unusable(Why),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Line<'a, E> {
    v: u64,
    #[serde(borrow)]
    job: Cow<'a, str>,
    seq: u64,
    at: Timestamp,
    event: E,
    #[serde(rename = "crc")]
    _crc: IgnoredAny,
}

/// Reads a line that is whole (and without its line end).
fn read_line<E: DeserializeOwned>(text: &[u8], job: &str) -> Result<Record<E>, Fault> {
    let (front, sum) = split_sum(text).ok_or(Fault::Unusable(Why::NotARecord))?;
    if sum_of(front) != sum {
        return Err(Fault::Unusable(Why::Checksum));
    }
    // From here on the bytes are as they were written.
    if let Some(version) = version_begun(text).filter(|version| *version > FORMAT) {
        return Err(Fault::Newer(version));
    }
    let line = serde_json::from_slice::<Line<'_, E>>(text);
    let error = match line {
        Ok(line) => {
            in_order(&line, job)?;
            return Ok(Record { seq: line.seq, at: line.at, event: line.event });
        }
        Err(error) => error,
    };
    // Is it the event that could not be read, or the line around it?
    let envelope = serde_json::from_slice::<Line<'_, IgnoredAny>>(text);
    in_order(&envelope.map_err(|_| Fault::Unusable(Why::NotARecord))?, job)?;
    Err(Fault::Unusable(Why::Event { message: printable(&error.to_string()) }))
}

/// Checks what a line says of itself.
fn in_order<E>(line: &Line<'_, E>, job: &str) -> Result<(), Fault> {
    if line.v != FORMAT {
        Err(Fault::Unusable(Why::NotARecord))
    } else if line.job != job {
        Err(Fault::Unusable(Why::OtherJob { job: printable(&line.job) }))
    } else {
        Ok(())
    }
}
