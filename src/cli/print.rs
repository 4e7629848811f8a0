//! `print`: a guide, a fault table or a job as a sheet of paper, on the screen or in a file.

use std::path::PathBuf;

use clap::ValueEnum;

use super::Outcome;
use super::failure::Failure;
use super::into_file::IntoFile;
use super::output::Output;
use super::settings::Settings;
use crate::sheet::pages::{self, Pages, Paper, Reach};
use crate::sheet::{Sheet, html, markdown, text};

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
    /// For a plain printer, a note, a browser, or paper; else by the ending of the file's name, else text
    #[arg(long = "as", value_enum, value_name = "FORM")]
    form: Option<Form>,
    #[command(flatten)]
    into: IntoFile,
    /// A kit file whose numbers go before the guide's, by path or by the name it was kept under
    #[arg(long, value_name = "FILE")]
    kit: Option<PathBuf>,
    /// The paper it is printed on, as PDF or HTML; A4 unless letter is named
    #[arg(long, value_enum)]
    paper: Option<PaperName>,
    /// In larger type, to be read from the lathe (900 mm), as PDF or HTML
    #[arg(long)]
    far: bool,
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

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    Text,
    Markdown,
    Html,
    Pdf,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum PaperName {
    A4,
    Letter,
}

impl PaperName {
    /// Returns the paper of that name.
    pub(super) fn paper(self) -> Paper {
        match self {
            PaperName::A4 => Paper::A4,
            PaperName::Letter => Paper::Letter,
        }
    }
}

/// Prints a sheet.
pub(super) fn run(arguments: &PrintArguments, settings: &Settings, output: &mut Output) -> Outcome {
    arguments.into.may_be_written()?;
    let form = arguments.form.or_else(|| arguments.into.form()).unwrap_or(Form::Text);
    if matches!(form, Form::Text | Form::Markdown) && (arguments.paper.is_some() || arguments.far) {
        let given = if arguments.far { "--far" } else { "--paper" };
        let failure = Failure::usage(format!("`{given}` is of pages, and text has none"));
        return Err(failure.help("add `--as pdf` or `--as html`, or name a file that ends so: `-o sheet.pdf`"));
    }
    let date = jiff::ZonedDateTime::now().strftime("%-d %b %Y").to_string();
    let sheet = sheet::sheet(arguments, settings, date)?;
    let set = || {
        let paper = arguments.paper.map_or(Paper::A4, PaperName::paper);
        pages::set(&sheet, paper, if arguments.far { Reach::Far } else { Reach::Near })
    };
    let shown = match form {
        Form::Text => text::render(&sheet),
        Form::Markdown => markdown::render(&sheet),
        Form::Html => html::render(&sheet, &set()),
        Form::Pdf => return arguments.into.put_pdf(&pdf(&sheet, &set())?, output),
    };
    arguments.into.put_text(shown, settings, output)
}

#[cfg(feature = "pdf")]
fn pdf(sheet: &Sheet, pages: &Pages) -> Result<Vec<u8>, Failure> {
    crate::sheet::pdf::render(sheet, pages).map_err(|wrong| Failure::usage(wrong.to_string()))
}

#[cfg(not(feature = "pdf"))]
fn pdf(_: &Sheet, _: &Pages) -> Result<Vec<u8>, Failure> {
    Err(super::into_file::no_pdf())
}
