//! Where a sheet or a chart goes: onto the screen, into what the output is led to, or whole into a file.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use clap::ValueEnum;

use super::Outcome;
use super::failure::Failure;
use super::job_folder::write_whole;
use super::output::{Output, in_ascii};
use super::settings::Settings;

/// Where it goes.
#[derive(Debug, clap::Args)]
pub(super) struct IntoFile {
    /// Write to this file; `-` is the screen
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Write over a file that is there already
    #[arg(long)]
    force: bool,
}

impl IntoFile {
    /// Tells whether a file is named, `-` among them.
    pub(super) fn is_named(&self) -> bool {
        self.output.is_some()
    }

    /// Returns the file that was named.
    pub(super) fn file(&self) -> Option<&Path> {
        self.output.as_deref().filter(|file| *file != Path::new("-"))
    }

    /// Tells whether it is to go to the output by its name, `-`.
    pub(super) fn is_output(&self) -> bool {
        self.output.as_deref() == Some(Path::new("-"))
    }

    /// Returns the form that the file's name ends in, if it is one of these.
    pub(super) fn form<F: ValueEnum>(&self) -> Option<F> {
        let ending = self.file()?.extension()?.to_str()?.to_lowercase();
        let ending = match ending.as_str() {
            "txt" => "text",
            "md" => "markdown",
            "htm" => "html",
            "gv" => "dot",
            other => other,
        };
        F::from_str(ending, true).ok()
    }

    /// Refuses to write over a file unasked; called before any work is done.
    pub(super) fn may_be_written(&self) -> Result<(), Failure> {
        let Some(file) = self.file() else { return Ok(()) };
        if let Some(folder) = file.parent().filter(|folder| *folder != Path::new("") && !folder.is_dir()) {
            let failure = Failure::usage(format!("there is no folder {}", folder.display()));
            return Err(failure.help("make it first, or name a file in a folder that is there"));
        }
        self.may_be(file)
    }

    /// Refuses to write over this file unasked.
    pub(super) fn may_be(&self, file: &Path) -> Result<(), Failure> {
        if file.is_dir() {
            let failure = Failure::usage(format!("{} is a folder", file.display()));
            return Err(failure.help(format!("name a file in it: `-o {}`", file.join("sheet.pdf").display())));
        }
        if file.exists() && !self.force {
            let failure = Failure::usage(format!("there is a file {} already", file.display()));
            return Err(failure.help("`--force` writes over it"));
        }
        Ok(())
    }

    /// Puts text there.
    pub(super) fn put_text(&self, text: String, settings: &Settings, output: &mut Output) -> Outcome {
        match self.file() {
            None => output.text(&text),
            Some(file) => {
                let text = if settings.ascii { in_ascii(&text) } else { text };
                write(file, text.as_bytes(), output)?;
            }
        }
        Ok(0)
    }

    /// Puts a PDF there; a terminal cannot show it.
    pub(super) fn put_pdf(&self, bytes: &[u8], output: &mut Output) -> Outcome {
        match self.file() {
            None if std::io::stdout().is_terminal() => {
                let failure = Failure::usage("a PDF cannot be shown on a terminal".to_owned());
                return Err(failure.help("name a file for it: `-o sheet.pdf`"));
            }
            None => output.bytes(bytes),
            Some(file) => write(file, bytes, output)?,
        }
        Ok(0)
    }
}

/// Says that there is no PDF to be had from this program.
#[cfg(not(feature = "pdf"))]
pub(super) fn no_pdf() -> Failure {
    Failure::usage("this program was built without PDF").help("`--as html` prints the same from a browser")
}

/// Writes a file whole and says so.
pub(super) fn write(file: &Path, bytes: &[u8], output: &Output) -> Result<(), Failure> {
    write_whole(file, bytes).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    output.aside(&format!("written: {}", file.display()));
    Ok(())
}
