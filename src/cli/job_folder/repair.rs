//! Making a damaged journal one that can be gone on with; the damaged one is kept beside it.

use std::path::PathBuf;

use serde::de::DeserializeOwned;

use super::error::JobError;
use super::lock::Lock;
use super::name::JobName;
use super::write_whole::write_whole;
use super::{JOURNAL, JobsRoot, LOCK, read};
use crate::walk::journal::Damage;

/// What a repair did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Repaired {
    /// Where the damaged journal is kept, `journal.damaged-1` or the next free number.
    pub damaged: PathBuf,
    /// How many records before the damage the journal has now.
    pub kept: u64,
    /// How many intact records after the damage it has not.
    pub left: u64,
    /// What was wrong.
    pub damage: Vec<Damage>,
}

impl JobsRoot {
    /// Keeps a damaged journal under another name and leaves in its place the records before the first damage.
    ///
    /// Those are kept byte for byte: what they say of the work is what was true then. The intact ones after the damage
    /// are left out, for what happened in between is lost, and their sum could say of the work what is not so.
    ///
    /// # Errors
    /// [`JobError::NotDamaged`] if [`open`](JobsRoot::open) goes on with it as it is; otherwise as
    /// [`open`](JobsRoot::open). The damaged journal is on disk under its new name before the old one is replaced.
    pub fn repair<E: DeserializeOwned>(&self, name: &JobName) -> Result<Repaired, JobError> {
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
        let free = (1..u64::MAX).map(|n| folder.join(format!("journal.damaged-{n}")));
        let damaged = free.into_iter().find(|path| path.symlink_metadata().is_err()).unwrap_or_default();
        write_whole(&damaged, &bytes)?;
        let before = &bytes[..usize::try_from(first).unwrap_or(bytes.len())];
        write_whole(&journal_path, before)?;
        let kept = before.iter().filter(|byte| **byte == b'\n').count() as u64;
        Ok(Repaired { damaged, kept, left: journal.records.len() as u64 - kept, damage: journal.damage })
    }
}
