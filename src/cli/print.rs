//! `print`: a guide, a fault table or a job as a sheet of paper, on the screen or in a file.

use std::path::PathBuf;

use clap::ValueEnum;

use super::Outcome;
use super::on_paper::OnPaper;
use super::output::Output;
use super::settings::Settings;

mod sheet;
mod subject;

/// Arguments of `print`.
#[derive(Debug, clap::Args)]
pub(super) struct PrintArguments {
    /// A guide or a fault table by its id or path, or `-`; or a job by its name or folder
    #[arg(value_name = "GUIDE|TABLE|JOB")]
    named: String,
    /// Of a guide the checklist unless another is named, of a job the record, of a fault table its page
    #[arg(long, value_enum)]
    sheet: Option<SheetName>,
    /// How many pens the labels are for
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..=99))]
    pens: Option<u8>,
    /// A kit file whose numbers go before the guide's, by path or by the name it was kept under
    #[arg(long, value_name = "FILE")]
    kit: Option<PathBuf>,
    #[command(flatten)]
    on: OnPaper,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum SheetName {
    // Without help of their own, so that `-h` and `--help` say the same.
    Checklist,
    Short,
    Parts,
    Labels,
    Care,
    Trouble,
    Record,
}

/// Prints a sheet.
pub(super) fn run(arguments: &PrintArguments, settings: &Settings, output: &mut Output) -> Outcome {
    arguments.on.may_be_written()?;
    let sheet = sheet::sheet(arguments, settings, super::on_paper::today())?;
    arguments.on.put(&sheet, settings, output)
}
