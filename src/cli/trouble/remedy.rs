//! Steps a person through one remedy: where its parts come from, its steps, and what came of it.

use std::sync::Arc;

use jiff::Timestamp;

use super::asking::{Asking, Said};
use super::choose::Reply;
use super::endings::Over;
use crate::cli::failure::Failure;
use crate::cli::job_folder::write_whole;
use crate::cli::page::Page;
use crate::cli::prompt::{Typed, is_yes};
use crate::cli::walk::{Read, doubted, still_so, still_so_told};
use crate::cli::{screen, settings, shelf};
use crate::finding::Source;
use crate::guide::document::{KitValue, Text};
use crate::guide::fault_table::{RawAction, RawRemedy};
use crate::guide::{AS_IT_STANDS, EndKind, Guide, Kind, Library, Limits, Step, fold, write};
use crate::reckon::Data;
use crate::walk::trouble::TroubleEvent;
use crate::walk::{Answer, Event, Phase, Walk};

/// What came of stepping through a remedy.
enum Through {
    /// It is over: what is no longer true, and its outcome.
    Over(Vec<String>, String),
    /// Something else went wrong on the way: what is no longer true.
    WentWrong(Vec<String>),
    /// It is left for now.
    Left,
    /// It was not begun after all.
    NotBegun,
}

impl Asking<'_, '_> {
    /// Does a remedy: steps through its procedure, or asks what came of a single action.
    pub(super) fn done(&mut self, action: usize, id: &str) -> Result<Said, Failure> {
        let Some(remedy) = self.consultation.table().remedy(action).cloned() else { return Ok(Said::GoOn) };
        let borrowed = self.borrowed(&remedy.parts)?;
        let undone = remedy.undoes.iter().map(|name| name.value.clone()).collect();
        self.keep(TroubleEvent::RemedyBegun { remedy: id.to_owned(), undone, borrowed })?;
        self.go_through(&remedy, Vec::new())
    }

    /// Goes through a remedy that is begun, from what has happened in it already.
    pub(super) fn go_through(&mut self, remedy: &RawRemedy, events: Vec<Event>) -> Result<Said, Failure> {
        let through = match &remedy.action {
            RawAction::Run { .. } => self.through(remedy, events)?,
            RawAction::Do(text) => self.single(&text.value, &remedy.id.value)?,
        };
        let (removed, outcome, is_something_else) = match through {
            Through::Over(removed, outcome) => (removed, outcome, false),
            Through::WentWrong(removed) => (removed, "not fixed".to_owned(), true),
            Through::Left => return Ok(Said::Over(Over::Left)),
            Through::NotBegun => return self.take_back(),
        };
        let id = remedy.id.value.clone();
        let problem = &self.consultation.table().problem;
        let can_be = problem.action(&id).and_then(|action| problem.actions()[action].outcome(&outcome)).is_some();
        // Only what the table knows is recorded, so that it can be asked on from the journal.
        let outcome = if can_be { outcome } else { "not fixed".to_owned() };
        let given = remedy.gives.iter().map(|name| name.value.clone()).collect();
        self.keep(TroubleEvent::RemedyEnded { remedy: id.clone(), outcome: outcome.clone(), removed, given })?;
        if !is_something_else && !can_be {
            // A blank that is lost by a remedy of which the table does not say that it may be.
            return Ok(Said::Over(Over::NewBlank));
        }
        if is_something_else || (outcome == "not fixed" && !self.rests_on_what_holds()) {
            return Ok(Said::Over(Over::WentWrong));
        }
        if outcome == "not fixed" {
            self.news =
                Some(format!("That did not put it right: {}. It tells something all the same.", remedy.called()));
        }
        self.consultation.see(&id, &outcome).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        Ok(Said::GoOn)
    }

    /// Tells whether all that the table is proved from still holds in the job.
    fn rests_on_what_holds(&self) -> bool {
        let Some(job) = &self.job else { return true };
        let (guide, table) = (job.walk.guide(), self.consultation.table());
        let lasting = job.walk.state().lasting(guide);
        let undone: Vec<&str> =
            table.words.remedies.iter().flat_map(|remedy| &remedy.undoes).map(|name| name.value.as_str()).collect();
        let mut needs = table.words.needs.iter().filter(|need| !undone.contains(&need.value.as_str()));
        needs.all(|need| guide.condition(&need.value).is_none_or(|condition| lasting.contains(condition)))
    }

