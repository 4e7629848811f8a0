//! Walks a fault table with a person, or line by line: one question or remedy at a time.

use jiff::Timestamp;

use super::said::{in_100, minutes, question};
use crate::cli::failure::Failure;
use crate::cli::job_folder::JobFolder;
use crate::cli::output::Output;
use crate::cli::prompt::{Lines, Typed};
use crate::cli::settings::Settings;
use crate::cli::walk::record;
use crate::cli::walk::trouble::Added;
use crate::cli::{screen, settings};
use crate::guide::Library;
use crate::guide::document::{Document, Text};
use crate::guide::fault_table::{RawAction, RawRemedy};
use crate::trouble::belief::Belief;
use crate::trouble::consult::{Consultation, Standing};
use crate::trouble::plan::{Budget, Next};
use crate::trouble::problem::Effect;
use crate::walk::trouble::TroubleEvent;
use crate::walk::{Event, Walk};

/// What can be typed at a question besides its answers.
const CANNOT: &str = "cannot do this here";
pub(super) const NEW_BLANK: &str = "new blank";
pub(super) const LAY_ASIDE: &str = "lay it aside";

/// How a table's sitting ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) enum Over {
    /// The pen is good.
    Fixed,
    /// The cause is known as well as it can be.
    Known,
    /// The blank is lost.
    Lost,
    /// A new blank is begun.
    NewBlank,
    /// It is laid aside.
    LaidAside,
    /// No cause that is listed explains what was seen.
    Unexplained,
    /// Something else went wrong inside a remedy.
    WentWrong,
}

/// What came of one question.
enum Said {
    GoOn,
    Over(Over),
}

/// The job that a table is asked in: what happens is recorded there.
pub(in crate::cli) struct InJob<'a, 'g> {
    pub(in crate::cli) walk: &'a mut Walk<'g>,
    pub(in crate::cli) folder: &'a mut JobFolder,
}

/// One sitting over a table.
pub(in crate::cli) struct Asking<'a, 'g> {
    pub(in crate::cli) consultation: Consultation,
    pub(in crate::cli) library: &'a Library,
    pub(in crate::cli) document: &'a Document,
    pub(in crate::cli) job: Option<InJob<'a, 'g>>,
    pub(in crate::cli) lines: &'a mut Lines,
    pub(in crate::cli) settings: &'a Settings,
    pub(in crate::cli) output: &'a mut Output,
    /// What rejoining after each remedy adds, in a job.
    pub(in crate::cli) after_remedies: Vec<Added>,
    pub(in crate::cli) told_of_cost: bool,
    /// Whether something went wrong inside the remedy that was gone through last.
    pub(in crate::cli) went_wrong_inside: bool,
}

impl Asking<'_, '_> {
    /// Asks until the pen is good, a new blank is begun, or it is laid aside.
    pub(in crate::cli) fn run(&mut self) -> Result<Over, Failure> {
        let under_way = self.job.as_ref().and_then(|job| job.walk.state().trouble.as_ref()?.remedy.clone());
        if let Some((id, events)) = under_way
            && let Some(remedy) = self.consultation.table().words.remedies.iter().find(|remedy| remedy.id.value == id)
        {
            let remedy = remedy.clone();
            match self.go_through(&remedy, events)? {
                Said::GoOn => {}
                Said::Over(Over::LaidAside) => return Ok(self.laid_aside()),
                Said::Over(over) => return Ok(over),
            }
        }
        loop {
            if let Some(effect) = self.consultation.ended() {
                return Ok(self.ended(effect));
            }
            let Ok(standing) = self.consultation.standing(&Budget::default()) else { return Ok(self.unexplained()) };
            let next = match standing.plan.next {
                Next::Do(action) => action,
                // Nothing is begun again unasked: the wood is the person's.
                Next::StartOver => match self.new_blank_or(&standing)? {
                    None => return Ok(self.start_over(&standing)),
                    Some(Said::GoOn) => continue,
                    Some(Said::Over(Over::LaidAside)) => return Ok(self.laid_aside()),
                    Some(Said::Over(over)) => return Ok(over),
                },
                Next::Stop => return Ok(self.known(&standing)),
            };
            if self.settings.no_input {
                let id = self.consultation.table().problem.actions()[next].id();
                return Err(Failure::usage(format!("`{id}` wants an answer")).help(format!("give it as {id}=ANSWER")));
            }
            match self.one(next, &standing)? {
                Said::GoOn => {}
                Said::Over(Over::NewBlank) => return Ok(self.start_over(&standing)),
                Said::Over(Over::LaidAside) => return Ok(self.laid_aside()),
                Said::Over(over) => return Ok(over),
            }
        }
    }

