//! `draw`: a guide as a chart for the wall, or as a graph for other tools.

use std::path::{Path, PathBuf};

use clap::ValueEnum;

use super::failure::Failure;
use super::job_folder::write_whole;
use super::output::{Output, in_ascii};
use super::settings::Settings;
use super::{Outcome, shelf};
use crate::finding::did_you_mean;
use crate::sheet::{chart, dot, lay_out, svg};

/// Arguments of `draw`.
#[derive(Debug, clap::Args)]
pub(super) struct DrawArguments {
    /// The guide: an id, a path, or `-`
    guide: String,
    /// A picture, the graph in the language of Graphviz, or the picture in a page
    #[arg(long = "as", value_enum, default_value = "svg", value_name = "FORM")]
    form: Form,
    /// One stage alone, by its name
    #[arg(long, value_name = "NAME")]
    stage: Option<String>,
    /// Write to this file instead of the screen
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Write over a file that is there already
    #[arg(long)]
    force: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    Svg,
    Dot,
    Html,
}

/// Draws a guide.
pub(super) fn run(arguments: &DrawArguments, settings: &Settings, output: &mut Output) -> Outcome {
    let file = arguments.output.as_deref().filter(|file| *file != Path::new("-"));
    if let Some(file) = file.filter(|file| file.exists() && !arguments.force) {
        let failure = Failure::usage(format!("there is a file {} already", file.display()));
        return Err(failure.help("`--force` writes over it"));
    }
    let guide = shelf::sound(settings, &arguments.guide)?;
    let mut chart = lay_out::chart(&guide);
    if let Some(stage) = &arguments.stage {
        chart = match chart.part(stage) {
            Some(part) => part,
            None => return Err(no_stage(&chart, stage, guide.id())),
        };
    }
    let shown = match arguments.form {
        Form::Svg => svg::render(&chart::draw(&chart)),
        Form::Dot => dot::render(&chart),
        Form::Html => chart::page(&chart::draw(&chart)),
    };
    match file {
        None => output.text(&shown),
        Some(file) => {
            let shown = if settings.ascii { in_ascii(&shown) } else { shown };
            write_whole(file, shown.as_bytes()).map_err(|wrong| Failure::usage(wrong.to_string()))?;
            output.aside(&format!("written: {}", file.display()));
        }
    }
    Ok(0)
}

fn no_stage(chart: &chart::Chart, stage: &str, guide: &str) -> Failure {
    let failure = Failure::usage(format!("the guide has no stage `{stage}`"));
    let near = did_you_mean(stage, chart.stages());
    failure.help(format!("`stepjig list {guide}` shows its stages")).maybe_help(near)
}
