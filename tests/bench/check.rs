//! How long a large guide takes: reading, linking and checking against parsing the same text into a bare table.
//!
//! Prints ratios of medians measured in one run: `cargo bench --bench check`.

use std::fmt::Write;
use std::hint::black_box;
use std::time::{Duration, Instant};

use stepjig::check::check_file;
use stepjig::finding::Source;
use stepjig::guide::{Library, Limits};

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

fn median(times: usize, mut run: impl FnMut()) -> Duration {
    let mut taken: Vec<Duration> = (0..times)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed()
        })
        .collect();
    taken.sort();
    taken[times / 2]
}

fn main() {
    let library = Library::empty().with_limits(Limits::lifted());
    let check = |text: &str| {
        let checked = check_file(&library, &Source::new("g.toml", text));
        assert!(checked.is_sound(), "{:?}", checked.findings.first());
        black_box(checked);
    };
    let (small, large) = (guide(10_000), guide(100_000));
    let bare = median(9, || drop(black_box(small.parse::<toml::Table>())));
    let ten = median(9, || check(&small));
    let hundred = median(5, || check(&large));
    let ratio = |a: Duration, b: Duration| a.as_secs_f64() / b.as_secs_f64();
    println!("bare table of 10,000 steps       {bare:>10.1?}   ({} kB)", small.len() / 1000);
    println!(
        "read, link, check  10,000 steps  {ten:>10.1?}   {:.2} times the bare table (at most 3)",
        ratio(ten, bare)
    );
    println!(
        "read, link, check 100,000 steps  {hundred:>10.1?}   {:.2} times 10,000 steps (at most 12)",
        ratio(hundred, ten)
    );
}
