//! The one place where the oracle's tests touch the program; all else compares plain data.
//!
//! Deliberately thin: it runs the binary and reads the JSON it prints.

use std::path::PathBuf;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::{env, fs, process};

use serde_json::Value;

use super::flow::Finding;

/// Returns what `check` finds in the guide file `toml`, whose id is `g`.
pub fn findings(toml: &str) -> Vec<Finding> {
    let answer = run(toml, |file| vec!["check".into(), "--format".into(), "json".into(), file]);
    let answer = answer.expect("`check` answers in JSON");
    let guides = answer["guides"].as_array().expect("`guides` is a list");
    guides.iter().flat_map(|guide| guide["findings"].as_array().expect("`findings` is a list")).map(read).collect()
}

/// Returns where to pick up again with `held`: the step, the minutes, and the steps that are done again.
pub fn rejoin(toml: &str, held: &[&str]) -> Option<(String, f64, Vec<String>)> {
    let answer = run(toml, |file| {
        let held = held.iter().map(|c| c.to_string());
        ["rejoin".into(), file].into_iter().chain(held).chain(["--format".into(), "json".into()]).collect()
    })?;
    Some((text(&answer["step"])?, answer["minutes"].as_f64()?, texts(&answer["again"])?))
}

fn run(toml: &str, arguments: impl Fn(String) -> Vec<String>) -> Option<Value> {
    static RUNS: AtomicUsize = AtomicUsize::new(0);
    let run = RUNS.fetch_add(1, Ordering::Relaxed);
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("oracle-{}-{run}", process::id()));
    fs::create_dir_all(&folder).expect("a folder for the guide");
    let file = folder.join("g.toml");
    fs::write(&file, toml).expect("the guide is written");
    let mut program = Command::new(env!("CARGO_BIN_EXE_stepjig"));
    let output = program.args(arguments(file.display().to_string())).output().expect("the program runs");
    fs::remove_dir_all(&folder).expect("the folder is removed");
    serde_json::from_slice(&output.stdout).ok()
}

fn read(finding: &Value) -> Finding {
    let code = text(&finding["code"]).expect("a finding has a code");
    let (step, condition) = (text(&finding["step"]), text(&finding["condition"]));
    Finding { code, step, condition, walk: texts(&finding["walk"]) }
}

fn text(value: &Value) -> Option<String> {
    value.as_str().map(str::to_owned)
}

fn texts(value: &Value) -> Option<Vec<String>> {
    value.as_array()?.iter().map(text).collect()
}
