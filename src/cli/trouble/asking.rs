//! Walks a fault table with a person, or line by line: one question or remedy at a time.

use jiff::Timestamp;

use super::choose::Reply;
use super::endings::Over;
use crate::cli::failure::Failure;
use crate::cli::job_folder::JobFolder;
use crate::cli::output::Output;
use crate::cli::page::Page;
use crate::cli::prompt::Lines;
use crate::cli::settings::Settings;
use crate::cli::walk::record;
use crate::cli::walk::trouble::Added;
use crate::cli::{screen, settings};
use crate::guide::Library;
use crate::guide::document::{Document, Text};
use crate::trouble::belief::Belief;
use crate::trouble::consult::{Consultation, Standing};
use crate::trouble::plan::{Budget, Next};
use crate::walk::trouble::TroubleEvent;
use crate::walk::{Answer, Walk};

/// What can be typed at a question besides its answers.
const CANNOT: &str = "cannot do this here";
pub(super) const NEW_BLANK: &str = "new blank";
pub(super) const LAY_ASIDE: &str = "lay it aside";

/// What came of one question.
pub(super) enum Said {
    GoOn,
    Over(Over),
}

/// The job that a table is asked in: what happens is recorded there.
pub(in crate::cli) struct InJob<'a, 'g> {
    pub(in crate::cli) walk: &'a mut Walk<'g>,
    pub(in crate::cli) folder: &'a mut JobFolder,
    /// What rejoining after each remedy adds.
    pub(in crate::cli) after_remedies: Vec<Added>,
    /// What rejoining with a new blank adds.
    pub(in crate::cli) after_new_blank: Added,
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
    /// Whether it was said that more has gone into it than a new blank costs.
    told_of_cost: bool,
    /// Where it stood before each thing that was said, where there is no job to take it back from.
    before: Vec<Consultation>,
    /// What came of the remedy that was done last, to stand over the next page.
    pub(super) news: Option<String>,
    /// What the page had no room for.
    pub(super) untold: Vec<String>,
}

impl<'a, 'g> Asking<'a, 'g> {
    pub(in crate::cli) fn new(
        consultation: Consultation,
        (library, document): (&'a Library, &'a Document),
        job: Option<InJob<'a, 'g>>,
        lines: &'a mut Lines,
        settings: &'a Settings,
        output: &'a mut Output,
    ) -> Asking<'a, 'g> {
        Asking {
            consultation,
            library,
            document,
            job,
            lines,
            settings,
            output,
            told_of_cost: false,
            before: Vec::new(),
            news: None,
            untold: Vec::new(),
        }
    }

