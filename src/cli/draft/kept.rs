//! Drafts on disk: one file of answers each, written whole after every answer, and one writer each.

use std::path::{Path, PathBuf};

use crate::cli::check::counted;
use crate::cli::failure::Failure;
use crate::cli::job_folder::{JobError, JobName, Lock, holder, write_whole};
use crate::cli::settings::Settings;
use crate::cli::shelf;
use crate::draft::{Answers, Interview, parse, to_text};
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
    _lock: Lock,
}

/// A draft in the list.
pub(in crate::cli) struct ListedDraft {
    /// What it is called.
    pub name: String,
    /// How far it is, or why that cannot be told.
    pub state: String,
    /// Whether it is open in another stepjig.
    pub is_open: bool,
}

impl Kept {
    /// Opens the draft of a name for nobody else to write in; one that is not there yet is empty, and no file.
    pub(super) fn open(settings: &Settings, name: Option<&str>) -> Result<Kept, Failure> {
        let name = name.unwrap_or(UNNAMED);
        let known: JobName =
            name.parse().map_err(|wrong| Failure::usage(format!("a draft cannot be called so: {wrong}")))?;
        let folder = settings.folders()?.drafts();
        std::fs::create_dir_all(&folder).map_err(|wrong| Failure::file(&folder, "make", wrong))?;
        let path = folder.join(format!("{}.toml", known.as_str()));
        let lock = Lock::take(&lock_of(&path), &known).map_err(|wrong| busy(&known, &wrong))?;
        let answers = if path.exists() { parsed(&*shelf::read(&path)?)? } else { Answers::default() };
        Ok(Kept { name: name.to_owned(), answers, path, _lock: lock })
    }

    /// Keeps answers; they are on disk when this returns.
    pub(super) fn keep(&mut self, answers: Answers) -> Result<(), Failure> {
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
        let Ok(known) = id.parse::<JobName>() else { return };
        let Ok(lock) = Lock::take(&lock_of(&path), &known) else { return };
        if !path.exists() && std::fs::rename(&self.path, &path).is_ok() {
            // The lock under the old name goes last: nobody opens a draft that is being renamed.
            (self.name, self.path, self._lock) = (id.to_owned(), path, lock);
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

/// Returns the drafts under way, by name.
pub(in crate::cli) fn all(settings: &Settings) -> Result<Vec<ListedDraft>, Failure> {
    let Some(folders) = settings.folders.as_ref() else { return Ok(Vec::new()) };
    let folder = folders.drafts();
    let entries = match std::fs::read_dir(&folder) {
        Err(wrong) if wrong.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        entries => entries.map_err(|wrong| Failure::file(&folder, "read", wrong))?,
    };
    let files = entries.filter_map(|entry| Some(entry.ok()?.path()));
    let mut drafts: Vec<ListedDraft> = files.filter_map(|path| listed(&path)).collect();
    drafts.sort_by(|one, other| one.name.cmp(&other.name));
    Ok(drafts)
}

/// Looks at a draft without changing anything; none where the file is not named like one.
fn listed(path: &Path) -> Option<ListedDraft> {
    let name: JobName = path.file_name()?.to_str()?.strip_suffix(".toml")?.parse().ok()?;
    let state = match shelf::read(path).map(|source| parse(&source)) {
        Ok(Ok(answers)) => {
            let interview = Interview::of(&answers);
            let answered = counted(interview.answered().count(), "answer");
            match interview.next() {
                Some(_) => format!("{answered} of {}", Interview::n_questions(&answers)),
                None => "all is answered".to_owned(),
            }
        }
        Ok(Err(wrong)) => format!("cannot be read: {wrong}"),
        Err(_) => "cannot be read".to_owned(),
    };
    Some(ListedDraft { name: name.to_string(), state, is_open: holder(&lock_of(path)).is_some() })
}

/// Returns the file that is locked while a draft is open: the draft's own is written anew with each answer.
fn lock_of(draft: &Path) -> PathBuf {
    draft.with_extension("lock")
}

/// Says that somebody has a draft open.
fn busy(name: &JobName, wrong: &JobError) -> Failure {
    let in_which = match wrong {
        JobError::Busy { pid: Some(pid), .. } => format!("another stepjig (pid {pid})"),
        JobError::Busy { pid: None, .. } => "another stepjig".to_owned(),
        other => return Failure::usage(other.to_string()),
    };
    let failure = Failure::usage(format!("the draft {name} is open in {in_which}"));
    failure.help("go on there, or lay it aside there with `park` first; `stepjig draft NAME` begins another")
}
