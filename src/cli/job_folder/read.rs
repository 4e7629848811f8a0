//! Reading a job's files, none of which is trusted to be small, text or even a file.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

use serde::de::DeserializeOwned;

use super::error::{FileError, JobError};
use super::name::JobName;
use crate::walk::journal::{self, Journal, Limits, Refused};

/// Refuses a pipe, device or folder in place of a file: opening a pipe would wait for ever. A file that is missing is
/// not refused.
pub(super) fn refuse_special(path: &Path) -> Result<(), FileError> {
    match fs::metadata(path) {
        Ok(found) if !found.is_file() => {
            Err(FileError::new("open", path)(io::Error::other("it is not a regular file")))
        }
        _ => Ok(()),
    }
}

/// Reads a file of at most `most` bytes, and one byte more if it has more.
fn bytes(path: &Path, most: u64) -> Result<Vec<u8>, FileError> {
    refuse_special(path)?;
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(FileError::new("read", path))?;
    file.take(most + 1).read_to_end(&mut bytes).map_err(FileError::new("read", path))?;
    Ok(bytes)
}

/// Reads a text file of at most `most` bytes.
pub(super) fn text(path: &Path, most: u64) -> Result<String, FileError> {
    let bytes = bytes(path, most)?;
    if bytes.len() as u64 > most {
        return Err(FileError::new("read", path)(io::Error::other(format!("it has more than {most} bytes"))));
    }
    String::from_utf8(bytes).map_err(|_| FileError::new("read", path)(io::Error::other("it is not UTF-8 text")))
}

/// Reads the bytes of a journal, refusing one that is too large before it is in memory.
pub(super) fn journal_bytes(path: &Path) -> Result<Vec<u8>, JobError> {
    let most = Limits::default().file;
    let bytes = bytes(path, most)?;
    if bytes.len() as u64 > most {
        let length = fs::metadata(path).map_or(most + 1, |found| found.len());
        return Err(JobError::Refused { path: path.to_owned(), why: Refused::TooLong { bytes: length, most } });
    }
    Ok(bytes)
}

/// Decodes the bytes of the journal at `path`.
pub(super) fn decode<E: DeserializeOwned>(path: &Path, bytes: &[u8], name: &JobName) -> Result<Journal<E>, JobError> {
    journal::decode(bytes, name.as_str()).map_err(|why| JobError::Refused { path: path.to_owned(), why })
}

/// Reads and decodes a journal.
pub(super) fn journal<E: DeserializeOwned>(path: &Path, name: &JobName) -> Result<Journal<E>, JobError> {
    decode(path, &journal_bytes(path)?, name)
}
