//! One sitting of a walk: shows the scene, reads an answer, records it.

use jiff::Timestamp;

use super::doubt::doubted;
use crate::cli::failure::Failure;
use crate::cli::job_folder::{AppendError, JobFolder};
use crate::cli::output::Output;
use crate::cli::prompt::{Lines, Typed, is_yes};
use crate::cli::settings::{self, Settings};
use crate::cli::{Outcome, screen};
use crate::walk::{Answer, Event, Phase, Refusal, Scene, Walk, Wanted, clock_said, span_said};

/// One sitting of a walk.
pub(super) struct Session<'s, 'g> {
    pub(super) walk: Walk<'g>,
    pub(super) folder: JobFolder,
    pub(super) lines: Lines,
    pub(super) output: &'s mut Output,
    pub(super) settings: &'s Settings,
    /// What the next screen begins with: drawing it wipes whatever was said before.
    pub(super) news: Vec<String>,
    /// How many rows of the screen are taken, by the step and by what was said under it.
    pub(super) n_rows: usize,
}

/// What comes next in a sitting.
#[derive(PartialEq, Eq)]
pub(super) enum Next {
    /// The step is to be drawn.
    Draw,
    /// The step stands on the screen, and a line is to be asked for.
    Ask,
    /// The pen is laid aside.
    Park,
}

impl<'s, 'g> Session<'s, 'g> {
    pub(super) fn new(
        walk: Walk<'g>,
        folder: JobFolder,
        lines: Lines,
        output: &'s mut Output,
        settings: &'s Settings,
    ) -> Session<'s, 'g> {
        Session { walk, folder, lines, output, settings, news: Vec::new(), n_rows: 0 }
    }

    /// Says once more over the first screen what was noted on opening, and how to leave.
    pub(super) fn greet(&mut self, notes: Vec<String>) {
        if self.lines.is_screen() {
            self.news = notes;
        }
        if self.lines.is_person() && self.walk.state().phase != Phase::Ended {
            let leave = "`?` shows what can be typed; `park` or Ctrl-D lays the pen aside, and nothing is lost.";
            self.tell_over_screen(vec![leave.to_owned()]);
        }
    }

    /// Says something that is to stand over the next screen.
    pub(super) fn tell_over_screen(&mut self, told: Vec<String>) {
        match self.lines.is_screen() {
            true => self.news.extend(told),
            false => self.tell(&told),
        }
    }

    /// Records an event and then applies it.
    pub(super) fn take(&mut self, event: Event) -> Result<(), Failure> {
        record(&mut self.folder, &mut self.walk, event)
    }

    pub(super) fn resume(&mut self, last: Option<Timestamp>) -> Result<(), Failure> {
        if self.walk.state().phase == Phase::Ended {
            return Ok(());
        }
        let now = Timestamp::now();
        let before = (self.walk.state().here, self.walk.state().last_left, self.walk.state().phase == Phase::Open);
        self.take(Event::Resumed { at: now })?;
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
        let state = self.walk.state();
        if let Some(trouble) = &state.trouble {
            told.push(format!("It was laid aside over this: {}. What was found is kept.", trouble.title));
        } else if before.2 {
            told.push(
                "It was laid aside in the middle of this step: look how far it got, and say `no` to what is not so."
                    .to_owned(),
            );
        }
        told.extend(state.record.notes.iter().rev().take(2).rev().map(|note| format!("Note: {note}")));
        if state.here != before.0 {
            told.push("What comes and goes has gone in the meantime; these steps are looked at again.".to_owned());
        }
        self.tell_over_screen(told);
        Ok(())
    }

    /// Remembers with the job under which name the measured numbers are to be kept, however often it is laid aside.
    pub(super) fn keep_kit_as(&mut self, name: String) -> Result<(), Failure> {
        match self.walk.state().keep_kit.as_ref() == Some(&name) {
            true => Ok(()),
            false => self.take(Event::KeepKit { name, at: Timestamp::now() }),
        }
    }

