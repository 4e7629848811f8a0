//! A sheet in the form that is wanted: on the screen, or for paper in a file.

use clap::ValueEnum;

use super::Outcome;
use super::failure::Failure;
use super::into_file::IntoFile;
use super::output::Output;
use super::settings::Settings;
use crate::sheet::pages::{self, Pages, Paper, Reach};
use crate::sheet::{Sheet, html, markdown, text};

/// Which form a sheet has, and where it goes.
#[derive(Debug, clap::Args)]
pub(super) struct OnPaper {
    /// For a plain printer, a note, a browser, or paper; else by the ending of the file's name, else text
    #[arg(long = "as", value_enum, value_name = "FORM")]
    form: Option<Form>,
    #[command(flatten)]
    into: IntoFile,
    /// The paper it is printed on, as PDF or HTML; A4 unless letter is named
    #[arg(long, value_enum)]
    paper: Option<PaperName>,
    /// In larger type, to be read from the lathe (900 mm), as PDF or HTML
    #[arg(long)]
    far: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    // Without help of their own, so that `-h` and `--help` say the same.
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

impl OnPaper {
    /// Tells whether a form or a file is named.
    pub(super) fn is_wanted(&self) -> bool {
        self.form.is_some() || self.into.is_named()
    }

    fn form(&self) -> Form {
        self.form.or_else(|| self.into.form()).unwrap_or(Form::Text)
    }

    /// Refuses what is of pages where there are none, and to write over a file unasked; called before any work is done.
    pub(super) fn may_be_written(&self) -> Result<(), Failure> {
        if matches!(self.form(), Form::Text | Form::Markdown) && (self.paper.is_some() || self.far) {
            let given = if self.far { "--far" } else { "--paper" };
            let failure = Failure::usage(format!("`{given}` is of pages, and text has none"));
            return Err(failure.help("add `--as pdf` or `--as html`, or name a file that ends so: `-o sheet.pdf`"));
        }
        self.into.may_be_written()
    }

    /// Puts a sheet there.
    pub(super) fn put(&self, sheet: &Sheet, settings: &Settings, output: &mut Output) -> Outcome {
        let set = || {
            let paper = self.paper.map_or(Paper::A4, PaperName::paper);
            pages::set(sheet, paper, if self.far { Reach::Far } else { Reach::Near })
        };
        let shown = match self.form() {
            Form::Text => text::render(sheet),
            Form::Markdown => markdown::render(sheet),
            Form::Html => html::render(sheet, &set()),
            Form::Pdf => return self.into.put_pdf(&pdf(sheet, &set())?, output),
        };
        self.into.put_text(shown, settings, output)
    }
}

/// Returns the day as a sheet shows it.
pub(super) fn today() -> String {
    jiff::ZonedDateTime::now().strftime("%-d %b %Y").to_string()
}

#[cfg(feature = "pdf")]
fn pdf(sheet: &Sheet, pages: &Pages) -> Result<Vec<u8>, Failure> {
    crate::sheet::pdf::render(sheet, pages).map_err(|wrong| Failure::usage(wrong.to_string()))
}

#[cfg(not(feature = "pdf"))]
fn pdf(_: &Sheet, _: &Pages) -> Result<Vec<u8>, Failure> {
    Err(super::into_file::no_pdf())
}
