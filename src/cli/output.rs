//! Where the program writes: results to standard output, all else to standard error.
//!
//! A reader that goes away ends the program quietly; a full disk is an error. Nothing here panics on a closed pipe.

use std::io::{ErrorKind, IsTerminal, Write};
use std::process::ExitCode;

use super::failure::Failure;
use super::screen::wrapped;
use super::settings::{self, Settings};
use crate::finding::plain_text::clean;

/// The two streams.
pub(super) struct Output {
    ascii: bool,
    broken: Option<std::io::Error>,
}

impl Output {
    pub(super) fn new() -> Output {
        Output { ascii: false, broken: None }
    }

    pub(super) fn use_settings(&mut self, settings: &Settings) {
        self.ascii = settings.ascii;
    }

    /// Writes text to standard output.
    pub(super) fn text(&mut self, text: &str) {
        let text = self.spelled(text);
        self.bytes(text.as_bytes());
    }

    /// Writes bytes to standard output as they are.
    pub(super) fn bytes(&mut self, bytes: &[u8]) {
        if self.broken.is_some() {
            return;
        }
        let mut stdout = std::io::stdout().lock();
        if let Err(wrong) = stdout.write_all(bytes).and_then(|()| stdout.flush()) {
            self.broken = Some(wrong);
        }
    }

    /// Writes a line to standard output.
    pub(super) fn line(&mut self, line: &str) {
        self.text(&format!("{line}\n"));
    }

    /// Writes running text to standard output, wrapped to the width.
    pub(super) fn paragraph(&mut self, text: &str) {
        for line in wrapped(text, settings::width(), "", "    ") {
            self.line(&line);
        }
    }

    /// Writes an entry of a list to standard output: wrapped at a terminal, on one line for a program.
    pub(super) fn entry(&mut self, entry: &str) {
        match std::io::stdout().is_terminal() {
            true => self.paragraph(entry),
            false => self.line(entry),
        }
    }

    /// Writes a line about what is going on to standard error.
    pub(super) fn aside(&self, line: &str) {
        let line = match std::io::stderr().is_terminal() {
            true => line
                .lines()
                .flat_map(|line| wrapped(line, settings::width(), "", "    "))
                .collect::<Vec<_>>()
                .join("\n"),
            false => line.to_owned(),
        };
        // Where even standard error is closed there is nobody left to tell.
        let _ = writeln!(std::io::stderr().lock(), "{}", self.spelled(&line));
    }

    /// Tells whether the reader has gone away.
    pub(super) fn is_broken(&self) -> bool {
        self.broken.is_some()
    }

    pub(super) fn failure(&self, failure: &Failure) {
        self.aside(&clean(&failure.to_string()));
    }

    /// Returns the exit code, after what became of the output is taken into account.
    pub(super) fn finish(self, code: u8) -> ExitCode {
        match &self.broken {
            Some(wrong) if wrong.kind() == ErrorKind::BrokenPipe => ExitCode::SUCCESS,
            Some(wrong) => {
                self.failure(&Failure::usage(format!("cannot write the output: {wrong}")));
                ExitCode::from(2)
            }
            None => ExitCode::from(code),
        }
    }

    fn spelled(&self, text: &str) -> String {
        if self.ascii { in_ascii(text) } else { text.to_owned() }
    }
}

/// Returns the text in ASCII: the signs stepjig uses are spelled, any other character becomes `?`.
pub(super) fn in_ascii(text: &str) -> String {
    let mut spelled = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            _ if c.is_ascii() => spelled.push(c),
            '\u{a0}' => spelled.push(' '),
            '·' | '•' => spelled.push('*'),
            '–' | '—' | '−' | '─' | '━' => spelled.push('-'),
            '…' => spelled.push_str("..."),
            '“' | '”' | '″' => spelled.push('"'),
            '‘' | '’' | '′' => spelled.push('\''),
            '×' => spelled.push('x'),
            'é' => spelled.push('e'),
            'π' => spelled.push_str("pi"),
            '²' => spelled.push_str("^2"),
            '½' => spelled.push_str("1/2"),
            '°' => spelled.push_str(" deg"),
            'µ' => spelled.push('u'),
            '±' => spelled.push_str("+-"),
            '→' => spelled.push_str("->"),
            '≤' => spelled.push_str("<="),
            '≥' => spelled.push_str(">="),
            '│' | '┃' => spelled.push('|'),
            '☐' | '□' => spelled.push_str("[ ]"),
            _ => spelled.push('?'),
        }
    }
    spelled
}
