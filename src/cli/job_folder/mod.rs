//! The folders of the jobs: every read and write of a job's files.
//!
//! ```text
//! JOBS/demo/guide.toml        the linked guide as it stood when the job began
//! JOBS/demo/journal.jsonl     the journal, one line a record: see `walk::journal`
//! JOBS/demo/lock              locked while the job is open, with the process id of who has it open
//! JOBS/demo/journal.torn-17   a record 17 that was cut off while it was written, set aside on opening
//! JOBS/demo/journal.repaired  what `repair` made of a damaged journal
//! ```
//!
//! Only two ways of writing are used. A record is one `write` at the end of the journal and one sync, and is said to
//! be recorded only then. Every other file is written whole under another name, synced, renamed, and its folder
//! synced ([`write_whole`]).
//!
//! - One writer: the lock is the system's own and goes with the process, however that ends. It is no defence against
//!   somebody who deletes the file `lock`; a journal that changed under us is noticed before the next record.
//! - A sync that failed is never tried again: what it was to save may be gone, though a second one succeeds. The
//!   journal is then [`Store::Broken`] until the job is opened anew. The walk itself can go on unrecorded.
//! - Nothing here reads the clock or the environment, prints, or ends the program. The caller must see to it that
//!   a file-size limit fails the write instead of ending the process (ignore `SIGXFSZ`).

mod error;
mod journal_file;
mod list;
mod lock;
mod name;
mod read;
mod repair;
#[cfg(test)]
mod tests;
mod torn;
mod write_whole;

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

use jiff::Timestamp;
use serde::Serialize;
use serde::de::DeserializeOwned;

pub use error::{AppendError, FileError, JobError};
pub use journal_file::Store;
pub use list::{JobState, ListedJob, OpenIn};
pub use lock::{Lock, holder};
pub use name::{JobName, JobNameError};
pub use repair::Repaired;
pub use torn::SetAside;
pub use write_whole::write_whole;

use crate::walk::journal::{Damage, Journal, Record};
use journal_file::{JournalFile, OnDisk};

const GUIDE: &str = "guide.toml";
const JOURNAL: &str = "journal.jsonl";
const LOCK: &str = "lock";

/// A linked guide is one file with its procedures in it, so it may be larger than any file it came from.
const MOST_GUIDE_BYTES: u64 = 16 << 20;

/// The folder that holds the jobs, each in a folder of its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobsRoot(PathBuf);

impl JobsRoot {
    /// Returns the jobs in `folder`, which need not exist yet.
    pub fn new(folder: impl Into<PathBuf>) -> JobsRoot {
        JobsRoot(folder.into())
    }

    /// Returns the folder of all jobs.
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// Returns the folder that the job `name` has or would have.
    pub fn job_path(&self, name: &JobName) -> PathBuf {
        self.0.join(name.as_str())
    }

    /// Begins a job: its folder appears whole, on disk and locked by us, or not at all.
    ///
    /// `guide_toml` is the linked guide; it is kept byte for byte.
    ///
    /// # Errors
    /// [`JobError::Exists`] if there is something of that name, [`JobError::File`] if it cannot be written.
    pub fn create(&self, name: &JobName, guide_toml: &str) -> Result<JobFolder, JobError> {
        fs::create_dir_all(&self.0).map_err(FileError::new("make", &self.0))?;
        let target = self.job_path(name);
        if fs::symlink_metadata(&target).is_ok() {
            return Err(JobError::Exists { name: name.clone() });
        }
        let draft = self.0.join(format!(".new-{name}-{}", unique()));
        fs::create_dir(&draft).map_err(FileError::new("make", &draft))?;
        let lock = fill(&draft, name, guide_toml).and_then(|lock| {
            // Renaming onto an empty folder would succeed, onto a job never does: that is what the check above and
            // the files in every job are for.
            fs::rename(&draft, &target).map_err(|source| match source.kind() {
                io::ErrorKind::DirectoryNotEmpty | io::ErrorKind::AlreadyExists | io::ErrorKind::NotADirectory => {
                    JobError::Exists { name: name.clone() }
                }
                _ => FileError::new("make", &target)(source).into(),
            })?;
            Ok(lock)
        });
        let lock = lock.inspect_err(|_| {
            // Best effort: the draft is ours alone, and the first error is the one to tell.
            let _ = fs::remove_dir_all(&draft);
        })?;
        write_whole::sync_folder(&self.0)?;
        let journal = JournalFile::open(OnDisk::open(&target.join(JOURNAL), 0)?, name.clone(), 0, b"");
        Ok(JobFolder { name: name.clone(), path: target, journal, _lock: lock })
    }

