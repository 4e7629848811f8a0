//! What is said when a walk is over, and what is kept of it.

use jiff::SignedDuration;

use super::session::Session;
use crate::cli::failure::Failure;
use crate::cli::kit_file;
use crate::cli::prompt::Typed;
use crate::guide::{EndKind, Kind};
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
    pub(super) fn end(&mut self) -> u8 {
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
            told.extend(steps.iter().map(|step| format!("{what}: {}", self.walk.title(*step))));
        }
        told.extend(
            record
                .out_of_limits
                .iter()
                .map(|(step, said)| format!("Out of limits: {said} at {}", self.walk.title(*step))),
        );
        told.extend(record.notes.iter().map(|note| format!("Note: {note}")));
        let took = state.clock.duration_since(state.began) - SignedDuration::from_secs(record.parked_s);
        told.push(format!("Time at it, waits included: {}.", span_said(took)));
        self.tell(&told);
        u8::from(!finished)
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
                match self.lines.ask("kit name> ", Vec::new())? {
                    Typed::Line(line) if !line.trim().is_empty() => line.trim().to_owned(),
                    _ => return Ok(()),
                }
            }
            None => return Ok(()),
        };
        let path = kit_file::keep(&name, &numbers, self.settings)?;
        self.output.aside(&format!("note: kept as {}; use it by `--kit {name}`", path.display()));
        Ok(())
    }
}
