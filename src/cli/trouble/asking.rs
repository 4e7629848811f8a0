//! Walks a fault table with a person, or line by line: one question or remedy at a time.

use crate::cli::failure::Failure;
use crate::cli::output::Output;
use crate::cli::prompt::{Lines, Typed};
use crate::cli::settings::Settings;
use crate::cli::{Outcome, screen, settings};
use crate::guide::document::{Caution, Document};
use crate::guide::fault_table::{RawAction, RawCheck, RawRemedy};
use crate::guide::{Library, fold};
use crate::trouble::consult::{Consultation, Standing};
use crate::trouble::plan::{Budget, Next};
use crate::trouble::problem::Effect;
use crate::walk::span_said;

/// How many causes are shown: the others are less likely than each of them.
const CAUSES_SHOWN: usize = 4;

/// What can be typed at a question besides its answers.
const CANNOT: &str = "cannot do this here";
const NEW_BLANK: &str = "new blank";
const LAY_ASIDE: &str = "lay it aside";

/// Walks a table until the pen is good, a new blank is begun, or it is laid aside.
pub(super) fn walk(
    consultation: Consultation,
    (library, document): (&Library, &Document),
    settings: &Settings,
    output: &mut Output,
) -> Outcome {
    let lines = Lines::open(settings)?;
    let mut asking = Asking { consultation, library, document, lines, settings, output, told_of_cost: false };
    asking.first_words()?;
    loop {
        if let Some(effect) = asking.consultation.ended() {
            return Ok(asking.ended(effect));
        }
        let standing = match asking.consultation.standing(&Budget::default()) {
            Ok(standing) => standing,
            Err(_) => return Ok(asking.unexplained()),
        };
        let next = match standing.plan.next {
            Next::Do(action) => action,
            Next::StartOver => return Ok(asking.start_over(&standing)),
            Next::Stop => return Ok(asking.known(&standing)),
        };
        if asking.settings.no_input {
            let id = asking.consultation.table().problem.actions()[next].id();
            return Err(Failure::usage(format!("`{id}` wants an answer")).help(format!("give it as {id}=ANSWER")));
        }
        match asking.one(next, &standing)? {
            Said::GoOn => {}
            Said::NewBlank => return Ok(asking.start_over(&standing)),
            Said::LaidAside => return Ok(asking.laid_aside()),
        }
    }
}

/// What came of one question.
enum Said {
    GoOn,
    NewBlank,
    LaidAside,
}

/// One sitting over a table.
pub(super) struct Asking<'a> {
    pub(super) consultation: Consultation,
    pub(super) library: &'a Library,
    pub(super) document: &'a Document,
    pub(super) lines: Lines,
    pub(super) settings: &'a Settings,
    output: &'a mut Output,
    told_of_cost: bool,
}

