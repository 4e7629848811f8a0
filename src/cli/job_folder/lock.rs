//! One writer a job, or a draft: the system's own file lock, which goes with the process however that ends.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, Write};
use std::path::Path;
use std::time::Duration;

use super::error::{FileError, JobError};
use super::name::JobName;
use super::read;

/// A listing looks at the lock for a moment, and the holder writes its process id a moment after locking: one failed
/// try does not yet mean that somebody works on the job.
const TRIES: u32 = 10;
const PAUSE: Duration = Duration::from_millis(15);

/// The lock on a job or a draft, held until dropped.
#[derive(Debug)]
pub struct Lock(File);

impl Lock {
    /// Takes the lock and writes our process id into its file, or says who has it.
    ///
    /// # Errors
    /// [`JobError::Busy`] where another has it, [`JobError::File`] where there can be no such file.
    pub fn take(path: &Path, name: &JobName) -> Result<Lock, JobError> {
        read::refuse_special(path)?;
        let file = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path);
        let mut file = file.map_err(FileError::new("open", path))?;
        let mut pid = None;
        for attempt in 0..TRIES {
            if attempt > 0 {
                std::thread::sleep(PAUSE);
            }
            match file.try_lock() {
                Ok(()) => {
                    // The number only helps others to say who has the job. On a full disk it cannot be written, and
                    // the job must open all the same.
                    let pid = format!("{}\n", std::process::id());
                    let _ = file.set_len(0).and_then(|()| file.write_all(pid.as_bytes()));
                    return Ok(Lock(file));
                }
                Err(TryLockError::WouldBlock) => pid = read_pid(&mut file),
                Err(TryLockError::Error(source)) => return Err(FileError::new("lock", path)(source).into()),
            }
        }
        Err(JobError::Busy { name: name.clone(), pid })
    }
}

impl Drop for Lock {
    /// Wipes our process id, so that the next holder's is never taken for ours.
    fn drop(&mut self) {
        // Nothing depends on it, and there is nobody to tell.
        let _ = self.0.set_len(0);
    }
}

/// Whether somebody has the job open, and who; changes nothing.
pub fn holder(path: &Path) -> Option<Option<u32>> {
    read::refuse_special(path).ok()?;
    let mut file = File::open(path).ok()?;
    match file.try_lock_shared() {
        Err(TryLockError::WouldBlock) => Some(read_pid(&mut file)),
        _ => None,
    }
}

/// The process id in a lock file; where the lock forbids reading (Windows) there is none.
fn read_pid(file: &mut File) -> Option<u32> {
    let mut text = String::new();
    file.rewind().ok()?;
    file.take(20).read_to_string(&mut text).ok()?;
    text.strip_suffix('\n')?.parse().ok()
}
