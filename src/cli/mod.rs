//! The program: one file a verb, the prompt, and the screen.
//!
//! This is the only module that prints, reads the clock, files and the environment. Exit codes: 0 done; 1 the answer
//! is no; 2 bad use or input.

mod check;
mod compare;
mod config;
mod draft;
mod draw;
mod failure;
mod folders;
mod into_file;
pub mod job_folder;
mod kit_file;
mod list;
mod on_paper;
mod output;
mod owed;
mod page;
mod print;
mod prompt;
mod reckon;
mod rehearse;
mod rejoin;
mod schema;
mod screen;
mod settings;
mod shelf;
mod trouble;
mod walk;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::{CommandFactory, FromArgMatches, Parser, Subcommand, ValueEnum};

pub(crate) use failure::Failure;
use output::Output;
use settings::Settings;

/// What a verb ends with: the exit code, or why it could not be done.
type Outcome = Result<u8, Failure>;

const EXAMPLES: &str = "\
Examples:
  Make a pen:
    stepjig walk two-tube-fountain
  Go on with it:
    stepjig walk --job pear-1
  Prove a guide of your own:
    stepjig check my-guide.toml";

const MORE: &str = "\
To leave a walk: type `park`, or press Ctrl-D; everything is kept.
Exit codes: 0 done; 1 the answer is no; 2 bad use or input.
Report faults to the keeper of the copy you were given.";

/// Help begins with what most people look for.
const HELP: &str = "{about-with-newline}\n{before-help}{usage-heading} {usage}\n\n{all-args}{after-help}";

/// The heading over the flags that every verb takes.
const EVERYWHERE: &str = "With every verb";

/// Steps a pen turner from a kit and a blank to a finished pen.
#[derive(Debug, Parser)]
#[command(name = "stepjig", version, help_template = HELP, before_help = EXAMPLES, after_help = MORE)]
struct Arguments {
    #[command(flatten)]
    common: Common,
    #[command(subcommand)]
    verb: Option<Verb>,
}

/// Flags that every verb takes.
#[derive(Debug, Clone, clap::Args)]
struct Common {
    /// The shop's own guides folder, laid over the shipped guides
    #[arg(long, global = true, help_heading = EVERYWHERE, value_name = "DIR")]
    guides: Option<std::path::PathBuf>,
    /// When to use colour
    #[arg(long, global = true, help_heading = EVERYWHERE, value_name = "WHEN")]
    color: Option<When>,
    /// Use ASCII characters only
    #[arg(long, global = true, help_heading = EVERYWHERE)]
    ascii: bool,
    /// Ask nothing: a missing answer is an error
    #[arg(long, global = true, help_heading = EVERYWHERE)]
    no_input: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum When {
    Auto,
    Always,
    Never,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    // Without help of their own, so that `-h` and `--help` say the same.
    Text,
    Plain,
    Json,
}

#[derive(Debug, Subcommand)]
enum Verb {
    /// Make a pen, one step at a time, or go on with one
    Walk(walk::WalkArguments),
    /// Prove guides: no step is reached before what it rests on
    Check(check::CheckArguments),
    /// Say what is different between two editions of a guide
    Compare(compare::CompareArguments),
    /// Find out what went wrong, and what to do about it
    Trouble(trouble::TroubleArguments),
    /// Say where to pick a half-made pen up
    Rejoin(rejoin::RejoinArguments),
    /// Work out one of the shop's sums
    Reckon(reckon::ReckonArguments),
    /// Lay a guide out on paper: a checklist, or what to have at hand
    Print(print::PrintArguments),
    /// Draw a guide as a chart for the wall
    Draw(draw::DrawArguments),
    /// Write a guide for another kit, by being asked how its pen is built
    Draft(draft::DraftArguments),
    /// Try a guide at a table: walks that take every branch
    Rehearse(rehearse::RehearseArguments),
    /// Describe the guide format to an editor, as a JSON Schema
    Schema(schema::SchemaArguments),
    /// List guides and jobs
    List(list::ListArguments),
    /// List parts borrowed from other kits
    Owed(owed::OwedArguments),
    /// Show the settings in force and where each came from
    Config(config::ConfigArguments),
}

/// A line of `reckon` alone. Sums are asked for many at a time; without all the other verbs' flags it is read in half
/// the time.
#[derive(Debug, Parser)]
struct ReckonLine {
    #[command(flatten)]
    common: Common,
    #[command(flatten)]
    reckon: reckon::ReckonArguments,
}

/// Runs the program.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    heed_file_size_limit();
    let mut output = Output::new();
    let code = match parse(arguments, &mut output) {
        Ok(Some(arguments)) => dispatch(arguments, &mut output),
        Ok(None) => Ok(0),
        Err(failure) => Err(failure),
    };
    let code = code.unwrap_or_else(|failure| {
        output.failure(&failure);
        failure.code()
    });
    output.finish(code)
}

