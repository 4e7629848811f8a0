//! Steps a person through one remedy's procedure.

use jiff::Timestamp;

use super::asking::Asking;
use crate::cli::failure::Failure;
use crate::cli::job_folder::write_whole;
use crate::cli::prompt::Typed;
use crate::cli::{screen, settings};
use crate::finding::Source;
use crate::guide::document::KitValue;
use crate::guide::fault_table::RawRemedy;
use crate::guide::{AS_IT_STANDS, EndKind, Guide, Kind, Library, Limits, write};
use crate::walk::trouble::TroubleEvent;
use crate::walk::{Answer, Event, Phase, Walk};

impl Asking<'_, '_> {
    /// Walks a remedy's steps, from what has happened in it already; returns what is no longer true and the words of
    /// its outcome, or none where it is laid aside.
    pub(super) fn through(
        &mut self,
        remedy: &RawRemedy,
        events: Vec<Event>,
    ) -> Result<Option<(Vec<String>, String)>, Failure> {
        let guide = self.steps_of(remedy, !events.is_empty())?;
        let mut walk = match events.is_empty() {
            true => self.begun(&guide)?,
            false => Walk::from_events(&guide, &events),
        };
        if !events.is_empty() {
            self.keep_in(&mut walk, Event::Resumed { at: Timestamp::now() })?;
        }
        let at_first = first_held(&guide);
        let mut shown = None;
        while walk.state().phase != Phase::Ended {
            let scene = walk.scene(Timestamp::now());
            if shown.as_ref() != Some(&scene) {
                let pages = screen::pages(&scene, settings::width(), self.rows(), self.settings.ascii);
                for (n, page) in pages.iter().enumerate() {
                    if n > 0 && matches!(self.lines.ask("Enter for the rest> ", Vec::new())?, Typed::End) {
                        return Ok(None);
                    }
                    self.draw(page);
                }
                shown = Some(scene.clone());
            }
            let typed = match self.lines.ask(&screen::asking(&scene), walk.can_type())? {
                Typed::Line(line) => line,
                Typed::Dropped => continue,
                Typed::End => return Ok(None),
            };
            match walk.read(&typed, Timestamp::now()) {
                Ok(Answer::Event(Event::Parked { .. })) => return Ok(None),
                Ok(Answer::Ask { command: "trouble", .. }) => {
                    // Trouble inside a remedy: it is not put right, and the table is closed.
                    self.went_wrong_inside = true;
                    return Ok(Some((lost(&walk, &at_first), "not fixed".to_owned())));
                }
                Ok(Answer::Event(event)) => self.keep_in(&mut walk, event)?,
                Ok(Answer::Tell(told) | Answer::Ask { told, .. }) => self.tell(&told),
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
        Ok(Some((lost(&walk, &at_first), outcome.to_owned())))
    }

    /// Begins a remedy's walk after the step that says what holds, which nobody has to do.
    fn begun<'g>(&mut self, guide: &'g Guide) -> Result<Walk<'g>, Failure> {
        let at = Timestamp::now();
        let mut walk = Walk::begin(guide, at);
        self.keep(TroubleEvent::InRemedy(Box::new(Event::Begun { at, held: Vec::new() })))?;
        if &*guide.step(walk.state().here).id == AS_IT_STANDS
            && let Ok(Answer::Event(event)) = walk.read("done", at)
        {
            self.keep_in(&mut walk, event)?;
        }
        Ok(walk)
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
