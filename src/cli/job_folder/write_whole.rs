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

#[cfg(test)]
mod tests {
    use super::*;

    /// A folder that goes when the test is over.
    struct Folder(PathBuf);

    impl Folder {
        fn new() -> Folder {
            let path = std::env::temp_dir().join(format!("stepjig-whole-{}", unique()));
            fs::create_dir(&path).unwrap();
            Folder(path)
        }

        fn names(&self) -> Vec<String> {
            let names = fs::read_dir(&self.0).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
            let mut names: Vec<String> = names.collect();
            names.sort();
            names
        }
    }

    impl Drop for Folder {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    #[test]
    fn a_file_is_made_and_replaced_and_no_draft_is_left() {
        let folder = Folder::new();
        let path = folder.0.join("kit.toml");
        write_whole(&path, b"long first text").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"long first text");
        write_whole(&path, b"second").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"second");
        assert_eq!(folder.names(), ["kit.toml"]);
    }

    #[cfg(unix)]
    #[test]
    fn a_new_file_is_ours_alone_and_an_old_one_keeps_its_permissions() {
        use std::os::unix::fs::PermissionsExt;
        let folder = Folder::new();
        let path = folder.0.join("kit.toml");
        let mode = || fs::metadata(&path).unwrap().permissions().mode() & 0o7777;
        write_whole(&path, b"").unwrap();
        assert_eq!(mode(), 0o600);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
        write_whole(&path, b"").unwrap();
        assert_eq!(mode(), 0o640);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_followed_to_a_file_and_nowhere_else() {
        use std::os::unix::fs::symlink;
        let (folder, other) = (Folder::new(), Folder::new());
        let (link, target) = (folder.0.join("link"), other.0.join("target"));
        fs::write(&target, "old").unwrap();
        symlink(&target, &link).unwrap();
        write_whole(&link, b"new").unwrap();
        assert_eq!(fs::read(&target).unwrap(), b"new");
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        fs::remove_file(&target).unwrap();
        let said = write_whole(&link, b"new").unwrap_err().to_string();
        assert_eq!(said, format!("cannot replace {}: it is not a regular file", link.display()));
        assert_eq!((folder.names(), other.names()), (vec!["link".to_owned()], vec![]));
    }

    #[cfg(unix)]
    #[test]
    fn what_is_not_a_file_is_not_replaced() {
        let folder = Folder::new();
        let (inner, socket) = (folder.0.join("inner"), folder.0.join("socket"));
        fs::create_dir(&inner).unwrap();
        let _socket = std::os::unix::net::UnixListener::bind(&socket).unwrap();
        for path in [&inner, &socket] {
            let said = write_whole(path, b"new").unwrap_err().to_string();
            assert_eq!(said, format!("cannot replace {}: it is not a regular file", path.display()));
        }
        assert_eq!(folder.names(), ["inner", "socket"]);
        assert!(!fs::metadata(&socket).unwrap().is_file());
    }

    #[test]
    fn a_failure_names_the_file_that_was_asked_for() {
        let folder = Folder::new();
        let path = folder.0.join("missing").join("kit.toml");
        let said = write_whole(&path, b"").unwrap_err().to_string();
        assert_eq!(said, format!("cannot write {}: No such file or directory (os error 2)", path.display()));
        // This one fails at the renaming, after the draft was written.
        let path = folder.0.join("x".repeat(300));
        assert_eq!(write_whole(&path, b"").unwrap_err().path, path);
        assert!(folder.names().is_empty(), "no draft is left");
        assert_eq!(folder_of(Path::new("kit.toml")), Path::new("."));
        assert_eq!(folder_of(Path::new("kits/kit.toml")), Path::new("kits"));
    }

    #[test]
    fn a_new_file_is_never_an_old_one() {
        let folder = Folder::new();
        let path = folder.0.join("guide.toml");
        write_new(&path, b"first").unwrap();
        assert_eq!(write_new(&path, b"second").unwrap_err().source.kind(), io::ErrorKind::AlreadyExists);
        assert_eq!(fs::read(&path).unwrap(), b"first");
    }
}