impl Asking<'_> {
    /// Says what the hands do now, before anything is asked.
    fn first_words(&mut self) -> Result<(), Failure> {
        let table = self.consultation.table();
        let mut told = vec![format!("{}.", table.title)];
        told.extend(table.words.first.iter().map(|line| line.value.clone()));
        self.page(&told);
        if self.lines.is_person() {
            self.lines.ask("Enter when the hands are free> ", Vec::new())?;
        }
        Ok(())
    }

    /// Asks one check, or offers one remedy.
    fn one(&mut self, action: usize, standing: &Standing) -> Result<Said, Failure> {
        let cost = self.cost_told(standing);
        let table = self.consultation.table();
        let id = table.problem.actions()[action].id().to_owned();
        let mut heading = self.heading(standing);
        heading.extend(cost);
        let mut page = Vec::new();
        let (answers, is_remedy) = match (table.check(action), table.remedy(action)) {
            (Some(check), _) => {
                page.extend(question(check, standing));
                (table.problem.actions()[action].outcomes().iter().map(|o| o.label().to_owned()).collect(), false)
            }
            (_, Some(remedy)) => {
                page.extend(self.offer(action, remedy, standing));
                (vec!["do it".to_owned()], true)
            }
            _ => return Ok(Said::LaidAside),
        };
        let mut words: Vec<String> = answers;
        let n_numbered = words.len() + 1;
        words.push(CANNOT.to_owned());
        page.push(String::new());
        page.extend(words.iter().enumerate().map(|(n, say)| format!("{:>3}  {say}", n + 1)));
        page.push(self.beside(standing));
        if self.lines_of(&heading) + 1 + self.lines_of(&page) > self.rows() {
            self.page(&heading);
            if let Typed::End = self.lines.ask("Enter for the rest> ", Vec::new())? {
                return Ok(Said::LaidAside);
            }
            self.page(&page);
        } else {
            heading.push(String::new());
            heading.extend(page);
            self.page(&heading);
        }
        words.extend([NEW_BLANK, LAY_ASIDE].map(str::to_owned));
        let Some(chosen) = self.choose(&words, n_numbered)? else { return Ok(Said::LaidAside) };
        match words[chosen].as_str() {
            NEW_BLANK => return Ok(Said::NewBlank),
            LAY_ASIDE => return Ok(Said::LaidAside),
            CANNOT => self.consultation.leave_out(&id).map_err(|wrong| Failure::usage(wrong.to_string()))?,
            _ if is_remedy => return self.done(action, &id),
            answer => {
                let answer = answer.to_owned();
                self.consultation.see(&id, &answer).map_err(|wrong| Failure::usage(wrong.to_string()))?;
            }
        }
        Ok(Said::GoOn)
    }

    /// Does a remedy: steps through its procedure, or asks what came of a single action.
    fn done(&mut self, action: usize, id: &str) -> Result<Said, Failure> {
        let remedy = self.consultation.table().remedy(action);
        let steps = remedy.filter(|remedy| matches!(remedy.action, RawAction::Run { .. }));
        if let Some(guide) = steps.and_then(|remedy| self.steps_of(remedy)) {
            let Some(outcome) = self.through(&guide)? else { return Ok(Said::LaidAside) };
            let can_be = self.consultation.table().problem.actions()[action].outcome(outcome).is_some();
            // A remedy that is said never to lose the blank has lost it: that is not fixed, and the blank is gone.
            let outcome = if can_be { outcome } else { "not fixed" };
            self.consultation.see(id, outcome).map_err(|wrong| Failure::usage(wrong.to_string()))?;
            return Ok(if can_be { Said::GoOn } else { Said::NewBlank });
        }
        if let Some(RawAction::Do(text)) = self.consultation.table().remedy(action).map(|remedy| &remedy.action) {
            let text = text.value.clone();
            self.tell(&[text]);
        }
        let problem = &self.consultation.table().problem;
        let words: Vec<String> = problem.actions()[action].outcomes().iter().map(|o| o.label().to_owned()).collect();
        let said = |label: &String| match label.as_str() {
            "fixed" => "it is put right".to_owned(),
            "not fixed" => "it is not put right".to_owned(),
            _ => "the blank is lost".to_owned(),
        };
        let offered: Vec<String> = words.iter().map(said).collect();
        let mut page = vec!["What came of it?".to_owned()];
        page.extend(offered.iter().enumerate().map(|(n, say)| format!("{:>3}  {say}", n + 1)));
        self.tell(&page);
        let Some(chosen) = self.choose(&offered, offered.len())? else { return Ok(Said::LaidAside) };
        self.consultation.see(id, &words[chosen]).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        Ok(Said::GoOn)
    }

    /// Returns what stands over every page: what went wrong, and the likeliest causes.
    fn heading(&self, standing: &Standing) -> Vec<String> {
        let table = self.consultation.table();
        let mut causes: Vec<(f64, &str)> = table
            .words
            .causes
            .iter()
            .zip(&standing.chances)
            .map(|(cause, chance)| (*chance, cause.say.value.as_str()))
            .filter(|(chance, _)| *chance > 0.0)
            .collect();
        causes.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut page = vec![format!("{}. Likeliest now, in 100 pens like this:", table.title)];
        page.extend(causes.iter().take(CAUSES_SHOWN).map(|(chance, say)| format!("{:>5}  {say}", in_100(*chance))));
        if causes.len() > CAUSES_SHOWN {
            let rest: f64 = causes[CAUSES_SHOWN..].iter().map(|(chance, _)| chance).sum();
            page.push(format!("{:>5}  {} other causes together", in_100(rest), causes.len() - CAUSES_SHOWN));
        }
        page
    }

    /// Says once when more has gone into it than a new blank costs.
    fn cost_told(&mut self, standing: &Standing) -> Option<String> {
        let spent = self.consultation.spent();
        let over = standing.start_over.filter(|over| spent > *over && !self.told_of_cost)?;
        self.told_of_cost = true;
        Some(format!("{} of work have gone into this: more than a new blank, {}.", minutes(spent), minutes(over)))
    }

    fn offer(&self, action: usize, remedy: &RawRemedy, standing: &Standing) -> Vec<String> {
        let prospect = self.consultation.prospect(action, &standing.chances);
        let say = remedy.say.as_ref().map_or(&remedy.id.value, |say| &say.value);
        let mut page = vec![format!("Best now: {say}.")];
        page.push(format!(
            "Of 100 such tries about {} put it right, {} lose the blank.",
            in_100(prospect.cures),
            in_100(prospect.loses)
        ));
        let wait = if remedy.wait > 0.0 { format!(", and {} of waiting", minutes(remedy.wait)) } else { String::new() };
        page.push(format!("{} of work{wait}.", minutes(remedy.minutes)));
        page.extend(remedy.because.iter().map(|because| because.value.clone()));
        page.extend(remedy.tell.iter().map(|tell| tell.value.clone()));
        page.extend(cautions(&remedy.cautions));
        page.extend(at_hand(remedy.tools.iter().map(|tool| tool.value.as_str())));
        if !remedy.parts.is_empty() {
            let parts: Vec<&str> = remedy.parts.iter().map(|part| part.value.as_str()).collect();
            page.push(format!("Uses up: {}; another kit may lend it, and is owed it then.", parts.join(", ")));
        }
        page
    }

    /// Returns what stands beside every question and remedy.
    fn beside(&self, standing: &Standing) -> String {
        let blank = standing.start_over.map_or(String::new(), |over| format!(" (about {} of work)", minutes(over)));
        format!("Or `{NEW_BLANK}`: begin again{blank}; or `{LAY_ASIDE}`: nothing more today.")
    }

    /// Asks until one of the words is chosen, by the number that the first of them have, words or a unique beginning; none where the input ends.
    fn choose(&mut self, words: &[String], numbered: usize) -> Result<Option<usize>, Failure> {
        loop {
            let line = match self.lines.ask("number or words> ", words.to_vec())? {
                Typed::Line(line) => line,
                Typed::Dropped => continue,
                Typed::End => return Ok(None),
            };
            let typed = fold(&line);
            let exact = words.iter().position(|word| fold(word) == typed);
            let number = typed.parse::<usize>().ok().filter(|n| (1..=numbered).contains(n)).map(|n| n - 1);
            let begins: Vec<usize> = (0..words.len()).filter(|n| fold(&words[*n]).starts_with(&typed)).collect();
            match (exact.or(number), begins.as_slice()) {
                (Some(chosen), _) => return Ok(Some(chosen)),
                (None, [chosen]) if !typed.is_empty() => return Ok(Some(*chosen)),
                _ => self.tell(&[format!("Please type a number, or one of: {}.", words.join(" · "))]),
            }
        }
    }

    fn ended(&mut self, effect: Effect) -> u8 {
        let spent = minutes(self.consultation.spent());
        if effect == Effect::Fixed {
            self.tell(&[format!(
                "It is put right, after {spent} of work. In a job, what was undone by it is done again."
            )]);
            return 0;
        }
        let table = self.consultation.table();
        let mut told = vec![format!("The blank is lost, after {spent} of work. Begin again with a new one.")];
        told.extend(table.words.start_over.iter().filter_map(|over| Some(over.tell.as_ref()?.value.clone())));
        self.tell(&told);
        1
    }

    fn start_over(&mut self, standing: &Standing) -> u8 {
        let table = self.consultation.table();
        let over = table.words.start_over.as_ref();
        let say = over.and_then(|over| over.say.as_ref()).map_or("a new blank", |say| &say.value);
        let cost = standing.start_over.map_or(String::new(), |over| format!(", about {} of work", minutes(over)));
        let mut told = vec![format!("Begin again: {say}{cost}.")];
        told.extend(over.and_then(|over| over.tell.as_ref()).map(|tell| tell.value.clone()));
        let bites: Vec<String> = over.map_or(Vec::new(), |over| {
            let again = over.again.iter().filter(|again| again.number > 0.0);
            again
                .filter_map(|again| table.words.causes.iter().find(|cause| cause.id.value == again.cause.value))
                .map(|cause| cause.say.value.clone())
                .collect()
        });
        if !bites.is_empty() {
            told.push(format!("Look first, or the next blank meets it too: {}.", bites.join("; ")));
        }
        self.tell(&told);
        1
    }

    fn known(&mut self, standing: &Standing) -> u8 {
        let table = self.consultation.table();
        let likeliest = table.words.causes.iter().zip(&standing.chances).max_by(|a, b| a.1.total_cmp(b.1));
        let told = likeliest.map_or(String::new(), |(cause, chance)| {
            format!("Likeliest, {} in 100: {}.", in_100(*chance), cause.say.value)
        });
        self.tell(&[told]);
        0
    }

    /// No cause of the table explains what was seen: a safe stop.
    fn unexplained(&mut self) -> u8 {
        self.tell(&[
            "No cause that is listed explains all that was seen.".to_owned(),
            "Stop here; nothing more is done to the work today. Write down: what was being done, what was seen, in which order, which glue, which bit, how warm. Then ask somebody who has made the kit before.".to_owned(),
        ]);
        1
    }

    fn laid_aside(&mut self) -> u8 {
        let aside = self.consultation.table().words.lay_aside.as_ref().map(|aside| aside.value.clone());
        let mut told = vec!["Laid aside.".to_owned()];
        told.extend(aside);
        self.tell(&told);
        1
    }

    /// Returns how many rows of the screen there are for a page.
    pub(super) fn rows(&self) -> usize {
        if self.lines.is_screen() { settings::height() - 2 } else { usize::MAX }
    }

    fn page(&mut self, lines: &[String]) {
        let lines: Vec<String> = lines.iter().flat_map(|line| wrapped(line)).collect();
        self.draw(&lines);
    }

    /// Puts lines that are laid out already on an empty screen.
    pub(super) fn draw(&mut self, lines: &[String]) {
        if self.lines.is_screen() {
            self.output.text("\u{1b}[2J\u{1b}[H");
        }
        self.output.line(&lines.join("\n"));
    }

    pub(super) fn tell(&mut self, lines: &[String]) {
        lines.iter().flat_map(|line| wrapped(line)).for_each(|line| self.output.line(&line));
    }

    fn lines_of(&self, lines: &[String]) -> usize {
        lines.iter().map(|line| wrapped(line).len()).sum()
    }
}

