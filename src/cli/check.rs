//! `check`: proves guides and reports what it found.

use std::path::Path;

use crate::check::{Checked, check_figures, check_file};
use crate::finding::json::{GuideReport, Report};
use crate::finding::render::{Look, for_people, one_line};
use crate::finding::{Code, Severity, did_you_mean};

use super::failure::Failure;
use super::output::Output;
use super::settings::{self, Settings};
use super::{Format, Outcome, shelf};

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct CheckArguments {
    /// Guide files, ids, or `-`; without one, all guides, fault tables and own figures there are
    #[arg(value_name = "FILE")]
    files: Vec<String>,
    /// Let warnings count as errors
    #[arg(long)]
    strict: bool,
    /// Explain a finding's code and stop
    #[arg(long, value_name = "CODE")]
    explain: Option<String>,
    /// For reading, one finding a line, or for other programs
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

/// Checks the files named, or everything.
pub(super) fn run(arguments: CheckArguments, settings: &Settings, output: &mut Output) -> Outcome {
    if let Some(code) = &arguments.explain {
        return explain(code, output);
    }
    let mut checked = Vec::new();
    if arguments.files.is_empty() {
        let library = shelf::library(settings)?;
        let guides = library.guide_ids().filter_map(|id| library.guide(id));
        let tables = library.trouble_ids().filter_map(|id| library.trouble(id));
        checked.extend(guides.chain(tables).map(|source| check_file(&library, &source)));
        checked.extend(shelf::figures(settings)?.iter().map(|(file, source)| check_figures(*file, source)));
    }
    for file in &arguments.files {
        checked.push(match shelf::figures_at(Path::new(file)) {
            Some(figures) => check_figures(figures, &shelf::read(Path::new(file))?),
            None => {
                let (library, source) = shelf::find(settings, file)?;
                check_file(&library, &source)
            }
        });
    }
    match arguments.format {
        Format::Json => {
            let reports =
                checked.iter().map(|checked| GuideReport::new(&checked.id, checked.n_steps(), &checked.findings));
            let report = Report::new(reports.collect());
            output.line(&serde_json::to_string(&report).map_err(|wrong| Failure::usage(wrong.to_string()))?);
        }
        Format::Plain => {
            for finding in checked.iter().flat_map(|checked| &checked.findings) {
                output.line(&one_line(finding));
            }
        }
        Format::Text => tell(&checked, settings, output),
    }
    let fails = |checked: &Checked| {
        checked.count(Severity::Error) > 0 || arguments.strict && checked.count(Severity::Warning) > 0
    };
    Ok(u8::from(checked.iter().any(fails)))
}

fn tell(checked: &[Checked], settings: &Settings, output: &mut Output) {
    let look = Look { width: settings::width(), colour: settings.colour, ascii: settings.ascii };
    for checked in checked {
        output.text(&for_people(&checked.findings, look));
        let (errors, warnings) = (checked.count(Severity::Error), checked.count(Severity::Warning));
        let steps = checked.n_steps();
        let id = crate::finding::plain_text::clean_line(&checked.id);
        output.line(&match (errors, warnings) {
            (0, 0) if steps > 0 => format!("{id}: {steps} steps, every proof holds"),
            (0, 0) => format!("{id}: nothing found"),
            _ => {
                let steps = if steps > 0 { format!("{steps} steps, ") } else { String::new() };
                format!("{id}: {steps}{}, {}", counted(errors, "error"), counted(warnings, "warning"))
            }
        });
    }
}

/// Says how many of something there are.
pub(super) fn counted(n: usize, what: &str) -> String {
    format!("{n} {what}{}", if n == 1 { "" } else { "s" })
}

fn explain(code: &str, output: &mut Output) -> Outcome {
    let Some(known) = Code::of_name(code) else {
        let help = did_you_mean(code, Code::ALL.iter().map(|code| code.as_str()));
        let all: Vec<&str> = Code::ALL.iter().map(|code| code.as_str()).collect();
        let help = help.unwrap_or_else(|| format!("the findings are {}", all.join(", ")));
        return Err(Failure::usage(format!("there is no finding `{code}`")).help(help));
    };
    output.text(known.page());
    Ok(0)
}
