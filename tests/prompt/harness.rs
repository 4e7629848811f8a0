//! A terminal without a person: the program runs in it, keys go in, and what stands on its screen is read.
//!
//! Nothing here sleeps and hopes: a test waits for a text, and fails with the screen in its message if it never comes.

use std::fs::File;
use std::io::{Read, Write};
use std::os::fd::OwnedFd;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use nix::pty::{Winsize, openpty};
use nix::sys::termios::{Termios, tcgetattr};

use super::home::Home;

/// A test that takes longer than this has hung.
const MOST: Duration = Duration::from_secs(60);

/// How often a thing that tells nobody when it happens is looked at.
const LOOK: Duration = Duration::from_millis(10);

/// Written after the program's last word: a command of a terminal's own (ECMA-48, OSC) that draws nothing.
const END: &[u8] = b"\x1b]0;end\x07";

pub const TAB: &str = "\t";
pub const ENTER: &str = "\r";
pub const CTRL_C: &str = "\u{3}";
pub const CTRL_D: &str = "\u{4}";

impl Home {
    /// Runs the program in a terminal of 80 columns and 24 rows.
    pub fn terminal(&self, arguments: &[&str]) -> Terminal {
        Terminal::start(self.command(arguments), 80, 24)
    }

    /// Returns the lines of a job's journal.
    pub fn journal(&self, job: &str) -> Vec<String> {
        let path = self.0.join(".local/share/stepjig/jobs").join(job).join("journal.jsonl");
        std::fs::read_to_string(path).unwrap_or_default().lines().map(str::to_owned).collect()
    }
}

/// The program in a terminal.
pub struct Terminal {
    child: Child,
    master: File,
    /// Held so that the terminal's settings can be read after the program has gone.
    slave: OwnedFd,
    written: Receiver<Vec<u8>>,
    raw: Vec<u8>,
    parser: vt100::Parser,
    settings_before: Termios,
    deadline: Instant,
}

impl Terminal {
    /// Starts a command in a terminal of this size.
    pub fn start(mut command: Command, columns: u16, rows: u16) -> Terminal {
        let size = Winsize { ws_row: rows, ws_col: columns, ws_xpixel: 0, ws_ypixel: 0 };
        let pair = openpty(&size, None).expect("a pseudo-terminal");
        let settings_before = tcgetattr(&pair.slave).expect("a terminal has settings");
        let end = || Stdio::from(pair.slave.try_clone().expect("a descriptor"));
        let child = command.stdin(end()).stdout(end()).stderr(end()).spawn().expect("it starts");
        let master = File::from(pair.master);
        let (send, written) = channel();
        let mut reader = master.try_clone().expect("a descriptor");
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(n @ 1..) = reader.read(&mut bytes) {
                if send.send(bytes[..n].to_vec()).is_err() {
                    return;
                }
            }
        });
        // The terminal that watches cannot draw a screen as small as the program is told it has.
        let parser = vt100::Parser::new(rows.max(4), columns.max(20), 0);
        let deadline = Instant::now() + MOST;
        Terminal { child, master, slave: pair.slave, written, raw: Vec::new(), parser, settings_before, deadline }
    }

    /// Presses keys.
    pub fn press(&mut self, keys: &str) {
        self.master.write_all(keys.as_bytes()).expect("the terminal takes keys");
    }

    /// Types a line and Enter.
    pub fn type_line(&mut self, line: &str) {
        self.press(&format!("{line}{ENTER}"));
    }

    /// Returns what stands on the screen, a line a row, without spaces at the ends.
    pub fn rows(&self) -> Vec<String> {
        let (_, columns) = self.parser.screen().size();
        self.parser.screen().rows(0, columns).map(|row| row.trim_end().to_owned()).collect()
    }

    /// Returns the screen as text, without the empty rows at its end.
    pub fn screen(&self) -> String {
        let text = self.rows().join("\n");
        format!("{}\n", text.trim_end())
    }

    /// Returns the screen's text as running text, to look for sentences that are wrapped.
    pub fn said(&self) -> String {
        self.screen().split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// Returns the row that the cursor stands on.
    pub fn cursor_row(&self) -> String {
        let (row, _) = self.parser.screen().cursor_position();
        self.rows().get(usize::from(row)).cloned().unwrap_or_default()
    }

    /// Returns every byte written so far.
    pub fn raw(&self) -> &[u8] {
        &self.raw
    }

    /// Waits until the screen says this, wrapped as it may be.
    pub fn wait_for(&mut self, text: &str) {
        self.wait_until(text, |terminal| terminal.said().contains(text));
    }

    /// Waits until the cursor stands after this prompt and nothing is typed.
    pub fn wait_for_prompt(&mut self, prompt: &str) {
        self.wait_until(prompt, |terminal| terminal.cursor_row() == prompt.trim_end());
    }

    /// Waits until something is so.
    pub fn wait_until(&mut self, what: &str, is_so: impl Fn(&Terminal) -> bool) {
        while !is_so(self) {
            assert!(Instant::now() < self.deadline, "`{what}` never came:\n{}", self.screen());
            self.look(LOOK);
        }
    }

    /// Presses Enter until the screen says this: an Enter soon after a screen was drawn does nothing.
    pub fn enter_until(&mut self, text: &str) {
        while !self.said().contains(text) {
            assert!(Instant::now() < self.deadline, "Enter never led to `{text}`:\n{}", self.screen());
            self.press(ENTER);
            self.look(Duration::from_millis(100));
        }
    }

    /// Takes in what the program has written, if it writes something within a time.
    fn look(&mut self, most: Duration) {
        let mut next = self.written.recv_timeout(most).ok();
        while let Some(bytes) = next {
            self.raw.extend_from_slice(&bytes);
            self.parser.process(&bytes);
            next = self.written.try_recv().ok();
        }
    }

    /// Waits for the program's end, and for all that it wrote; returns its exit code.
    pub fn wait_for_end(&mut self) -> Option<i32> {
        let code = loop {
            if let Some(status) = self.child.try_wait().expect("it can be waited for") {
                break status.code();
            }
            assert!(Instant::now() < self.deadline, "it never ends:\n{}", self.screen());
            self.look(LOOK);
        };
        // What stands before the mark in the terminal is all there is; the process was gone before it was written.
        nix::unistd::write(&self.slave, END).expect("the terminal takes a mark");
        self.wait_until("the end", |terminal| terminal.raw.ends_with(END));
        self.raw.truncate(self.raw.len() - END.len());
        code
    }

    /// Tells whether the terminal's settings are as they were before the program began.
    pub fn settings_are_as_before(&self) -> bool {
        tcgetattr(&self.slave).is_ok_and(|now| now == self.settings_before)
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        // A test that failed leaves no program behind.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Tells whether the bytes ask a terminal for bold, dim or coloured letters.
pub fn has_colour(bytes: &[u8]) -> bool {
    let begins = bytes.windows(2).enumerate().filter(|(_, two)| two == b"\x1b[").map(|(at, _)| at + 2);
    let ends = begins.filter_map(|at| bytes[at..].iter().find(|byte| byte.is_ascii_alphabetic()));
    ends.into_iter().any(|end| *end == b'm')
}