/// Lets a write beyond the system's file-size limit fail like one to a full disk, instead of ending the program.
fn heed_file_size_limit() {
    #[cfg(unix)]
    {
        // Where the signal cannot be caught, it ends the program as before; the journal survives that too.
        let caught = std::sync::Arc::default();
        let _ = signal_hook::flag::register(signal_hook::consts::SIGXFSZ, caught);
    }
}

fn parse(arguments: impl IntoIterator<Item = OsString>, output: &mut Output) -> Result<Option<Arguments>, Failure> {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    if let Some(reckon) = reckon_line(&arguments) {
        return Ok(Some(reckon));
    }
    let width = settings::width();
    let command = Arguments::command().term_width(width).max_term_width(100);
    let matched = command.try_get_matches_from(arguments).and_then(|matches| Arguments::from_arg_matches(&matches));
    match matched {
        Ok(arguments) => Ok(Some(arguments)),
        Err(wrong) if !wrong.use_stderr() => {
            output.text(&wrong.render().to_string());
            Ok(None)
        }
        Err(wrong) => Err(Failure::usage(wrong.render().to_string().trim_end().to_owned())),
    }
}

/// Reads a line of `reckon`; one that asks for help or has a fault is left to the whole parser, which says so.
fn reckon_line(arguments: &[OsString]) -> Option<Arguments> {
    let line = arguments.get(1..).filter(|line| line.first().is_some_and(|verb| verb == "reckon"))?;
    let ReckonLine { common, reckon } = ReckonLine::try_parse_from(line).ok()?;
    Some(Arguments { common, verb: Some(Verb::Reckon(reckon)) })
}

fn dispatch(arguments: Arguments, output: &mut Output) -> Outcome {
    let settings = Settings::new(&arguments.common)?;
    output.use_settings(&settings);
    match arguments.verb {
        Some(Verb::Walk(arguments)) => walk::run(arguments, &settings, output),
        Some(Verb::Check(arguments)) => check::run(arguments, &settings, output),
        Some(Verb::Compare(arguments)) => compare::run(&arguments, &settings, output),
        Some(Verb::Trouble(arguments)) => trouble::run(arguments, &settings, output),
        Some(Verb::Rejoin(arguments)) => rejoin::run(arguments, &settings, output),
        Some(Verb::Reckon(arguments)) => reckon::run(&arguments, &settings, output),
        Some(Verb::Print(arguments)) => print::run(&arguments, &settings, output),
        Some(Verb::Draw(arguments)) => draw::run(&arguments, &settings, output),
        Some(Verb::Draft(arguments)) => draft::run(&arguments, &settings, output),
        Some(Verb::Rehearse(arguments)) => rehearse::run(&arguments, &settings, output),
        Some(Verb::Schema(arguments)) => schema::run(&arguments, &settings, output),
        Some(Verb::List(arguments)) => list::run(arguments, &settings, output),
        Some(Verb::Owed(arguments)) => owed::run(&arguments, &settings, output),
        Some(Verb::Config(arguments)) => Ok(config::run(&arguments, &settings, output)),
        None if prompt::is_terminal() && !settings.no_input => prompt::verbs(&settings, output),
        None => Err(Failure::usage(format!("say what to do\n\n{EXAMPLES}\n\n{MORE}"))),
    }
}

/// Runs one line typed at the prompt of verbs.
fn run_line(words: &[String], settings: &Settings, output: &mut Output) -> Outcome {
    let arguments = std::iter::once("stepjig".to_owned()).chain(words.iter().cloned()).map(OsString::from);
    let Some(mut arguments) = parse(arguments, output)? else { return Ok(0) };
    if arguments.verb.is_none() {
        return Err(Failure::usage(
            "say what to do: `walk`, `check`, `compare`, `trouble`, `rejoin`, `reckon`, `print`, `draw`, `draft`, `rehearse`, `schema`, `list`, `owed`, `config`",
        ));
    }
    arguments.common = settings.over(arguments.common);
    dispatch(arguments, output)
}
