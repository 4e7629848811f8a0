//! `compare`: what is different between two editions of a guide, and which running jobs it touches.

use std::collections::BTreeMap;

use serde_json::json;

use super::failure::Failure;
use super::folders::Folders;
use super::job_folder::{JobName, JobsRoot};
use super::list::kept_guide;
use super::output::Output;
use super::settings::Settings;
use super::{Format, Outcome, shelf};
use crate::check::compare::{Difference, compare};
use crate::finding::plain_text::clean_line;
use crate::guide::Guide;
use crate::walk::{Event, Phase, Walk};

const EXAMPLES: &str = "\
Examples:
  Your own edition against the shipped one:
    stepjig compare two-tube-fountain my-guide.toml
  The guide that a pen under way was begun with, against the one there is now:
    stepjig compare pear-1 two-tube-fountain";

/// Arguments of `compare`.
#[derive(Debug, clap::Args)]
#[command(before_help = EXAMPLES)]
pub(super) struct CompareArguments {
    /// The old edition: a path, an id, or a job, for the guide that is kept with it
    #[arg(value_name = "OLD")]
    old: String,
    /// The new edition, named the same way
    #[arg(value_name = "NEW")]
    new: String,
    /// For reading, one difference a line, or for other programs
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

/// A job that a new edition touches.
struct Touched {
    name: String,
    /// Where it stands.
    at: String,
    /// The steps that changed and lie ahead of it.
    ahead: Vec<String>,
    /// Those that lie behind it.
    behind: Vec<String>,
}

/// Compares two editions. The exit code is 0 whether they differ or not: it says that they were compared.
pub(super) fn run(arguments: &CompareArguments, settings: &Settings, output: &mut Output) -> Outcome {
    let old = edition(settings, &arguments.old)?;
    let new = edition(settings, &arguments.new)?;
    let differences = compare(&old, &new);
    let jobs = touched(settings, &new)?;
    match arguments.format {
        Format::Json => {
            let rows =
                differences.iter().map(|one| json!({ "kind": one.what.as_str(), "step": one.step, "said": one.said }));
            let of_job =
                |job: &Touched| json!({ "job": job.name, "at": job.at, "ahead": job.ahead, "behind": job.behind });
            let report = json!({
                "stepjig": 1,
                "old": old.id(),
                "new": new.id(),
                "differences": rows.collect::<Vec<_>>(),
                "jobs": jobs.iter().map(of_job).collect::<Vec<_>>(),
            });
            output.line(&report.to_string());
        }
        Format::Plain => {
            for one in &differences {
                let step = one.step.as_deref().unwrap_or("-");
                output.line(&clean_line(&format!("{} {step}: {}", one.what.as_str(), one.said)));
            }
        }
        Format::Text => tell(&differences, &jobs, output),
    }
    Ok(0)
}

/// Returns the guide of a path, an id or a job.
fn edition(settings: &Settings, named: &str) -> Result<Guide, Failure> {
    let jobs = settings.folders.as_ref().map(|folders| JobsRoot::new(Folders::jobs(folders)));
    if let (Some(jobs), Ok(name)) = (jobs, named.parse::<JobName>())
        && jobs.job_path(&name).is_dir()
        && !shelf::is_known(settings, named)?
    {
        let job = jobs.open_read_only::<Event>(&name).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        return kept_guide(job.guide).ok_or_else(|| {
            let failure = Failure::usage(format!("the guide that is kept with the job `{name}` cannot be read"));
            failure.help(format!("look at guide.toml in {}", jobs.job_path(&name).display()))
        });
    }
    shelf::sound(settings, named)
}

/// Returns the jobs under way whose own edition differs from the new one.
fn touched(settings: &Settings, new: &Guide) -> Result<Vec<Touched>, Failure> {
    let Some(folders) = settings.folders.as_ref() else { return Ok(Vec::new()) };
    let jobs = JobsRoot::new(Folders::jobs(folders));
    let listed = jobs.list::<serde::de::IgnoredAny>().map_err(|wrong| Failure::usage(wrong.to_string()))?;
    let mut touched = Vec::new();
    for listed in listed {
        // A job that cannot be read is told by `list`; it does not stand in the way here.
        let Ok(job) = jobs.open_read_only::<Event>(&listed.name) else { continue };
        let Some(own) = kept_guide(job.guide).filter(|own| own.id() == new.id()) else { continue };
        let walk = Walk::from_events(&own, job.journal.records.iter().map(|record| &record.event));
        if walk.state().phase == Phase::Ended {
            continue;
        }
        let here = walk.state().here;
        let at = own.step(here).id.to_string();
        let mut steps: Vec<String> = compare(&own, new).into_iter().filter_map(|one| one.step).collect();
        steps.sort();
        steps.dedup();
        let place = |id: &str| own.step_of_id(id).map(|idx| idx >= here);
        let place_in_new = |id: &str| Some(new.step_of_id(id)? >= new.step_of_id(&at)?);
        let (ahead, behind): (Vec<String>, Vec<String>) =
            steps.into_iter().partition(|id| place(id).or_else(|| place_in_new(id)).unwrap_or(true));
        if !ahead.is_empty() || !behind.is_empty() {
            touched.push(Touched { name: listed.name.to_string(), at, ahead, behind });
        }
    }
    Ok(touched)
}

/// How many steps of the same difference are named before the rest are only counted.
const STEPS_SHOWN: usize = 6;

fn tell(differences: &[Difference], jobs: &[Touched], output: &mut Output) {
    if differences.is_empty() {
        output.line("Nothing differs.");
    }
    // The same change of a procedure is told once, with all the steps that it touches.
    let mut rows: Vec<(&Difference, Vec<&str>)> = Vec::new();
    let mut known: BTreeMap<_, usize> = BTreeMap::new();
    for one in differences {
        let row = *known.entry((one.what, one.said.as_str())).or_insert_with(|| {
            rows.push((one, Vec::new()));
            rows.len() - 1
        });
        rows[row].1.extend(one.step.as_deref());
    }
    let mut heading = "";
    for (one, steps) in rows {
        let this = heading_of(one);
        if this != heading {
            output.line(&format!("{}{this}", if heading.is_empty() { "" } else { "\n" }));
            heading = this;
        }
        let more = steps.len().saturating_sub(STEPS_SHOWN);
        let mut steps = steps[..steps.len() - more].join(", ");
        if more > 0 {
            steps.push_str(&format!(" and {more} more"));
        }
        let colon = if steps.is_empty() { "" } else { ": " };
        output.paragraph(&clean_line(&format!("{steps}{colon}{}", one.said)));
    }
    for job in jobs {
        let count = |steps: &[String]| match steps.len() {
            0 => "none".to_owned(),
            n if n <= STEPS_SHOWN => format!("{n} ({})", steps.join(", ")),
            n => format!("{n} ({}, …)", steps[..STEPS_SHOWN].join(", ")),
        };
        output.line("");
        output.paragraph(&clean_line(&format!(
            "The pen `{}` stands at {} and keeps its own edition. Of the steps that differ, ahead of it: {}; behind it: {}.",
            job.name,
            job.at,
            count(&job.ahead),
            count(&job.behind)
        )));
    }
}

fn heading_of(one: &Difference) -> &'static str {
    use crate::check::compare::What;
    match one.what {
        What::BecameOneWay => "Cannot be taken back any more",
        What::NeedGone => "Asked for no longer",
        What::CautionGone => "Cautions that went away",
        What::WaitShorter => "Shorter waits",
        What::Limits => "Readings",
        What::NoLongerOneWay => "Can be taken back now",
        What::NeedCame => "Asked for now",
        What::CautionCame => "Cautions that came",
        What::WaitLonger => "Longer waits",
        What::Came => "Steps that came",
        What::Went => "Steps that went away",
        What::Moved => "Steps in another place",
        What::Renamed => "Steps under another name",
        What::Ways => "Where steps lead",
        What::Effects => "What is true after a step",
        What::Text => "What steps say",
        What::Other => "Other things about steps",
        What::Kit => "Kit numbers",
        What::Words => "Conditions",
        What::Opening => "The guide",
    }
}
