//! `trouble`: something went wrong; walks a fault table, or says at once what comes next.

use serde_json::json;

pub(in crate::cli) mod asking;
mod choose;
pub(in crate::cli) mod endings;
pub(in crate::cli) mod learned;
mod remedy;
mod said;

use super::failure::Failure;
use super::output::Output;
use super::page::Page;
use super::prompt::{Lines, Typed};
use super::settings::Settings;
use super::{Format, Outcome, shelf};
use crate::finding::did_you_mean;
use crate::finding::plain_text::clean_line;
use crate::guide::document::{Document, Shelf};
use crate::guide::fault_table::{RawFaultTable, RawGoal};
use crate::guide::{Library, Picked, pick, read};
use crate::trouble::consult::{Consultation, Standing};
use crate::trouble::plan::{Budget, Next};
use crate::trouble::table::{Endings, Table};
use asking::Asking;
use endings::Over;

/// Arguments of `trouble`.
#[derive(Debug, clap::Args)]
pub(super) struct TroubleArguments {
    /// The fault table: an id, a path, or a word for what is seen, such as `halfway`
    #[arg(value_name = "TABLE")]
    table: String,
    /// What was found already, each as CHECK=ANSWER
    #[arg(value_name = "CHECK=ANSWER")]
    found: Vec<String>,
    /// What the table is about, each as NAME=VALUE: `tube=body`
    #[arg(long, value_name = "NAME=VALUE")]
    with: Vec<String>,
    /// A check or remedy that cannot be done here
    #[arg(long, value_name = "ACTION")]
    without: Vec<String>,
    /// Show the causes' odds: the author's, what this shop has seen, and both together
    #[arg(long)]
    odds: bool,
    /// Begin this shop's count of the table's causes anew
    #[arg(long)]
    forget: bool,
    /// For reading, one cause a line, or for other programs
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

/// Walks a table, or answers at once.
pub(super) fn run(arguments: TroubleArguments, settings: &Settings, output: &mut Output) -> Outcome {
    let mut lines = (arguments.format == Format::Text).then(|| Lines::open(settings)).transpose()?;
    let mut person = lines.as_mut().filter(|lines| lines.is_person() && !settings.no_input);
    let (library, document) =
        find(&arguments.table, settings, person.as_deref_mut().map(|lines| (lines, &mut *output)))?;
    let (id, raw) = (document.id.value.clone(), document.fault_table.as_deref().cloned().unwrap_or_default());
    if arguments.forget {
        return learned::forget(&id, settings, output);
    }
    if arguments.odds {
        return learned::show(&id, &raw, arguments.format, settings, output);
    }
    let odds = learned::odds(&id, &raw, settings)?;
    let with = arguments.with.iter().map(|pair| pair_of(pair, "--with tube=body")).collect::<Result<Vec<_>, _>>()?;
    for (name, _) in &with {
        if !document.takes.iter().any(|taken| taken.value == *name) {
            let takes = document.takes.iter().map(|taken| taken.value.as_str());
            let failure = Failure::usage(format!("the table `{}` takes no `{name}`", document.id.value));
            return Err(failure.maybe_help(did_you_mean(name, takes)));
        }
    }
    // Without a kit each thing stands for a branch of its own, so that its numbers can be spoken of.
    let mut branches: Vec<(String, String)> = Vec::new();
    for taken in &document.takes {
        let given = with.iter().find(|(name, _)| *name == taken.value).map(|(_, value)| value.clone());
        let given = match (given, &mut person) {
            (None, Some(lines)) => which(&taken.value, &id, &library, lines, output)?,
            (given, _) => given.unwrap_or_else(|| taken.value.clone()),
        };
        let branch = if given.starts_with("kit.") { given } else { format!("kit.{given}") };
        branches.push((taken.value.clone(), branch));
    }
    let with = branches;
    let table = table_of(&document, raw.filled(&document.takes, &with, |_| None), &odds, &Endings::default())?;
    let mut consultation = Consultation::begin(table);
    for pair in &arguments.found {
        let (check, answer) = pair_of(pair, "push=\"does not move\"")?;
        let answer = outcome_of(&consultation, &check, &answer);
        consultation.see(&check, &answer).map_err(|wrong| no_finding(&consultation, &check, &wrong.to_string()))?;
    }
    for action in &arguments.without {
        consultation.leave_out(action).map_err(|wrong| no_finding(&consultation, action, &wrong.to_string()))?;
    }
    let Some(lines) = &mut lines else { return Ok(at_once(&consultation, arguments.format, output)) };
    let mut asking = Asking::new(consultation, (&library, &document), None, lines, settings, output);
    asking.first_words()?;
    let over = asking.run()?;
    Ok(u8::from(!matches!(over, Over::Fixed | Over::Known)))
}

/// Asks a person what a table is about: one of the things that guides ask it about.
fn which(
    taken: &str,
    table: &str,
    library: &Library,
    lines: &mut Lines,
    output: &mut Output,
) -> Result<String, Failure> {
    let mut things: Vec<String> = Vec::new();
    for guide in library.guide_ids().filter_map(|id| library.link_id(id)?.guide) {
        let calls = guide.steps().flat_map(|(_, step)| &step.trouble).filter(|call| call.table == table);
        let values = calls.flat_map(|call| &call.with).filter(|(name, _)| name == taken).map(|(_, value)| value);
        for thing in values.filter_map(|value| value.rsplit('.').next()) {
            if !things.iter().any(|known| known == thing) {
                things.push(thing.to_owned());
            }
        }
    }
    if things.len() < 2 {
        return Ok(things.pop().unwrap_or_else(|| taken.to_owned()));
    }
    let chosen = one_of(&format!("Which {taken}?"), &things, lines, output)?;
    Ok(chosen.map_or_else(|| taken.to_owned(), |place| things[place].clone()))
}

/// Asks a person for one of several; none where the input ends.
fn one_of(question: &str, things: &[String], lines: &mut Lines, output: &mut Output) -> Result<Option<usize>, Failure> {
    let mut page = Page::default();
    page.about(question);
    page.numbered(things);
    output.line(&page.lines().join("\n"));
    while let Typed::Line(line) = lines.ask("number or words> ", things.to_vec())? {
        match pick(&line, things, things.len()) {
            Picked::One(place) => return Ok(Some(place)),
            _ => output.paragraph(&format!("Type a number, or one of: {}.", things.join(" · "))),
        }
    }
    Ok(None)
}

/// Returns a table ready to be asked.
pub(in crate::cli) fn table_of(
    document: &Document,
    words: RawFaultTable,
    odds: &[f64],
    endings: &Endings,
) -> Result<Table, Failure> {
    Table::new(document, words, Some(odds), endings).map_err(|faults| {
        let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
        Failure::usage(format!("the table `{}` cannot be asked: {}", document.id.value, said.join("; ")))
            .help("say what beginning again costs: `[start-over]` with `minutes`")
    })
}

/// Answers without asking anything.
fn at_once(consultation: &Consultation, format: Format, output: &mut Output) -> u8 {
    let table = consultation.table();
    let goal = if table.words.goal == RawGoal::Fix { "fix" } else { "identify" };
    let standing = match consultation.standing(&Budget::default()) {
        Ok(standing) => standing,
        Err(contradiction) => {
            let (action, outcome) = (&contradiction.action, &contradiction.outcome);
            let failure = Failure::usage(format!("no cause of `{}` explains `{action}={outcome}`", table.id));
            output.failure(&failure);
            if format == Format::Json {
                let nothing: [&str; 0] = [];
                output.line(
                    &json!({"stepjig": 1, "trouble": table.id, "goal": goal, "evidence": 0, "causes": nothing,
                        "next": null, "tied": nothing, "minutes": null, "exact": true, "bound": null})
                    .to_string(),
                );
            }
            return 1;
        }
    };
    let chances = table.words.causes.iter().zip(&standing.chances);
    if format == Format::Plain {
        chances.for_each(|(cause, chance)| output.line(&format!("{}\t{chance}", cause.id.value)));
        return 0;
    }
    let causes: Vec<_> = chances.map(|(cause, chance)| json!({"id": cause.id.value, "chance": chance})).collect();
    let Standing { plan, evidence, .. } = &standing;
    let tied: Vec<String> = plan.tied.iter().map(|next| id_of(table, *next)).collect();
    output.line(
        &json!({"stepjig": 1, "trouble": table.id, "goal": goal, "evidence": evidence, "causes": causes,
            "next": {"kind": kind_of(table, plan.next), "id": id_of(table, plan.next)}, "tied": tied,
            "minutes": plan.minutes, "exact": plan.exact, "bound": plan.bound})
        .to_string(),
    );
    0
}

fn kind_of(table: &Table, next: Next) -> &'static str {
    match next {
        Next::Do(action) if table.check(action).is_some() => "check",
        Next::Do(_) => "remedy",
        Next::StartOver => "start-over",
        Next::Stop => "stop",
    }
}

