//! Making a journal in order out of a damaged one, in a new file beside it.

use std::path::PathBuf;

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::error::{FileError, JobError};
use super::lock::Lock;
use super::name::JobName;
use super::write_whole::write_whole;
use super::{JOURNAL, JobsRoot, LOCK, read};
use crate::walk::journal::{Damage, Record, encode};

/// Which records a repaired journal has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    /// Those before the first damage, byte for byte: what they say of the work is what was true then.
    BeforeDamage,
    /// All intact ones, numbered anew from 1. What happened in between is lost, so their sum may say of the work what
    /// is not so.
    AllIntact,
}

/// What a repair made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Repaired {
    /// The new file, `journal.repaired`; to use it, put it in the place of `journal.jsonl`.
    pub path: PathBuf,
    /// How many records it has.
    pub kept: u64,
    /// How many intact records it has not.
    pub left: u64,
    /// What was wrong with the journal, which is as it was.
    pub damage: Vec<Damage>,
}

impl JobsRoot {
    /// Writes what can be kept of a damaged journal to a new file `journal.repaired`, and changes nothing else.
    ///
    /// # Errors
    /// [`JobError::NotDamaged`] if [`open`](JobsRoot::open) goes on with it as it is; [`JobError::File`] if there is
    /// already a repaired one; and as [`open`](JobsRoot::open).
    pub fn repair<E>(&self, name: &JobName, keep: Keep) -> Result<Repaired, JobError>
    where
        E: Serialize + DeserializeOwned,
    {
        let folder = self.existing(name)?;
        let _lock = Lock::take(&folder.join(LOCK), name)?;
        let journal_path = folder.join(JOURNAL);
        let bytes = read::journal_bytes(&journal_path)?;
        let journal = read::decode::<E>(&journal_path, &bytes, name)?;
        let first = journal.damage.iter().find_map(|damage| match damage {
            Damage::Middle { byte, .. } => Some(*byte),
            Damage::TornTail { .. } => None,
        });
        let Some(first) = first else { return Err(JobError::NotDamaged { name: name.clone() }) };
        let path = folder.join("journal.repaired");
        if path.symlink_metadata().is_ok() {
            return Err(FileError::new("write", &path)(std::io::ErrorKind::AlreadyExists.into()).into());
        }
        let intact = journal.records.len() as u64;
        let (text, kept) = match keep {
            Keep::BeforeDamage => {
                let text = bytes[..usize::try_from(first).unwrap_or(bytes.len())].to_owned();
                let lines = text.iter().filter(|byte| **byte == b'\n').count() as u64;
                (text, lines)
            }
            Keep::AllIntact => {
                let mut text = Vec::new();
                for (seq, record) in (1..).zip(&journal.records) {
                    let renumbered = Record { seq, at: record.at, event: &record.event };
                    let line = encode(name.as_str(), &renumbered)
                        .map_err(|error| FileError::new("write", &path)(std::io::Error::other(error)))?;
                    text.extend(line.as_bytes());
                }
                (text, intact)
            }
        };
        write_whole(&path, &text)?;
        Ok(Repaired { path, kept, left: intact - kept, damage: journal.damage })
    }
}