    /// Asks where parts come from that are used up, where that is to be kept.
    pub(in crate::cli) fn borrowed(&mut self, parts: &[Text]) -> Result<Vec<(String, String)>, Failure> {
        let mut borrowed = Vec::new();
        if self.job.is_none() || !self.lines.is_person() {
            return Ok(borrowed);
        }
        for part in parts {
            let part = part.value.clone();
            self.tell(&[format!("It uses up: {part}. Out of another kit? Type which kit, in a word or two; Enter for a spare of your own.")]);
            while let Typed::Line(line) = self.lines.ask("kit> ", Vec::new())? {
                let kit = line.trim();
                if kit.is_empty() {
                    break;
                }
                if !is_a_kit(kit) {
                    self.tell(&[format!("`{kit}` names no kit. Say it as it is called on the shelf, such as `walnut ballpoint`; Enter for a spare of your own.")]);
                    continue;
                }
                self.tell(&[format!(
                    "Then that kit is owed one: {part}, to {kit}. Enter keeps that, `no` asks again."
                )]);
                match self.lines.ask("Enter, or no> ", vec!["no".to_owned()])? {
                    Typed::Line(answer) if fold(&answer).is_empty() || fold(&answer) == "yes" => {
                        borrowed.push((part.clone(), kit.to_owned()));
                        break;
                    }
                    Typed::End => break,
                    _ => self.tell(&["Which kit, then?"]),
                }
            }
        }
        Ok(borrowed)
    }

    /// Says a single action and asks what came of it.
    fn single(&mut self, action: &str, id: &str) -> Result<Through, Failure> {
        let problem = &self.consultation.table().problem;
        let Some(place) = problem.action(id) else { return Ok(Through::Left) };
        let outcomes: Vec<String> = problem.actions()[place].outcomes().iter().map(|o| o.label().to_owned()).collect();
        let said = |label: &String| match label.as_str() {
            "fixed" => "it is put right".to_owned(),
            "not fixed" => "it is not put right".to_owned(),
            _ => "the blank is lost".to_owned(),
        };
        let offered: Vec<String> = outcomes.iter().map(said).collect();
        let mut page = Page::default();
        page.about(action);
        page.say("What came of it?");
        page.numbered(&offered);
        self.show(&page)?;
        Ok(match self.choose(&offered, offered.len())? {
            Reply::One(chosen) => Through::Over(Vec::new(), outcomes[chosen].clone()),
            Reply::Back => Through::NotBegun,
            Reply::Left => Through::Left,
        })
    }

    /// Walks a remedy's steps, from what has happened in it already.
    fn through(&mut self, remedy: &RawRemedy, events: Vec<Event>) -> Result<Through, Failure> {
        let guide = self.steps_of(remedy, !events.is_empty())?;
        let mut walk = match events.is_empty() {
            true => self.begun(&guide)?,
            false => Walk::from_events(&guide, &events),
        };
        if !events.is_empty() {
            self.keep_in(&mut walk, Event::Resumed { at: Timestamp::now() })?;
        }
        walk = walk.with_data(self.data()?);
        let at_first = first_held(&guide);
        let mut shown = None;
        while walk.state().phase != Phase::Ended {
            let scene = walk.scene(Timestamp::now());
            if shown.as_ref() != Some(&scene) {
                let pages = screen::pages(&scene, settings::width(), self.rows(), self.settings.ascii);
                if !self.turn(&pages)? {
                    return Ok(Through::Left);
                }
                shown = Some(scene.clone());
            }
            let typed = match self.lines.ask(&screen::asking(&scene), walk.can_type())? {
                Typed::Line(line) => line,
                Typed::Dropped => continue,
                Typed::End => return Ok(Through::Left),
            };
            if fold(&typed) == "back" && nothing_done(&walk) {
                return Ok(Through::NotBegun);
            }
            let read = self.read_in(&walk, &typed)?;
            let read = match read {
                Ok(Answer::Ask { told, command }) if command != "trouble" => {
                    self.tell(&told);
                    match self.lines.ask(&format!("{command}> "), Vec::new())? {
                        Typed::Line(line) if !line.trim().is_empty() => {
                            self.read_in(&walk, &format!(":{command} {line}"))?
                        }
                        _ => continue,
                    }
                }
                read => read,
            };
            match read {
                Ok(Answer::Event(Event::Parked { .. })) => return Ok(Through::Left),
                Ok(Answer::Event(back @ Event::Back { .. })) => {
                    let back = self.back_in(&walk, back)?;
                    self.keep_in(&mut walk, back)?;
                }
                Ok(Answer::Ask { command: "trouble", .. }) => match self.what_went_wrong()? {
                    Reply::One(0) => return Ok(Through::Over(lost(&walk, &at_first), "not fixed".to_owned())),
                    Reply::One(_) => return Ok(Through::WentWrong(lost(&walk, &at_first))),
                    Reply::Back => shown = None,
                    Reply::Left => return Ok(Through::Left),
                },
                Ok(Answer::Event(event)) => self.keep_in(&mut walk, event)?,
                Ok(Answer::Tell(told) | Answer::Ask { told, .. }) => self.tell(&told),
                Ok(Answer::Reckon(name)) => self.tell(&walk.reckon(&name).map_or(Vec::new(), |called| called.told)),
                Err(refusal) => self.tell(&[refusal.to_string()]),
            }
        }
        let end = walk.scene(Timestamp::now());
        self.tell(&end.tell.into_iter().collect::<Vec<_>>());
        let outcome = match guide.step(walk.state().here).kind {
            Kind::End(EndKind::Finished) => "fixed",
            Kind::End(EndKind::NotFixed) => "not fixed",
            _ => "lost",
        };
        Ok(Through::Over(lost(&walk, &at_first), outcome.to_owned()))
    }

