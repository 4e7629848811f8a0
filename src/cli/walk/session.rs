//! One sitting of a walk: shows the scene, reads an answer, records it.

use jiff::{SignedDuration, Timestamp};

use crate::cli::failure::Failure;
use crate::cli::job_folder::JobFolder;
use crate::cli::output::Output;
use crate::cli::prompt::{Lines, Typed};
use crate::cli::settings::{self, Settings};
use crate::cli::{Outcome, screen};
use crate::walk::{Answer, Event, Leave, Phase, Refusal, Walk, Wanted, clock_said, span_said};

/// One sitting of a walk.
pub(super) struct Session<'s, 'g> {
    pub(super) walk: Walk<'g>,
    folder: JobFolder,
    pub(super) lines: Lines,
    pub(super) output: &'s mut Output,
    pub(super) settings: &'s Settings,
    /// What the next screen begins with: drawing it wipes whatever was said before.
    news: Vec<String>,
}

impl<'s, 'g> Session<'s, 'g> {
    pub(super) fn new(
        walk: Walk<'g>,
        folder: JobFolder,
        lines: Lines,
        output: &'s mut Output,
        settings: &'s Settings,
    ) -> Session<'s, 'g> {
        Session { walk, folder, lines, output, settings, news: Vec::new() }
    }

    /// Says once more over the first screen what was noted on opening, and how to leave.
    pub(super) fn greet(&mut self, notes: Vec<String>) {
        if self.lines.is_screen() {
            self.news = notes;
        }
        if self.lines.is_person() {
            self.tell_over_screen(vec![
                "`?` shows what can be typed; `park` or Ctrl-D lays the pen aside, and nothing is lost.".to_owned(),
            ]);
        }
    }

    /// Says something that is to stand over the next screen.
    fn tell_over_screen(&mut self, told: Vec<String>) {
        match self.lines.is_screen() {
            true => self.news.extend(told),
            false => self.tell(&told),
        }
    }

    /// Records an event and applies it; returns whether it is on disk. If not, that is said and the walk goes on.
    fn take(&mut self, event: Event) -> bool {
        let recorded = self.folder.append(&event, Timestamp::now());
        if let Err(wrong) = &recorded {
            let failure = Failure::usage(wrong.to_string());
            self.output.failure(&failure);
            if self.lines.is_screen() {
                self.news.push(failure.to_string());
            }
        }
        self.walk.take(&event);
        recorded.is_ok()
    }

    pub(super) fn resume(&mut self, last: Option<Timestamp>) -> Result<(), Failure> {
        if self.walk.state().phase == Phase::Ended {
            return Ok(());
        }
        let now = Timestamp::now();
        let before = (self.walk.state().here, self.walk.state().last_left);
        self.take(Event::Resumed { at: now });
        let state = self.walk.state();
        let mut told = vec![format!("Going on with {}.", self.folder.name())];
        if let Some(step) = before.1 {
            told.push(format!("Last done: {}", self.walk.title(step)));
        }
        if let Some(last) = last {
            told.push(match now.duration_since(last) {
                away if away.is_negative() => {
                    format!("The clock stands {} before the last mark: it was moved back.", span_said(-away))
                }
                away => format!("Time away: {}.", span_said(away)),
            });
        }
        for wait in &state.pending {
            let title = self.walk.title(wait.step);
            told.push(match wait.due <= now {
                true => format!("Over by the clock since {}: {title}. Look for the sign.", clock_said(state, wait.due)),
                false => format!("Still running, due {}: {title}", clock_said(state, wait.due)),
            });
        }
        if state.here != before.0 {
            told.push("What comes and goes has gone in the meantime; these steps are looked at again.".to_owned());
        }
        self.tell_over_screen(told);
        Ok(())
    }

