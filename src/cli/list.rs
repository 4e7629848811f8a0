//! `list`: the guides there are, and the jobs.

use serde::Serialize;

use super::failure::Failure;
use super::job_folder::{JobName, JobsRoot};
use super::output::Output;
use super::settings::Settings;
use super::{Format, Outcome, shelf};
use crate::finding::Source;
use crate::finding::plain_text::clean_line;
use crate::guide::{Condition, EndKind, Guide, Kind, Library, Limits};
use crate::walk::half_made::stages;
use crate::walk::journal::Damage;
use crate::walk::rejoin::latest_first;
use crate::walk::{Event, Phase, Walk};

/// What a job is called that was laid aside, and one that was left without a word.
const PARKED: &str = "parked";
const UNDER_WAY: &str = "under way";

/// Arguments of `list`.
#[derive(Debug, clap::Args)]
pub(super) struct ListArguments {
    /// A guide whose stages and conditions are listed, each with its words
    guide: Option<String>,
    /// How to list
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

#[derive(Serialize)]
struct Listing {
    stepjig: u32,
    guides: Vec<GuideRow>,
    trouble: Vec<TroubleRow>,
    data: Vec<DataRow>,
    drafts: Vec<DraftRow>,
    jobs: Vec<JobRow>,
}

#[derive(Serialize)]
struct GuideRow {
    id: String,
    title: String,
}

#[derive(Serialize)]
struct TroubleRow {
    id: String,
    title: String,
    seen: Vec<String>,
}

/// A file of the shop's own figures.
#[derive(Serialize)]
struct DataRow {
    name: String,
    path: String,
}

/// A guide that is being drafted.
#[derive(Serialize)]
struct DraftRow {
    name: String,
    state: String,
    open: bool,
}

#[derive(Serialize)]
pub(super) struct JobRow {
    name: String,
    pub(super) guide: Option<String>,
    pub(super) step: Option<String>,
    state: String,
    last: Option<String>,
}

/// Lists guides and jobs.
pub(super) fn run(arguments: ListArguments, settings: &Settings, output: &mut Output) -> Outcome {
    if let Some(guide) = &arguments.guide {
        return inside(&shelf::sound(settings, guide)?, arguments.format, output);
    }
    let library = shelf::library(settings)?;
    let guides = library
        .guide_ids()
        .map(|id| {
            let title = library.guide(id).and_then(|source| crate::guide::read(&source, library.limits()).0);
            GuideRow { id: id.to_owned(), title: title.map_or(String::new(), |document| clean_line(&document.title)) }
        })
        .collect();
    let trouble = library.trouble_ids().filter_map(|id| trouble_row(&library, id)).collect();
    let mut rows = Vec::new();
    if let Some(folders) = &settings.folders {
        let jobs = JobsRoot::new(folders.jobs());
        let listed = jobs.list::<serde::de::IgnoredAny>().map_err(|wrong| Failure::usage(wrong.to_string()))?;
        rows.extend(listed.iter().map(|job| job_row(&jobs, &job.name)));
    }
    let own = shelf::own_data(settings)?.into_iter();
    let data = own.map(|(name, _, path)| DataRow { name, path: path.display().to_string() }).collect();
    let drafts = super::draft::all(settings)?.into_iter();
    let drafts =
        drafts.map(|draft| DraftRow { name: draft.name, state: clean_line(&draft.state), open: draft.is_open });
    let listing = Listing { stepjig: 1, guides, trouble, data, drafts: drafts.collect(), jobs: rows };
    match arguments.format {
        Format::Json => {
            output.line(&serde_json::to_string(&listing).map_err(|wrong| Failure::usage(wrong.to_string()))?)
        }
        Format::Plain => {
            for guide in &listing.guides {
                output.line(&format!("guide\t{}\t{}", guide.id, guide.title));
            }
            for table in &listing.trouble {
                output.line(&format!("trouble\t{}\t{}\t{}", table.id, table.title, table.seen.join(", ")));
            }
            for data in &listing.data {
                output.line(&format!("data\t{}\t{}", data.name, data.path));
            }
            for draft in &listing.drafts {
                output.line(&format!("draft\t{}\t{}", draft.name, draft.state));
            }
            for job in &listing.jobs {
                output.line(&format!("job\t{}\t{}\t{}", job.name, job.state, job.step.as_deref().unwrap_or("")));
            }
        }
        Format::Text => tell(&listing, output),
    }
    Ok(0)
}

#[derive(Serialize)]
struct Inside<'g> {
    stepjig: u32,
    guide: &'g str,
    stages: Vec<String>,
    conditions: Vec<ConditionRow<'g>>,
}

#[derive(Serialize)]
struct ConditionRow<'g> {
    id: &'g str,
    said: String,
    passing: bool,
}

