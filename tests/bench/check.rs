//! How long a large guide takes: reading, linking and checking against parsing the same text into a bare table.
//!
//! Prints ratios of medians measured in one run, each in a fresh process: `cargo bench --bench check`.

use std::fmt::Write;
use std::hint::black_box;
use std::process::Command;
use std::time::{Duration, Instant};

use stepjig::check::check_file;
use stepjig::finding::Source;
use stepjig::guide::{Library, Limits};

const TIMES: usize = 7;

/// A made-up guide of so many steps: actions, questions, gauges, one-way steps, jumps back that undo.
fn guide(steps: usize) -> String {
    let mut text = String::from(
        "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"Made up\"\nuse-when = \"Measuring.\"\nnot-when = \"Turning.\"\n[words]\n",
    );
    for n in 0..steps {
        writeln!(text, "\"c{n}\" = \"piece {n} is ready\"").expect("a string takes it");
    }
    for n in 0..steps {
        let needs = match n {
            0 => String::new(),
            n => format!("needs = [\"c{}\", \"c{}\"]\n", n - 1, n.saturating_sub(7)),
        };
        write!(text, "\n[[step]]\nid = \"s{n}\"\n").expect("a string takes it");
        let body = match n % 10 {
            3 => format!(
                "ask = \"What does the face of piece {n} show?\"\ngives = [\"c{n}\"]\nanswers = [\n  {{ say = \"bright brass all round\" }},\n  {{ say = \"cannot tell\", to = \"s{}\", undoes = [\"c{}\"] }},\n]\n",
                n - 1,
                n - 1
            ),
            6 => format!(
                "gauge = \"Measure piece {n} with a caliper.\"\nunit = \"mm\"\nlimits = {{ min = 9.9, max = 10.1 }}\ngives = [\"c{n}\"]\nunder = {{ to = \"s{}\", undoes = [\"c{}\"] }}\nover = {{ to = \"s{}\", undoes = [\"c{}\"] }}\n",
                n - 1,
                n - 1,
                n - 1,
                n - 1
            ),
            8 => format!(
                "do = \"Press part {n} home on its shoulder.\"\none-way = true\nif-wrong = \"If it tilts, stop.\"\ngives = [\"c{n}\"]\nminutes = 3\n"
            ),
            _ => format!("do = \"Wipe piece {n} with a dry rag.\"\ngives = [\"c{n}\"]\nminutes = 2\nat = \"bench\"\n"),
        };
        text.push_str(&body);
        text.push_str(&needs);
    }
    write!(text, "\n[[step]]\nid = \"end\"\nend = \"finished\"\nneeds = [\"c{}\"]\n", steps - 1)
        .expect("a string takes it");
    text
}

/// Runs one measurement, as the only thing that its process does: a person checks a guide once, not in a warm loop.
fn once(what: &str, steps: usize) -> Duration {
    let text = guide(steps);
    let start = Instant::now();
    match what {
        "bare" => drop(black_box(text.parse::<toml::Table>())),
        _ => {
            let library = Library::empty().with_limits(Limits::lifted());
            let checked = check_file(&library, &Source::new("g.toml", text));
            assert!(checked.is_sound(), "{:?}", checked.findings.first());
            black_box(checked);
        }
    }
    start.elapsed()
}

/// Runs a measurement in a process of its own.
fn in_a_process(what: &str, steps: usize) -> Duration {
    let program = std::env::current_exe().expect("a program knows itself");
    let output = Command::new(program).args(["--once", what, &steps.to_string()]).output().expect("it runs");
    let nanos = String::from_utf8_lossy(&output.stdout);
    Duration::from_nanos(nanos.trim().parse().unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&output.stderr))))
}

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    if let [_, once_flag, what, steps] = arguments.as_slice()
        && once_flag == "--once"
    {
        println!("{}", once(what, steps.parse().expect("a number of steps")).as_nanos());
        return;
    }
    let measured = [("bare", 10_000), ("check", 10_000), ("check", 100_000)];
    let mut taken = vec![Vec::new(); measured.len()];
    for _ in 0..TIMES {
        // In turn, so that a machine that grows slower or faster does so for all of them.
        for (times, (what, steps)) in taken.iter_mut().zip(measured) {
            times.push(in_a_process(what, steps));
        }
    }
    let medians: Vec<Duration> = taken
        .iter_mut()
        .map(|times| {
            times.sort();
            times[TIMES / 2]
        })
        .collect();
    let ratio = |a: Duration, b: Duration| a.as_secs_f64() / b.as_secs_f64();
    let (bare, ten, hundred) = (medians[0], medians[1], medians[2]);
    println!("bare table of 10,000 steps       {bare:>10.1?}");
    println!(
        "read, link, check  10,000 steps  {ten:>10.1?}   {:.2} times the bare table (at most 3)",
        ratio(ten, bare)
    );
    println!(
        "read, link, check 100,000 steps  {hundred:>10.1?}   {:.2} times 10,000 steps (at most 12)",
        ratio(hundred, ten)
    );
}
