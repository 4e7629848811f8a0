//! How long it takes to the first prompt, against the start of an empty Rust program.
//!
//! Prints the ratio of medians measured in one run, the two taken in turn: `cargo bench --bench start`.

use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use nix::pty::openpty;

const TIMES: usize = 41;

fn main() {
    let folder = std::env::temp_dir().join(format!("stepjig-bench-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a temporary folder");
    let (source, empty) = (folder.join("empty.rs"), folder.join("empty"));
    std::fs::write(&source, "fn main() {}").expect("it is written");
    let rustc = std::env::var("RUSTC").unwrap_or_else(|_| "rustc".to_owned());
    let built = Command::new(rustc).args(["-O", "-o"]).arg(&empty).arg(&source).status().expect("rustc runs");
    assert!(built.success(), "the empty program does not build");
    let (mut empties, mut prompts) = (Vec::new(), Vec::new());
    for _ in 0..TIMES {
        empties.push(to_the_end(&empty));
        prompts.push(to_the_prompt(&folder));
    }
    std::fs::remove_dir_all(&folder).expect("it can be removed");
    let median = |times: &mut Vec<Duration>| {
        times.sort();
        times[TIMES / 2]
    };
    let (empty, prompt) = (median(&mut empties), median(&mut prompts));
    let ratio = prompt.as_secs_f64() / empty.as_secs_f64();
    println!("empty program, start to end       {empty:>8.2?}");
    println!("stepjig, start to first prompt    {prompt:>8.2?}   {ratio:.2} times the empty program (at most 3)");
}

fn to_the_end(program: &Path) -> Duration {
    let start = Instant::now();
    Command::new(program).status().expect("it runs");
    start.elapsed()
}

/// Starts the program in a pseudo-terminal and waits until it asks for a verb.
fn to_the_prompt(home: &Path) -> Duration {
    let pty = openpty(None, None).expect("a pseudo-terminal");
    let slave = || Stdio::from(pty.slave.try_clone().expect("a descriptor"));
    let mut command = Command::new(env!("CARGO_BIN_EXE_stepjig"));
    command.env_clear().env("HOME", home).env("TERM", "xterm").env("LANG", "C.UTF-8");
    command.stdin(slave()).stdout(slave()).stderr(slave());
    let mut master = File::from(pty.master.try_clone().expect("a descriptor"));
    let start = Instant::now();
    let mut child = command.spawn().expect("it starts");
    let (mut shown, mut piece) = (Vec::new(), [0; 4096]);
    while !shown.windows(8).any(|eight| eight == b"stepjig>") {
        let n = master.read(&mut piece).expect("it shows something");
        shown.extend_from_slice(&piece[..n]);
    }
    let taken = start.elapsed();
    child.kill().expect("it can be killed");
    child.wait().expect("it is gone");
    taken
}