    /// Shows scenes and takes lines until the walk ends or is laid aside.
    pub(super) fn go(&mut self) -> Outcome {
        let mut next = Next::Draw;
        loop {
            if next == Next::Park {
                return self.park();
            }
            if self.walk.state().trouble.is_some() {
                next = self.at_table(false)?;
                continue;
            }
            let scene = self.walk.scene(Timestamp::now());
            if next == Next::Draw {
                next = self.show(&scene)?;
            }
            if self.walk.state().phase == Phase::Ended {
                let code = self.end()?;
                if code == 0 || !self.taken_back()? {
                    return Ok(code);
                }
                next = Next::Draw;
                continue;
            }
            if self.output.is_broken() {
                self.take(Event::Parked { at: Timestamp::now() })?;
                return Ok(0);
            }
            if next == Next::Park {
                return self.park();
            }
            if self.settings.no_input {
                return self.unanswered(&scene);
            }
            next = match self.ask(&screen::asking(&scene), self.words(&scene))? {
                Typed::Line(line) => {
                    let read = self.read(&line)?;
                    self.follow(&line, read, &scene)?
                }
                Typed::Dropped => {
                    let told = "Nothing was lost; that line was dropped. `park` or Ctrl-D lays the pen aside.";
                    self.remark(told.to_owned(), &scene)?
                }
                Typed::End => Next::Park,
            };
        }
    }

    /// Returns what Tab completes here.
    fn words(&self, scene: &Scene) -> Vec<String> {
        let mut words = self.walk.can_type();
        if matches!(scene.wanted, Wanted::Reading { .. }) {
            // The first says that a reading is wanted; a number cannot be completed.
            words.remove(0);
        }
        words
    }

    pub(super) fn ask(&mut self, prompt: &str, words: Vec<String>) -> Result<Typed, Failure> {
        let typed = self.lines.ask(prompt, words)?;
        let n_typed = if let Typed::Line(line) = &typed { line.chars().count() } else { 0 };
        self.n_rows += 1 + (prompt.chars().count() + n_typed) / settings::width();
        Ok(typed)
    }

    /// Does what a line that was read asks for.
    pub(super) fn follow(
        &mut self,
        typed: &str,
        read: Result<Answer, Refusal>,
        scene: &Scene,
    ) -> Result<Next, Failure> {
        match read {
            Ok(Answer::Event(Event::Parked { .. })) => Ok(Next::Park),
            Ok(Answer::Event(event @ Event::Back { .. })) => {
                let event = self.asked_what_is_still_so(event)?;
                self.take(event)?;
                Ok(Next::Draw)
            }
            Ok(Answer::Event(event @ Event::Given { .. })) => {
                let Event::Given { to, .. } = &event else { return Ok(Next::Draw) };
                let to = to.clone();
                self.take(event)?;
                // A step's own sum is drawn with the step.
                if to == scene.id { Ok(Next::Draw) } else { self.reckoned(&to, None, scene) }
            }
            Ok(Answer::Reckon(name)) => self.reckoned(&name, None, scene),
            Ok(Answer::Event(event)) => {
                let is_note = matches!(event, Event::Note { .. });
                let call = self.walk.leads_to_trouble(&event);
                self.take(event)?;
                if let Some(call) = call {
                    return self.open_called(&call);
                }
                match is_note {
                    true => self.remark("Noted.".to_owned(), scene),
                    false => Ok(Next::Draw),
                }
            }
            Ok(Answer::Ask { told, command: "trouble" }) => self.trouble(&told, scene),
            Ok(Answer::Ask { told, command }) => self.ask_about(command, &told, scene),
            Ok(Answer::Tell(told)) => self.tell_under(&told, scene),
            Err(refusal) => self.refused(typed, &refusal, scene),
        }
    }

