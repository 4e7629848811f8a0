//! What is said when a walk is over, and what is kept of it.

use jiff::SignedDuration;

use super::session::Session;
use crate::cli::failure::Failure;
use crate::cli::kit_file;
use crate::cli::prompt::Typed;
use crate::guide::{EndKind, Kind, fold};
use crate::walk::{Phase, span_said};

impl Session<'_, '_> {
    /// Ends the sitting: keeps what was typed, and the numbers measured where the pen is at its end.
    pub(super) fn close(&mut self) -> Result<(), Failure> {
        self.lines.keep_history(self.settings);
        if self.walk.state().phase == Phase::Ended {
            self.keep_kit()?;
        }
        Ok(())
    }

    /// Says how the walk went; returns the exit code.
    pub(super) fn end(&mut self) -> Result<u8, Failure> {
        let state = self.walk.state();
        let guide = self.walk.guide();
        let finished = matches!(guide.step(state.here).kind, Kind::End(EndKind::Finished));
        let record = &state.record;
        let mut told = vec![format!("{}: {}", guide.title(), if finished { "finished" } else { "scrap" })];
        for (what, steps) in [
            ("Skipped", &record.skipped),
            ("Taken back", &record.taken_back),
            ("Done more than once", &record.done_again),
        ] {
            told.extend(counted(steps.iter().map(|step| format!("{what}: {}", self.walk.title(*step)))));
        }
        let beyond = record.out_of_limits.iter();
        told.extend(counted(beyond.map(|(step, said)| format!("Out of limits: {said} at {}", self.walk.title(*step)))));
        told.extend(record.troubles.iter().map(|trouble| format!("Went wrong: {trouble}")));
        told.extend(record.borrowed.iter().map(|(part, kit)| format!("Owed: {part}, to {kit}")));
        told.extend(record.notes.iter().map(|note| format!("Note: {note}")));
        let took = state.clock.duration_since(state.began) - SignedDuration::from_secs(record.parked_s);
        told.push(format!("Time at it, waits included: {}.", span_said(took)));
        self.tell_after_reading(&told)?;
        Ok(u8::from(!finished))
    }

    /// Lets a person take back the answer that ended the pen; returns whether they did.
    pub(super) fn taken_back(&mut self) -> Result<bool, Failure> {
        if !self.lines.is_person() || self.walk.state().visits.is_empty() {
            return Ok(false);
        }
        self.output.paragraph("If that was a slip of typing: `back`. Enter ends this pen.");
        loop {
            match self.ask("back, or Enter> ", vec!["back".to_owned()])? {
                Typed::Line(line) => match fold(&line).as_str() {
                    "back" | "no" | "undo" | "trouble" => {
                        self.go_back()?;
                        return Ok(true);
                    }
                    "" | "done" | "yes" => return Ok(false),
                    _ => self.output.paragraph("`back` takes that answer back; Enter ends this pen."),
                },
                Typed::Dropped => {}
                Typed::End => return Ok(false),
            }
        }
    }

    /// Keeps the numbers measured on this walk, where a name is given or a person gives one.
    fn keep_kit(&mut self) -> Result<(), Failure> {
        let named = self.walk.state().keep_kit.clone();
        let numbers = self.walk.state().numbers.clone();
        if numbers.is_empty() {
            return Ok(());
        }
        let name = match named {
            Some(name) => name,
            None if self.lines.is_person() => {
                self.output
                    .paragraph("Keep the measured numbers for the next pen of this kit? Type a name, or Enter not to.");
                loop {
                    let Typed::Line(line) = self.lines.ask("kit name> ", Vec::new())? else { return Ok(()) };
                    match line.trim() {
                        "" | "no" => return Ok(()),
                        name => match kit_file::free_name(name, self.settings) {
                            Ok(()) => break name.to_owned(),
                            Err(wrong) => self.output.paragraph(&wrong.to_string()),
                        },
                    }
                }
            }
            None => return Ok(()),
        };
        let path = kit_file::keep(&name, &numbers, self.settings)?;
        self.output.aside(&format!("note: kept as {}; use it by `--kit {name}`", path.display()));
        Ok(())
    }
}

/// Says each line once, with how often it was there.
fn counted(lines: impl Iterator<Item = String>) -> Vec<String> {
    let mut counted: Vec<(String, usize)> = Vec::new();
    for line in lines {
        match counted.iter_mut().find(|(known, _)| *known == line) {
            Some((_, n)) => *n += 1,
            None => counted.push((line, 1)),
        }
    }
    counted.into_iter().map(|(line, n)| if n == 1 { line } else { format!("{line} ({n} times)") }).collect()
}
