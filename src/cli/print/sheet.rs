//! Which sheet is laid out, of what.

use std::sync::Arc;

use super::subject::{Job, Subject, fault, faults, subject};
use super::{PrintArguments, SheetName};
use crate::cli::failure::Failure;
use crate::cli::settings::Settings;
use crate::cli::{kit_file, shelf};
use crate::guide::Guide;
use crate::guide::document::Document;
use crate::sheet::{Sheet, Stamp, lay_out};

/// Returns the sheet that is wanted.
pub(super) fn sheet(arguments: &PrintArguments, settings: &Settings, date: String) -> Result<Sheet, Failure> {
    let stamp = Stamp { date: Some(date), job: None };
    let wanted = arguments.sheet;
    if arguments.pens.is_some() && wanted != Some(SheetName::Labels) {
        return Err(Failure::usage("`--pens` says for how many pens labels are").help("add `--sheet labels`"));
    }
    match subject(settings, &arguments.named)? {
        Subject::Table(document) => {
            if !matches!(wanted, None | Some(SheetName::Trouble)) {
                let failure = Failure::usage(format!("`{}` is a fault table, which has one sheet", arguments.named));
                return Err(failure.help("leave `--sheet` out; the other sheets are of a guide"));
            }
            no_kit(arguments, "a fault table is printed without a kit's numbers")?;
            let faults = [fault(&document, settings)?];
            Ok(lay_out::fault_trees(&document.title, &document.id.value, &faults, None, &stamp))
        }
        Subject::Guide(mut guide) => {
            if let Some(kit) = &arguments.kit {
                kit_file::put_in(&mut guide, kit, settings)?;
            }
            of_guide(&guide, &[], wanted.unwrap_or(SheetName::Checklist), arguments, settings, &stamp)
        }
        Subject::Job(job) => {
            no_kit(arguments, "a job has its kit's numbers already")?;
            let stamp = Stamp { job: Some(job.name.clone()), ..stamp };
            match wanted.unwrap_or(SheetName::Record) {
                SheetName::Record => record(&job, settings, &stamp),
                other => of_guide(&job.measured(), &job.tables, other, arguments, settings, &stamp),
            }
        }
    }
}

fn no_kit(arguments: &PrintArguments, why: &str) -> Result<(), Failure> {
    match arguments.kit {
        Some(_) => Err(Failure::usage(why).help("leave `--kit` out")),
        None => Ok(()),
    }
}

fn of_guide(
    guide: &Guide,
    kept: &[Document],
    wanted: SheetName,
    arguments: &PrintArguments,
    settings: &Settings,
    stamp: &Stamp,
) -> Result<Sheet, Failure> {
    Ok(match wanted {
        SheetName::Checklist => lay_out::checklist(guide, &shelf::data(settings)?, stamp),
        SheetName::Short => lay_out::short(guide, stamp),
        SheetName::Parts => {
            let data = shelf::data(settings)?;
            let things = data.things().map_err(|refusal| Failure::usage(refusal.to_string()))?;
            lay_out::parts(guide, things, stamp)
        }
        SheetName::Labels => lay_out::labels(guide, usize::from(arguments.pens.unwrap_or(1)), stamp),
        SheetName::Care => lay_out::care(guide, stamp).ok_or_else(|| {
            let failure = Failure::usage(format!("the guide `{}` does not say what the pen's owner does", guide.id()));
            failure.help("name a procedure that does: `care = \"own-fountain-pen\"` in its `[guide]` table")
        })?,
        SheetName::Trouble => {
            let faults = faults(guide, kept, settings)?;
            if faults.is_empty() {
                let failure = Failure::usage(format!("the guide `{}` names no fault table", guide.id()));
                return Err(failure.help("`stepjig list` shows the tables; each can be printed by its own id"));
            }
            lay_out::fault_trees(guide.title(), guide.id(), &faults, Some(guide), stamp)
        }
        SheetName::Record => {
            let failure = Failure::usage(format!("`{}` is a guide, and a record is of a job", arguments.named));
            return Err(failure.help("name the job: `stepjig list` shows them"));
        }
    })
}

fn record(job: &Job, settings: &Settings, stamp: &Stamp) -> Result<Sheet, Failure> {
    let data = Arc::new(shelf::data(settings)?);
    let kept = lay_out::Kept {
        guide: &job.guide,
        events: &job.events,
        tables: &job.tables,
        zone: &jiff::tz::TimeZone::system(),
        data: &data,
        damage: job.damage.as_deref(),
    };
    Ok(lay_out::record(kept, stamp))
}
