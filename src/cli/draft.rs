//! `draft`: a conversation that writes a guide for a kit that stepjig has never seen.

mod conversation;
mod growth;
mod kept;
mod told;

use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::into_file::IntoFile;
use super::output::Output;
use super::prompt::Lines;
use super::settings::Settings;
use super::{Outcome, shelf};
use crate::draft::{Answers, Interview, from, write};
use conversation::Conversation;
use growth::Growth;
use kept::Kept;
pub(super) use kept::all;

/// How to write a good guide.
const HOW: &str = include_str!("../../guides/WRITING.md");

const EXAMPLES: &str = "\
Examples:
  Write a guide for a kit of your own, answering at the prompt:
    stepjig draft
  Go on with one that was parked:
    stepjig draft raffle-twist
  Begin with what another guide says:
    stepjig draft raffle-click --from two-tube-fountain
  Write a guide without being asked:
    stepjig draft --answers raffle-twist.toml -o raffle-twist-guide.toml";

/// Arguments of `draft`.
#[derive(Debug, clap::Args)]
#[command(before_help = EXAMPLES)]
pub(super) struct DraftArguments {
    /// The draft to begin or to go on with; without a name, the one that has none yet
    name: Option<String>,
    /// Begin with what this guide says
    #[arg(long, value_name = "GUIDE", conflicts_with = "answers")]
    from: Option<String>,
    /// Take the answers from this file and ask nothing; `-` reads them from the input
    #[arg(long, value_name = "FILE", conflicts_with = "name")]
    answers: Option<PathBuf>,
    /// Show how a good guide is written, and stop
    #[arg(long)]
    how: bool,
    #[command(flatten)]
    into: IntoFile,
}

/// Writes a guide.
pub(super) fn run(arguments: &DraftArguments, settings: &Settings, output: &mut Output) -> Outcome {
    if arguments.how {
        output.text(HOW);
        return Ok(0);
    }
    arguments.into.may_be_written()?;
    if let Some(file) = &arguments.answers {
        return at_once(file, arguments, settings, output);
    }
    let mut kept = Kept::open(settings, arguments.name.as_deref())?;
    if let Some(guide) = &arguments.from {
        begin_from(guide, &mut kept, settings, output)?;
    }
    if settings.no_input {
        return Err(missing(&kept.answers).unwrap_or_else(|| Failure::usage("nothing may be asked")));
    }
    let lines = Lines::open(settings)?;
    Conversation::new(kept, lines, &arguments.into, settings, output)?.run()
}

/// Writes the guide of a file of answers.
fn at_once(file: &Path, arguments: &DraftArguments, settings: &Settings, output: &mut Output) -> Outcome {
    let source = shelf::read_or_input(file)?;
    let answers = kept::parsed(&source)?;
    if let Some(failure) = missing(&answers) {
        return Err(failure);
    }
    let interview = Interview::of(&answers);
    for (key, _) in answers.iter().filter(|(key, _)| interview.question(key).is_none()) {
        output.aside(&format!("not asked for in such a pen: {key}"));
    }
    let text = write(&interview.build);
    let target = growth::target(&interview.build, &arguments.into, settings)?;
    if let Some(file) = target.file() {
        arguments.into.may_be(file)?;
    }
    growth::put(&text, &target, output)?;
    let growth = Growth::of(&interview.build, settings)?;
    output.aside(&growth.told(None));
    if target.file().is_some() {
        told::next_steps(&interview.build, &target, settings).iter().for_each(|line| output.aside(line));
    }
    Ok(u8::from(!growth.is_clean()))
}

/// Says which answer is missing or does not hold, if one is.
fn missing(answers: &Answers) -> Option<Failure> {
    let interview = Interview::of(answers);
    let question = interview.next()?;
    let proposed = question.proposal.as_ref().map_or(String::new(), |proposal| format!("; proposed: {proposal}"));
    let may_be = format!("{} It may be {}{proposed}", question.asks, question.may_be());
    Some(match answers.get(&question.key).map(|said| question.read(said)) {
        Some(Err(refused)) => Failure::usage(format!("`{}`: {}", question.key, refused.message)).help(refused.help),
        _ => Failure::usage(format!("the answer `{}` is missing", question.key)).help(may_be),
    })
}

/// Reads an existing guide back into the answers of a draft that has none yet.
fn begin_from(guide: &str, kept: &mut Kept, settings: &Settings, output: &mut Output) -> Result<(), Failure> {
    if !kept.answers.is_empty() {
        let failure = Failure::usage(format!("the draft {} has answers already", kept.name));
        return Err(failure.help("give another name: `stepjig draft NAME --from GUIDE`; without `--from` it goes on"));
    }
    let (library, source) = shelf::find(settings, guide)?;
    let read = from(&library, &source).ok_or_else(|| {
        Failure::usage(format!("{guide} cannot be read as a guide")).help(format!("`stepjig check {guide}` says why"))
    })?;
    kept.keep(read.answers)?;
    told::read_back(guide, &kept.answers, &read.not_taken).iter().for_each(|line| output.paragraph(line));
    Ok(())
}
