//! `walk`: makes a pen, one step at a time, or goes on with one.

use std::path::PathBuf;
use std::sync::Arc;

use jiff::Timestamp;

use super::Outcome;
use super::failure::Failure;
use super::job_folder::{JobFolder, JobName, JobsRoot, Store};
use super::kit_file;
use super::list::job_row;
use super::output::Output;
use super::prompt::Lines;
use super::settings::Settings;
use super::shelf;
use crate::finding::Source;
use crate::guide::{Library, Limits};
use crate::reckon::Data;
use crate::walk::{Event, Walk};

mod begin;
mod doubt;
mod ending;
mod half_made;
mod lists;
mod reckoned;
mod session;
pub(super) mod trouble;

use begin::begin;
pub(super) use doubt::{Read, doubted};
pub(super) use lists::{still_so, still_so_told};
use session::Session;
pub(super) use session::record;

/// Arguments of `walk`.
#[derive(Debug, clap::Args)]
pub(super) struct WalkArguments {
    /// The guide: an id or a path; not needed to go on with a job
    guide: Option<String>,
    /// The job's name; one that exists is gone on with
    #[arg(long, value_name = "NAME")]
    job: Option<String>,
    /// A kit file whose numbers go before the guide's, by path or by the name it was kept under
    #[arg(long, value_name = "FILE")]
    kit: Option<PathBuf>,
    /// Begin with a half-made pen: what is true of it; unnamed, it is asked for
    #[arg(long, value_name = "CONDITION", num_args = 0..)]
    from: Option<Vec<String>>,
    /// With `--from CONDITION`: what the named conditions rest on is true as well
    #[arg(long, requires = "from")]
    built_on: bool,
    /// Go on with a job whose journal is damaged, from the last mark before the damage; the damaged file is kept
    #[arg(long, requires = "job")]
    repair: bool,
    /// Keep the numbers measured on this walk as a kit file of that name
    #[arg(long, value_name = "NAME")]
    save_kit: Option<String>,
}

/// Walks.
pub(super) fn run(arguments: WalkArguments, settings: &Settings, output: &mut Output) -> Outcome {
    let jobs = JobsRoot::new(settings.folders()?.jobs());
    let mut lines = Lines::open(settings)?;
    if let Some(name) = &arguments.save_kit {
        kit_file::free_name(name, settings)?;
    }
    let mut job = arguments.job.as_deref().map(name_of).transpose()?;
    if job.is_none() && arguments.from.is_none() && arguments.kit.is_none() {
        job = begin::unfinished(&arguments, &jobs, &mut lines, output)?;
    }
    let going_on = job.as_ref().filter(|name| jobs.job_path(name).exists());
    let opened = match going_on {
        Some(name) => {
            if arguments.from.is_some() || arguments.kit.is_some() {
                let failure = Failure::usage(format!("the job `{name}` is under way already"));
                return Err(failure.help("leave `--from` and `--kit` out, or give the new pen another name"));
            }
            if let Some(guide) = &arguments.guide {
                is_of(&jobs, name, guide)?;
            }
            let mut notes = Vec::new();
            if arguments.repair {
                notes.push(repair(&jobs, name)?);
            }
            open(&jobs, name, notes, output)?
        }
        None if arguments.repair => {
            let name = arguments.job.unwrap_or_default();
            return Err(Failure::usage(format!("there is no job `{name}`")).help("`stepjig list` shows the jobs"));
        }
        None => begin(&arguments, job.as_ref(), &jobs, settings, &mut lines, output)?,
    };
    let Opened { folder, guide: text, events, last, mut notes } = opened;
    let guide = Library::empty().with_limits(Limits::kept()).link(&Source::new("guide.toml", text)).guide;
    let Some(guide) = guide else {
        return Err(Failure::usage(format!("the guide kept with `{}` cannot be read", folder.name())));
    };
    // A slip in a file of figures keeps nobody from a pen that is under way.
    let data = shelf::data(settings).unwrap_or_else(|wrong| {
        notes.push(format!("{wrong}; sums use the shipped figures"));
        Data::shipped()
    });
    let walk = Walk::from_events(&guide, &events).in_zone(jiff::tz::TimeZone::system());
    let walk = walk.with_data(Arc::new(data)).in_unit(settings.unit);
    let mut session = Session::new(walk, folder, lines, output, settings);
    session.greet(notes);
    if going_on.is_some() {
        session.resume(last)?;
    }
    if let Some(name) = arguments.save_kit {
        session.keep_kit_as(name)?;
    }
    let outcome = session.go();
    session.close()?;
    outcome
}

/// A job that is open, with what has happened in it.
struct Opened {
    folder: JobFolder,
    guide: String,
    events: Vec<Event>,
    /// When the last record was written.
    last: Option<Timestamp>,
    /// What was said on opening, to be said again over the first screen.
    notes: Vec<String>,
}

/// Reads a name given on the command line.
fn name_of(name: &str) -> Result<JobName, Failure> {
    name.parse().map_err(|wrong| Failure::usage(format!("{wrong}")).help("use letters, digits and hyphens: `pear-1`"))
}

/// Refuses to go on with a job under another guide's name.
fn is_of(jobs: &JobsRoot, name: &JobName, guide: &str) -> Result<(), Failure> {
    let stem = PathBuf::from(guide).file_stem().map(|stem| stem.to_string_lossy().into_owned());
    match job_row(jobs, name).guide {
        Some(begun) if Some(&begun) != stem.as_ref() => {
            let failure = Failure::usage(format!("the job `{name}` is a `{begun}`, not a `{guide}`"));
            Err(failure.help(format!("`stepjig walk --job {name}` goes on with it; a new pen wants another name")))
        }
        _ => Ok(()),
    }
}

/// Repairs a job's journal; returns what is to be said of it.
fn repair(jobs: &JobsRoot, name: &JobName) -> Result<String, Failure> {
    let done = jobs.repair::<Event>(name).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    let (kept, left, damaged) = (done.kept, done.left, done.damaged.display());
    Ok(format!(
        "note: the {kept} records before the damage are kept, {left} after it are left out; the damaged journal is \
         {damaged}. What was done after that is not known: say `done` only to what you can see is done."
    ))
}

/// Opens a job to go on with it; one with a damaged journal is refused, and nothing in it is changed.
fn open(jobs: &JobsRoot, name: &JobName, mut notes: Vec<String>, output: &Output) -> Result<Opened, Failure> {
    let job = jobs.open::<Event>(name).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    notes.extend(job.set_aside.iter().map(|torn| {
        let (record, bytes, kept) = (torn.record, torn.bytes, torn.path.display());
        format!("note: record {record} was cut off while it was written; its {bytes} bytes are kept in {kept}")
    }));
    notes.iter().for_each(|note| output.aside(note));
    if job.folder.store() == Store::ReadOnly {
        let damage: Vec<String> = job.damage.iter().map(ToString::to_string).collect();
        let failure = Failure::usage(format!("the journal of `{name}` is damaged: {}", damage.join("; ")));
        return Err(failure.help(format!(
            "nothing was changed in {}; to go on from the last mark before the damage: stepjig walk --job {name} --repair",
            job.folder.path().display()
        )));
    }
    let last = job.records.last().map(|record| record.at);
    let events = job.records.into_iter().map(|record| record.event).collect();
    Ok(Opened { folder: job.folder, guide: job.guide, events, last, notes })
}
