//! A home folder of its own for the program, shared by the tests that run it.

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

/// The beginning of a small guide: two steps to a known kind.
#[allow(dead_code)] // not every test that runs the program walks it
const SMALL: &str = r#"
stepjig = 1
[guide]
id = "small"
title = "A small guide"
use-when = "Testing."
not-when = "Turning."
[words]
"tube.scuffed" = "the tube is scuffed"
"tube.glued" = "the tube is glued and hard"
"kind.known" = "the kind is known"
[[step]]
id = "scuff"
do = "Scuff the tube."
gives = ["tube.scuffed"]
[[step]]
id = "kind"
ask = "Which end does the tube take?"
needs = ["tube.scuffed"]
gives = ["kind.known"]
answers = [{ say = "the band end" }, { say = "the tail end" }, { say = "cannot tell", to = "lost" }]
"#;

/// The rest of it: a tube is glued; of a stranger, who writes tags.
#[allow(dead_code)] // as above
pub const GLUE: &str = r#"
[[step]]
id = "glue"
do = "Push the tube <b>home</b>."
needs = ["tube.scuffed", "kind.known"]
gives = ["tube.glued"]
[[step]]
id = "end"
end = "finished"
needs = ["tube.glued"]
[[step]]
id = "lost"
end = "scrap"
"#;

/// A home folder, gone with the test.
pub struct Home(pub PathBuf);

impl Home {
    pub fn new(name: &str) -> Home {
        let path = std::env::temp_dir().join(format!("stepjig-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).expect("a temporary folder");
        Home(path)
    }

    /// Writes a file into the folder.
    pub fn write(&self, name: &str, text: &str) {
        let path = self.0.join(name);
        std::fs::create_dir_all(path.parent().expect("it is in the folder")).expect("a folder");
        std::fs::write(path, text).expect("a file");
    }

    /// Writes a small guide that goes on with these steps, and returns the file's name.
    #[allow(dead_code)] // as above
    pub fn small(&self, steps: &str) -> &'static str {
        self.write("small.toml", &format!("{SMALL}{}", steps.trim_start()));
        "small.toml"
    }

    /// Returns the program in a plain environment, in this folder.
    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_stepjig"));
        command.args(arguments).current_dir(&self.0).env_clear();
        command.env("HOME", &self.0).env("LANG", "C.UTF-8").env("TERM", "xterm").env("TZ", "UTC");
        command
    }

    /// Runs the program with its input from a pipe, to the end.
    pub fn run(&self, arguments: &[&str], input: &str) -> Output {
        run(self.command(arguments), input)
    }
}

impl Drop for Home {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// Runs a command with its input from a pipe, to the end.
pub fn run(command: Command, input: &str) -> Output {
    let mut child = piped(command).spawn().expect("it starts");
    let mut stdin = child.stdin.take().expect("a pipe");
    // The program may end before it has read everything.
    let _ = stdin.write_all(input.as_bytes());
    drop(stdin);
    child.wait_with_output().expect("it ends")
}

/// Returns the command with pipes for its input and output.
pub fn piped(mut command: Command) -> Command {
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}