fn id_of(table: &Table, next: Next) -> String {
    match next {
        Next::Do(action) => table.problem.actions()[action].id().to_owned(),
        Next::StartOver | Next::Stop => kind_of(table, next).to_owned(),
    }
}

/// Returns the outcome of a check that was typed: its exact words, or a unique beginning of them.
fn outcome_of(consultation: &Consultation, action: &str, typed: &str) -> String {
    let problem = &consultation.table().problem;
    let Some(action) = problem.action(action) else { return typed.to_owned() };
    let labels: Vec<String> =
        problem.actions()[action].outcomes().iter().map(|outcome| outcome.label().to_owned()).collect();
    match pick(typed, &labels, 0) {
        Picked::One(place) => labels[place].clone(),
        _ => typed.to_owned(),
    }
}

/// Says what can be named instead of what is no finding.
fn no_finding(consultation: &Consultation, action: &str, wrong: &str) -> Failure {
    let problem = &consultation.table().problem;
    let failure = Failure::usage(clean_line(wrong));
    match problem.action(action) {
        Some(known) => {
            let labels: Vec<String> =
                problem.actions()[known].outcomes().iter().map(|outcome| format!("`{}`", outcome.label())).collect();
            failure.help(format!("`{action}` shows {}", labels.join(", ")))
        }
        None => {
            let ids: Vec<&str> = problem.actions().iter().map(|action| action.id()).collect();
            let help = did_you_mean(action, ids.iter().copied());
            failure.help(help.unwrap_or_else(|| format!("the checks and remedies are {}", ids.join(", "))))
        }
    }
}