    /// Opens a job to go on with it, and reads its journal.
    ///
    /// A torn tail is copied beside the journal, cut off and told in [`OpenJob::set_aside`]. With any other damage
    /// nothing is changed and [`JobFolder::store`] is [`Store::ReadOnly`].
    ///
    /// # Errors
    /// [`JobError::NoSuchJob`]; [`JobError::Busy`] within a fraction of a second if it is open elsewhere;
    /// [`JobError::Refused`] if a newer stepjig wrote in it or it is too large; [`JobError::File`]. Where only writing
    /// fails (a full or write-protected disk), [`open_read_only`](JobsRoot::open_read_only) still reads the job.
    pub fn open<E: DeserializeOwned>(&self, name: &JobName) -> Result<OpenJob<E>, JobError> {
        let path = self.existing(name)?;
        let lock = Lock::take(&path.join(LOCK), name)?;
        let guide = read::text(&path.join(GUIDE), MOST_GUIDE_BYTES)?;
        let journal_path = path.join(JOURNAL);
        let bytes = read::journal_bytes(&journal_path)?;
        let journal = read::decode(&journal_path, &bytes, name)?;
        let last = journal.last_seq();
        let mut set_aside = None;
        let file = if journal.may_go_on() {
            let (lines, torn) = bytes.split_at(usize::try_from(journal.whole_bytes()).unwrap_or(bytes.len()));
            if !torn.is_empty() {
                set_aside = Some(torn::set_aside(&path, torn, journal.whole_bytes(), last + 1)?);
            }
            JournalFile::open(OnDisk::open(&journal_path, journal.whole_bytes())?, name.clone(), last, lines)
        } else {
            JournalFile::read_only(name.clone(), last)
        };
        let folder = JobFolder { name: name.clone(), path, journal: file, _lock: lock };
        Ok(OpenJob { folder, guide, records: journal.records, damage: journal.damage, set_aside })
    }

    /// Reads a job without locking or changing anything, whoever has it open.
    ///
    /// A record that is being written at this moment may show as a [`Damage::TornTail`].
    ///
    /// # Errors
    /// As [`open`](JobsRoot::open), but never [`JobError::Busy`].
    pub fn open_read_only<E: DeserializeOwned>(&self, name: &JobName) -> Result<ReadJob<E>, JobError> {
        let path = self.existing(name)?;
        let guide = read::text(&path.join(GUIDE), MOST_GUIDE_BYTES)?;
        let journal = read::journal(&path.join(JOURNAL), name)?;
        Ok(ReadJob { guide, journal })
    }

    /// The folder of a job that is there.
    fn existing(&self, name: &JobName) -> Result<PathBuf, JobError> {
        let path = self.job_path(name);
        if path.is_dir() { Ok(path) } else { Err(JobError::NoSuchJob { name: name.clone() }) }
    }
}

/// Writes the files of a new job into its draft folder, and takes its lock.
fn fill(draft: &Path, name: &JobName, guide_toml: &str) -> Result<Lock, JobError> {
    write_whole::write_new(&draft.join(GUIDE), guide_toml.as_bytes())?;
    write_whole::write_new(&draft.join(JOURNAL), b"")?;
    let lock = Lock::take(&draft.join(LOCK), name)?;
    write_whole::sync_folder(draft)?;
    Ok(lock)
}

/// A part of a file name that nobody else uses at this moment: the process id and a count.
fn unique() -> String {
    static COUNT: AtomicU64 = AtomicU64::new(0);
    format!("{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed))
}

/// What [`JobsRoot::open`] found.
#[derive(Debug)]
pub struct OpenJob<E> {
    /// The job, locked until this is dropped.
    pub folder: JobFolder,
    /// The linked guide, as it was given to [`JobsRoot::create`].
    pub guide: String,
    /// The intact records, in order.
    pub records: Vec<Record<E>>,
    /// Everything that is wrong with the journal, a torn tail included although it is cut off by now.
    pub damage: Vec<Damage>,
    /// Where a torn tail went.
    pub set_aside: Option<SetAside>,
}

/// What [`JobsRoot::open_read_only`] found.
#[derive(Debug)]
pub struct ReadJob<E> {
    /// The linked guide.
    pub guide: String,
    /// The records and what is wrong with them.
    pub journal: Journal<E>,
}

/// A job that is open for writing and locked until dropped.
#[derive(Debug)]
pub struct JobFolder {
    name: JobName,
    path: PathBuf,
    journal: JournalFile<OnDisk>,
    _lock: Lock,
}

impl JobFolder {
    /// Returns the job's name.
    pub fn name(&self) -> &JobName {
        &self.name
    }

    /// Returns the job's folder.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Returns whether records can be kept.
    pub fn store(&self) -> Store {
        self.journal.store()
    }

    /// Returns the number of the last record that is surely on disk, 0 if there is none.
    pub fn last_safe(&self) -> u64 {
        self.journal.last_safe()
    }

    /// Adds a record and returns its number once it is on disk.
    ///
    /// # Errors
    /// [`AppendError`], and then the event is not recorded. After [`AppendError::Unwritable`] the next one may be;
    /// after any other error none will be until the job is opened anew. The caller says so and may go on without.
    pub fn append<E>(&mut self, event: &E, at: Timestamp) -> Result<u64, AppendError>
    where
        E: Serialize + DeserializeOwned,
    {
        self.journal.append(event, at)
    }
}
