//! The conversation: asks until the guide is whole, and keeps each answer before it says anything about it.

use super::growth::{self, Growth};
use super::kept::Kept;
use super::told;
use crate::cli::check::counted;
use crate::cli::failure::Failure;
use crate::cli::into_file::IntoFile;
use crate::cli::output::Output;
use crate::cli::page::Page;
use crate::cli::prompt::{Lines, Typed};
use crate::cli::settings::{self, Settings};
use crate::cli::{Outcome, job_folder, screen};
use crate::draft::{Answers, Asked, Interview, Question};
use crate::finding::did_you_mean;
use crate::finding::render::{Look, for_people};
use crate::finding::sentence::capital;
use crate::guide::fold;
use crate::units::Length;

/// What came of a line.
enum Next {
    /// The question that is open now.
    On,
    /// The same question again.
    Again,
    /// The guide is written.
    Written,
    /// The draft is laid aside.
    Parked,
}

/// A sitting over a draft.
pub(super) struct Conversation<'a> {
    kept: Kept,
    lines: Lines,
    into: &'a IntoFile,
    settings: &'a Settings,
    output: &'a mut Output,
    /// The question that a person went back to.
    at: Option<String>,
    /// A line that was typed between two screens, for the question after them.
    ahead: Option<String>,
    growth: Growth,
}