    /// Reads a line at a remedy's step; what is doubtful is asked back once.
    fn read_in(&mut self, walk: &Walk<'_>, typed: &str) -> Result<Read, Failure> {
        let read = walk.read(typed, Timestamp::now());
        if !self.lines.is_person() {
            return Ok(read);
        }
        match doubted(walk, read) {
            Ok(read) => Ok(read),
            Err(doubt) => {
                let yes = self.says_yes(&doubt.question)?;
                Ok(doubt.settled(walk, yes))
            }
        }
    }

    /// Asks a person who goes back in a remedy whether what comes and goes has stayed.
    fn back_in(&mut self, walk: &Walk<'_>, back: Event) -> Result<Event, Failure> {
        let told = still_so_told(walk, &back);
        if told.is_empty() || !self.lines.is_person() {
            return Ok(back);
        }
        self.tell(&told);
        Ok(if self.says_yes("yes or no> ")? { still_so(walk, back) } else { back })
    }

    fn says_yes(&mut self, question: &str) -> Result<bool, Failure> {
        let typed = self.lines.ask(question, vec!["yes".to_owned(), "no".to_owned()])?;
        Ok(matches!(&typed, Typed::Line(line) if is_yes(line)))
    }

    /// Asks what `trouble` inside a remedy means.
    fn what_went_wrong(&mut self) -> Result<Reply, Failure> {
        let words = [
            "it is not put right by this: on with what else can be done",
            "something else has gone wrong: ask about that instead",
        ];
        let words = words.map(str::to_owned);
        let mut page = Page::default();
        page.about("Trouble inside the remedy: what is it?");
        page.numbered(&words);
        page.say("`back` goes on with the step.");
        self.show(&page)?;
        self.choose(&words, words.len())
    }

