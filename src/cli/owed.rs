//! `owed`: parts borrowed from other kits, over all jobs, till they are reordered or given back.

use jiff::Timestamp;
use serde::Serialize;

use super::failure::Failure;
use super::job_folder::{JobName, JobsRoot};
use super::list::walked;
use super::output::Output;
use super::settings::Settings;
use super::{Format, Outcome};
use crate::finding::plain_text::clean_line;
use crate::walk::Event;

/// Arguments of `owed`.
#[derive(Debug, clap::Args)]
pub(super) struct OwedArguments {
    /// The number in the list of what is settled now: reordered, or given back
    #[arg(long, value_name = "N")]
    settled: Option<usize>,
    /// For reading, one part a line, or for other programs
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

#[derive(Serialize)]
struct Owed {
    n: usize,
    job: String,
    part: String,
    kit: String,
}

/// Lists what is owed, or marks one of it as settled.
pub(super) fn run(arguments: &OwedArguments, settings: &Settings, output: &mut Output) -> Outcome {
    let jobs = JobsRoot::new(settings.folders()?.jobs());
    let owed = owed(&jobs)?;
    if let Some(n) = arguments.settled {
        let Some(settled) = owed.iter().find(|owed| owed.n == n) else {
            return Err(Failure::usage(format!("nothing that is owed has the number {n}"))
                .help("`stepjig owed` lists it with its numbers"));
        };
        let name: JobName = settled.job.parse().map_err(|wrong| Failure::usage(format!("{wrong}")))?;
        let mut job = jobs.open::<Event>(&name).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        let at = Timestamp::now();
        let event = Event::Settled { part: settled.part.clone(), kit: settled.kit.clone(), at };
        job.folder.append(&event, at).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        output.paragraph(&format!("Settled: {}, {}.", clean_line(&settled.part), clean_line(&settled.kit)));
        return Ok(0);
    }
    match arguments.format {
        Format::Json => output.line(&serde_json::json!({"stepjig": 1, "owed": owed}).to_string()),
        Format::Plain => owed.iter().for_each(|owed| {
            let (part, kit) = (clean_line(&owed.part), clean_line(&owed.kit));
            output.line(&format!("{}\t{part}\t{kit}\t{}", owed.n, owed.job));
        }),
        Format::Text if owed.is_empty() => output.paragraph("Nothing is owed to any kit."),
        Format::Text => {
            for owed in &owed {
                let (part, kit) = (clean_line(&owed.part), clean_line(&owed.kit));
                output.paragraph(&format!("{:>3}  {part}, to {kit}, for the pen {}", owed.n, owed.job));
            }
            output.paragraph("When one is reordered or given back: `stepjig owed --settled` and its number.");
        }
    }
    Ok(0)
}

fn owed(jobs: &JobsRoot) -> Result<Vec<Owed>, Failure> {
    let listed = jobs.list::<serde::de::IgnoredAny>().map_err(|wrong| Failure::usage(wrong.to_string()))?;
    let mut owed = Vec::new();
    for job in listed {
        let borrowed = walked(jobs, &job.name, |walk| walk.state().record.borrowed.clone()).unwrap_or_default();
        for (part, kit) in borrowed {
            owed.push(Owed { n: owed.len() + 1, job: job.name.to_string(), part, kit });
        }
    }
    Ok(owed)
}
