//! `check --fix`: writes what can be mended mechanically, and says what was changed and what is left.

use std::path::PathBuf;

use crate::check::Checked;
use crate::check::mend::{Change, mend};
use crate::cli::failure::Failure;
use crate::cli::job_folder::write_whole;
use crate::cli::output::Output;
use crate::cli::settings::Settings;
use crate::cli::shelf;
use crate::finding::plain_text::clean_line;

/// Mends one file; returns what is found in it afterwards.
pub(super) fn run(named: &str, dry_run: bool, settings: &Settings, output: &mut Output) -> Result<Checked, Failure> {
    let path = file_of(named, settings)?;
    let (library, source) = shelf::find(settings, &path.display().to_string())?;
    let mended = mend(&library, &source);
    for change in &mended.changes {
        output.line(&told(source.name(), change));
    }
    if mended.changes.is_empty() {
        output.line(&format!("{}: nothing that can be mended mechanically", clean_line(source.name())));
    } else if dry_run {
        output.text(&diff(source.text(), mended.source.text()));
        output.line("Nothing was written.");
    } else {
        // A file that an editor saved since it was read is not written over.
        if shelf::read(&path)?.text() != source.text() {
            let failure = Failure::usage(format!("{} was changed while it was mended", path.display()));
            return Err(failure.help("nothing was written; run it again"));
        }
        write_whole(&path, mended.source.text().as_bytes()).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    }
    output.line("");
    Ok(mended.checked)
}

fn told(file: &str, change: &Change) -> String {
    clean_line(&format!("{file}:{}: mended {}: {}", change.line, change.code, change.what))
}

/// Returns the file that is mended: one that is named by its path, or in the shop's own folder.
fn file_of(named: &str, settings: &Settings) -> Result<PathBuf, Failure> {
    if named == "-" {
        return Err(Failure::usage("what comes from a pipe cannot be mended where it is").help("name a file"));
    }
    if shelf::is_path(named) {
        return Ok(PathBuf::from(named));
    }
    if let Some(own) = shelf::own_file(settings, named)? {
        return Ok(own);
    }
    // A name that there is not is told as everywhere.
    shelf::find(settings, named)?;
    let failure = Failure::usage(format!("`{named}` comes with stepjig and is not changed"));
    Err(failure.help("mend a file of your own, named by its path: `stepjig check --fix my-guide.toml`"))
}

/// Returns the lines that differ, those that go after `-`, those that come after `+`.
///
/// Mending changes lines and puts lines in; it never takes one away, so that a line that is not found is a changed one.
fn diff(old: &str, new: &str) -> String {
    let (old, new): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let mut told = String::new();
    let (mut at, mut left) = (0, new.len().saturating_sub(old.len()));
    for (n, line) in old.iter().enumerate() {
        if new.get(at) == Some(line) {
            at += 1;
            continue;
        }
        // Only as many lines can have come as the new text has more.
        let came = (1..=left).find(|came| new.get(at + came) == Some(line));
        let came = came.unwrap_or(0);
        for line in new.iter().skip(at).take(came) {
            told.push_str(&format!("{:>5} + {}", n + 1, clean_line(line)));
            told.push('\n');
        }
        at += came;
        left -= came;
        if came == 0 {
            told.push_str(&format!("{:>5} - {}", n + 1, clean_line(line)));
            told.push('\n');
            told.push_str(&format!("{:>5} + {}", n + 1, clean_line(new.get(at).unwrap_or(&""))));
            told.push('\n');
        }
        at += 1;
    }
    for line in new.iter().skip(at) {
        told.push_str(&format!("{:>5} + {}", old.len() + 1, clean_line(line)));
        told.push('\n');
    }
    told
}

#[cfg(test)]
mod tests {
    use super::diff;

    #[test]
    fn changed_lines_and_lines_put_in_are_told() {
        assert_eq!(diff("a\nb\nc\n", "a\nb\nx\nc\n"), "    3 + x\n");
        assert_eq!(diff("a\nb\nc\n", "a\nB\nc\n"), "    2 - b\n    2 + B\n");
        assert_eq!(diff("a\nb\n", "a\nB\nx\n"), "    2 - b\n    2 + B\n    3 + x\n");
        assert_eq!(diff("a\n", "a\n"), "");
    }
}
