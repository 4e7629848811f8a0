//! `check`: proves guides and reports what it found.

mod mended;
mod watch;

use std::path::Path;

use crate::check::{Checked, check_figures, check_file};
use crate::finding::json::{GuideReport, Report};
use crate::finding::render::{Look, for_people, one_line};
use crate::finding::{Code, Severity, did_you_mean};

use super::failure::Failure;
use super::output::Output;
use super::settings::{self, Settings};
use super::{Format, Outcome, shelf};

const EXAMPLES: &str = "\
Examples:
  Prove a guide of your own:
    stepjig check my-guide.toml
  Again whenever it is saved:
    stepjig check --watch my-guide.toml
  Mend what can be mended mechanically; first only show it:
    stepjig check --fix --dry-run my-guide.toml
    stepjig check --fix my-guide.toml";

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
#[command(before_help = EXAMPLES)]
pub(super) struct CheckArguments {
    /// Guide files, ids, or `-`; without one, all guides, fault tables and own figures there are
    #[arg(value_name = "FILE")]
    files: Vec<String>,
    /// Let warnings count as errors
    #[arg(long)]
    strict: bool,
    /// Check again whenever a file is saved, until Ctrl-C
    #[arg(long, conflicts_with_all = ["fix", "format", "explain"])]
    watch: bool,
    /// Mend what can be mended mechanically: near names, words for conditions, what an idle step gives
    #[arg(long, requires = "files", conflicts_with_all = ["format", "explain"])]
    fix: bool,
    /// With `--fix`: show what would be changed, and write nothing
    #[arg(long, requires = "fix")]
    dry_run: bool,
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
    if arguments.watch {
        return watch::run(&arguments.files, arguments.strict, settings, output);
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
        checked.push(match arguments.fix {
            true => mended::run(file, arguments.dry_run, settings, output)?,
            false => self::checked(file, settings)?,
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
    Ok(u8::from(checked.iter().any(|checked| fails(checked, arguments.strict))))
}

/// Tells whether what was found is a no.
fn fails(checked: &Checked, strict: bool) -> bool {
    checked.count(Severity::Error) > 0 || strict && checked.count(Severity::Warning) > 0
}

/// Checks one file: a guide, a fault table, or figures of the shop.
fn checked(file: &str, settings: &Settings) -> Result<Checked, Failure> {
    Ok(match shelf::figures_at(Path::new(file)) {
        Some(figures) => check_figures(figures, &shelf::read(Path::new(file))?),
        None => {
            let (library, source) = shelf::find(settings, file)?;
            check_file(&library, &source)
        }
    })
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
        if let Some(said) = still_to_fill_in(checked) {
            output.paragraph(&said);
        }
    }
}

/// How many lines that are still to be filled in are named.
const NAMED: usize = 12;

/// Says which lines of a guide's own file a comment marks as still to be filled in.
fn still_to_fill_in(checked: &Checked) -> Option<String> {
    let source = &checked.guide.as_ref()?.document().source;
    let is_open = |line: &str| line.find('#').is_some_and(|at| line[at + 1..].trim_start().starts_with("fill in:"));
    let lines: Vec<String> =
        source.text().lines().zip(1_usize..).filter(|(line, _)| is_open(line)).map(|(_, n)| n.to_string()).collect();
    let more = if lines.len() > NAMED { format!(" and {} more", lines.len() - NAMED) } else { String::new() };
    let named = lines[..lines.len().min(NAMED)].join(", ");
    (!lines.is_empty()).then(|| format!("{} still to fill in: line {named}{more}", counted(lines.len(), "place")))
}

/// Says how many there are of something.
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