    /// Shows the scene, reads and takes answers until the walk ends or is laid aside.
    pub(super) fn go(&mut self) -> Outcome {
        let mut shown = false;
        loop {
            let now = Timestamp::now();
            let scene = self.walk.scene(now);
            if !shown && !self.show(&scene)? {
                self.take(Event::Parked { at: Timestamp::now() });
                return Ok(self.parked());
            }
            shown = true;
            if self.walk.state().phase == Phase::Ended {
                return Ok(self.end());
            }
            if self.output.is_broken() {
                self.take(Event::Parked { at: Timestamp::now() });
                return Ok(0);
            }
            if self.settings.no_input {
                let wanted = screen::asking(&scene);
                self.take(Event::Parked { at: Timestamp::now() });
                return Err(Failure::usage(format!(
                    "step `{}` wants an answer ({})",
                    scene.id,
                    wanted.trim_end_matches("> ")
                )));
            }
            let mut words = self.walk.can_type();
            if matches!(scene.wanted, Wanted::Reading { .. }) {
                // The first says that a reading is wanted; a number cannot be completed.
                words.remove(0);
            }
            let line = match self.lines.ask(&screen::asking(&scene), words)? {
                Typed::Line(line) => line,
                Typed::Dropped => {
                    self.output
                        .paragraph("Nothing was lost; that line was dropped. `park` or Ctrl-D lays the pen aside.");
                    continue;
                }
                Typed::End => "park".to_owned(),
            };
            let mut read = self.read(&line)?;
            if let Ok(Answer::Ask { told, command }) = &read {
                // What is typed next is said to the list, whatever step stands above it.
                self.tell(told);
                let words = ["yes", "no", "more"].map(str::to_owned).into();
                read = match self.lines.ask(&format!("{command}> "), words)? {
                    Typed::Line(line) if !line.trim().is_empty() => self.read(&format!(":{command} {line}"))?,
                    _ => Ok(Answer::Tell(Vec::new())),
                };
            }
            match read {
                Ok(Answer::Ask { told, .. }) => self.tell(&told),
                Ok(Answer::Event(event)) => {
                    let is_note = matches!(event, Event::Note { .. });
                    let parks = matches!(event, Event::Parked { .. });
                    let recorded = self.take(event);
                    if parks {
                        return Ok(self.parked());
                    }
                    if is_note && recorded {
                        self.output.line("Noted.");
                    }
                    shown = is_note;
                }
                Ok(Answer::Tell(told)) => self.tell(&told),
                Err(refusal) => self.tell(&[refusal.to_string()]),
            }
        }
    }

    /// Reads a line; where a person types, a slip such as `9,92 mm` is asked back once.
    fn read(&mut self, line: &str) -> Result<Result<Answer, Refusal>, Failure> {
        let read = self.walk.read(line, Timestamp::now());
        if let Some(early) = self.early(&read) {
            let words = vec!["yes".to_owned(), "no".to_owned()];
            let question = format!("It is {} early. Is the sign there? yes or no> ", span_said(early));
            let sure = matches!(&self.lines.ask(&question, words)?, Typed::Line(line) if is_yes(line));
            return Ok(if sure { read } else { Ok(Answer::Tell(vec!["Wait on.".to_owned()])) });
        }
        let meant = match &read {
            Err(Refusal { meant: Some(meant), .. }) if self.lines.is_person() => meant.clone(),
            _ => return Ok(read),
        };
        let words = vec!["yes".to_owned(), "no".to_owned()];
        match self.lines.ask(&format!("{meant}? yes or no> "), words)? {
            Typed::Line(line) if is_yes(&line) => Ok(self.walk.read(&meant, Timestamp::now())),
            _ => Ok(read),
        }
    }

    /// Returns how long before it is due a wait is said to be over, where a person says so a minute early or more.
    fn early(&self, read: &Result<Answer, Refusal>) -> Option<SignedDuration> {
        let over = match read {
            Ok(Answer::Event(Event::Left { by, .. })) => *by == Leave::Ready,
            Ok(Answer::Event(Event::Looked { ready, .. })) => *ready,
            _ => false,
        };
        let early = self.walk.due()?.duration_since(Timestamp::now());
        (over && self.lines.is_person() && early >= SignedDuration::from_mins(1)).then_some(early)
    }

    /// Shows a scene, page by page where the terminal is low; the step itself is on the last page.
    ///
    /// Returns whether the person stayed to the last page: Ctrl-D lays the pen aside on any.
    fn show(&mut self, scene: &crate::walk::Scene) -> Result<bool, Failure> {
        let wipes = self.lines.is_screen();
        let width = settings::width();
        // One line for the prompt, one for what is typed after it on a narrow terminal.
        let rows = if wipes { settings::height() - 2 } else { usize::MAX };
        let news: Vec<String> =
            self.news.drain(..).flat_map(|paragraph| screen::wrapped(&paragraph, width, "", "    ")).collect();
        let pages = screen::under_news(&news, screen::pages(scene, width, rows, self.settings.ascii), scene, rows);
        for (n, page) in pages.iter().enumerate() {
            if n > 0 && matches!(self.lines.ask("Enter for the rest> ", Vec::new())?, Typed::End) {
                return Ok(false);
            }
            if wipes {
                self.output.text("\u{1b}[2J\u{1b}[H");
            } else if n == 0 {
                self.output.line("");
            }
            self.output.line(&page.join("\n"));
        }
        Ok(true)
    }

    pub(super) fn tell(&mut self, paragraphs: &[String]) {
        paragraphs.iter().for_each(|paragraph| self.output.paragraph(paragraph));
    }

    fn parked(&mut self) -> u8 {
        let name = self.folder.name().clone();
        self.tell(&[format!("Laid aside. Everything is kept; go on with: stepjig walk --job {name}")]);
        1
    }
}

fn is_yes(line: &str) -> bool {
    matches!(crate::guide::fold(line).as_str(), "yes" | "y")
}
