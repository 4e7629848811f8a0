//! The journal while a job is open: records are added at its end, and only there.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::error::{AppendError, FileError};
use super::name::JobName;
use crate::walk::journal::{EncodeError, Record, encode};

/// Whether records can be kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Store {
    /// Yes.
    Writable,
    /// No: the journal is damaged before its end. It stays as it is until it is repaired.
    ReadOnly,
    /// No more: a record could not be written, or somebody else changed the journal.
    Broken,
}

/// What a journal asks of the disk; a test's disk fails on purpose.
pub(super) trait Disk {
    /// Returns whether the journal is still the file that was opened, `bytes` long and with these last bytes.
    fn is_as_left(&mut self, bytes: u64, end: &[u8]) -> io::Result<bool>;
    /// Adds bytes at the end.
    fn write(&mut self, bytes: &[u8]) -> io::Result<()>;
    /// Returns when what was written is on disk.
    fn sync(&mut self) -> io::Result<()>;
    /// Cuts the journal to its first `bytes` bytes.
    fn cut(&mut self, bytes: u64) -> io::Result<()>;
    /// Returns the journal's path.
    fn path(&self) -> &Path;
}

/// The journal of an open job.
#[derive(Debug)]
pub(super) struct JournalFile<D> {
    job: JobName,
    last_safe: u64,
    state: State<D>,
}

#[derive(Debug)]
enum State<D> {
    Writable(Good<D>),
    ReadOnly,
    Broken,
}

/// A journal in order, and how it was left.
#[derive(Debug)]
struct Good<D> {
    disk: D,
    /// Its length: everything up to here is written and synced.
    bytes: u64,
    /// Its last bytes, which hold the checksum of the last record.
    end: Vec<u8>,
}

/// As many bytes as a checksum and its line end take: `4f2a09d1"}⏎`.
const END: usize = 11;

/// The last bytes of what ends in `bytes`.
fn end_of(bytes: &[u8]) -> Vec<u8> {
    bytes[bytes.len().saturating_sub(END)..].to_owned()
}

impl<D: Disk> JournalFile<D> {
    /// A journal whose whole lines are `lines`, the last of them record `last_safe`.
    pub(super) fn open(disk: D, job: JobName, last_safe: u64, lines: &[u8]) -> JournalFile<D> {
        let good = Good { disk, bytes: lines.len() as u64, end: end_of(lines) };
        JournalFile { job, last_safe, state: State::Writable(good) }
    }

    /// A journal to which nothing is added.
    pub(super) fn read_only(job: JobName, last_safe: u64) -> JournalFile<D> {
        JournalFile { job, last_safe, state: State::ReadOnly }
    }

    pub(super) fn store(&self) -> Store {
        match self.state {
            State::Writable(_) => Store::Writable,
            State::ReadOnly => Store::ReadOnly,
            State::Broken => Store::Broken,
        }
    }

    pub(super) fn last_safe(&self) -> u64 {
        self.last_safe
    }

    pub(super) fn append<E>(&mut self, event: &E, at: Timestamp) -> Result<u64, AppendError>
    where
        E: Serialize + DeserializeOwned,
    {
        let last_safe = self.last_safe;
        let good = match &mut self.state {
            State::Writable(good) => good,
            State::ReadOnly => return Err(AppendError::ReadOnly),
            State::Broken => return Err(AppendError::Broken { last_safe }),
        };
        let seq = last_safe + 1;
        let line = encode(self.job.as_str(), &Record { seq, at, event }).map_err(AppendError::Unwritable)?;
        proves_readable::<E>(&line).map_err(AppendError::Unwritable)?;
        let failed = match good.add(line.as_bytes()) {
            Ok(()) => {
                self.last_safe = seq;
                return Ok(seq);
            }
            Err(Failure::Changed) => AppendError::Changed { last_safe, path: good.disk.path().to_owned() },
            Err(Failure::Io(doing, source)) => {
                let error = FileError::new(doing, good.disk.path())(source);
                AppendError::NotWritten { last_safe, error }
            }
        };
        self.state = State::Broken;
        Err(failed)
    }
}

