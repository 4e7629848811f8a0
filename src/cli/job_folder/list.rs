//! All jobs at a glance.

use std::fs;
use std::io;

use jiff::Timestamp;
use serde::de::DeserializeOwned;

use super::error::{FileError, JobError};
use super::name::JobName;
use super::{JOURNAL, JobsRoot, LOCK, lock, read};
use crate::walk::journal::Damage;

/// A job in the list.
#[derive(Debug)]
pub struct ListedJob {
    /// Its name.
    pub name: JobName,
    /// What could be read of its journal.
    pub state: JobState,
    /// Who has it open.
    pub open_in: OpenIn,
}

/// What the journal of a listed job tells.
#[derive(Debug)]
pub enum JobState {
    /// It could be read.
    Read {
        /// How many intact records it has.
        records: u64,
        /// The time of the last one; `None` if there is none.
        last: Option<Timestamp>,
        /// What is wrong with it; empty for a journal in order.
        damage: Vec<Damage>,
    },
    /// It could not.
    Unreadable(JobError),
}

/// Who has a listed job open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OpenIn {
    /// Nobody.
    Nothing,
    /// A process, by its id if that could be read.
    Process(Option<u32>),
}

impl JobsRoot {
    /// Returns all jobs by name, without changing anything; what is not named like a job is passed over.
    ///
    /// `E` is the event; with `serde::de::IgnoredAny` events that this program does not know are not noticed.
    ///
    /// # Errors
    /// [`FileError`] if the folder is there but cannot be read. A job that cannot be read is in the list, as such.
    pub fn list<E: DeserializeOwned>(&self) -> Result<Vec<ListedJob>, FileError> {
        let entries = match fs::read_dir(&self.0) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            entries => entries.map_err(FileError::new("read", &self.0))?,
        };
        let mut jobs = Vec::new();
        for entry in entries {
            let entry = entry.map_err(FileError::new("read", &self.0))?;
            let name = entry.file_name().to_str().and_then(|name| name.parse().ok());
            if let Some(name) = name.filter(|_| entry.path().is_dir()) {
                jobs.push(self.look_at::<E>(name));
            }
        }
        jobs.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(jobs)
    }

    fn look_at<E: DeserializeOwned>(&self, name: JobName) -> ListedJob {
        let path = self.job_path(&name);
        let state = match read::journal::<E>(&path.join(JOURNAL), &name) {
            Ok(journal) => JobState::Read {
                records: journal.records.len() as u64,
                last: journal.records.last().map(|record| record.at),
                damage: journal.damage,
            },
            Err(error) => JobState::Unreadable(error),
        };
        let open_in = lock::holder(&path.join(LOCK)).map_or(OpenIn::Nothing, OpenIn::Process);
        ListedJob { name, state, open_in }
    }
}