fn pair_of(pair: &str, example: &str) -> Result<(String, String), Failure> {
    let (name, value) = pair
        .split_once('=')
        .ok_or_else(|| Failure::usage(format!("`{pair}` has no `=`")).help(format!("write it as `{example}`")))?;
    Ok((name.trim().to_owned(), value.trim().to_owned()))
}

/// Finds a table by its id, its path, or a word for what is seen.
fn find(
    named: &str,
    settings: &Settings,
    person: Option<(&mut Lines, &mut Output)>,
) -> Result<(Library, Document), Failure> {
    let (library, source) = match shelf::table(settings, named)? {
        (library, Some(source)) => (library, source),
        (library, None) => {
            let (mut ids, titles) = by_symptom(&library, named);
            if let Some((lines, output)) = person.filter(|_| ids.len() > 1)
                && let Some(chosen) = one_of("Which of these is it?", &titles, lines, output)?
            {
                ids = vec![ids.swap_remove(chosen)];
            }
            let [id] = ids.as_slice() else { return Err(no_table(&library, named, &ids)) };
            let source = library.trouble(id).ok_or_else(|| no_table(&library, named, &[]))?;
            (library, source)
        }
    };
    let (document, findings) = read(&source, library.limits());
    let error = findings.iter().find(|finding| finding.severity() == crate::finding::Severity::Error);
    match (document, error) {
        (_, Some(error)) => {
            Err(Failure::usage(format!("the table has errors\n{}", crate::finding::render::one_line(error)))
                .help(format!("`stepjig check {named}` shows them all")))
        }
        (Some(document), None) if document.shelf == Shelf::Trouble => Ok((library, document)),
        _ => Err(Failure::usage(format!("{named} is no fault table: it has no `[trouble]` table"))),
    }
}

/// Returns the ids and titles of the tables that these words are about.
fn by_symptom(library: &Library, words: &str) -> (Vec<String>, Vec<String>) {
    let about = |id: &str| {
        let document = read(&library.trouble(id)?, library.limits()).0?;
        let is_about = document.fault_table.as_ref()?.is_about(&document.title, words);
        is_about.then(|| (id.to_owned(), document.title))
    };
    library.trouble_ids().filter_map(about).unzip()
}

fn no_table(library: &Library, named: &str, near: &[String]) -> Failure {
    let named = clean_line(named);
    if near.is_empty() {
        let failure = Failure::usage(format!("there is no fault table `{named}`, and none is about that"));
        let help = did_you_mean(&named, library.trouble_ids());
        return failure.help("`stepjig list` shows them, and the words for what is seen").maybe_help(help);
    }
    Failure::usage(format!("more than one fault table is about `{named}`"))
        .help(format!("say which: {}", near.iter().map(|id| format!("`{id}`")).collect::<Vec<_>>().join(", ")))
}
