//! Lines typed by a person, or read from a pipe.

use std::io::{BufRead, IsTerminal, Write};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use rustyline::completion::Completer;
use rustyline::error::ReadlineError;
use rustyline::highlight::Highlighter;
use rustyline::hint::Hinter;
use rustyline::history::DefaultHistory;
use rustyline::validate::Validator;
use rustyline::{
    Cmd, CompletionType, ConditionalEventHandler, Config, Context, Editor, Event, EventContext, EventHandler, Helper,
    KeyCode, KeyEvent, Modifiers, RepeatCount,
};

use super::failure::Failure;
use super::output::Output;
use super::settings::Settings;
use super::{Outcome, shelf};
use crate::finding::plain_text::clean_line;

/// An Enter this soon after a screen was drawn was meant for the screen before.
const TOO_SOON: Duration = Duration::from_millis(500);

/// Bytes of a piped line that are read at most.
const MOST_LINE: u64 = 4 << 10;

/// What came of asking for a line.
pub(super) enum Typed {
    /// A line.
    Line(String),
    /// Ctrl-C: the line is dropped.
    Dropped,
    /// Ctrl-D, or the end of the input.
    End,
}

/// Tells whether a line is a plain yes.
pub(super) fn is_yes(line: &str) -> bool {
    matches!(crate::guide::fold(line).as_str(), "yes" | "y")
}

/// Where lines come from.
pub(super) enum Lines {
    /// A terminal with editing, completion and history.
    Terminal(Box<Editor<Words, DefaultHistory>>, Drawn),
    /// A terminal that cannot edit a line.
    Dumb,
    /// A pipe or a file, line by line.
    Piped,
}

/// Tells whether a person sits at both ends.
fn is_person() -> bool {
    std::io::stdin().is_terminal() && std::io::stdout().is_terminal()
}

/// Tells whether a person sits at both ends, at a terminal that can edit a line.
pub(super) fn is_terminal() -> bool {
    is_person() && !std::env::var("TERM").is_ok_and(|term| term == "dumb")
}

impl Lines {
    /// Opens the terminal's line editor, or standard input as it is.
    pub(super) fn open(settings: &Settings) -> Result<Lines, Failure> {
        if !is_terminal() {
            return Ok(if is_person() { Lines::Dumb } else { Lines::Piped });
        }
        let config = Config::builder().completion_type(CompletionType::List).auto_add_history(true).build();
        let editor = Editor::with_config(config);
        let mut editor = editor.map_err(|wrong| Failure::usage(format!("the terminal cannot be read: {wrong}")))?;
        editor.set_helper(Some(Words { words: Vec::new() }));
        if let Some(folders) = &settings.folders {
            // Without a history to read the prompt works all the same.
            let _ = editor.load_history(&folders.history());
        }
        let drawn = Drawn(Arc::new(Mutex::new(Instant::now())));
        for enter in [KeyEvent(KeyCode::Enter, Modifiers::NONE), KeyEvent(KeyCode::Char('J'), Modifiers::CTRL)] {
            editor.bind_sequence(enter, EventHandler::Conditional(Box::new(drawn.clone())));
        }
        Ok(Lines::Terminal(Box::new(editor), drawn))
    }

    /// Tells whether a person types, and can be asked back.
    pub(super) fn is_person(&self) -> bool {
        !matches!(self, Lines::Piped)
    }

    /// Tells whether the screen can be wiped for each step.
    pub(super) fn is_screen(&self) -> bool {
        matches!(self, Lines::Terminal(..))
    }

    /// Asks for a line; `words` are what can be typed here.
    pub(super) fn ask(&mut self, prompt: &str, words: Vec<String>) -> Result<Typed, Failure> {
        match self {
            Lines::Terminal(editor, drawn) => {
                if let Some(helper) = editor.helper_mut() {
                    helper.words = words;
                }
                forget_typed_keys();
                drawn.now();
                match editor.readline(prompt) {
                    Ok(line) => Ok(Typed::Line(line)),
                    Err(ReadlineError::Interrupted) => Ok(Typed::Dropped),
                    Err(ReadlineError::Eof) => Ok(Typed::End),
                    Err(wrong) => Err(Failure::usage(format!("the terminal cannot be read: {wrong}"))),
                }
            }
            Lines::Dumb => {
                let mut stdout = std::io::stdout().lock();
                // A terminal that is gone is noticed at the next line of the walk.
                let _ = stdout.write_all(prompt.as_bytes()).and_then(|()| stdout.flush());
                drop(stdout);
                piped()
            }
            Lines::Piped => piped(),
        }
    }

    /// Waits for Enter, or `on`, to turn a page; returns whether the person stayed. Other words are for a page that is
    /// not read yet: they do nothing, and that is said.
    pub(super) fn turn_page(&mut self, prompt: &str, output: &mut Output) -> Result<bool, Failure> {
        loop {
            match self.ask(prompt, Vec::new())? {
                Typed::End => return Ok(false),
                Typed::Line(line) if self.is_person() && !matches!(line.trim(), "" | "on") => {
                    output.paragraph(&format!("Enter first, then `{}` can be said.", clean_line(&line)));
                }
                _ => return Ok(true),
            }
        }
    }