    /// Returns the causes that are possible yet, the likeliest first: each with its words.
    pub(in crate::cli) fn likeliest(&self) -> Vec<(String, String)> {
        let table = self.consultation.table();
        let chances = Belief::after(&table.problem, self.consultation.findings());
        let chances = chances.map_or(Vec::new(), |belief| belief.chances().to_vec());
        let mut causes: Vec<_> = table.words.causes.iter().zip(chances).filter(|(_, chance)| *chance > 0.0).collect();
        causes.sort_by(|a, b| b.1.total_cmp(&a.1));
        causes.into_iter().map(|(cause, _)| (cause.id.value.clone(), cause.say.value.clone())).collect()
    }

    /// Records what has happened, where there is a job.
    pub(super) fn keep(&mut self, what: TroubleEvent) -> Result<(), Failure> {
        match &mut self.job {
            Some(job) => record(job.folder, job.walk, what.at(Timestamp::now())),
            None => Ok(()),
        }
    }

    /// Says what the hands do now, before anything is asked.
    pub(in crate::cli) fn first_words(&mut self) -> Result<(), Failure> {
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
            _ => return Ok(Said::Over(Over::LaidAside)),
        };
        let check = table.check(action).cloned();
        let mut words: Vec<String> = answers;
        let n_numbered = words.len() + 1;
        words.push(CANNOT.to_owned());
        page.push(String::new());
        page.extend(words.iter().enumerate().map(|(n, say)| format!("{:>3}  {say}", n + 1)));
        page.push(self.beside(standing));
        if self.lines_of(&heading) + 1 + self.lines_of(&page) > self.rows() {
            self.page(&heading);
            if let Typed::End = self.lines.ask("Enter for the rest> ", Vec::new())? {
                return Ok(Said::Over(Over::LaidAside));
            }
            self.page(&page);
        } else {
            heading.push(String::new());
            heading.extend(page);
            self.page(&heading);
        }
        words.extend([NEW_BLANK, LAY_ASIDE].map(str::to_owned));
        let Some(chosen) = self.choose_or_read(&words, n_numbered, check.as_ref())? else {
            return Ok(Said::Over(Over::LaidAside));
        };
        match words[chosen].as_str() {
            NEW_BLANK => return Ok(Said::Over(Over::NewBlank)),
            LAY_ASIDE => return Ok(Said::Over(Over::LaidAside)),
            CANNOT => {
                self.keep(TroubleEvent::LeftOut { action: id.clone() })?;
                self.consultation.leave_out(&id).map_err(|wrong| Failure::usage(wrong.to_string()))?;
            }
            _ if is_remedy => return self.done(action, &id),
            answer => {
                let answer = answer.to_owned();
                let found = self.found(action, &id, &answer);
                self.keep(found)?;
                self.consultation.see(&id, &answer).map_err(|wrong| Failure::usage(wrong.to_string()))?;
            }
        }
        Ok(Said::GoOn)
    }

    /// Says that a new blank is best now; none where it is begun, else what came of what was chosen instead.
    fn new_blank_or(&mut self, standing: &Standing) -> Result<Option<Said>, Failure> {
        let problem = &self.consultation.table().problem;
        let left = (0..problem.actions().len()).filter(|action| self.consultation.findings().leaves(*action));
        let remedies: Vec<(usize, String)> = left
            .filter_map(|action| {
                let remedy = self.consultation.table().remedy(action)?;
                let say = remedy.say.as_ref().map_or(&remedy.id.value, |say| &say.value);
                let cures = in_100(self.consultation.prospect(action, &standing.chances).cures);
                Some((action, format!("{say}: {cures} of 100, {} of work", minutes(remedy.minutes))))
            })
            .collect();
        let mut page = self.heading(standing);
        page.extend(self.cost_told(standing));
        page.push(String::new());
        let cost = standing.start_over.map_or(String::new(), |over| format!(", about {} of work", minutes(over)));
        page.push(format!("Best now: begin again with a new blank{cost}. Or, all the same:"));
        let mut words = vec![NEW_BLANK.to_owned(), LAY_ASIDE.to_owned()];
        words.extend(remedies.iter().map(|(_, say)| say.clone()));
        page.extend(words.iter().enumerate().map(|(n, say)| format!("{:>3}  {say}", n + 1)));
        self.page(&page);
        match self.choose(&words, words.len())? {
            Some(0) => Ok(None),
            Some(1) | None => Ok(Some(Said::Over(Over::LaidAside))),
            Some(chosen) => {
                let action = remedies[chosen - 2].0;
                let id = self.consultation.table().problem.actions()[action].id().to_owned();
                self.done(action, &id).map(Some)
            }
        }
    }

    /// Returns what a check's answer does to the work, as an event.
    fn found(&self, action: usize, id: &str, answer: &str) -> TroubleEvent {
        let check = self.consultation.table().check(action);
        let outcome = check.and_then(|check| check.outcomes.iter().find(|outcome| outcome.say.value == answer));
        let names = |texts: Option<&Vec<Text>>| texts.into_iter().flatten().map(|text| text.value.clone()).collect();
        let mut removed: Vec<String> = names(outcome.map(|outcome| &outcome.spoils));
        removed.extend::<Vec<String>>(names(outcome.map(|outcome| &outcome.undoes)));
        TroubleEvent::Found {
            check: id.to_owned(),
            answer: answer.to_owned(),
            removed,
            given: names(outcome.map(|outcome| &outcome.gives)),
            fixed: outcome.is_some_and(|outcome| outcome.fixed),
        }
    }

    /// Does a remedy: steps through its procedure, or asks what came of a single action.
    fn done(&mut self, action: usize, id: &str) -> Result<Said, Failure> {
        let Some(remedy) = self.consultation.table().remedy(action).cloned() else { return Ok(Said::GoOn) };
        let borrowed = self.borrowed(&remedy)?;
        let undone = remedy.undoes.iter().map(|name| name.value.clone()).collect();
        self.keep(TroubleEvent::RemedyBegun { remedy: id.to_owned(), undone, borrowed })?;
        self.go_through(&remedy, Vec::new())
    }

    /// Goes through a remedy that is begun, from what has happened in it already.
    fn go_through(&mut self, remedy: &RawRemedy, events: Vec<Event>) -> Result<Said, Failure> {
        let (removed, outcome) = match &remedy.action {
            RawAction::Run { .. } => match self.through(remedy, events)? {
                Some(through) => through,
                None => return Ok(Said::Over(Over::LaidAside)),
            },
            RawAction::Do(text) => {
                self.tell(std::slice::from_ref(&text.value));
                match self.came_of_it(&remedy.id.value)? {
                    Some(outcome) => (Vec::new(), outcome),
                    None => return Ok(Said::Over(Over::LaidAside)),
                }
            }
        };
        let id = remedy.id.value.clone();
        let problem = &self.consultation.table().problem;
        let can_be = problem.action(&id).and_then(|action| problem.actions()[action].outcome(&outcome)).is_some();
        // Only what the table knows is recorded, so that it can be asked on from the journal.
        let outcome = if can_be { outcome } else { "not fixed".to_owned() };
        let given = remedy.gives.iter().map(|name| name.value.clone()).collect();
        self.keep(TroubleEvent::RemedyEnded { remedy: id.clone(), outcome: outcome.clone(), removed, given })?;
        if self.went_wrong_inside {
            self.tell(&["That is trouble of its own: this table is closed.".to_owned()]);
            return Ok(Said::Over(Over::WentWrong));
        }
        if !can_be {
            // A blank that is lost by a remedy of which the table does not say that it may be.
            return Ok(Said::Over(Over::NewBlank));
        }
        self.consultation.see(&id, &outcome).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        Ok(Said::GoOn)
    }

    /// Asks where the parts come from that a remedy uses up, where that is to be kept.
    fn borrowed(&mut self, remedy: &RawRemedy) -> Result<Vec<(String, String)>, Failure> {
        let mut borrowed = Vec::new();
        if self.job.is_none() || !self.lines.is_person() {
            return Ok(borrowed);
        }
        for part in &remedy.parts {
            self.tell(&[format!(
                "It uses up: {}. Out of another kit? Type which; Enter for a spare of your own.",
                part.value
            )]);
            match self.lines.ask("kit> ", Vec::new())? {
                Typed::Line(line) if !line.trim().is_empty() => {
                    borrowed.push((part.value.clone(), line.trim().to_owned()));
                }
                _ => {}
            }
        }
        Ok(borrowed)
    }

    /// Asks what came of a single action.
    fn came_of_it(&mut self, id: &str) -> Result<Option<String>, Failure> {
        let problem = &self.consultation.table().problem;
        let Some(action) = problem.action(id) else { return Ok(None) };
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
        Ok(self.choose(&offered, offered.len())?.map(|chosen| words[chosen].clone()))
    }

    /// Says once when more has gone into it than a new blank costs.
    fn cost_told(&mut self, standing: &Standing) -> Option<String> {
        let spent = self.consultation.spent();
        let over = standing.start_over.filter(|over| spent > *over && !self.told_of_cost)?;
        self.told_of_cost = true;
        Some(format!("{} of work have gone into this: more than a new blank, {}.", minutes(spent), minutes(over)))
    }

    fn ended(&mut self, effect: Effect) -> Over {
        let spent = minutes(self.consultation.spent());
        if effect == Effect::Fixed {
            self.tell(&[format!("It is put right, after {spent} of work.")]);
            return Over::Fixed;
        }
        let table = self.consultation.table();
        let mut told = vec![format!("The blank is lost, after {spent} of work. Begin again with a new one.")];
        told.extend(table.words.start_over.iter().filter_map(|over| Some(over.tell.as_ref()?.value.clone())));
        self.tell(&told);
        Over::Lost
    }

    fn start_over(&mut self, standing: &Standing) -> Over {
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
        Over::NewBlank
    }

    fn known(&mut self, standing: &Standing) -> Over {
        let table = self.consultation.table();
        let likeliest = table.words.causes.iter().zip(&standing.chances).max_by(|a, b| a.1.total_cmp(b.1));
        let told = likeliest.map_or(String::new(), |(cause, chance)| {
            format!("Likeliest, {} in 100: {}.", in_100(*chance), cause.say.value)
        });
        self.tell(&[told]);
        Over::Known
    }

    /// No cause of the table explains what was seen: a safe stop.
    fn unexplained(&mut self) -> Over {
        self.tell(&[
            "No cause that is listed explains all that was seen.".to_owned(),
            "Stop here; nothing more is done to the work today. Write down: what was being done, what was seen, in which order, which glue, which bit, how warm. Then ask somebody who has made the kit before.".to_owned(),
        ]);
        Over::Unexplained
    }

    fn laid_aside(&mut self) -> Over {
        let aside = self.consultation.table().words.lay_aside.as_ref().map(|aside| aside.value.clone());
        // A job says itself that it is laid aside.
        let mut told: Vec<String> = self.job.is_none().then(|| "Laid aside.".to_owned()).into_iter().collect();
        told.extend(aside);
        self.tell(&told);
        Over::LaidAside
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