    /// Says why a line cannot be taken; a word for trouble is taken for that.
    fn refused(&mut self, typed: &str, refusal: &Refusal, scene: &Scene) -> Result<Next, Failure> {
        let command = typed.trim().trim_start_matches(':');
        if let Some(words) = command.strip_prefix("trouble ").map(str::trim).filter(|words| !words.is_empty()) {
            return self.trouble_in_words(words, scene);
        }
        let told = self.sounds_like_trouble(typed, refusal).unwrap_or_else(|| refusal.to_string());
        self.remark(told, scene)
    }

    /// Reads a line; where a person types, a slip such as `9,92 mm` is asked back once.
    pub(super) fn read(&mut self, line: &str) -> Result<Result<Answer, Refusal>, Failure> {
        let read = self.walk.read(line, Timestamp::now());
        if !self.lines.is_person() {
            return Ok(read);
        }
        match doubted(&self.walk, read) {
            Ok(read) => Ok(read),
            Err(doubt) => {
                let typed = self.ask(&doubt.question, vec!["yes".to_owned(), "no".to_owned()])?;
                Ok(doubt.settled(&self.walk, matches!(&typed, Typed::Line(line) if is_yes(line))))
            }
        }
    }

    /// Shows a scene, page by page where the terminal is low; the step itself is on the last page.
    fn show(&mut self, scene: &Scene) -> Result<Next, Failure> {
        let rows = self.rows();
        let news = wrapped(&std::mem::take(&mut self.news));
        // A step that is under way stays one page, so it makes room for the news itself.
        let left = if scene.wanted == Wanted::DoneWord { rows.saturating_sub(news.len()) } else { rows };
        let pages = screen::pages(scene, settings::width(), left, self.settings.ascii);
        if !self.lines.is_screen() {
            self.output.line("");
        }
        match self.put_pages(&screen::under_news(&news, pages, scene, rows))? {
            true => Ok(Next::Ask),
            false => Ok(Next::Park),
        }
    }

    /// Tells something that was not asked for; it never takes a step that is under way off the screen.
    pub(super) fn remark(&mut self, told: String, scene: &Scene) -> Result<Next, Failure> {
        if self.lines.is_screen() && scene.wanted == Wanted::DoneWord {
            self.news.push(told);
            return Ok(Next::Draw);
        }
        self.tell_under(&[told], scene)
    }

    /// Tells something that was asked for: under the step, or alone, and then the step is drawn again.
    pub(super) fn tell_under(&mut self, told: &[String], scene: &Scene) -> Result<Next, Failure> {
        let lines = wrapped(told);
        if self.put_under(&lines, scene) {
            return Ok(Next::Ask);
        }
        match self.put_alone(&lines)? && !self.is_left_at("Enter to go on> ")? {
            true => Ok(Next::Draw),
            false => Ok(Next::Park),
        }
    }

    /// Puts lines under the step, which stays on the screen; returns whether there is room for both.
    pub(super) fn put_under(&mut self, lines: &[String], scene: &Scene) -> bool {
        let rows = self.rows();
        if self.lines.is_screen() && rows < self.n_rows + lines.len() {
            let left = rows.saturating_sub(lines.len());
            // The whole step, or nothing of it: half a hold would be taken for all of it.
            let mut pages = screen::pages(scene, settings::width(), left, self.settings.ascii);
            let page = pages.pop().unwrap_or_default();
            if left < page.len() || !pages.is_empty() {
                return false;
            }
            self.draw(&page);
        }
        self.n_rows += lines.len();
        lines.iter().for_each(|line| self.output.line(line));
        true
    }

    /// Puts lines on a screen of their own; returns whether the person stayed to the last page.
    pub(super) fn put_alone(&mut self, lines: &[String]) -> Result<bool, Failure> {
        let pages: Vec<Vec<String>> = lines.chunks(self.rows()).map(<[String]>::to_vec).collect();
        let stayed = self.put_pages(&pages)?;
        // There is no room under it, so that whatever is said next draws the step again.
        self.n_rows = self.rows();
        Ok(stayed)
    }