impl<'a> Conversation<'a> {
    pub(super) fn new(
        kept: Kept,
        lines: Lines,
        into: &'a IntoFile,
        settings: &'a Settings,
        output: &'a mut Output,
    ) -> Result<Conversation<'a>, Failure> {
        let growth = Growth::of(&Interview::of(&kept.answers).build, settings)?;
        Ok(Conversation { kept, lines, into, settings, output, at: None, ahead: None, growth })
    }

    /// Asks until the guide is written or the draft is laid aside.
    pub(super) fn run(mut self) -> Outcome {
        self.output.paragraph(
            "Answer from the kit's sheet; Enter takes what stands in brackets, `?` shows what can be typed, `park` or \
             Ctrl-D lays the draft aside.",
        );
        if !self.kept.answers.is_empty() {
            let answers = counted(Interview::of(&self.kept.answers).answered().count(), "answer");
            let told = format!("Taken up again with {answers}. {}", self.growth.told(None));
            self.output.paragraph(&told);
        }
        let outcome = self.ask_all();
        self.lines.keep_history(self.settings);
        outcome
    }

    fn ask_all(&mut self) -> Outcome {
        let mut is_new = true;
        loop {
            if self.output.is_broken() {
                return Ok(0);
            }
            let interview = Interview::of(&self.kept.answers);
            let open = self.at.as_deref().and_then(|key| interview.question(key)).or_else(|| interview.next()).cloned();
            let next = match &open {
                Some(question) => self.ask(&interview, question, is_new)?,
                None => self.last(&interview, is_new)?,
            };
            match next {
                Next::On => is_new = true,
                Next::Again => is_new = false,
                Next::Written => return Ok(0),
                Next::Parked => {
                    let answers = counted(interview.answered().count(), "answer");
                    let told = format!("Laid aside with {answers}. `{}` goes on.", self.kept.command());
                    self.output.paragraph(&told);
                    return Ok(1);
                }
            }
        }
    }

    /// Asks a question once.
    fn ask(&mut self, interview: &Interview, question: &Question, is_new: bool) -> Result<Next, Failure> {
        let said = interview.answered().find(|(known, _)| known.key == question.key).map(|(_, said)| said.to_owned());
        let taken = said.or_else(|| question.proposal.clone());
        if is_new {
            let place = interview.questions.iter().position(|known| known.key == question.key).unwrap_or(0);
            let of = Interview::n_questions(&self.kept.answers);
            self.put(&told::question(question, taken.as_deref(), place + 1, of));
        }
        let words = words(question);
        let line = match self.typed(&told::prompt(question, taken.as_deref()), words)? {
            Typed::Line(line) => line.trim().to_owned(),
            Typed::Dropped => {
                return self
                    .remark("That line was dropped; what was said before is kept. Ctrl-D lays the draft aside.");
            }
            Typed::End => return Ok(Next::Parked),
        };
        if let Some(command) = command(&line, question) {
            return self.command(&command, interview, Some(question));
        }
        // A bare number is a length in the shop's unit, where it has one.
        let bare = self.settings.unit.filter(|_| matches!(question.asked, Asked::Length(..)));
        let in_unit = bare.and_then(|unit| Length::parse(&line, Some(unit)).ok()).map(Length::exact);
        let read = match taken.filter(|_| line.is_empty()) {
            Some(taken) => Ok(taken),
            None if line.is_empty() => {
                return self
                    .remark(&format!("Nothing is proposed here, for nothing tells it: say {}.", question.may_be()));
            }
            None => question.read(in_unit.as_deref().unwrap_or(&line)),
        };
        match read {
            Ok(said) => self.take(question, said),
            Err(refused) => {
                self.remark(&format!("{}: {}.", capital(&refused.message), refused.help.trim_end_matches('.')))
            }
        }
    }

    /// Asks whether the guide is to be written, when all is answered.
    fn last(&mut self, interview: &Interview, is_new: bool) -> Result<Next, Failure> {
        let target = growth::target(&interview.build, self.into, self.settings)?;
        let in_the_way = target.file().filter(|file| file.is_file() && self.into.may_be(file).is_err());
        if is_new {
            self.put_in_pages(&told::answers(interview))?;
            // Who stops at the answers, or types ahead, is told all the same what Enter does now.
            self.put(&told::all_is_answered(&self.growth, &target, in_the_way));
        }
        let line = match self.typed("write [yes]> ", commands().chain(["over".to_owned()]).collect())? {
            Typed::Line(line) => line.trim().to_owned(),
            Typed::Dropped => return self.remark("Nothing was lost. Ctrl-D lays the draft aside."),
            Typed::End => return Ok(Next::Parked),
        };
        let said = fold(&line);
        match said.as_str() {
            "" | "yes" | "y" | "write" | "over" => {}
            "no" => return Ok(Next::Parked),
            _ => return self.command(line.trim_start_matches(':'), interview, None),
        }
        if let Some(id) = &interview.build.id
            && id.parse::<job_folder::JobName>().is_err()
        {
            return self.remark(&format!("A file cannot be called {id} everywhere: `change name`."));
        }
        if let Some(file) = in_the_way.filter(|_| said != "over") {
            return self.remark(&format!(
                "There is a file {} already. `over` writes over it and keeps it as {}; `change name` gives the guide \
                 another name; Ctrl-D lays the draft aside.",
                file.display(),
                growth::old(file).display()
            ));
        }
        if let Err(failure) = growth::put(&self.growth.text, &target, self.output) {
            self.output.failure(&failure);
            return self
                .remark("Nothing was written over. `change name` gives it another name; Ctrl-D lays the draft aside.");
        }
        self.kept.rename(interview.build.id.as_deref().unwrap_or_default());
        let command = self.kept.command();
        for line in told::next_steps(&interview.build, &target, self.settings) {
            self.output.line(&line);
        }
        self.output.paragraph(&format!("The answers are kept: `{command}` changes one and writes the guide anew."));
        Ok(Next::Written)
    }

    /// Keeps an answer and says how the guide grew by it.
    fn take(&mut self, question: &Question, said: String) -> Result<Next, Failure> {
        let mut answers = self.kept.answers.clone();
        answers.set(&question.key, said);
        self.keep(answers)?;
        self.at = None;
        Ok(Next::On)
    }

    fn keep(&mut self, answers: Answers) -> Result<(), Failure> {
        self.kept.keep(answers)?;
        let growth = Growth::of(&Interview::of(&self.kept.answers).build, self.settings)?;
        let told = growth.told(Some(&self.growth));
        self.growth = growth;
        self.output.paragraph(&told);
        Ok(())
    }

    /// Does what a command says.
    fn command(&mut self, line: &str, interview: &Interview, open: Option<&Question>) -> Result<Next, Failure> {
        let mut words = line.split_whitespace();
        let (command, rest) = (words.next().unwrap_or(""), words.collect::<Vec<_>>().join(" "));
        match command.to_lowercase().as_str() {
            "back" => self.back(&rest, interview, open),
            "change" => self.change(&rest, interview),
            "answers" => {
                self.put_in_pages(&told::answers(interview))?;
                Ok(Next::Again)
            }
            "show" => {
                let mut page = Page::default();
                let wrapped = |line: &str| screen::wrapped(line, settings::width(), "", "    ");
                page.drawn(self.growth.text.lines().flat_map(wrapped).collect());
                self.put_in_pages(&page)?;
                Ok(Next::Again)
            }
            "check" => {
                let look = Look { width: settings::width(), colour: self.settings.colour, ascii: self.settings.ascii };
                self.output.text(&for_people(&self.growth.checked.findings, look));
                self.remark(&self.growth.told(None))
            }
            "park" => Ok(Next::Parked),
            "help" | "?" => {
                if let Some(question) = open {
                    self.output.paragraph(&format!("An answer: {}.", question.may_be()));
                }
                self.remark(told::HELP)
            }
            _ => self.remark(
                "Enter writes the guide; `change NAME`, `back`, `answers`, `show`, `check`, `park` can be typed.",
            ),
        }
    }

    /// Goes back to an earlier question; what was said to it and to the others stays.
    fn back(&mut self, n: &str, interview: &Interview, open: Option<&Question>) -> Result<Next, Failure> {
        let here = open.and_then(|open| interview.questions.iter().position(|question| question.key == open.key));
        let here = here.unwrap_or(interview.questions.len());
        let n = if n.is_empty() { Some(1) } else { n.parse().ok().filter(|n| *n > 0) };
        match n.map(|n: usize| here.checked_sub(n)) {
            Some(Some(place)) => {
                self.at = interview.questions.get(place).map(|question| question.key.clone());
                Ok(Next::On)
            }
            Some(None) => self.remark(&format!("There are {here} questions before this one.")),
            None => self.remark("`back 3` goes back three questions."),
        }
    }

    /// Opens a question that was answered by its name, or by the last word of it, which stands in its prompt.
    fn change(&mut self, name: &str, interview: &Interview) -> Result<Next, Failure> {
        let keys: Vec<&str> = interview.answered().map(|(question, _)| question.key.as_str()).collect();
        let last = |key: &str| key.rsplit('.').next().unwrap_or_default().to_owned();
        let exact: Vec<&str> = keys.iter().copied().filter(|key| *key == name).collect();
        let by_last: Vec<&str> = keys.iter().copied().filter(|key| last(key) == name).collect();
        match if exact.is_empty() { by_last } else { exact }.as_slice() {
            [key] => {
                self.at = Some((*key).to_owned());
                Ok(Next::On)
            }
            [] => {
                let endings: Vec<String> = keys.iter().map(|key| last(key)).collect();
                let near = did_you_mean(name, keys.iter().copied().chain(endings.iter().map(String::as_str)));
                let help = near.unwrap_or_else(|| "`answers` lists what was said, each with its name.".to_owned());
                self.remark(&format!("No answer is called `{name}`: {help}"))
            }
            several => self.remark(&format!("`{name}` may be several: say `change` with {}.", several.join(", or "))),
        }
    }

    /// Asks for a line, unless one was typed ahead.
    fn typed(&mut self, prompt: &str, words: Vec<String>) -> Result<Typed, Failure> {
        self.ahead.take().map_or_else(|| self.lines.ask(prompt, words), |line| Ok(Typed::Line(line)))
    }

    fn remark(&mut self, text: &str) -> Result<Next, Failure> {
        self.output.paragraph(text);
        Ok(Next::Again)
    }

    fn put(&mut self, page: &Page) {
        self.output.line(&page.lines().join("\n"));
    }

    /// Shows a page, a screen at a time.
    fn put_in_pages(&mut self, page: &Page) -> Result<(), Failure> {
        let lines = page.lines();
        let rows = if self.lines.is_screen() { settings::height().saturating_sub(2).max(1) } else { usize::MAX };
        for (n, lines) in lines.chunks(rows.min(lines.len().max(1))).enumerate() {
            if n > 0 {
                let words = ["stop".to_owned()].into_iter().chain(commands()).collect();
                match self.lines.ask("Enter for the rest, stop> ", words)? {
                    Typed::Line(line) if line.trim().is_empty() => {}
                    Typed::Line(line) if fold(&line) != "stop" => {
                        self.ahead = Some(line);
                        return Ok(());
                    }
                    _ => return Ok(()),
                }
            }
            self.output.line(&lines.join("\n"));
        }
        Ok(())
    }
}