    /// Keeps what was typed for the next time.
    pub(super) fn keep_history(&mut self, settings: &Settings) {
        if let (Lines::Terminal(editor, _), Some(folders)) = (self, &settings.folders) {
            let path = folders.history();
            // Losing the history loses no work.
            let _ = path.parent().map(std::fs::create_dir_all);
            let _ = editor.save_history(&path);
        }
    }
}

fn piped() -> Result<Typed, Failure> {
    let mut bytes = Vec::new();
    let mut stdin = std::io::Read::take(std::io::stdin().lock(), MOST_LINE + 1);
    let read = stdin.read_until(b'\n', &mut bytes);
    read.map_err(|wrong| Failure::usage(format!("cannot read the input: {wrong}")))?;
    if bytes.is_empty() {
        return Ok(Typed::End);
    }
    if bytes.len() as u64 > MOST_LINE {
        return Err(Failure::usage("a line of the input is longer than 4,096 bytes"));
    }
    Ok(Typed::Line(String::from_utf8_lossy(&bytes).trim_end_matches(['\n', '\r']).to_owned()))
}

/// Throws away keys that were typed before the screen was drawn.
fn forget_typed_keys() {
    #[cfg(unix)]
    {
        // A terminal that cannot do it is a terminal to read from all the same.
        let _ = nix::sys::termios::tcflush(std::io::stdin(), nix::sys::termios::FlushArg::TCIFLUSH);
    }
}

/// When the screen was last drawn.
#[derive(Clone)]
pub(super) struct Drawn(Arc<Mutex<Instant>>);

impl Drawn {
    fn now(&self) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = Instant::now();
    }

    fn ago(&self) -> Duration {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).elapsed()
    }
}

/// An Enter alone that comes too soon does nothing; the line stands as it was.
impl ConditionalEventHandler for Drawn {
    fn handle(&self, _: &Event, _: RepeatCount, _: bool, context: &EventContext) -> Option<Cmd> {
        let too_soon = context.line().trim().is_empty() && self.ago() < TOO_SOON;
        too_soon.then_some(Cmd::Noop)
    }
}

/// Completes what can be typed here.
pub(super) struct Words {
    words: Vec<String>,
}

impl Words {
    fn beginning_with<'w>(&'w self, typed: &str) -> impl Iterator<Item = &'w String> {
        let typed = typed.to_lowercase();
        self.words.iter().filter(move |word| word.to_lowercase().starts_with(&typed))
    }
}

impl Completer for Words {
    type Candidate = String;

    fn complete(&self, line: &str, at: usize, _: &Context<'_>) -> rustyline::Result<(usize, Vec<String>)> {
        Ok((0, self.beginning_with(&line[..at]).cloned().collect()))
    }
}

impl Hinter for Words {
    type Hint = String;

    fn hint(&self, line: &str, at: usize, _: &Context<'_>) -> Option<String> {
        if line.is_empty() || at < line.len() {
            return None;
        }
        let word = self.beginning_with(line).next()?;
        word.get(line.len()..).filter(|rest| !rest.is_empty()).map(str::to_owned)
    }
}

impl Highlighter for Words {}
impl Validator for Words {}
impl Helper for Words {}

/// The prompt of verbs, opened by `stepjig` alone.
pub(super) fn verbs(settings: &Settings, output: &mut Output) -> Outcome {
    let mut lines = Lines::open(settings)?;
    output.paragraph("stepjig. Type a verb, such as `walk two-tube-fountain`; `?` shows them all; Ctrl-D leaves.");
    loop {
        let mut words: Vec<String> = [
            "walk ",
            "check ",
            "compare ",
            "draft",
            "draft --how",
            "schema",
            "trouble ",
            "rejoin ",
            "rehearse ",
            "reckon",
            "list",
            "owed",
            "config",
            "help",
            "leave",
        ]
        .map(str::to_owned)
        .into();
        words.extend(crate::reckon::ALL.iter().map(|reckoning| format!("reckon {}", reckoning.name)));
        if let Ok(library) = shelf::library(settings) {
            words.extend(
                ["walk", "check", "rejoin", "rehearse", "compare"]
                    .iter()
                    .flat_map(|verb| library.guide_ids().map(move |id| format!("{verb} {id}"))),
            );
            words.extend(library.trouble_ids().map(|id| format!("trouble {id}")));
        }
        let line = match lines.ask("stepjig> ", words)? {
            Typed::Line(line) => line,
            Typed::Dropped => {
                output.line("Nothing was lost. Ctrl-D leaves.");
                continue;
            }
            Typed::End => break,
        };
        let words: Vec<String> = line.split_whitespace().map(str::to_owned).collect();
        match words.first().map(String::as_str) {
            None => continue,
            Some("leave" | "exit" | "quit") => break,
            Some(first) => {
                let words = match first {
                    "stepjig" => &words[1..],
                    "?" => &["help".to_owned()][..],
                    _ => &words[..],
                };
                if let Err(failure) = super::run_line(words, settings, output) {
                    output.failure(&failure);
                }
            }
        }
        if output.is_broken() {
            break;
        }
    }
    lines.keep_history(settings);
    Ok(0)
}
