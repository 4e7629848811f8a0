//! Replacing a file so that a reader, or a crash, meets the old one or the new one and nothing between.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::error::FileError;
use super::unique;

/// Writes `bytes` as the file `path`, whole and on disk, in place of what was there.
///
/// They go into a new file of the same folder first, which only we may read; it is synced, renamed, and the folder
/// synced. A file that is replaced keeps its permissions; a link is followed. The caller has asked before overwriting.
///
/// # Errors
/// [`FileError`] with the file and what the system said: the old file is then as it was, unless only the sync of the
/// folder failed. What is there but not a regular file (a folder, a device) is never replaced.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    let not_a_file = || io::Error::other("it is not a regular file");
    let (target, permissions) = match fs::metadata(path) {
        Ok(found) if !found.is_file() => return Err(FileError::new("replace", path)(not_a_file())),
        Ok(found) => (fs::canonicalize(path).map_err(FileError::new("replace", path))?, Some(found.permissions())),
        // A link that leads nowhere is not replaced either: where it should lead is not ours to decide.
        Err(_) if fs::symlink_metadata(path).is_ok() => return Err(FileError::new("replace", path)(not_a_file())),
        Err(_) => (path.to_owned(), None),
    };
    let folder = folder_of(&target);
    let draft = folder.join(format!(".new-{}", unique()));
    let written = write_new(&draft, bytes).and_then(|()| {
        if let Some(permissions) = permissions {
            fs::set_permissions(&draft, permissions).map_err(FileError::new("write", &target))?;
        }
        fs::rename(&draft, &target).map_err(FileError::new("write", &target))
    });
    if let Err(error) = written {
        // Best effort: the draft is ours alone, and the first error is the one to tell.
        let _ = fs::remove_file(&draft);
        return Err(FileError { path: path.to_owned(), ..error });
    }
    sync_folder(&folder)
}

/// The folder that `path` is in.
fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// Writes a file that must not be there yet, and syncs it.
pub(super) fn write_new(path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let write = || {
        let mut file = options.open(path)?;
        file.write_all(bytes)?;
        file.sync_all()
    };
    write().map_err(FileError::new("write", path))
}

/// Makes what was renamed in `folder` last.
pub(super) fn sync_folder(folder: &Path) -> Result<(), FileError> {
    if cfg!(not(unix)) {
        // Elsewhere a folder cannot be opened as a file.
        return Ok(());
    }
    match File::open(folder).and_then(|opened| opened.sync_all()) {
        // Some network file systems have no such thing; they have done what they do.
        Err(error) if matches!(error.kind(), io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported) => Ok(()),
        synced => synced.map_err(FileError::new("sync", folder)),
    }
}