    /// Asks until the pen is good, a new blank is begun, or it is laid aside.
    pub(in crate::cli) fn run(&mut self) -> Result<Over, Failure> {
        let under_way = self.job.as_ref().and_then(|job| job.walk.state().trouble.as_ref()?.remedy.clone());
        if let Some((id, events)) = under_way
            && let Some(remedy) = self.consultation.table().words.remedies.iter().find(|remedy| remedy.id.value == id)
        {
            let remedy = remedy.clone();
            if let Said::Over(over) = self.go_through(&remedy, events)? {
                return Ok(self.parting(over));
            }
        }
        loop {
            if let Some(effect) = self.consultation.ended() {
                return Ok(self.ended(effect));
            }
            let Ok(standing) = self.consultation.standing(&Budget::default()) else { return Ok(self.unexplained()) };
            let said = match standing.plan.next {
                Next::Do(action) if self.settings.no_input => {
                    let id = self.consultation.table().problem.actions()[action].id();
                    let failure = Failure::usage(format!("`{id}` wants an answer"));
                    return Err(failure.help(format!("give it as {id}=ANSWER")));
                }
                Next::Do(action) => self.one(action, &standing)?,
                // Nothing is begun again unasked: the wood is the person's.
                Next::StartOver => self.new_blank_or(&standing)?,
                Next::Stop => return Ok(self.known(&standing)),
            };
            match said {
                Said::GoOn => {}
                Said::Over(Over::NewBlank) => return Ok(self.start_over(&standing)),
                Said::Over(over) => return Ok(self.parting(over)),
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

    /// Records what has happened, where there is a job; else remembers how it stood before, to be taken back.
    pub(super) fn keep(&mut self, what: TroubleEvent) -> Result<(), Failure> {
        match &mut self.job {
            Some(job) => return record(job.folder, job.walk, what.at(Timestamp::now())),
            None if matches!(what, TroubleEvent::RemedyEnded { .. }) => self.before.clear(),
            None if matches!(what, TroubleEvent::InRemedy(_)) => {}
            None => self.before.push(self.consultation.clone()),
        }
        Ok(())
    }

    /// Takes back what was said last.
    pub(super) fn take_back(&mut self) -> Result<Said, Failure> {
        let Some(job) = &mut self.job else {
            match self.before.pop() {
                Some(before) => self.consultation = before,
                None => self.news = Some("There is nothing here to take back.".to_owned()),
            }
            return Ok(Said::GoOn);
        };
        match job.walk.read(":back", Timestamp::now()) {
            Ok(Answer::Event(event)) => {
                record(job.folder, job.walk, event)?;
                return Ok(Said::Over(Over::TakenBack));
            }
            Ok(_) => {}
            Err(refusal) => self.news = Some(format!("{}.", refusal.to_string().trim_end_matches('.'))),
        }
        Ok(Said::GoOn)
    }

    /// Says what the hands do now, before anything is asked.
    pub(in crate::cli) fn first_words(&mut self) -> Result<(), Failure> {
        let table = self.consultation.table();
        let mut page = Page::default();
        page.about(&format!("{}.", table.title));
        page.say_all(table.words.first.iter().map(|line| line.value.clone()));
        self.show(&page)?;
        if self.lines.is_person() {
            self.lines.ask("Enter when the hands are free> ", Vec::new())?;
        }
        Ok(())
    }

    /// Asks one check, or offers one remedy.
    fn one(&mut self, action: usize, standing: &Standing) -> Result<Said, Failure> {
        let mut page = self.heading(standing);
        page.say_all(self.cost_told(standing));
        page.space();
        let table = self.consultation.table();
        let id = table.problem.actions()[action].id().to_owned();
        let check = table.check(action).cloned();
        let mut words: Vec<String> = match (&check, table.remedy(action)) {
            (Some(check), _) => {
                self.question(&mut page, check, standing);
                table.problem.actions()[action].outcomes().iter().map(|o| o.label().to_owned()).collect()
            }
            (_, Some(remedy)) => {
                self.offer(&mut page, action, remedy, standing);
                vec!["do it".to_owned()]
            }
            _ => return Ok(Said::Over(Over::LaidAside)),
        };
        words.push(CANNOT.to_owned());
        let n_numbered = words.len();
        page.space();
        page.numbered(&words);
        page.say_all(self.beside(standing));
        if !self.show(&page)? {
            return Ok(Said::Over(Over::Left));
        }
        words.extend([NEW_BLANK, LAY_ASIDE].map(str::to_owned));
        let chosen = match self.choose_or_read(&words, n_numbered, check.as_ref())? {
            Reply::One(chosen) => chosen,
            Reply::Back => return self.take_back(),
            Reply::Left => return Ok(Said::Over(Over::Left)),
        };
        match words[chosen].as_str() {
            NEW_BLANK => return Ok(Said::Over(Over::NewBlank)),
            LAY_ASIDE => return Ok(Said::Over(Over::LaidAside)),
            CANNOT => {
                self.keep(TroubleEvent::LeftOut { action: id.clone() })?;
                self.consultation.leave_out(&id).map_err(|wrong| Failure::usage(wrong.to_string()))?;
            }
            _ if check.is_none() => return self.done(action, &id),
            answer => {
                let found = self.found(action, &id, answer);
                self.keep(found)?;
                self.consultation.see(&id, answer).map_err(|wrong| Failure::usage(wrong.to_string()))?;
            }
        }
        Ok(Said::GoOn)
    }

    /// Says that a new blank is best now, and what could be done all the same.
    fn new_blank_or(&mut self, standing: &Standing) -> Result<Said, Failure> {
        let mut page = self.heading(standing);
        page.say_all(self.cost_told(standing));
        page.space();
        let table = self.consultation.table();
        let left = (0..table.problem.actions().len()).filter(|action| self.consultation.findings().leaves(*action));
        let remedies: Vec<usize> = left.filter(|action| table.remedy(*action).is_some()).collect();
        page.about(&format!("Best now: begin again with a new blank{}. Or, all the same:", self.new_blank(standing)));
        let mut words = vec![NEW_BLANK.to_owned(), LAY_ASIDE.to_owned()];
        words.extend(remedies.iter().map(|action| self.in_a_line(*action, standing)));
        page.numbered(&words);
        if !self.show(&page)? {
            return Ok(Said::Over(Over::Left));
        }
        match self.choose(&words, words.len())? {
            Reply::One(0) => Ok(Said::Over(Over::NewBlank)),
            Reply::One(1) => Ok(Said::Over(Over::LaidAside)),
            Reply::One(chosen) => self.one(remedies[chosen - 2], standing),
            Reply::Back => self.take_back(),
            Reply::Left => Ok(Said::Over(Over::Left)),
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

    /// Says once when more has gone into it than a new blank costs.
    fn cost_told(&mut self, standing: &Standing) -> Option<String> {
        let spent = self.consultation.spent();
        let over = standing.start_over.filter(|over| spent > *over && !self.told_of_cost)?;
        self.told_of_cost = true;
        let (spent, over) = (crate::walk::minutes_said(spent), crate::walk::minutes_said(over));
        Some(format!("About {spent} of work have gone into this: more than a new blank, {over}."))
    }

    /// Returns how many rows of the screen there are for a page.
    pub(super) fn rows(&self) -> usize {
        if self.lines.is_screen() { settings::height() - 2 } else { usize::MAX }
    }

    /// Puts lines that are laid out already on an empty screen.
    pub(super) fn draw(&mut self, lines: &[String]) {
        if self.lines.is_screen() {
            self.output.text("\u{1b}[2J\u{1b}[H");
        }
        self.output.line(&lines.join("\n"));
    }

    /// Says something under what stands on the screen.
    pub(super) fn tell<T: AsRef<str>>(&mut self, texts: &[T]) {
        for text in texts {
            let lines = screen::wrapped(text.as_ref(), settings::width(), "", "    ");
            lines.iter().for_each(|line| self.output.line(line));
        }
    }
}
