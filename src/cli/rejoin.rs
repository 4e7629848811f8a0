//! `rejoin`: where to pick a half-made pen up, without a job.

use serde::Serialize;

use super::failure::Failure;
use super::output::Output;
use super::settings::Settings;
use super::{Format, Outcome, shelf};
use crate::check::flow::Flow;
use crate::finding::did_you_mean;
use crate::guide::{Condition, ConditionSet, Guide};
use crate::walk::rejoin::without_job;

/// Arguments of `rejoin`.
#[derive(Debug, clap::Args)]
pub(super) struct RejoinArguments {
    /// The guide: an id or a path
    guide: String,
    /// What is true of the work
    #[arg(value_name = "CONDITION")]
    conditions: Vec<String>,
    /// For reading, one step a line, or for other programs
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

#[derive(Serialize)]
struct Answer<'g> {
    stepjig: u32,
    guide: &'g str,
    held: Vec<&'g str>,
    step: &'g str,
    minutes: f64,
    again: Vec<&'g str>,
}

/// Answers where to pick up.
pub(super) fn run(arguments: RejoinArguments, settings: &Settings, output: &mut Output) -> Outcome {
    let guide = shelf::sound(settings, &arguments.guide)?;
    let held: ConditionSet = conditions(&guide, &arguments.conditions)?.into_iter().collect();
    for passing in held.iter().filter(|condition| guide.is_passing(*condition)) {
        output.aside(&format!("note: `{}` comes and goes, so it does not count here", guide.name(passing)));
    }
    let flow = Flow::new(&guide);
    let Some(rejoin) = without_job(&flow, &held) else {
        return Err(Failure::usage("no step of this guide can be picked up from there"));
    };
    let id = |step| &*guide.step(step).id;
    match arguments.format {
        Format::Json => {
            let answer = Answer {
                stepjig: 1,
                guide: guide.id(),
                held: held.iter().map(|condition| guide.name(condition)).collect(),
                step: id(rejoin.step),
                minutes: rejoin.minutes,
                again: rejoin.again.iter().map(|step| id(*step)).collect(),
            };
            output.line(&serde_json::to_string(&answer).map_err(|wrong| Failure::usage(wrong.to_string()))?);
        }
        Format::Plain => rejoin.again.iter().for_each(|step| output.line(id(*step))),
        Format::Text => {
            let step = guide.step(rejoin.step);
            output.paragraph(&format!("Pick up again at {}: {}", step.id, step.text));
            output.paragraph(&format!("{} to a finished pen, waits included.", minutes(rejoin.minutes)));
            output.paragraph(&format!("Steps on the shortest way that are not done yet: {}.", rejoin.again.len()));
        }
    }
    Ok(0)
}

fn minutes(minutes: f64) -> String {
    crate::walk::span_said(jiff::SignedDuration::from_secs((minutes * 60.0).round() as i64))
}

/// Returns the conditions of these names.
pub(super) fn conditions(guide: &Guide, names: &[String]) -> Result<Vec<Condition>, Failure> {
    let known = |name: &String| {
        guide.condition(name).ok_or_else(|| {
            let names: Vec<&str> = guide.conditions().map(|condition| guide.name(condition)).collect();
            let help = did_you_mean(name, names.iter().copied());
            Failure::usage(format!("the guide `{}` has no condition `{name}`", guide.id())).maybe_help(help)
        })
    };
    names.iter().map(known).collect()
}
