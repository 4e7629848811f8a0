//! The guide as it grows: how large it is, what came of it lately, where it is written.

use std::path::{Path, PathBuf};

use crate::check::{Checked, check_file};
use crate::cli::check::counted;
use crate::cli::failure::Failure;
use crate::cli::into_file::{self, IntoFile};
use crate::cli::output::Output;
use crate::cli::settings::Settings;
use crate::cli::shelf;
use crate::draft::{Build, write};
use crate::finding::{Severity, Source};
use crate::walk::half_made::stages;

/// The guide that a build gives, checked.
pub(super) struct Growth {
    /// Its text.
    pub text: String,
    /// What `check` makes of it.
    pub checked: Checked,
    stages: Vec<String>,
}

impl Growth {
    /// Writes and checks the guide of a build.
    pub(super) fn of(build: &Build, settings: &Settings) -> Result<Growth, Failure> {
        let text = write(build);
        let name = format!("{}.toml", build.id.as_deref().unwrap_or("draft"));
        let checked = check_file(&shelf::library(settings)?, &Source::new(name, text.clone()));
        let stages = checked.guide.as_ref().map_or_else(Vec::new, |guide| {
            stages(guide).into_iter().map(|stage| crate::finding::plain_text::clean_line(&stage.title)).collect()
        });
        Ok(Growth { text, checked, stages })
    }

    /// Tells whether `check` finds nothing.
    pub(super) fn is_clean(&self) -> bool {
        self.checked.findings.is_empty() && self.checked.guide.is_some()
    }

    /// Says in a line how large the guide is, what `check` finds, and what is new since it was another.
    pub(super) fn told(&self, before: Option<&Growth>) -> String {
        let n_errors = self.checked.count(Severity::Error);
        let n_findings = self.checked.findings.len();
        let found = match (n_errors, n_findings) {
            (0, 0) => "every proof holds".to_owned(),
            (0, n) => format!("{n} to look at: `check`"),
            (n, _) => format!("{n} wrong: `check`"),
        };
        let (steps, stages) = (counted(self.checked.n_steps(), "step"), counted(self.stages.len(), "stage"));
        let mut told = format!("The guide: {steps} in {stages}, {found}.");
        if let Some(before) = before {
            let new: Vec<&str> =
                self.stages.iter().filter(|stage| !before.stages.contains(stage)).map(String::as_str).collect();
            let (shown, more) = new.split_at(new.len().min(3));
            if !shown.is_empty() {
                let more = if more.is_empty() { String::new() } else { format!(" and {} more", more.len()) };
                told.push_str(&format!(" New: {}{more}.", shown.join(", ")));
            }
        }
        told
    }
}

/// Where a guide is written.
pub(super) enum Target {
    /// To the output.
    Output,
    /// Into a file.
    File(PathBuf),
}

impl Target {
    /// Returns the file.
    pub(super) fn file(&self) -> Option<&Path> {
        match self {
            Target::Output => None,
            Target::File(file) => Some(file),
        }
    }
}

/// Returns where the guide of a build goes: the file that was named, else the shop's own kits.
pub(super) fn target(build: &Build, into: &IntoFile, settings: &Settings) -> Result<Target, Failure> {
    if into.is_output() {
        return Ok(Target::Output);
    }
    if let Some(file) = into.file() {
        return Ok(Target::File(file.to_owned()));
    }
    let folder = match &settings.guides {
        Some(folder) => folder.clone(),
        None => settings.folders()?.guides(),
    };
    let id = build.id.as_deref().unwrap_or("my-guide");
    let file = folder.join("kits").join(format!("{id}.toml"));
    Ok(Target::File(file))
}

/// Returns what a file is called once it was written over: what was kept before keeps its name.
pub(super) fn old(file: &Path) -> PathBuf {
    let named = |n: usize| {
        let mut name = file.as_os_str().to_owned();
        name.push(if n == 1 { ".old".to_owned() } else { format!(".old{n}") });
        PathBuf::from(name)
    };
    (1..).map(named).find(|name| !name.exists()).unwrap_or_else(|| named(1))
}

/// Writes a guide's text where it goes, over a file that is there already too: that one is kept beside it.
pub(super) fn put(text: &str, target: &Target, output: &mut Output) -> Result<(), Failure> {
    match target {
        Target::Output => output.text(text),
        Target::File(file) => {
            let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
            std::fs::create_dir_all(folder).map_err(|wrong| Failure::file(folder, "make", wrong))?;
            if file.is_file() {
                let before = std::fs::read(file).map_err(|wrong| Failure::file(file, "read", wrong))?;
                // Writing the same twice leaves what was kept before.
                if before != text.as_bytes() {
                    into_file::write(&old(file), &before, output)?;
                }
            }
            into_file::write(file, text.as_bytes(), output)?;
        }
    }
    Ok(())
}