/// Refuses a line whose event would not be read back: a number that is not finite, for one, is written as `null`.
fn proves_readable<E: DeserializeOwned>(line: &str) -> Result<(), EncodeError> {
    #[derive(serde::Deserialize)]
    struct Event<E> {
        #[serde(rename = "event")]
        _event: E,
    }
    match serde_json::from_str::<Event<E>>(line) {
        Ok(_) => Ok(()),
        Err(error) => Err(EncodeError::NotJson { message: error.to_string() }),
    }
}

enum Failure {
    Changed,
    Io(&'static str, io::Error),
}

impl<D: Disk> Good<D> {
    /// Adds one line: one write, one sync. A failed one is cut off again if that still goes, and nothing is tried
    /// twice.
    fn add(&mut self, line: &[u8]) -> Result<(), Failure> {
        match self.disk.is_as_left(self.bytes, &self.end) {
            Ok(true) => {}
            Ok(false) => return Err(Failure::Changed),
            Err(error) => return Err(Failure::Io("look at", error)),
        }
        let written = self.disk.write(line).map_err(|error| Failure::Io("write", error));
        let synced = written.and_then(|()| self.disk.sync().map_err(|error| Failure::Io("sync", error)));
        if synced.is_ok() {
            self.bytes += line.len() as u64;
            self.end = end_of(line);
        } else {
            // What remains if this fails too is met by the next opening, as a torn tail or as a whole record.
            let _ = self.disk.cut(self.bytes);
        }
        synced
    }
}

/// The journal on a real disk.
#[derive(Debug)]
pub(super) struct OnDisk {
    path: PathBuf,
    file: File,
    identity: (u64, u64),
}

impl OnDisk {
    /// Opens the journal at `path` and cuts off what is behind its first `bytes` bytes.
    pub(super) fn open(path: &Path, bytes: u64) -> Result<OnDisk, FileError> {
        let open = || {
            let file = OpenOptions::new().read(true).append(true).open(path)?;
            let found = file.metadata()?;
            if found.len() > bytes {
                file.set_len(bytes)?;
            }
            // A writer may have been killed between its write and its sync; what we are about to show as recorded
            // must be on disk first.
            file.sync_all()?;
            Ok(OnDisk { path: path.to_owned(), file, identity: identity(&found) })
        };
        open().map_err(FileError::new("open", path))
    }
}

impl Disk for OnDisk {
    fn is_as_left(&mut self, bytes: u64, end: &[u8]) -> io::Result<bool> {
        let found = match fs::metadata(&self.path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
            found => found?,
        };
        if identity(&found) != self.identity || found.len() != bytes {
            return Ok(false);
        }
        let mut found_end = Vec::new();
        self.file.seek(SeekFrom::Start(bytes - end.len() as u64))?;
        (&self.file).take(end.len() as u64).read_to_end(&mut found_end)?;
        Ok(found_end == end)
    }

    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.file.sync_data()
    }

    fn cut(&mut self, bytes: u64) -> io::Result<()> {
        self.file.set_len(bytes)
    }

    fn path(&self) -> &Path {
        &self.path
    }
}

/// What makes a file the same file whatever it is called.
#[cfg(unix)]
fn identity(found: &Metadata) -> (u64, u64) {
    use std::os::unix::fs::MetadataExt;
    (found.dev(), found.ino())
}

