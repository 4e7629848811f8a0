//! What is typed at a table: a number, words, a reading that is sorted into its band, or a command.

use jiff::Timestamp;

use super::asking::Asking;
use super::endings::SAFE_STOP;
use crate::cli::failure::Failure;
use crate::cli::page::Page;
use crate::cli::prompt::Typed;
use crate::guide::document::Text;
use crate::guide::fault_table::RawCheck;
use crate::guide::{Picked, fold, pick};
use crate::units::{Quantity, Unit};
use crate::walk::Answer;

/// What was said to a list.
pub(super) enum Reply {
    /// The one with this place.
    One(usize),
    /// What was said before is taken back.
    Back,
    /// It is left for now.
    Left,
}

/// What can be typed at a table besides what is listed.
const HELP: &str = "Type a number, or words as they are listed. `back` takes back what was said last; `why` says what the order rests on; `note …` writes something down; `none of these` where nothing here fits; `park` or Ctrl-D leaves it all as it is for another day.";

/// What the order of questions rests on.
const WHY: &str = "What is asked or tried next is what brings a good pen in the fewest minutes of work on average, by the odds that are shown. The odds are estimates, common practice; each answer moves them.";

impl Asking<'_, '_> {
    /// Asks until one of the words is chosen, by the number that the first of them have, words or a unique beginning.
    pub(super) fn choose(&mut self, words: &[String], numbered: usize) -> Result<Reply, Failure> {
        self.choose_or_read(words, numbered, None)
    }

    /// Asks as [`Asking::choose`]; where a gauge is given, a reading with its unit chooses its band.
    pub(super) fn choose_or_read(
        &mut self,
        words: &[String],
        numbered: usize,
        gauge: Option<&RawCheck>,
    ) -> Result<Reply, Failure> {
        let prompt = match gauge.and_then(|gauge| gauge.unit.as_ref()) {
            Some(unit) => format!("number, words or reading in {}> ", unit.value),
            None if self.untold.is_empty() => "number or words> ".to_owned(),
            None => "number or words; why tells more> ".to_owned(),
        };
        loop {
            let line = match self.lines.ask(&prompt, words.to_vec())? {
                Typed::Line(line) => line,
                Typed::Dropped => {
                    self.tell(&["Nothing was lost; that line was dropped. `park` or Ctrl-D leaves it for later."]);
                    continue;
                }
                Typed::End => return Ok(Reply::Left),
            };
            let command = line.trim().strip_prefix(':');
            if command.is_none() {
                if let Some(band) = gauge.and_then(|gauge| band_of(gauge, &line)) {
                    return Ok(Reply::One(band));
                }
                match pick(&line, words, numbered) {
                    Picked::One(place) => return Ok(Reply::One(place)),
                    Picked::Several(several) => {
                        let several: Vec<String> = several.iter().map(|n| format!("`{}`", words[*n])).collect();
                        self.tell(&[format!("More than one begins like that: {}. Say which.", several.join(" or "))]);
                        continue;
                    }
                    Picked::None => {}
                }
            }
            if let Some(reply) = self.command(command.unwrap_or(line.trim()), words)? {
                return Ok(reply);
            }
        }
    }

    /// Does what a command asks for; returns what was said, if that ends the asking.
    fn command(&mut self, typed: &str, words: &[String]) -> Result<Option<Reply>, Failure> {
        if let Some(note) = typed.strip_prefix("note ") {
            self.note(note)?;
            return Ok(None);
        }
        match fold(typed).as_str() {
            "back" | "undo" => return Ok(Some(Reply::Back)),
            "park" | "quit" | "exit" => return Ok(Some(Reply::Left)),
            "why" => {
                self.tell(&[WHY]);
                self.tell(&self.untold.clone());
            }
            "none of these" | "none" => self.tell(&SAFE_STOP),
            "help" => self.tell(&[HELP]),
            "" if typed == "?" => self.tell(&[HELP]),
            "" => self.tell(&[format!("Type a number, or one of: {}. `?` tells more.", words.join(" · "))]),
            _ => {
                let typed: String = typed.chars().take(40).collect();
                let listed = words.join(" · ");
                self.tell(&[format!(
                    "`{typed}` is none of these. Type a number, or one of: {listed}. `?` tells more."
                )]);
            }
        }
        Ok(None)
    }

    fn note(&mut self, note: &str) -> Result<(), Failure> {
        let Some(job) = &mut self.job else {
            self.tell(&["There is no job to keep a note with."]);
            return Ok(());
        };
        match job.walk.read(&format!(":note {note}"), Timestamp::now()) {
            Ok(Answer::Event(event)) => {
                crate::cli::walk::record(job.folder, job.walk, event)?;
                self.tell(&["Noted."]);
            }
            Ok(_) => {}
            Err(refusal) => self.tell(&[refusal.to_string()]),
        }
        Ok(())
    }

    /// Shows a page, to be turned by Enter where it is more than a screen; returns whether the person stayed.
    pub(super) fn show(&mut self, page: &Page) -> Result<bool, Failure> {
        let (pages, untold) = page.pages(self.rows());
        self.untold = untold;
        self.turn(&pages)
    }

    /// Shows pages that are laid out already, to be turned by Enter; returns whether the person stayed.
    pub(super) fn turn(&mut self, pages: &[Vec<String>]) -> Result<bool, Failure> {
        for (n, lines) in pages.iter().enumerate() {
            if n > 0 && !self.lines.turn_page("Enter for the rest> ", self.output)? {
                return Ok(false);
            }
            self.draw(lines);
        }
        Ok(true)
    }
}

/// Returns the band that a reading with its unit falls into: a band holds its lower end and not its upper.
fn band_of(gauge: &RawCheck, typed: &str) -> Option<usize> {
    let unit: Unit = gauge.unit.as_ref()?.value.parse().ok()?;
    // A bare number is that of an answer; a reading says its unit.
    let value = |written: &str| Quantity::parse_signed(written, unit, None).ok().map(|quantity| quantity.value());
    let read = value(typed.trim())?;
    gauge.outcomes.iter().position(|band| {
        let end = |text: &Option<Text>| text.as_ref().and_then(|text| value(&text.value));
        end(&band.min).is_none_or(|min| min <= read) && end(&band.max).is_none_or(|max| read < max)
    })
}
