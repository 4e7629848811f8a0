//! Steps a person through one remedy of a table that is asked without a job: nothing is recorded.

use jiff::Timestamp;

use super::asking::Asking;
use crate::cli::failure::Failure;
use crate::cli::prompt::Typed;
use crate::cli::{screen, settings};
use crate::guide::fault_table::RawRemedy;
use crate::guide::{AS_IT_STANDS, EndKind, Guide, Kind};
use crate::walk::{Answer, Phase, Walk};

impl Asking<'_> {
    /// Walks a remedy's steps; returns the words of its outcome, none where it is broken off.
    pub(super) fn through(&mut self, guide: &Guide) -> Result<Option<&'static str>, Failure> {
        let mut walk = Walk::begin(guide, Timestamp::now());
        if &*guide.step(walk.state().here).id == AS_IT_STANDS {
            // What holds is what the table was opened with; nobody has to do it.
            let _ = walk.answer("done", Timestamp::now());
        }
        let mut shown = None;
        while walk.state().phase != Phase::Ended {
            let scene = walk.scene(Timestamp::now());
            let is_new = shown.as_ref() != Some(&scene);
            if is_new {
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
                Ok(Answer::Event(crate::walk::Event::Parked { .. })) => return Ok(None),
                Ok(Answer::Event(event)) => walk.take(&event),
                Ok(Answer::Tell(told) | Answer::Ask { told, .. }) => self.tell(&told),
                Err(refusal) => self.tell(&[refusal.to_string()]),
            }
        }
        let end = walk.scene(Timestamp::now());
        self.tell(&end.tell.into_iter().collect::<Vec<_>>());
        Ok(Some(match guide.step(walk.state().here).kind {
            Kind::End(EndKind::Finished) => "fixed",
            Kind::End(EndKind::NotFixed) => "not fixed",
            _ => "lost",
        }))
    }

    /// Returns a remedy's steps as a guide, where it runs a procedure.
    pub(super) fn steps_of(&self, remedy: &RawRemedy) -> Option<Guide> {
        let words = &self.consultation.table().words;
        let undone = |name: &&String| remedy.undoes.iter().any(|undone| undone.value == **name);
        let needs: Vec<&String> = words.needs.iter().map(|need| &need.value).collect();
        let held: Vec<String> = needs.into_iter().filter(|name| !undone(name)).cloned().collect();
        self.library.link_remedy(self.document, words, remedy, &held, None).guide
    }
}
