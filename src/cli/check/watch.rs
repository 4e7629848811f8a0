//! `check --watch`: checks again whenever a file is saved, until Ctrl-C.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, SystemTime};

use crate::check::Checked;
use crate::cli::failure::Failure;
use crate::cli::output::Output;
use crate::cli::settings::Settings;
use crate::cli::{Outcome, shelf};
use crate::finding::plain_text::clean_line;
use crate::finding::render::one_line;
use crate::finding::{Code, Finding, Severity};

/// How often the files are looked at. A look costs a few dozen microseconds; a person does not notice a third of a second.
const PAUSE: Duration = Duration::from_millis(300);

/// How many looks a file may be away before it is said; an editor that replaces it needs less than one.
const LOOKS_AWAY: u32 = 7;

/// When a file was saved and how long it is; none where it is not there.
type Stamp = Option<(SystemTime, u64)>;

/// Checks the files again on every save; ends with the exit code of the last look.
pub(super) fn run(files: &[String], strict: bool, settings: &Settings, output: &mut Output) -> Outcome {
    if let Some(file) = files.iter().find(|file| !shelf::is_path(file)) {
        let failure = Failure::usage(format!("`{file}` is no file to watch"));
        return Err(failure.help("name files by their paths: `stepjig check --watch my-guide.toml`"));
    }
    if files.is_empty() {
        return Err(Failure::usage("say which file to watch").help("`stepjig check --watch my-guide.toml`"));
    }
    let stop = on_interrupt();
    let mut stamps = stamps(files, settings)?;
    let mut last: BTreeMap<&String, Checked> = BTreeMap::new();
    // What was found before, with what cannot be looked for while the file does not link.
    let mut known: BTreeMap<&String, Vec<Finding>> = BTreeMap::new();
    for file in files {
        let checked = super::checked(file, settings)?;
        super::tell(std::slice::from_ref(&checked), settings, output);
        known.insert(file, checked.findings.clone());
        last.insert(file, checked);
    }
    output.line("Watching; save the file and it is checked again. Ctrl-C ends.");
    let mut away = 0;
    while !stop.load(Ordering::Relaxed) && !output.is_broken() {
        std::thread::sleep(PAUSE);
        let now = self::stamps(files, settings)?;
        if let Some(gone) = files.iter().find(|file| !Path::new(file).is_file()) {
            away += 1;
            if away == LOOKS_AWAY {
                output.line(&clean_line(&format!("{gone} is not there; it is checked again when it is back.")));
            }
            continue;
        }
        away = 0;
        if now == stamps {
            continue;
        }
        let saved: BTreeSet<PathBuf> =
            now.iter().filter(|(path, stamp)| stamps.get(*path) != Some(stamp)).map(|(path, _)| path.clone()).collect();
        stamps = now;
        for file in files {
            match super::checked(file, settings) {
                Ok(checked) => {
                    let (waiting, before) = waiting(known.remove(file).unwrap_or_default(), &checked);
                    tell(file, &before, &checked, saved.contains(Path::new(file)), output);
                    known.insert(file, checked.findings.iter().cloned().chain(waiting).collect());
                    last.insert(file, checked);
                }
                // It may be half written; what is wrong is said, and the next save is waited for.
                Err(failure) => output.failure(&failure),
            }
        }
    }
    Ok(u8::from(last.values().any(|checked| super::fails(checked, strict))))
}

/// Returns a flag that Ctrl-C sets, so that the last line is whole and the exit code is told.
fn on_interrupt() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    #[cfg(unix)]
    {
        // Where it cannot be caught it ends the program as ever.
        let _ = signal_hook::flag::register(signal_hook::consts::SIGINT, Arc::clone(&stop));
    }
    stop
}

/// Returns the stamps of the files and of all that lies on the shelves that they are linked against.
fn stamps(files: &[String], settings: &Settings) -> Result<BTreeMap<PathBuf, Stamp>, Failure> {
    let mut paths: BTreeSet<PathBuf> = files.iter().map(PathBuf::from).collect();
    for file in files {
        paths.extend(shelf::linked_against(settings, Path::new(file))?);
    }
    let stamp = |path: &Path| {
        let found = path.metadata().ok()?;
        Some((found.modified().ok()?, found.len()))
    };
    Ok(paths.into_iter().map(|path| (path.clone(), stamp(&path))).collect())
}

/// Parts what was found before into what waits until the file links again, and what can be compared with now.
///
/// The proofs and the rules on texts are not looked at while a name leads nowhere; what they found is not gone by that.
fn waiting(before: Vec<Finding>, now: &Checked) -> (Vec<Finding>, Vec<Finding>) {
    let links = now.guide.is_some();
    before.into_iter().partition(|finding| !links && finding.code > Code::MissingWay)
}

/// Says what went, what came and what is left; nothing where another file was saved and nothing is different.
fn tell(file: &str, before: &[Finding], checked: &Checked, is_saved: bool, output: &mut Output) {
    let name = |finding: &Finding| (finding.code, finding.step.clone(), finding.message.clone());
    let without = |all: &[Finding], others: &[Finding]| -> Vec<String> {
        let mut known: Vec<_> = others.iter().map(name).collect();
        let mut left = Vec::new();
        for finding in all {
            match known.iter().position(|other| *other == name(finding)) {
                // Of two alike one may go.
                Some(at) => drop(known.swap_remove(at)),
                None => left.push(one_line(finding)),
            }
        }
        left.dedup();
        left
    };
    let (went, came) = (without(before, &checked.findings), without(&checked.findings, before));
    if went.is_empty() && came.is_empty() && !is_saved {
        return;
    }
    output.line("");
    went.iter().for_each(|line| output.entry(&format!("  gone: {line}")));
    came.iter().for_each(|line| output.entry(&format!("  new: {line}")));
    let (errors, warnings) = (checked.count(Severity::Error), checked.count(Severity::Warning));
    let left = match (errors, warnings) {
        (0, 0) => "nothing left".to_owned(),
        _ => format!("left: {}, {}", super::counted(errors, "error"), super::counted(warnings, "warning")),
    };
    output.line(&clean_line(&format!("{file}: {} gone, {} new, {left}", went.len(), came.len())));
}