fn wrapped(line: &str) -> Vec<String> {
    let indent = if line.starts_with(' ') { "       " } else { "    " };
    if line.is_empty() { vec![String::new()] } else { screen::wrapped(line, settings::width(), "", indent) }
}

fn question(check: &RawCheck, standing: &Standing) -> Vec<String> {
    let mut page = vec![check.text.value.clone()];
    page.extend(check.tell.iter().map(|tell| tell.value.clone()));
    page.extend(cautions(&check.cautions));
    page.extend(at_hand(check.parts.iter().map(|part| part.value.as_str())));
    if let Some(saves) = standing.saves.filter(|saves| *saves >= 0.1) {
        page.push(format!(
            "Why this first: {} to look, and it saves about {} on the way to a good pen.",
            minutes(check.minutes),
            minutes(saves)
        ));
    }
    page
}

fn cautions(cautions: &[Caution]) -> impl Iterator<Item = String> {
    let said = |caution: &Caution| {
        let dot = |text: &str| format!("{}.", text.trim_end_matches('.'));
        let (hazard, avoid) = (dot(&caution.hazard.value), dot(&caution.avoid.value));
        format!("! {}: {hazard} {avoid}", caution.level.signal_word())
    };
    cautions.iter().map(said)
}

fn at_hand<'t>(things: impl Iterator<Item = &'t str>) -> Option<String> {
    let things: Vec<&str> = things.collect();
    (!things.is_empty()).then(|| format!("At hand: {}", things.join(", ")))
}

/// Says a chance as a count of 100.
fn in_100(chance: f64) -> String {
    match chance * 100.0 {
        count if count > 0.0 && count < 0.5 => "under 1".to_owned(),
        count => format!("{count:.0}"),
    }
}

/// Says minutes: seconds under one, hours over 90.
fn minutes(minutes: f64) -> String {
    let seconds = if minutes < 1.0 { (minutes * 60.0).round() } else { minutes.round() * 60.0 };
    span_said(jiff::SignedDuration::from_secs(seconds as i64))
}
