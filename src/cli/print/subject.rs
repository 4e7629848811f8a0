//! What is printed: a guide, a fault table, or a job with the guide that is kept with it.

use std::path::Path;
use std::sync::Arc;

use crate::cli::failure::Failure;
use crate::cli::folders::Folders;
use crate::cli::job_folder::{JobName, JobsRoot, ReadJob};
use crate::cli::list::kept_guide;
use crate::cli::settings::Settings;
use crate::cli::shelf;
use crate::cli::trouble::{learned, table_of};
use crate::finding::Source;
use crate::finding::plain_text::clean_line;
use crate::guide::document::{Document, KitValue, Shelf};
use crate::guide::{Guide, Library, read};
use crate::sheet::lay_out::Fault;
use crate::trouble::table::{Endings, Table};
use crate::walk::{Event, Walk};

/// What is printed.
pub(super) enum Subject {
    Guide(Box<Guide>),
    Table(Box<Document>),
    Job(Box<Job>),
}

/// A pen that is being made, or was.
pub(super) struct Job {
    pub(super) name: String,
    pub(super) guide: Guide,
    pub(super) events: Vec<Event>,
    /// The fault tables that are kept with it.
    pub(super) tables: Vec<Document>,
    /// What is wrong with its journal, in words.
    pub(super) damage: Option<String>,
}

impl Job {
    /// Returns its guide with the numbers that were measured at the bench.
    pub(super) fn measured(&self) -> Guide {
        let mut guide = self.guide.clone();
        for (path, number) in &Walk::from_events(&self.guide, &self.events).state().numbers {
            // A number that the guide does not have is asked for by nothing.
            let _ = guide.set_number(path, KitValue::Text(number.clone()));
        }
        guide
    }
}

/// Returns what a name or a path is about.
pub(super) fn subject(settings: &Settings, named: &str) -> Result<Subject, Failure> {
    if let Some(job) = job(settings, named)? {
        return Ok(Subject::Job(Box::new(job)));
    }
    let (library, source) = shelf::find(settings, named)?;
    match read(&source, library.limits()).0 {
        Some(document) if document.shelf == Shelf::Trouble => Ok(Subject::Table(Box::new(document))),
        // What came from a pipe is there only once.
        _ if named == "-" => Ok(Subject::Guide(Box::new(shelf::sound_source(&library, &source, named)?))),
        _ => Ok(Subject::Guide(Box::new(shelf::sound(settings, named)?))),
    }
}

/// Returns the job of a name or in a folder; none where there is a guide or a table of that name, or no such job.
fn job(settings: &Settings, named: &str) -> Result<Option<Job>, Failure> {
    let folder = Path::new(named);
    let (root, name) = match (folder.parent(), folder.file_name()) {
        (Some(parent), Some(name)) if named.contains(['/', '\\']) && folder.is_dir() => {
            (parent.to_owned(), name.to_string_lossy().into_owned())
        }
        _ if shelf::is_known(settings, named)? => return Ok(None),
        _ => match settings.folders.as_ref().map(Folders::jobs) {
            Some(jobs) => (jobs, named.to_owned()),
            None => return Ok(None),
        },
    };
    let jobs = JobsRoot::new(root);
    let Ok(name) = name.parse::<JobName>() else { return Ok(None) };
    let path = jobs.job_path(&name);
    if !path.is_dir() {
        return Ok(None);
    }
    let ReadJob { guide, journal } =
        jobs.open_read_only::<Event>(&name).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    let Some(guide) = kept_guide(guide) else {
        let failure = Failure::usage(format!("the guide that is kept with the job `{name}` cannot be read"));
        return Err(failure.help(format!("look at guide.toml in {}", path.display())));
    };
    let damage = journal.damage.first().map(|damage| clean_line(&damage.to_string()));
    let events: Vec<Event> = journal.records.into_iter().map(|record| record.event).collect();
    Ok(Some(Job { name: name.to_string(), guide, tables: kept_tables(&path), events, damage }))
}

/// Returns the fault tables that are kept in a job's folder.
fn kept_tables(folder: &Path) -> Vec<Document> {
    let Ok(entries) = folder.read_dir() else { return Vec::new() };
    let mut paths: Vec<_> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    paths.sort();
    let is_table = |path: &std::path::PathBuf| {
        let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        name.starts_with("trouble-") && name.ends_with(".toml") && path.is_file()
    };
    let library = Library::empty();
    let document = |path: std::path::PathBuf| read(&shelf::read(&path).ok()?, library.limits()).0;
    paths.into_iter().filter(is_table).filter_map(document).collect()
}

/// Returns a fault table, ready to be laid out, with this shop's odds and its remedies' steps.
pub(super) fn fault(document: &Document, settings: &Settings) -> Result<Fault, Failure> {
    let library = shelf::library(settings)?;
    let table = table(document, settings)?;
    let steps = |remedy| library.link_remedy(document, &table.words, remedy, &[], None).guide;
    let remedies = table.words.remedies.iter().map(steps).collect();
    Ok(Fault { document: document.clone(), table, remedies })
}

fn table(document: &Document, settings: &Settings) -> Result<Table, Failure> {
    let raw = document.fault_table.as_deref().cloned().unwrap_or_default();
    let odds = learned::odds(&document.id.value, &raw, settings)?;
    // Without a kit each thing stands for a branch of its own.
    let with: Vec<(String, String)> =
        document.takes.iter().map(|taken| (taken.value.clone(), format!("kit.{}", taken.value))).collect();
    table_of(document, raw.filled(&document.takes, &with, |_| None), &odds, &Endings::default())
}

/// Returns the fault tables that a guide's steps name, each once, in the order of the steps.
pub(super) fn faults(guide: &Guide, kept: &[Document], settings: &Settings) -> Result<Vec<Fault>, Failure> {
    let library = shelf::library(settings)?;
    let mut named: Vec<&str> = Vec::new();
    let by_steps = guide.steps().flat_map(|(_, step)| &step.trouble);
    let by_ways = guide.ways().iter().filter_map(|way| way.trouble.as_ref());
    for call in by_steps.chain(by_ways) {
        if !named.contains(&&*call.table) {
            named.push(&call.table);
        }
    }
    let document = |id: &&str| -> Option<Document> {
        let kept = kept.iter().find(|document| document.id.value == **id).cloned();
        kept.or_else(|| read(&library.trouble(id)? as &Arc<Source>, library.limits()).0)
    };
    named.iter().filter_map(document).map(|document| fault(&document, settings)).collect()
}