/// Elsewhere the standard library does not tell; length and last checksum must do.
#[cfg(not(unix))]
fn identity(_found: &Metadata) -> (u64, u64) {
    (0, 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A disk in memory that fails at one of its calls, or from one on, and keeps a list of them.
    #[derive(Debug)]
    struct FaultyDisk {
        bytes: Vec<u8>,
        calls: Vec<&'static str>,
        fails_at: usize,
        for_ever: bool,
        /// How much of a write that fails is there all the same.
        short: usize,
        error: io::ErrorKind,
    }

    impl FaultyDisk {
        fn call(&mut self, call: &'static str) -> io::Result<()> {
            self.calls.push(call);
            let number = self.calls.len();
            let fails = number == self.fails_at || (self.for_ever && number > self.fails_at);
            if fails { Err(self.error.into()) } else { Ok(()) }
        }
    }

    impl Disk for &mut FaultyDisk {
        fn is_as_left(&mut self, bytes: u64, end: &[u8]) -> io::Result<bool> {
            self.call("look")?;
            Ok(self.bytes.len() as u64 == bytes && self.bytes.ends_with(end))
        }

        fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
            let called = self.call("write");
            let there = if called.is_ok() { bytes.len() } else { self.short.min(bytes.len()) };
            self.bytes.extend(&bytes[..there]);
            called
        }

        fn sync(&mut self) -> io::Result<()> {
            self.call("sync")
        }

        fn cut(&mut self, bytes: u64) -> io::Result<()> {
            self.call("cut")?;
            self.bytes.truncate(usize::try_from(bytes).unwrap());
            Ok(())
        }

        fn path(&self) -> &Path {
            Path::new("jobs/demo/journal.jsonl")
        }
    }

    /// Five records on a disk that fails; returns the disk, what was confirmed, and what was said.
    fn run(fails_at: usize, for_ever: bool, short: usize, error: io::ErrorKind) -> (FaultyDisk, u64, Vec<String>) {
        let mut disk = FaultyDisk { bytes: vec![], calls: vec![], fails_at, for_ever, short, error };
        let mut journal = JournalFile::open(&mut disk, "demo".parse().unwrap(), 0, b"");
        let mut said = Vec::new();
        for event in 1..=5u64 {
            match journal.append(&event, Timestamp::UNIX_EPOCH) {
                Ok(seq) => assert_eq!(seq, event),
                Err(error) => said.push(error.to_string()),
            }
        }
        let confirmed = journal.last_safe();
        assert_eq!(journal.store(), if said.is_empty() { Store::Writable } else { Store::Broken });
        (disk, confirmed, said)
    }

    #[test]
    fn a_record_is_confirmed_after_one_write_and_one_sync() {
        let (disk, confirmed, said) = run(0, false, 0, io::ErrorKind::Other);
        assert_eq!((confirmed, said), (5, vec![]));
        assert_eq!(disk.calls, ["look", "write", "sync"].repeat(5));
    }

    #[test]
    fn whatever_fails_nothing_confirmed_is_lost_and_nothing_is_tried_again() {
        use io::ErrorKind::{Other, PermissionDenied, QuotaExceeded, ReadOnlyFilesystem, StorageFull};
        for error in [StorageFull, QuotaExceeded, ReadOnlyFilesystem, PermissionDenied, Other] {
            for fails_at in 1..=15 {
                for for_ever in [false, true] {
                    for short in [0, 1, 30, 80, 1_000] {
                        let (disk, confirmed, said) = run(fails_at, for_ever, short, error);
                        let before = (fails_at as u64 - 1) / 3;
                        assert_eq!(confirmed, before);
                        assert_eq!(said.len() as u64, 5 - before, "every later record is refused");
                        let doing = ["look at", "write", "sync"][(fails_at - 1) % 3];
                        let safe = match before {
                            0 => "nothing is on disk".to_owned(),
                            before => format!("record {before} is the last on disk"),
                        };
                        let system = io::Error::from(error);
                        let first = format!("not recorded: cannot {doing} jobs/demo/journal.jsonl: {system}; {safe}");
                        let later = format!("not recorded since an earlier record failed; {safe}");
                        assert_eq!(said[0], first);
                        assert!(said[1..].iter().all(|said| *said == later));
                        let after: &[&str] = if doing == "look at" { &[] } else { &["cut"] };
                        assert_eq!(&disk.calls[fails_at..], after);
                        let found = crate::walk::journal::decode::<u64>(&disk.bytes, "demo").unwrap();
                        let events: Vec<u64> = found.records.iter().map(|record| record.event).collect();
                        assert!(events.len() as u64 >= before);
                        assert_eq!(events, Vec::from_iter(1..=events.len() as u64));
                        assert!(found.may_go_on(), "it opens again");
                        // With the disk well again at once, the failed record was taken off.
                        assert!(for_ever || (events.len() as u64, &found.damage[..]) == (before, &[]));
                    }
                }
            }
        }
    }
}
