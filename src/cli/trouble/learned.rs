//! What the shop has seen: the causes that were confirmed in its jobs, and the odds that follow.

use std::collections::BTreeMap;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::cli::failure::Failure;
use crate::cli::job_folder::{JobsRoot, write_whole};
use crate::cli::output::Output;
use crate::cli::settings::Settings;
use crate::cli::{Format, Outcome};
use crate::guide::fault_table::RawFaultTable;
use crate::trouble::learn::blend;
use crate::walk::Event;
use crate::walk::trouble::TroubleEvent;

/// As how many cases the author's odds weigh.
pub(in crate::cli) const AUTHOR_WEIGHS: f64 = 20.0;

/// From when on each table's cases count, by its id.
#[derive(Debug, Default, Serialize, Deserialize)]
struct Since {
    stepjig: u32,
    since: BTreeMap<String, Timestamp>,
}

/// Returns how often each cause of a table was confirmed in the shop's jobs, in the order of the table.
pub(in crate::cli) fn cases(id: &str, table: &RawFaultTable, settings: &Settings) -> Result<Vec<f64>, Failure> {
    let mut cases = vec![0.0; table.causes.len()];
    let Some(folders) = settings.folders.as_ref().filter(|_| settings.learns) else { return Ok(cases) };
    let from = since(settings)?.since.get(id).copied().unwrap_or(Timestamp::MIN);
    let jobs = JobsRoot::new(folders.jobs());
    let listed = jobs.list::<serde::de::IgnoredAny>().map_err(|wrong| Failure::usage(wrong.to_string()))?;
    for job in listed {
        // A job that cannot be read teaches nothing; `list` says what is wrong with it.
        let Ok(job) = jobs.open_read_only::<Event>(&job.name) else { continue };
        for record in job.journal.records {
            if let Event::InTrouble { what: TroubleEvent::Confirmed { table: of, cause }, at } = record.event
                && of == id
                && at >= from
                && let Some(n) = table.causes.iter().position(|known| known.id.value == cause)
            {
                cases[n] += 1.0;
            }
        }
    }
    Ok(cases)
}

/// Returns the odds of the causes: the author's and what the shop has seen.
pub(in crate::cli) fn odds(id: &str, table: &RawFaultTable, settings: &Settings) -> Result<Vec<f64>, Failure> {
    let author = author(table);
    let cases = cases(id, table, settings)?;
    Ok(blend(&author, AUTHOR_WEIGHS, &cases).unwrap_or(author))
}

fn author(table: &RawFaultTable) -> Vec<f64> {
    table.causes.iter().map(|cause| cause.odds).collect()
}

/// Shows the author's odds, what the shop has seen, and the odds that follow.
pub(super) fn show(
    id: &str,
    table: &RawFaultTable,
    format: Format,
    settings: &Settings,
    output: &mut Output,
) -> Outcome {
    let author = author(table);
    let sum: f64 = author.iter().sum();
    let cases = cases(id, table, settings)?;
    let odds = blend(&author, AUTHOR_WEIGHS, &cases).unwrap_or_else(|_| author.clone());
    let rows = table.causes.iter().enumerate().map(|(n, cause)| (cause, author[n] / sum, cases[n], odds[n]));
    match format {
        Format::Json => {
            let rows: Vec<_> = rows
                .map(|(cause, author, cases, odds)| {
                    serde_json::json!({"id": cause.id.value, "author": author, "cases": cases, "odds": odds})
                })
                .collect();
            let all = serde_json::json!({"stepjig": 1, "trouble": id, "author-weighs": AUTHOR_WEIGHS, "causes": rows});
            output.line(&all.to_string());
        }
        Format::Plain => rows.for_each(|(cause, author, cases, odds)| {
            output.line(&format!("{}\t{author}\t{cases}\t{odds}", cause.id.value));
        }),
        Format::Text => {
            output.paragraph("Of 100 pens with this trouble; the last column counts what was seen in this shop.");
            output.paragraph("author  now  seen");
            for (cause, author, cases, odds) in rows {
                let (author, odds) = (author * 100.0, odds * 100.0);
                output.paragraph(&format!("{author:>6.0} {odds:>4.0} {cases:>5.0}  {}", cause.say.value));
            }
            output.paragraph(&format!(
                "`now` is the author's estimate moved by what was seen here: the estimate counts as much as {AUTHOR_WEIGHS} pens of your own. `--forget` begins the shop's count anew; `learn = false` in the settings file leaves it off."
            ));
        }
    }
    Ok(0)
}

/// Begins the shop's count of a table anew; the jobs keep what they say.
pub(super) fn forget(id: &str, settings: &Settings, output: &mut Output) -> Outcome {
    let mut since = since(settings)?;
    since.stepjig = 1;
    since.since.insert(id.to_owned(), Timestamp::now());
    let text = toml::to_string(&since).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    let path = settings.folders()?.learned();
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(|wrong| Failure::file(folder, "make the folder", wrong))?;
    }
    write_whole(&path, text.as_bytes()).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    output.paragraph(&format!("What was seen of `{id}` before now counts no more."));
    Ok(0)
}

fn since(settings: &Settings) -> Result<Since, Failure> {
    let path = settings.folders()?.learned();
    match std::fs::read_to_string(&path) {
        Ok(text) => toml::from_str(&text).map_err(|wrong| Failure::file(&path, "read", wrong.message())),
        Err(wrong) if wrong.kind() == std::io::ErrorKind::NotFound => Ok(Since::default()),
        Err(wrong) => Err(Failure::file(&path, "read", wrong)),
    }
}
