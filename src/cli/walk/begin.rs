//! Begins a job: the guide with the kit's numbers in it, and the first event.

use std::path::Path;

use jiff::Timestamp;

use super::half_made::ask_what_holds;
use super::{Opened, WalkArguments, name_of};
use crate::cli::failure::Failure;
use crate::cli::job_folder::{JobName, JobsRoot, OpenIn};
use crate::cli::list::job_row;
use crate::cli::output::Output;
use crate::cli::prompt::{Lines, Typed};
use crate::cli::settings::Settings;
use crate::cli::{kit_file, rejoin, shelf};
use crate::guide::fold;
use crate::walk::{Event, Walk};

/// Makes the job: the guide, with the kit's numbers in it, and the first event.
pub(super) fn begin(
    arguments: &WalkArguments,
    job: Option<&JobName>,
    jobs: &JobsRoot,
    settings: &Settings,
    lines: &mut Lines,
    output: &mut Output,
) -> Result<Opened, Failure> {
    let Some(id) = &arguments.guide else {
        return Err(match &arguments.job {
            Some(name) => Failure::usage(format!("there is no job `{name}`"))
                .help("name a guide to begin it: `stepjig walk GUIDE --job NAME`"),
            None => Failure::usage("say which guide to walk")
                .help("`stepjig list` shows them; `stepjig walk two-tube-fountain`"),
        });
    };
    let (mut guide, warnings) = shelf::walkable(settings, id)?;
    if let Some(kit) = &arguments.kit {
        kit_file::put_in(&mut guide, kit, settings)?;
    }
    let held = match &arguments.from {
        None => Vec::new(),
        Some(names) if names.is_empty() => ask_what_holds(&guide, lines, output)?,
        Some(names) => {
            let held = rejoin::conditions(&guide, names, arguments.built_on)?;
            held.iter().map(|condition| guide.name(condition).to_owned()).collect()
        }
    };
    if settings.no_input {
        let first = &guide.step(Walk::begin(&guide, Timestamp::now()).state().here).id;
        return Err(Failure::usage(format!("step `{first}` wants an answer, and nothing is to be asked"))
            .help("leave `--no-input` out, or pipe the answers in"));
    }
    let name = match job {
        Some(name) => name.clone(),
        None => free_name(jobs, guide.id())?,
    };
    let text = crate::guide::write::linked(&guide);
    let mut folder = jobs.create(&name, &text).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    let mut notes = Vec::new();
    if job.is_none() {
        notes.push(format!("note: this pen is the job `{name}`; go on with it by `stepjig walk --job {name}`"));
    }
    if warnings > 0 {
        let (s, them) = if warnings == 1 { ("", "it") } else { ("s", "them") };
        notes.push(format!("note: the guide has {warnings} warning{s}; `stepjig check {id}` shows {them}"));
    }
    notes.iter().for_each(|note| output.aside(note));
    let now = Timestamp::now();
    let event = Event::Begun { at: now, held };
    folder.append(&event, now).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    Ok(Opened { folder, guide: text, events: vec![event], last: Some(now), notes })
}

/// Offers a person to go on with an unfinished pen of the same guide, or of any where none is named.
pub(super) fn unfinished(
    arguments: &WalkArguments,
    jobs: &JobsRoot,
    lines: &mut Lines,
    output: &mut Output,
) -> Result<Option<JobName>, Failure> {
    if !lines.is_person() {
        return Ok(None);
    }
    let stem = |guide: &String| Path::new(guide).file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let named = arguments.guide.as_ref().and_then(stem);
    let listed = jobs.list::<serde::de::IgnoredAny>().map_err(|wrong| Failure::usage(wrong.to_string()))?;
    for job in listed {
        let row = job_row(jobs, &job.name);
        let same = named.is_none() || named == row.guide;
        if !same || !row.is_unfinished() || job.open_in != OpenIn::Nothing {
            continue;
        }
        let step = row.step.unwrap_or_default();
        output.paragraph(&format!("The pen `{}` is not finished; it stands at {step}.", job.name));
        let words = ["yes", "no"].map(str::to_owned).into();
        match lines.ask("go on with it? yes or no> ", words)? {
            Typed::Line(line) if matches!(fold(&line).as_str(), "yes" | "y" | "") => return Ok(Some(job.name)),
            Typed::Line(_) => {}
            Typed::Dropped | Typed::End => return Err(Failure::usage("nothing was begun")),
        }
    }
    Ok(None)
}

/// Returns the first name after the guide's that no job has.
fn free_name(jobs: &JobsRoot, guide: &str) -> Result<JobName, Failure> {
    let plain = |c: &char| c.is_ascii_alphanumeric() || *c == '-';
    let stem: String = guide.chars().filter(plain).skip_while(|c| *c == '-').take(40).collect();
    let stem = if stem.is_empty() { "pen".to_owned() } else { stem };
    for n in 1..10_000 {
        let name = name_of(&format!("{stem}-{n}"))?;
        if !jobs.job_path(&name).exists() {
            return Ok(name);
        }
    }
    Err(Failure::usage("there are too many jobs of that name").help("name this one: `--job NAME`"))
}
