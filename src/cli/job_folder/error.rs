//! What can go wrong with a job's files; each is shown as one line.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use super::name::JobName;
use crate::walk::journal::{EncodeError, Refused};

/// Something that could not be done with a file.
#[derive(Debug)]
pub struct FileError {
    /// What could not be done, as a verb: `read`, `write`.
    pub doing: &'static str,
    /// The file.
    pub path: PathBuf,
    /// What the system said.
    pub source: io::Error,
}

impl FileError {
    /// Returns the function that makes such an error of what the system said.
    pub(super) fn new(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> FileError + use<> {
        let path = path.to_owned();
        move |source| FileError { doing, path, source }
    }
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "cannot {} {}: {}", self.doing, self.path.display(), self.source)
    }
}

impl std::error::Error for FileError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.source)
    }
}

/// Why a job cannot be begun, opened, read or repaired.
#[derive(Debug)]
#[non_exhaustive]
pub enum JobError {
    /// There is no folder of that name.
    NoSuchJob {
        /// The name.
        name: JobName,
    },
    /// There is already something of that name.
    Exists {
        /// The name.
        name: JobName,
    },
    /// Another process, or another part of this one, has the job open.
    Busy {
        /// The name.
        name: JobName,
        /// Who has it open; `None` if that could not be read.
        pid: Option<u32>,
    },
    /// The journal is not for this program to read.
    Refused {
        /// The journal.
        path: PathBuf,
        /// Why.
        why: Refused,
    },
    /// There is nothing to repair.
    NotDamaged {
        /// The name.
        name: JobName,
    },
    /// A file could not be read or written.
    File(FileError),
}

impl From<FileError> for JobError {
    fn from(error: FileError) -> JobError {
        JobError::File(error)
    }
}

impl fmt::Display for JobError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            JobError::NoSuchJob { name } => write!(f, "no job is named `{name}`"),
            JobError::Exists { name } => write!(f, "there is already a job named `{name}`"),
            JobError::Busy { name, pid: Some(pid) } => write!(f, "job `{name}` is open in another stepjig (pid {pid})"),
            JobError::Busy { name, pid: None } => write!(f, "job `{name}` is open in another stepjig"),
            JobError::Refused { path, why } => write!(f, "cannot read {}: {why}", path.display()),
            JobError::NotDamaged { name } => write!(f, "the journal of job `{name}` needs no repair"),
            JobError::File(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for JobError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            JobError::Refused { why, .. } => Some(why),
            JobError::File(error) => Some(&error.source),
            _ => None,
        }
    }
}

/// Why an event is not recorded.
#[derive(Debug)]
#[non_exhaustive]
pub enum AppendError {
    /// The event has no line that could be read back; nothing was written, and the next event may be recorded.
    Unwritable(EncodeError),
    /// The journal is damaged and only read.
    ReadOnly,
    /// Somebody else changed, moved or deleted the journal; nothing was written.
    Changed {
        /// The last record that is surely on disk.
        last_safe: u64,
        /// The journal.
        path: PathBuf,
    },
    /// The record did not get onto the disk: no room, a fault of the disk, no permission.
    NotWritten {
        /// The last record that is surely on disk.
        last_safe: u64,
        /// What failed.
        error: FileError,
    },
    /// An earlier record failed, so none is written any more.
    Broken {
        /// The last record that is surely on disk.
        last_safe: u64,
    },
}

impl fmt::Display for AppendError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let safe = |last: &u64| match last {
            0 => "nothing is on disk".to_owned(),
            last => format!("record {last} is the last on disk"),
        };
        match self {
            AppendError::Unwritable(error) => write!(f, "not recorded: {error}"),
            AppendError::ReadOnly => f.write_str("not recorded: the journal is damaged and only read"),
            AppendError::Changed { last_safe, path } => {
                write!(f, "not recorded: another program changed {}; {}", path.display(), safe(last_safe))
            }
            AppendError::NotWritten { last_safe, error } => write!(f, "not recorded: {error}; {}", safe(last_safe)),
            AppendError::Broken { last_safe } => {
                write!(f, "not recorded since an earlier record failed; {}", safe(last_safe))
            }
        }
    }
}

impl std::error::Error for AppendError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            AppendError::Unwritable(error) => Some(error),
            AppendError::NotWritten { error, .. } => Some(&error.source),
            _ => None,
        }
    }
}
