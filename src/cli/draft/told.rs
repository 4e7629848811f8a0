//! What the conversation says: a question, what was said so far, what to do next.

use std::path::Path;

use crate::cli::check::counted;
use crate::cli::page::Page;
use crate::cli::settings::Settings;
use crate::draft::{Answers, Asked, Build, Interview, Question};
use crate::finding::plain_text::clean_line;

use super::growth::{Growth, Target};

/// The longest proposal that stands in the prompt.
const IN_THE_PROMPT: usize = 16;

/// What can be typed, beside an answer.
pub(super) const COMMANDS: [&str; 8] = ["back", "change", "answers", "show", "check", "park", "help", "?"];

/// Says what can be typed.
pub(super) const HELP: &str = "\
`back`: the question before; `back 3`: three before. `change NAME`: that answer anew; the others stay. `answers`: what \
was said, each with its name. `show`: the guide so far. `check`: what it proves. `park`, or Ctrl-D: lay it aside, \
everything is kept. `:word` is always a command.";

/// Lays a question out.
pub(super) fn question(question: &Question, taken: Option<&str>, n: usize, of: usize) -> Page {
    let mut page = Page::default();
    page.space();
    page.about(&format!("{n} of {of}. {}", question.asks));
    page.say(&question.help);
    match &question.asked {
        Asked::Choice(choices) => page.numbered(choices),
        Asked::Length(..) | Asked::Parts | Asked::Loose(_) => page.say(&format!("{}.", question.may_be())),
        Asked::Text(_) | Asked::Name => {}
    }
    if let Some(taken) = taken.filter(|taken| taken.len() > IN_THE_PROMPT) {
        page.say(&format!("Enter takes: [{}]", clean_line(taken)));
    }
    page
}

/// Returns the prompt of a question: what is asked, and in brackets what Enter takes.
pub(super) fn prompt(question: &Question, taken: Option<&str>) -> String {
    let name = question.key.rsplit('.').next().unwrap_or(&question.key);
    match taken.filter(|taken| taken.len() <= IN_THE_PROMPT) {
        None => format!("{name}> "),
        Some(taken) => format!("{name} [{taken}]> "),
    }
}

/// Lists what was said.
pub(super) fn answers(interview: &Interview) -> Page {
    let mut page = Page::default();
    page.space();
    let rows: Vec<(&str, String)> =
        interview.answered().map(|(question, said)| (question.key.as_str(), clean_line(said))).collect();
    page.named(&rows);
    page
}

/// Says that the guide can be written, and where; a file that is `in_the_way` is there already.
pub(super) fn all_is_answered(growth: &Growth, target: &Target, in_the_way: Option<&Path>) -> Page {
    let mut page = Page::default();
    page.space();
    page.say(&format!("All is answered. {}", growth.told(None)));
    page.say_all(match in_the_way {
        Some(file) => Some(format!("There is a file {} already: `over` writes over it and keeps it.", file.display())),
        None => target.file().map(|file| format!("Enter writes it to {}.", file.display())),
    });
    page.say("`change NAME` puts an answer right first.");
    page
}

/// Says what was read from an existing guide, and what was not.
pub(super) fn read_back(guide: &str, answers: &Answers, not_taken: &[String]) -> Vec<String> {
    let interview = Interview::of(answers);
    let mut told = vec![format!("From {guide}: {}.", counted(interview.answered().count(), "answer"))];
    told.extend(not_taken.iter().map(|what| format!("Not taken over: {what}.")));
    told
}

/// Says what to do with a guide that was written.
pub(super) fn next_steps(build: &Build, target: &Target, settings: &Settings) -> Vec<String> {
    let (Some(file), Some(id)) = (target.file(), &build.id) else { return Vec::new() };
    let shelf = settings.folders.as_ref().filter(|_| settings.guides.is_none());
    let is_on_shelf = shelf.is_some_and(|folders| file.parent() == Some(&folders.guides().join("kits")));
    let id = if is_on_shelf { id.clone() } else { file.display().to_string() };
    vec![
        "Next, read what stands after `# fill in` in it, and then:".to_owned(),
        format!("  stepjig check {id}"),
        format!("  stepjig rehearse {id}"),
        format!("  stepjig walk {id}"),
        format!("  stepjig print {id}"),
    ]
}