    /// Tells something under what stands on the screen, or where there is no room for both, after that was read.
    pub(super) fn tell_after_reading(&mut self, told: &[String]) -> Result<(), Failure> {
        let lines = wrapped(told);
        if self.lines.is_screen() && self.rows() < self.n_rows + lines.len() {
            self.is_left_at("Enter for the rest> ")?;
            self.put_alone(&lines)?;
        } else {
            lines.iter().for_each(|line| self.output.line(line));
        }
        Ok(())
    }

    /// Takes the last step back, as if `back` had been typed.
    pub(super) fn go_back(&mut self) -> Result<(), Failure> {
        let scene = self.walk.scene(Timestamp::now());
        let read = self.read(":back")?;
        self.follow(":back", read, &scene)?;
        Ok(())
    }

    /// Puts pages on the screen, to be turned by Enter; returns whether the person stayed to the last.
    fn put_pages(&mut self, pages: &[Vec<String>]) -> Result<bool, Failure> {
        for (n, page) in pages.iter().enumerate() {
            if n > 0 && self.is_left_at("Enter for the rest> ")? {
                return Ok(false);
            }
            self.draw(page);
        }
        Ok(true)
    }

    /// Waits for a page to be turned; Ctrl-D lays the pen aside on any page.
    pub(super) fn is_left_at(&mut self, prompt: &str) -> Result<bool, Failure> {
        Ok(!self.lines.turn_page(prompt, self.output)?)
    }

    pub(super) fn draw(&mut self, page: &[String]) {
        if self.lines.is_screen() {
            self.output.text("\u{1b}[2J\u{1b}[H");
        }
        self.output.line(&page.join("\n"));
        self.n_rows = page.len();
    }

    /// Returns how many rows of the screen there are for what is shown.
    pub(super) fn rows(&self) -> usize {
        // One is kept for the prompt, one for what is typed after it on a narrow terminal.
        if self.lines.is_screen() { settings::height() - 2 } else { usize::MAX }
    }

    pub(super) fn tell(&mut self, paragraphs: &[String]) {
        paragraphs.iter().for_each(|paragraph| self.output.paragraph(paragraph));
    }

    fn park(&mut self) -> Outcome {
        self.take(Event::Parked { at: Timestamp::now() })?;
        let name = self.folder.name().clone();
        self.tell(&[format!("Laid aside. Everything is kept; go on with: stepjig walk --job {name}")]);
        Ok(1)
    }

    /// Lays the pen aside for want of an answer; fails with what is missing.
    fn unanswered(&mut self, scene: &Scene) -> Outcome {
        self.take(Event::Parked { at: Timestamp::now() })?;
        let wanted = screen::asking(scene);
        Err(Failure::usage(format!("step `{}` wants an answer ({})", scene.id, wanted.trim_end_matches("> "))))
    }
}

/// Records an event and then applies it; an event that cannot be recorded ends the sitting, for nothing after it would
/// be kept either.
pub(in crate::cli) fn record(folder: &mut JobFolder, walk: &mut Walk<'_>, event: Event) -> Result<(), Failure> {
    folder.append(&event, Timestamp::now()).map_err(|wrong| {
        let go_on = format!("stepjig walk --job {}", folder.name());
        let help = match wrong {
            AppendError::Unwritable(_) => format!("all before it is kept; say it shorter: {go_on}"),
            _ => format!("all before it is kept; when that is put right, go on with: {go_on}"),
        };
        Failure::usage(wrong.to_string()).help(help)
    })?;
    walk.take(&event);
    Ok(())
}

pub(super) fn wrapped(paragraphs: &[String]) -> Vec<String> {
    paragraphs.iter().flat_map(|paragraph| screen::wrapped(paragraph, settings::width(), "", "    ")).collect()
}
