//! `reckon`: one of the shop's sums, from what the line gives, or asked for at a terminal.

mod asked;
mod listing;
mod told;
mod unnamed;

use super::failure::Failure;
use super::output::Output;
use super::prompt::Lines;
use super::settings::Settings;
use super::{Format, Outcome, shelf};
use crate::finding::did_you_mean;
use crate::reckon::{ALL, Reckoning, Refusal, named, pairs};
use asked::Asked;

/// Arguments of `reckon`.
#[derive(Debug, clap::Args)]
pub(super) struct ReckonArguments {
    /// The reckoning; without one, all are listed
    name: Option<String>,
    /// What it is given: `bushing=13.1mm hole=25/64in`; a word without `=` goes on with the value before it
    #[arg(value_name = "NAME=VALUE")]
    values: Vec<String>,
    /// Show what the reckoning asks for: meaning, usual value, range
    #[arg(long)]
    inputs: bool,
    /// For reading, one result a line, or for other programs
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

/// Works a reckoning out; at a terminal it asks for what is missing.
pub(super) fn run(arguments: &ReckonArguments, settings: &Settings, output: &mut Output) -> Outcome {
    let Some(name) = &arguments.name else {
        listing::all(arguments.format, output);
        return Ok(0);
    };
    let reckoning = find(name)?;
    let data = shelf::data(settings)?;
    if arguments.inputs {
        let shown = listing::inputs(reckoning, &data, arguments.format, output);
        return shown.map(|()| 0).map_err(|refusal| failure(reckoning, &refusal));
    }
    let typed = pairs(arguments.values.iter().map(String::as_str));
    let typed = typed.map_err(|_| unnamed::without_names(reckoning, &arguments.values))?;
    let pairs = typed.iter().map(|(name, value)| (name.as_str(), value.as_str()));
    let given = reckoning.read(pairs, settings.unit).map_err(|refusals| refused(reckoning, refusals, output))?;
    match reckoning.work_out(&given, &data) {
        Ok(outcome) => match arguments.format {
            Format::Text => output.line(&told::page(reckoning, &given, &outcome, &data, settings).lines().join("\n")),
            Format::Plain => told::plain(&outcome, output),
            Format::Json => output.line(&told::json(reckoning, &given, &outcome).to_string()),
        },
        Err(refusal @ Refusal::Missing { .. }) if arguments.format == Format::Text && !settings.no_input => {
            let mut lines = Lines::open(settings)?;
            if !lines.is_person() {
                return Err(failure(reckoning, &refusal));
            }
            return Asked::new(reckoning, typed, &data, &mut lines, settings, output).run();
        }
        Err(refusal) => return Err(failure(reckoning, &refusal)),
    }
    Ok(0)
}

fn find(name: &str) -> Result<&'static Reckoning, Failure> {
    named(name).ok_or_else(|| {
        let near = did_you_mean(name, ALL.iter().map(|reckoning| reckoning.name));
        Failure::usage(format!("there is no reckoning `{name}`")).help("`stepjig reckon` lists them").maybe_help(near)
    })
}

/// Tells of all refusals but the last, which is returned.
fn refused(reckoning: &Reckoning, refusals: Vec<Refusal>, output: &Output) -> Failure {
    let mut failures = refusals.iter().map(|refusal| failure(reckoning, refusal)).rev();
    let last = failures.next().unwrap_or_else(|| Failure::usage("nothing can be worked out"));
    failures.rev().for_each(|failure| output.failure(&failure));
    last
}

fn failure(reckoning: &Reckoning, refusal: &Refusal) -> Failure {
    let all = format!("`stepjig reckon {} --inputs` shows all that it asks for", reckoning.name);
    let help = match (refusal, refusal.help()) {
        (Refusal::Missing { .. }, Some(help)) => Some(format!("{help}\n  {all}")),
        _ => refusal.what_to_type(refusal.input().and_then(|input| reckoning.input(input))),
    };
    Failure::usage(refusal.to_string()).maybe_help(help)
}
