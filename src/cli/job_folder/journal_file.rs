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
    /// Whether the journal is still the file, and as it was left by the last call that succeeded.
    fn is_as_left(&mut self) -> io::Result<bool>;
    /// Adds bytes at the end.
    fn write(&mut self, bytes: &[u8]) -> io::Result<()>;
    /// Returns when what was written is on disk.
    fn sync(&mut self) -> io::Result<()>;
    /// Cuts off what was written since the last `keep`.
    fn cut(&mut self) -> io::Result<()>;
    /// Takes what is written and synced for what is there.
    fn keep(&mut self);
    /// The journal's path.
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
    Writable(D),
    ReadOnly,
    Broken,
}

impl<D: Disk> JournalFile<D> {
    /// A journal that goes on with record `next`.
    pub(super) fn open(disk: D, job: JobName, next: u64) -> JournalFile<D> {
        JournalFile { job, last_safe: next.saturating_sub(1), state: State::Writable(disk) }
    }

    /// A journal to which nothing is added.
    pub(super) fn read_only(job: JobName, next: u64) -> JournalFile<D> {
        JournalFile { job, last_safe: next.saturating_sub(1), state: State::ReadOnly }
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
        let disk = match &mut self.state {
            State::Writable(disk) => disk,
            State::ReadOnly => return Err(AppendError::ReadOnly),
            State::Broken => return Err(AppendError::Broken { last_safe }),
        };
        let seq = last_safe + 1;
        let line = encode(self.job.as_str(), &Record { seq, at, event }).map_err(AppendError::Unwritable)?;
        proves_readable::<E>(&line).map_err(AppendError::Unwritable)?;
        let failed = match add(disk, &line) {
            Ok(()) => {
                self.last_safe = seq;
                return Ok(seq);
            }
            Err(Failure::Changed) => AppendError::Changed { last_safe, path: disk.path().to_owned() },
            Err(Failure::Io(doing, source)) => {
                let error = FileError::new(doing, disk.path())(source);
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

/// Adds one line: one write, one sync. A failed one is cut off again, as well as that still goes, and nothing is
/// tried twice.
fn add(disk: &mut impl Disk, line: &str) -> Result<(), Failure> {
    match disk.is_as_left() {
        Ok(true) => {}
        Ok(false) => return Err(Failure::Changed),
        Err(error) => return Err(Failure::Io("look at", error)),
    }
    let written = disk.write(line.as_bytes()).map_err(|error| Failure::Io("write", error));
    let synced = written.and_then(|()| disk.sync().map_err(|error| Failure::Io("sync", error)));
    match synced {
        Ok(()) => disk.keep(),
        // What remains if this fails is met by the next opening, as a torn tail or as a whole record.
        Err(_) => drop(disk.cut()),
    }
    synced
}

/// The journal on a real disk.
#[derive(Debug)]
pub(super) struct OnDisk {
    path: PathBuf,
    file: File,
    identity: (u64, u64),
    /// The length up to which all is written and synced.
    bytes: u64,
    /// The length with what is written but not yet synced.
    written: u64,
    /// The last bytes of the last record, which hold its checksum.
    end: Vec<u8>,
    /// What is written but not yet synced ends so.
    written_end: Vec<u8>,
}

/// As many bytes as a checksum and its line end take: `4f2a09d1"}⏎`.
const END: u64 = 11;

impl OnDisk {
    /// Opens the journal at `path` and cuts off what is behind its first `bytes` bytes.
    pub(super) fn open(path: &Path, bytes: u64) -> Result<OnDisk, FileError> {
        let open = || {
            let mut file = OpenOptions::new().read(true).append(true).open(path)?;
            let found = file.metadata()?;
            if found.len() > bytes {
                file.set_len(bytes)?;
                file.sync_all()?;
            }
            let end = read_end(&mut file, bytes)?;
            let identity = identity(&found);
            let path = path.to_owned();
            Ok(OnDisk { path, file, identity, bytes, written: bytes, written_end: end.clone(), end })
        };
        open().map_err(FileError::new("open", path))
    }
}

impl Disk for OnDisk {
    fn is_as_left(&mut self) -> io::Result<bool> {
        let found = match fs::metadata(&self.path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
            found => found?,
        };
        if identity(&found) != self.identity || found.len() != self.bytes {
            return Ok(false);
        }
        Ok(read_end(&mut self.file, self.bytes)? == self.end)
    }

    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all(bytes)?;
        self.written = self.bytes + bytes.len() as u64;
        let end = bytes.len().saturating_sub(END as usize);
        self.written_end = bytes[end..].to_owned();
        Ok(())
    }

    fn sync(&mut self) -> io::Result<()> {
        self.file.sync_data()
    }

    fn cut(&mut self) -> io::Result<()> {
        self.file.set_len(self.bytes)
    }

    fn keep(&mut self) {
        self.bytes = self.written;
        self.end = std::mem::take(&mut self.written_end);
    }

    fn path(&self) -> &Path {
        &self.path
    }
}

/// The last bytes of the first `bytes` bytes of a file.
fn read_end(file: &mut File, bytes: u64) -> io::Result<Vec<u8>> {
    let from = bytes.saturating_sub(END);
    let mut end = Vec::new();
    file.seek(SeekFrom::Start(from))?;
    (&*file).take(bytes - from).read_to_end(&mut end)?;
    Ok(end)
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