    /// Begins a remedy's walk after the step that says what holds, which nobody has to do.
    fn begun<'g>(&mut self, guide: &'g Guide) -> Result<Walk<'g>, Failure> {
        let at = Timestamp::now();
        let mut walk = Walk::begin(guide, at);
        self.keep(TroubleEvent::InRemedy(Box::new(Event::Begun { at, held: Vec::new() })))?;
        // What holds is nobody's to do, and the run was just offered with its cautions.
        while is_offered(guide.step(walk.state().here))
            && let Ok(Answer::Event(event)) = walk.read("done", at)
        {
            self.keep_in(&mut walk, event)?;
        }
        Ok(walk)
    }

    /// Returns the figures that reckonings use: the job's, else those of the shop.
    fn data(&self) -> Result<Arc<Data>, Failure> {
        match &self.job {
            Some(job) => Ok(job.walk.data().clone()),
            None => shelf::data(self.settings).map(Arc::new),
        }
    }

    fn keep_in(&mut self, walk: &mut Walk<'_>, event: Event) -> Result<(), Failure> {
        self.keep(TroubleEvent::InRemedy(Box::new(event.clone())))?;
        walk.take(&event);
        Ok(())
    }

    /// Returns a remedy's steps as a guide. In a job it is kept there first; one that is under way is the one kept.
    fn steps_of(&self, remedy: &RawRemedy, is_under_way: bool) -> Result<Guide, Failure> {
        let words = &self.consultation.table().words;
        let not_linked = || Failure::usage(format!("the steps of `{}` cannot be linked", remedy.id.value));
        let undone = |name: &String| remedy.undoes.iter().any(|undone| undone.value == *name);
        let holds = |name: &String| match &self.job {
            Some(job) => {
                let condition = job.walk.guide().condition(name);
                condition.is_some_and(|condition| job.walk.state().lasting(job.walk.guide()).contains(condition))
            }
            None => true,
        };
        let needs = words.needs.iter().map(|need| need.value.clone());
        let held: Vec<String> = needs.filter(|name| !undone(name) && holds(name)).collect();
        let Some(job) = &self.job else {
            return self.library.link_remedy(self.document, words, remedy, &held, None).guide.ok_or_else(not_linked);
        };
        let of = job.walk.state().trouble.as_ref().map_or(String::new(), |trouble| {
            trouble.with.iter().map(|(_, value)| format!("-{}", value.replace(['.', '/'], "_"))).collect()
        });
        let id = &self.consultation.table().id;
        let path = job.folder.path().join(format!("remedy-{id}{of}-{}.toml", remedy.id.value));
        if is_under_way && let Ok(text) = std::fs::read_to_string(&path) {
            let kept = Library::empty().with_limits(Limits::kept()).link(&Source::new("remedy.toml", text)).guide;
            return kept.ok_or_else(not_linked);
        }
        let kit = job.walk.guide().kit();
        let number = |path: &String| {
            let written = job.walk.state().numbers.get(path).cloned();
            written.map_or_else(|| kit.get(path).cloned(), |written| Some(KitValue::Text(written)))
        };
        let kit: Vec<(String, KitValue)> = kit.keys().filter_map(|path| Some((path.clone(), number(path)?))).collect();
        let linked = self.library.link_remedy(self.document, words, remedy, &held, Some(&kit));
        let guide = linked.guide.ok_or_else(not_linked)?;
        write_whole(&path, write::linked(&guide).as_bytes()).map_err(|wrong| Failure::usage(wrong.to_string()))?;
        Ok(guide)
    }
}

/// Returns what held when a remedy was begun, by name.
fn first_held(guide: &Guide) -> Vec<String> {
    let first = guide.step_of_id(AS_IT_STANDS).map(|idx| guide.step(idx));
    let given = first.into_iter().flat_map(|step| &step.gives);
    given.map(|mention| guide.name(mention.condition).to_owned()).collect()
}

/// Returns what held at first and does not any more.
fn lost(walk: &Walk<'_>, at_first: &[String]) -> Vec<String> {
    let holds = |name: &&String| {
        let condition = walk.guide().condition(name);
        condition.is_some_and(|condition| walk.state().held.contains(condition))
    };
    at_first.iter().filter(|name| !holds(name)).cloned().collect()
}

/// Tells whether nothing was done yet in a remedy's steps.
fn nothing_done(walk: &Walk<'_>) -> bool {
    let visits = &walk.state().visits;
    visits.iter().all(|visit| is_offered(walk.guide().step(visit.step)))
}

/// Tells whether a remedy's step was seen to when the remedy was offered: what holds before it, and its run.
fn is_offered(step: &Step) -> bool {
    &*step.id == AS_IT_STANDS || (step.kind == Kind::Run && !step.id.contains('/'))
}

/// Tells whether words can be a kit's name: not a number alone, and no command that was meant for the walk.
fn is_a_kit(words: &str) -> bool {
    const COMMANDS: [&str; 14] = [
        "again", "ahead", "back", "done", "help", "no", "none", "park", "skip", "trouble", "undo", "where", "why",
        "yes",
    ];
    words.chars().filter(|c| c.is_alphabetic()).count() >= 2 && !COMMANDS.contains(&fold(words).as_str())
}