/// Returns the command that a line is, if it is one: an answer's own words come before.
fn command(line: &str, question: &Question) -> Option<String> {
    if let Some(command) = line.strip_prefix(':') {
        return Some(command.trim().to_owned());
    }
    let first = line.split_whitespace().next()?.to_lowercase();
    let is_command = told::COMMANDS.contains(&first.as_str());
    let has_arguments = matches!(first.as_str(), "back" | "change");
    let is_alone = line.split_whitespace().count() == 1;
    let is_answer = matches!(question.asked, Asked::Choice(_)) && question.read(line).is_ok();
    let is_short = is_alone || has_arguments && line.split_whitespace().count() == 2;
    (is_command && is_short && !is_answer).then(|| line.to_owned())
}

/// Returns what Tab completes at a question.
fn words(question: &Question) -> Vec<String> {
    let choices = match &question.asked {
        Asked::Choice(choices) => choices.clone(),
        Asked::Length(..) => vec![crate::draft::NOT_KNOWN.to_owned()],
        Asked::Parts | Asked::Loose(_) | Asked::Text(_) | Asked::Name => question.proposal.iter().cloned().collect(),
    };
    choices.into_iter().chain(commands()).collect()
}

fn commands() -> impl Iterator<Item = String> {
    told::COMMANDS.iter().map(|command| (*command).to_owned())
}
