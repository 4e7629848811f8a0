//! Drafts on disk: one file of answers each, written whole after every answer.

use std::path::{Path, PathBuf};

use crate::cli::failure::Failure;
use crate::cli::job_folder::{JobName, write_whole};
use crate::cli::settings::Settings;
use crate::cli::shelf;
use crate::draft::{Answers, parse, to_text};
use crate::finding::Source;

/// What a draft is called before its guide has a name.
pub(super) const UNNAMED: &str = "unnamed";

/// A draft: its answers, and where they are kept.
pub(super) struct Kept {
    /// What it is called.
    pub name: String,
    /// What was said so far.
    pub answers: Answers,
    path: PathBuf,
}

impl Kept {
    /// Opens the draft of a name; one that is not there yet is empty, and no file.
    pub(super) fn open(settings: &Settings, name: Option<&str>) -> Result<Kept, Failure> {
        let name = name.unwrap_or(UNNAMED);
        let known: JobName =
            name.parse().map_err(|wrong| Failure::usage(format!("a draft cannot be called so: {wrong}")))?;
        let path = settings.folders()?.drafts().join(format!("{}.toml", known.as_str()));
        let answers = if path.exists() { parsed(&*shelf::read(&path)?)? } else { Answers::default() };
        Ok(Kept { name: name.to_owned(), answers, path })
    }

    /// Keeps answers; they are on disk when this returns.
    pub(super) fn keep(&mut self, answers: Answers) -> Result<(), Failure> {
        let folder = self.path.parent().unwrap_or(Path::new("."));
        std::fs::create_dir_all(folder).map_err(|wrong| Failure::file(folder, "make", wrong))?;
        write_whole(&self.path, to_text(&answers).as_bytes()).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        // A draft that is called after its guide goes on being so.
        let was_called_so = self.answers.get("name") == Some(&*self.name);
        self.answers = answers;
        let id = self.answers.get("name").filter(|id| was_called_so && id.parse::<JobName>().is_ok());
        if let Some(id) = id.map(str::to_owned) {
            self.call(&id);
        }
        Ok(())
    }

    /// Calls a draft without a name after its guide, unless another draft is called so.
    pub(super) fn rename(&mut self, id: &str) {
        if self.name == UNNAMED {
            self.call(id);
        }
    }

    /// Calls the draft otherwise, unless another draft is called so.
    fn call(&mut self, id: &str) {
        let path = self.path.with_file_name(format!("{id}.toml"));
        // Where it cannot be renamed it stays whole under the name it has.
        if !path.exists() && std::fs::rename(&self.path, &path).is_ok() {
            (self.name, self.path) = (id.to_owned(), path);
        }
    }

    /// Returns how the draft is opened again.
    pub(super) fn command(&self) -> String {
        if self.name == UNNAMED { "stepjig draft".to_owned() } else { format!("stepjig draft {}", self.name) }
    }
}

/// Returns the answers of a file.
pub(super) fn parsed(source: &Source) -> Result<Answers, Failure> {
    parse(source).map_err(|wrong| {
        Failure::usage(format!("{}:{}: {}", source.name(), wrong.line, wrong.message)).maybe_help(wrong.help)
    })
}
