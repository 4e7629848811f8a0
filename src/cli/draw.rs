//! `draw`: a guide as a chart for the wall, or as a graph for other tools.

use clap::ValueEnum;

use super::failure::Failure;
use super::into_file::IntoFile;
use super::on_paper::PaperName;
use super::output::Output;
use super::settings::Settings;
use super::{Outcome, shelf};
use crate::finding::did_you_mean;
use crate::guide::document::Shelf;
use crate::guide::{Guide, read};
use crate::sheet::drawing::Drawing;
#[cfg(feature = "pdf")]
use crate::sheet::tiles;
use crate::sheet::{chart, dot, lay_out, svg};

/// Arguments of `draw`.
#[derive(Debug, clap::Args)]
pub(super) struct DrawArguments {
    /// The guide: an id, a path, or `-`
    guide: String,
    /// A picture, the graph in the language of Graphviz, or the picture in a page; else by the ending of the file's
    /// name, else a picture
    #[arg(long = "as", value_enum, value_name = "FORM")]
    form: Option<Form>,
    /// On as many sheets of this paper as it takes, to be trimmed and joined, as PDF; else on one page of its own size
    #[arg(long, value_enum)]
    paper: Option<PaperName>,
    /// One stage alone, by its name
    #[arg(long, value_name = "NAME")]
    stage: Option<String>,
    #[command(flatten)]
    into: IntoFile,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    Svg,
    Dot,
    Html,
    Pdf,
}

/// Draws a guide.
pub(super) fn run(arguments: &DrawArguments, settings: &Settings, output: &mut Output) -> Outcome {
    arguments.into.may_be_written()?;
    let form = arguments.form.or_else(|| arguments.into.form()).unwrap_or(Form::Svg);
    if arguments.paper.is_some() && form != Form::Pdf {
        let failure = Failure::usage("`--paper` is of pages, and only a PDF of a chart has them");
        return Err(failure.help("add `--as pdf`, or name a file that ends so: `-o chart.pdf`"));
    }
    let guide = guide(settings, &arguments.guide)?;
    let mut chart = lay_out::chart(&guide);
    if let Some(stage) = &arguments.stage {
        chart = match chart.part(stage) {
            Some(part) => part,
            None => return Err(no_stage(&chart, stage, guide.id())),
        };
    }
    let shown = match form {
        Form::Svg => svg::render(&chart::draw(&chart)),
        Form::Dot => dot::render(&chart),
        Form::Html => chart::page(&chart::draw(&chart)),
        Form::Pdf => return arguments.into.put_pdf(&pdf(&chart::draw(&chart), arguments.paper)?, output),
    };
    arguments.into.put_text(shown, settings, output)
}

#[cfg(feature = "pdf")]
fn pdf(drawing: &Drawing, paper: Option<PaperName>) -> Result<Vec<u8>, Failure> {
    let written = match paper {
        None => crate::sheet::pdf::drawing(drawing),
        Some(paper) => crate::sheet::pdf::drawings(drawing.title.as_str(), &tiles::tiles(drawing, paper.paper())),
    };
    written.map_err(|wrong| Failure::usage(wrong.to_string()))
}

#[cfg(not(feature = "pdf"))]
fn pdf(_: &Drawing, _: Option<PaperName>) -> Result<Vec<u8>, Failure> {
    Err(super::into_file::no_pdf())
}

/// Returns the guide that is drawn; a fault table has a sheet instead.
fn guide(settings: &Settings, named: &str) -> Result<Guide, Failure> {
    let (library, source) = shelf::find(settings, named)?;
    match read(&source, library.limits()).0 {
        Some(document) if document.shelf == Shelf::Trouble => {
            let failure = Failure::usage(format!("`{named}` is a fault table, and a chart is of a guide"));
            Err(failure.help(format!("`stepjig print {named}` shows its questions on a page")))
        }
        _ => shelf::sound_source(&library, &source, named),
    }
}

fn no_stage(chart: &chart::Chart, stage: &str, guide: &str) -> Failure {
    let failure = Failure::usage(format!("the guide has no stage `{stage}`"));
    let near = did_you_mean(stage, chart.stages());
    failure.help(format!("`stepjig list {guide}` shows its stages")).maybe_help(near)
}
