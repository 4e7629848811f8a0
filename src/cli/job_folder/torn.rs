//! A record that was cut off while it was written: kept beside the journal, never thrown away.

use std::fs;
use std::path::{Path, PathBuf};

use super::error::FileError;
use super::write_whole::write_whole;

/// Where the torn end of a journal went.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetAside {
    /// The file with the torn bytes.
    pub path: PathBuf,
    /// The number that the record would have had.
    pub record: u64,
    /// Where in the journal it began, in bytes from 0.
    pub byte: u64,
    /// How many bytes there were.
    pub bytes: u64,
}

/// Copies the torn bytes to `journal.torn-<record>` in `folder`, under a further number if that is taken.
pub(super) fn set_aside(folder: &Path, torn: &[u8], byte: u64, record: u64) -> Result<SetAside, FileError> {
    let mut copy = 1u64;
    loop {
        let suffix = if copy == 1 { String::new() } else { format!("-{copy}") };
        let path = folder.join(format!("journal.torn-{record}{suffix}"));
        let kept = fs::symlink_metadata(&path).is_ok();
        // A crash between copying and cutting leaves the very copy that we were about to make.
        let is_ours =
            kept && fs::metadata(&path).is_ok_and(|found| found.is_file() && found.len() == torn.len() as u64);
        if !kept {
            write_whole(&path, torn)?;
        } else if !(is_ours && fs::read(&path).is_ok_and(|found| found == torn)) {
            copy += 1;
            continue;
        }
        return Ok(SetAside { path, record, byte, bytes: torn.len() as u64 });
    }
}