/// Lists what a guide is made of: its stages, and the conditions in the order in which its steps give them.
fn inside(guide: &Guide, format: Format, output: &mut Output) -> Outcome {
    let mut given = latest_first(guide);
    given.reverse();
    given.extend(guide.passing().iter());
    let row = |condition: Condition| ConditionRow {
        id: guide.name(condition),
        said: clean_line(&guide.said(condition)),
        passing: guide.is_passing(condition),
    };
    let conditions = given.into_iter().map(row).filter(|row| !row.id.starts_with("read.")).collect();
    let stages = stages(guide).into_iter().map(|stage| clean_line(&stage.title)).collect();
    let inside = Inside { stepjig: 1, guide: guide.id(), stages, conditions };
    match format {
        Format::Json => {
            output.line(&serde_json::to_string(&inside).map_err(|wrong| Failure::usage(wrong.to_string()))?)
        }
        Format::Plain => inside.conditions.iter().for_each(|row| output.line(&format!("{}\t{}", row.id, row.said))),
        Format::Text => {
            output.line("Stages");
            inside.stages.iter().for_each(|stage| output.line(&format!("  {stage}")));
            output.line("");
            output.line("Conditions");
            for row in &inside.conditions {
                let passing = if row.passing { " (comes and goes)" } else { "" };
                output.paragraph(&format!("  {}  {}{passing}", row.id, row.said));
            }
        }
    }
    Ok(0)
}

fn tell(listing: &Listing, output: &mut Output) {
    output.line("Guides");
    for guide in &listing.guides {
        output.line(&format!("  {}  {}", guide.id, guide.title));
    }
    output.line("");
    output.line("Trouble: `stepjig trouble` and an id, or a word for what is seen");
    for table in &listing.trouble {
        output.paragraph(&format!("  {}  {}", table.id, table.title));
    }
    output.line("");
    if !listing.data.is_empty() {
        output.line("The shop's own figures for reckonings");
        for data in &listing.data {
            output.paragraph(&format!("  {}  {}", clean_line(&data.name), clean_line(&data.path)));
        }
        output.line("");
    }
    if !listing.drafts.is_empty() {
        output.line("Drafts: `stepjig draft` and a name goes on");
        for draft in &listing.drafts {
            let open = if draft.open { ", open in another stepjig" } else { "" };
            output.paragraph(&format!("  {}  {}{open}", draft.name, draft.state));
        }
        output.line("");
    }
    if listing.jobs.is_empty() {
        output.paragraph("No jobs yet: `stepjig walk two-tube-fountain --job pear-1` begins one.");
        return;
    }
    output.line("Jobs");
    for job in &listing.jobs {
        let at = job.step.as_ref().filter(|_| job.is_unfinished());
        let at = at.map_or(String::new(), |step| format!(" at {step}"));
        let last = job.last.as_ref().map_or(String::new(), |last| format!(", last touched {last}"));
        output.line(&format!("  {}  {}{at}{last}", job.name, job.state));
    }
}

fn trouble_row(library: &Library, id: &str) -> Option<TroubleRow> {
    let document = crate::guide::read(&library.trouble(id)?, library.limits()).0?;
    let seen = document.fault_table.iter().flat_map(|table| &table.seen);
    let seen = seen.map(|seen| clean_line(&seen.value)).collect();
    Some(TroubleRow { id: id.to_owned(), title: clean_line(&document.title), seen })
}

impl JobRow {
    /// Tells whether the pen can be gone on with.
    pub(super) fn is_unfinished(&self) -> bool {
        matches!(self.state.as_str(), PARKED | UNDER_WAY)
    }
}

/// Returns something of a job's walk; none where it cannot be read.
pub(super) fn walked<T>(jobs: &JobsRoot, name: &JobName, of: impl FnOnce(&Walk<'_>) -> T) -> Option<T> {
    let job = jobs.open_read_only::<Event>(name).ok()?;
    let guide = kept_guide(job.guide)?;
    Some(of(&Walk::from_events(&guide, job.journal.records.iter().map(|record| &record.event))))
}

/// Links the guide that is kept with a job.
pub(super) fn kept_guide(text: String) -> Option<Guide> {
    Library::empty().with_limits(Limits::kept()).link(&Source::new("guide.toml", text)).guide
}

/// Returns what is to be said of a job.
pub(super) fn job_row(jobs: &JobsRoot, name: &JobName) -> JobRow {
    let mut row = JobRow { name: name.to_string(), guide: None, step: None, state: String::new(), last: None };
    let job = match jobs.open_read_only::<Event>(name) {
        Ok(job) => job,
        Err(wrong) => return JobRow { state: clean_line(&wrong.to_string()), ..row },
    };
    row.last = job.journal.records.last().map(|record| {
        let zoned = jiff::ZonedDateTime::new(record.at, jiff::tz::TimeZone::system());
        zoned.strftime("%Y-%m-%d %H:%M").to_string()
    });
    let Some(guide) = kept_guide(job.guide) else {
        return JobRow { state: "its guide cannot be read".to_owned(), ..row };
    };
    let walk = Walk::from_events(&guide, job.journal.records.iter().map(|record| &record.event));
    let state = walk.state();
    row.guide = Some(guide.id().to_owned());
    row.step = Some(guide.step(state.here).id.to_string());
    row.state = match (job.journal.damage.as_slice(), &state.phase, &guide.step(state.here).kind) {
        ([damage, ..], _, _) if !matches!(damage, Damage::TornTail { .. }) => clean_line(&damage.to_string()),
        (_, Phase::Ended, Kind::End(EndKind::Finished)) => "finished".to_owned(),
        (_, Phase::Ended, _) => "scrap".to_owned(),
        _ if state.parked.is_some() => PARKED.to_owned(),
        _ => UNDER_WAY.to_owned(),
    };
    row
}
