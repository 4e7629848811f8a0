//! `rejoin`: where to pick a half-made pen up, without a job.

use serde::Serialize;

use super::failure::Failure;
use super::output::Output;
use super::settings::Settings;
use super::{Format, Outcome, shelf};
use crate::check::flow::Flow;
use crate::finding::did_you_mean;
use crate::finding::plain_text::clean_line;
use crate::guide::{Condition, ConditionSet, Guide, fold};
use crate::walk::half_made::with_what_they_rest_on;
use crate::walk::rejoin::without_job;

/// Arguments of `rejoin`.
#[derive(Debug, clap::Args)]
pub(super) struct RejoinArguments {
    /// The guide: an id or a path
    guide: String,
    /// What is true of the work
    #[arg(value_name = "CONDITION")]
    conditions: Vec<String>,
    /// What the named conditions rest on is true as well
    #[arg(long)]
    built_on: bool,
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
    let held = conditions(&guide, &arguments.conditions, arguments.built_on)?;
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
            let under = conditions(&guide, &arguments.conditions, true)?;
            if let Some(other) = without_job(&flow, &under).filter(|other| other.step != rejoin.step) {
                output.paragraph(&format!(
                    "Only what was named counts as done. What it rests on was not named ({} more); with `--built-on` \
                     that is done too, and it is picked up at {}.",
                    under.iter().filter(|condition| !held.contains(*condition)).count(),
                    id(other.step)
                ));
            }
        }
    }
    Ok(0)
}

fn minutes(minutes: f64) -> String {
    crate::walk::span_said(jiff::SignedDuration::from_secs((minutes * 60.0).round() as i64))
}

/// Returns the conditions of these names, and where they are built on others those too if that is wanted.
pub(super) fn conditions(guide: &Guide, names: &[String], built_on: bool) -> Result<ConditionSet, Failure> {
    let known = |name: &String| guide.condition(name).ok_or_else(|| no_condition(guide, name));
    let named: Vec<Condition> = names.iter().map(known).collect::<Result<_, _>>()?;
    Ok(if built_on { with_what_they_rest_on(guide, &named) } else { named.into_iter().collect() })
}

/// Says that there is no such condition, and which come near: those with that word in them, else those spelled so.
fn no_condition(guide: &Guide, name: &str) -> Failure {
    let names: Vec<&str> = guide.conditions().map(|condition| guide.name(condition)).collect();
    let word = fold(name);
    let with_word = |condition: &Condition| {
        let (id, said) = (guide.name(*condition), guide.said(*condition));
        !id.starts_with("read.") && !word.is_empty() && (id.contains(name) || fold(&said).contains(&word))
    };
    let near: Vec<String> = guide
        .conditions()
        .filter(with_word)
        .map(|condition| format!("`{}` ({})", guide.name(condition), guide.said(condition)))
        .collect();
    let all = format!("`stepjig list {}` shows them all", guide.id());
    let help = match near.len() {
        0 => did_you_mean(name, names).map_or(all.clone(), |near| format!("{near} {all}")),
        1..=8 => format!("with that word: {}; {all}", near.join(", ")),
        n => format!("with that word: {}, and {} more; {all}", near[..8].join(", "), n - 8),
    };
    Failure::usage(format!("the guide `{}` has no condition `{}`", guide.id(), clean_line(name))).help(help)
}
