//! A reckoning at a terminal: what is missing is asked for, and what was said can be put right.

use super::{told, unnamed};
use crate::cli::Outcome;
use crate::cli::failure::Failure;
use crate::cli::output::Output;
use crate::cli::page::Page;
use crate::cli::prompt::{Lines, Typed, is_yes};
use crate::cli::settings::{self, Settings};
use crate::finding::sentence::capital;
use crate::guide::{Picked, pick};
use crate::reckon::{self, Data, Fork, Input, Kind, Reckoning, Refusal, Way, pairs};

/// What came of a question.
enum Said {
    /// Something was said, or is left out: the sum is tried again.
    On,
    /// The person is done, with a result or with what needs no sum.
    Done,
    /// The person leaves.
    Left,
}

/// What is next.
enum Next {
    Ask { input: &'static str, is_needed: bool },
    Refused(Refusal),
    Result(Box<Page>),
}

/// One sitting over a reckoning.
pub(super) struct Asked<'a> {
    reckoning: &'static Reckoning,
    typed: Vec<(String, String)>,
    /// What was asked for and left out.
    passed_over: Vec<&'static str>,
    data: &'a Data,
    lines: &'a mut Lines,
    settings: &'a Settings,
    output: &'a mut Output,
}

impl<'a> Asked<'a> {
    pub(super) fn new(
        reckoning: &'static Reckoning,
        typed: Vec<(String, String)>,
        data: &'a Data,
        lines: &'a mut Lines,
        settings: &'a Settings,
        output: &'a mut Output,
    ) -> Asked<'a> {
        Asked { reckoning, typed, passed_over: Vec::new(), data, lines, settings, output }
    }

    /// Asks until there is a result, and works it out again for whatever is put right.
    pub(super) fn run(mut self) -> Outcome {
        let Reckoning { name, answers, .. } = self.reckoning;
        self.tell(&format!("{name}: {answers}. `?` shows what can be typed; Ctrl-D leaves."));
        loop {
            if self.output.is_broken() {
                return Ok(0);
            }
            let (said, without) = match self.next() {
                Next::Ask { input, is_needed } => match self.reckoning.asking.fork(input) {
                    Some(fork) => (self.ask_way(fork, is_needed)?, 1),
                    None => (self.ask_input(input, is_needed)?, 1),
                },
                Next::Refused(refusal) => {
                    self.tell_refusal(&refusal);
                    match refusal.input() {
                        Some(input) => {
                            self.typed.retain(|(name, _)| name != input);
                            (self.ask_input(input, true)?, 1)
                        }
                        None => (self.put_right()?, 1),
                    }
                }
                Next::Result(page) => match self.show(&page)? {
                    true => (self.put_right()?, 0),
                    false => (Said::Left, 0),
                },
            };
            match said {
                Said::On => {}
                Said::Done => return Ok(0),
                Said::Left => return Ok(without),
            }
        }
    }

    /// Tries the sum; what else a person is asked for comes in its place among the inputs.
    fn next(&self) -> Next {
        let pairs = self.typed.iter().map(|(name, value)| (name.as_str(), value.as_str()));
        let given = match self.reckoning.read(pairs, self.settings.unit) {
            Ok(given) => given,
            Err(mut refusals) => return Next::Refused(refusals.remove(0)),
        };
        let worked_out = self.reckoning.work_out(&given, self.data);
        let missing = match &worked_out {
            Ok(_) => None,
            Err(Refusal::Missing { input, .. }) => Some(*input),
            Err(refusal) => return Next::Refused(refusal.clone()),
        };
        let before = self.reckoning.inputs.iter().take_while(|input| Some(input.name) != missing);
        if let Some(beside) = before.into_iter().find(|input| self.is_to_be_asked(input)) {
            return Next::Ask { input: beside.name, is_needed: false };
        }
        match (worked_out, missing) {
            (Ok(outcome), _) => Next::Result(Box::new(self.page(&given, &outcome))),
            (Err(_), Some(input)) => Next::Ask { input, is_needed: true },
            (Err(refusal), None) => Next::Refused(refusal),
        }
    }

    /// Tells whether an input is asked for though the sum can do without it, and was not yet.
    fn is_to_be_asked(&self, input: &Input) -> bool {
        let asking = &self.reckoning.asking;
        let is_said = |name: &str| self.has(name) || self.passed_over.contains(&name);
        let fork = asking.fork(input.name);
        asking.also.contains(&input.name)
            && !is_said(input.name)
            && !fork.is_some_and(|fork| fork.inputs().any(is_said))
    }

    fn has(&self, name: &str) -> bool {
        self.typed.iter().any(|(known, _)| known == name)
    }

    /// Lays a result out, with what can be done about it.
    fn page(&self, given: &reckon::Given, outcome: &reckon::Outcome) -> Page {
        let mut page = told::page(self.reckoning, given, outcome, self.data, self.settings);
        page.space();
        page.say_all(self.reckoning.asking.after.map(str::to_owned));
        page.say_all(self.typed.first().map(|(name, value)| format!("To put a value right: {name}={}", value.trim())));
        page
    }

    /// Asks in which way something is known, and then for what that way takes.
    fn ask_way(&mut self, fork: &'static Fork, is_needed: bool) -> Result<Said, Failure> {
        let ways: Vec<String> = fork.ways.iter().map(|way| way.say().to_owned()).collect();
        let mut page = Page::default();
        page.about(fork.asks);
        page.numbered(&ways);
        if !is_needed {
            page.say("Enter leaves it out.");
        }
        self.put(&page);
        loop {
            let Some(line) = self.line("number or words> ", ways.clone())? else { return Ok(Said::Left) };
            if line.is_empty() && !is_needed {
                self.passed_over.push(fork.at);
                return Ok(Said::On);
            }
            if line.contains('=') {
                return self.set_line(&line);
            }
            match pick(&line, &ways, ways.len()) {
                Picked::One(place) => return self.go_way(&fork.ways[place]),
                _ => self.tell("Type a number, or the words as they are listed; or name=value. Ctrl-D leaves."),
            }
        }
    }

    fn go_way(&mut self, way: &'static Way) -> Result<Said, Failure> {
        let inputs = match way {
            Way::WithoutSum { told, .. } => {
                self.tell(told);
                return Ok(Said::Done);
            }
            Way::Given { inputs, .. } => inputs,
        };
        for input in *inputs {
            if !self.has(input)
                && let said @ (Said::Done | Said::Left) = self.ask_input(input, true)?
            {
                return Ok(said);
            }
        }
        Ok(Said::On)
    }

    /// Asks for one input till it is said, or left out where it can be.
    fn ask_input(&mut self, name: &'static str, is_needed: bool) -> Result<Said, Failure> {
        let Some(input) = self.reckoning.input(name) else { return Ok(Said::Left) };
        let usual = input.usual(self.data).map_err(|refusal| super::failure(self.reckoning, &refusal))?;
        let choices: Vec<String> = input.kind.choices().iter().map(|word| (*word).to_owned()).collect();
        // Completed by Tab, but too many to be shown. A fault in the table is told by the sum.
        let listed = input.listed(self.data).unwrap_or_default();
        let words = [&choices[..], &listed].concat();
        let mut page = Page::default();
        page.about(&format!("{}.", capital(input.meaning)));
        match choices.is_empty() {
            true => page.say(&format!("{}.", capital(&form(input)).trim_end_matches('.'))),
            false => page.numbered(&choices),
        }
        page.say_all(usual.as_ref().map(|usual| format!("Enter takes {usual}.")));
        let may_pass = usual.is_some() || !is_needed;
        if usual.is_none() && may_pass {
            page.say("Enter leaves it out.");
        }
        self.put(&page);
        loop {
            let Some(line) = self.line(&format!("{name}> "), words.clone())? else { return Ok(Said::Left) };
            match line.as_str() {
                "" if may_pass => {
                    match usual {
                        Some(usual) => self.keep(name, usual),
                        None => self.passed_over.push(name),
                    }
                    return Ok(Said::On);
                }
                "" | "?" | "help" => self.tell(&help(input, may_pass)),
                line if line.contains('=') => return self.set_line(line),
                line => {
                    let line = match pick(line, &choices, choices.len()) {
                        Picked::One(place) => choices[place].clone(),
                        _ => line.to_owned(),
                    };
                    if self.set(name, &line)? {
                        return Ok(Said::On);
                    }
                }
            }
        }
    }

    /// Asks for what is to be put right, under a result or a refusal.
    fn put_right(&mut self) -> Result<Said, Failure> {
        let words: Vec<String> = self.reckoning.inputs.iter().map(|input| format!("{}=", input.name)).collect();
        loop {
            let line = match self.line("name=value, or Enter to leave> ", words.clone())? {
                Some(line) if !line.is_empty() => line,
                _ => return Ok(Said::Left),
            };
            match line.contains('=') {
                true => return self.set_line(&line),
                false => self.tell_what_is_said(),
            }
        }
    }

    /// Takes each `name=value` of a line; `name=` takes a value out.
    fn set_line(&mut self, line: &str) -> Result<Said, Failure> {
        match pairs(line.split_whitespace()) {
            Ok(pairs) => {
                for (name, value) in pairs {
                    if value.is_empty() && self.has(&name) {
                        self.typed.retain(|(known, _)| *known != name);
                        self.tell(&format!("`{name}` is taken out."));
                    } else if self.set(&name, &value)? {
                        self.tell(&format!("`{name}` is {} now.", value.trim()));
                    }
                }
            }
            Err(_) => {
                let words: Vec<String> = line.split_whitespace().map(str::to_owned).collect();
                self.output.failure(&unnamed::without_names(self.reckoning, &words));
            }
        }
        Ok(Said::On)
    }

    /// Takes a value if it reads; a decimal comma is asked back once.
    fn set(&mut self, name: &str, value: &str) -> Result<bool, Failure> {
        let Err(refusals) = self.reckoning.read([(name, value)], self.settings.unit) else {
            self.keep(name, value.to_owned());
            return Ok(true);
        };
        if let Some(meant) = refusals.iter().find_map(Refusal::comma_reading) {
            let yes_or_no = vec!["yes".to_owned(), "no".to_owned()];
            let is_meant = self.line(&format!("{meant}? yes or no> "), yes_or_no)?;
            if is_meant.is_some_and(|line| is_yes(&line))
                && self.reckoning.read([(name, meant)], self.settings.unit).is_ok()
            {
                self.keep(name, meant.to_owned());
                return Ok(true);
            }
        }
        refusals.iter().for_each(|refusal| self.tell_refusal(refusal));
        Ok(false)
    }

    fn keep(&mut self, name: &str, value: String) {
        self.typed.retain(|(known, _)| known != name);
        self.typed.push((name.to_owned(), value));
    }

    /// Asks for a line; none where the person leaves.
    fn line(&mut self, prompt: &str, words: Vec<String>) -> Result<Option<String>, Failure> {
        loop {
            match self.lines.ask(prompt, words.clone())? {
                Typed::Line(line) => return Ok(Some(line.trim().to_owned())),
                Typed::Dropped => self.tell("That line was dropped. Ctrl-D leaves."),
                Typed::End => return Ok(None),
            }
        }
    }

    /// Shows a result, a screen at a time; returns whether the person stayed.
    fn show(&mut self, page: &Page) -> Result<bool, Failure> {
        let rows = if self.lines.is_screen() { settings::height() - 2 } else { usize::MAX };
        for (n, lines) in page.pages(rows).0.iter().enumerate() {
            if n > 0 && !self.lines.turn_page("Enter for the rest> ", self.output)? {
                return Ok(false);
            }
            self.output.line(&format!("\n{}", lines.join("\n").trim_start_matches('\n')));
        }
        Ok(true)
    }

    fn put(&mut self, page: &Page) {
        self.output.line(&format!("\n{}", page.lines().join("\n")));
    }

    fn tell(&mut self, text: &str) {
        self.output.paragraph(text);
    }

    fn tell_refusal(&mut self, refusal: &Refusal) {
        let input = refusal.input().and_then(|input| self.reckoning.input(input));
        let help = refusal.what_to_type(input).map(|help| format!(": {help}")).unwrap_or_default();
        let said = capital(&format!("{refusal}{help}"));
        self.tell(&format!("{}{}", said.trim_end_matches('.'), if said.ends_with('?') { "" } else { "." }));
    }

    /// Tells what was said so far.
    fn tell_what_is_said(&mut self) {
        let said: Vec<String> = self.typed.iter().map(|(name, value)| format!("{name}={value}")).collect();
        let names: Vec<&str> = self.reckoning.inputs.iter().map(|input| input.name).collect();
        let (said, names) = (said.join(", "), names.join(", "));
        self.tell(&format!("Said: {said}. `name=value` puts one right or adds one, `name=` takes it out: {names}."));
    }
}

/// Says from where to where an input goes and how it is written, in a line over its prompt.
fn form(input: &Input) -> String {
    let range = input.kind.range();
    match input.kind {
        Kind::Name(_) => "its name in words; Tab goes through those that are listed".to_owned(),
        Kind::Count { .. } | Kind::Number { .. } | Kind::Choices(_) => range,
        kind => format!("{range}; write it like {}", kind.examples()),
    }
}

/// Says what can be typed for an input.
fn help(input: &Input, may_pass: bool) -> String {
    let pass = if may_pass { " Enter passes it over." } else { "" };
    let examples = input.kind.examples();
    format!("Write it like {examples}.{pass} `name=value` puts right what was said before. Ctrl-D leaves.")
}
