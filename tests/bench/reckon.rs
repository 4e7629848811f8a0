//! How long each reckoning takes from the shell, its start included, against `stepjig --version`.
//!
//! Prints ratios of medians measured in one run, all taken in turn: `cargo bench --bench reckon`.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const TIMES: usize = 201;

const RECKONINGS: [&str; 11] = [
    "blank-cut blank=130mm pieces=52mm,40mm allowance=1.5mm kerf=2mm",
    "cure glue=epoxy rated=24h temperature=15C",
    "drill-for tube=10.30mm",
    "grain-match kerf=2mm squared-off=3mm band=2.5mm slant=20 cap=13mm lean=clockwise",
    "lathe-speed diameter=20mm speed=2000",
    "open-time seat=6s open=90s temperature=26C vapour=no",
    "press-fit part=9.52mm tube-in=9.48mm tube-out=10.2mm wood-out=13mm wood=not-sure e=1GPa length=6mm",
    "thread-stop pitch=0.8mm starts=3 turns=1.6 off=40 diameter=14mm",
    "tube-gap tube=9.70mm hole=25/64in length=52mm",
    "wall bushing=13.1mm hole=25/64in",
    "wood-move wood=black-cherry width=12mm from=20C/65% to=21C/30%",
];

fn main() {
    let home = std::env::temp_dir().join(format!("stepjig-bench-reckon-{}", std::process::id()));
    std::fs::create_dir_all(&home).expect("a temporary folder");
    let lines: Vec<Vec<&str>> = std::iter::once("--version")
        .map(|version| vec![version])
        .chain(RECKONINGS.map(|line| ["reckon"].into_iter().chain(line.split(' ')).collect()))
        .collect();
    let mut taken: Vec<Vec<Duration>> = vec![Vec::new(); lines.len()];
    for _ in 0..TIMES {
        for (line, taken) in lines.iter().zip(&mut taken) {
            taken.push(to_the_end(line, &home));
        }
    }
    std::fs::remove_dir_all(&home).expect("it can be removed");
    let medians: Vec<Duration> = taken
        .into_iter()
        .map(|mut times| {
            times.sort();
            times[TIMES / 2]
        })
        .collect();
    println!("stepjig --version       {:>8.2?}", medians[0]);
    for (line, median) in lines.iter().zip(&medians).skip(1) {
        let ratio = median.as_secs_f64() / medians[0].as_secs_f64();
        println!("reckon {:<15}  {median:>8.2?}   {ratio:.2} times that (at most 1.2)", line[1]);
    }
}

fn to_the_end(arguments: &[&str], home: &Path) -> Duration {
    let mut command = Command::new(env!("CARGO_BIN_EXE_stepjig"));
    command.args(arguments).current_dir(home).env_clear().env("HOME", home).env("LANG", "C.UTF-8");
    command.stdout(Stdio::null());
    let start = Instant::now();
    let status = command.status().expect("it runs");
    let taken = start.elapsed();
    assert!(status.success(), "{arguments:?} comes to no result");
    taken
}
