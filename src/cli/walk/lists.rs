//! Lists that are shown under a step, and what is said to them.

use super::session::{Next, Session, wrapped};
use crate::cli::failure::Failure;
use crate::cli::prompt::{Typed, is_yes};
use crate::walk::{Event, Scene, Walk};

impl Session<'_, '_> {
    /// Asks about a list; what is typed next is said to the list, whatever step stands above it.
    pub(super) fn ask_about(&mut self, command: &str, told: &[String], scene: &Scene) -> Result<Next, Failure> {
        let lines = wrapped(told);
        let under = self.put_under(&lines, scene);
        if !under && !self.put_alone(&lines)? {
            return Ok(Next::Park);
        }
        let words = ["yes", "no", "more"].map(str::to_owned).into();
        match self.ask(&format!("{command}> "), words)? {
            Typed::Line(line) if !line.trim().is_empty() => {
                let line = format!(":{command} {line}");
                let read = self.read(&line)?;
                self.follow(&line, read, scene)
            }
            Typed::End => Ok(Next::Park),
            _ if under => Ok(Next::Ask),
            _ => Ok(Next::Draw),
        }
    }

    /// Asks a person who goes back whether what comes and goes has stayed, so that it need not be done over again.
    pub(super) fn asked_what_is_still_so(&mut self, event: Event) -> Result<Event, Failure> {
        let told = still_so_told(&self.walk, &event);
        if told.is_empty() || !self.lines.is_person() {
            return Ok(event);
        }
        if self.lines.is_screen() && self.rows() < self.n_rows + told.len() {
            self.draw(&wrapped(&told));
        } else {
            self.tell(&told);
        }
        let words = vec!["yes".to_owned(), "no".to_owned()];
        match self.ask("yes or no> ", words)? {
            Typed::Line(line) if is_yes(&line) => Ok(still_so(&self.walk, event)),
            _ => Ok(event),
        }
    }

    /// Puts a list under the step, or alone, and asks; returns what was typed, none where the pen is laid aside.
    pub(super) fn ask_listed(
        &mut self,
        prompt: &str,
        told: &[String],
        words: Vec<String>,
        scene: &Scene,
    ) -> Result<Option<String>, Failure> {
        let lines = wrapped(told);
        if !self.put_under(&lines, scene) && !self.put_alone(&lines)? {
            return Ok(None);
        }
        match self.ask(prompt, words)? {
            Typed::Line(line) => Ok(Some(line)),
            Typed::Dropped => Ok(Some(String::new())),
            Typed::End => Ok(None),
        }
    }
}

/// Returns what a person who goes back is asked: whether what comes and goes has stayed; nothing where that is all one.
pub(in crate::cli) fn still_so_told(walk: &Walk<'_>, back: &Event) -> Vec<String> {
    let asked = walk.still_asked(back);
    let told = asked.iter().map(|condition| format!("· {}", walk.guide().said(*condition)));
    let first = (!asked.is_empty()).then(|| "Is this still so?".to_owned());
    first.into_iter().chain(told).collect()
}

/// Returns the way back with all that was asked about still so.
pub(in crate::cli) fn still_so(walk: &Walk<'_>, mut back: Event) -> Event {
    let asked = walk.still_asked(&back);
    if let Event::Back { still, .. } = &mut back {
        *still = asked.iter().map(|condition| walk.guide().name(*condition).to_owned()).collect();
    }
    back
}
