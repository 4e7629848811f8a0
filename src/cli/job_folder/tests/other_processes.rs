//! The test program starts itself again, with one of the `child_` tests and the jobs folder in a variable.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

use super::*;

const FOLDER: &str = "STEPJIG_TEST_JOBS";

fn me(child: &str) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["--exact", &format!("{}::{child}", module_path!().split_once("::").unwrap().1), "--nocapture"]);
    command
}

fn start(mut command: Command, jobs: &Jobs) -> Child {
    command.env(FOLDER, jobs.0.path()).stdin(Stdio::null()).stdout(Stdio::piped()).spawn().unwrap()
}

/// The jobs folder, in a child; `None` where the test program runs all tests.
fn parents_jobs() -> Option<JobsRoot> {
    std::env::var_os(FOLDER).map(JobsRoot::new)
}

/// Appends for ever and tells each record once it is on disk.
#[test]
fn child_that_appends() {
    let Some(jobs) = parents_jobs() else { return };
    let mut job = jobs.open::<Event>(&name("demo")).unwrap();
    loop {
        let seq = job.folder.last_safe() + 1;
        assert_eq!(job.folder.append(&note(seq), at(0)).unwrap(), seq);
        println!("recorded {seq}");
    }
}

#[test]
fn killing_a_writer_loses_nothing_that_was_said_to_be_recorded() {
    let jobs = Jobs::with_records(0);
    let times: u64 = std::env::var("STEPJIG_TEST_TIMES").map_or(1, |times| times.parse().unwrap());
    for round in 0..20 * times {
        let mut child = start(me("child_that_appends"), &jobs);
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let mut said = lines.map_while(Result::ok).filter_map(|line| line.strip_prefix("recorded ")?.parse().ok());
        let mut last: u64 = said.next().expect("a first record");
        let busy = jobs.open().map(|job| job.folder.last_safe());
        assert!(matches!(busy, Err(JobError::Busy { pid: Some(pid), .. }) if pid == child.id()), "{busy:?}");
        std::thread::sleep(Duration::from_micros(round * 1_237 % 10_000));
        child.kill().unwrap();
        child.wait().unwrap();
        last = said.last().unwrap_or(last);
        let job = jobs.open().unwrap();
        assert!(job.folder.last_safe() >= last, "record {last} was confirmed");
        assert_eq!(job.folder.store(), Store::Writable);
        for record in &job.records {
            assert_eq!(record.event, note(record.seq));
        }
    }
}

/// Adds its share, taking turns with the others.
fn add_in_turn(jobs: &JobsRoot, share: u64) {
    let mut added = 0;
    while added < share {
        match jobs.open::<Event>(&name("demo")) {
            Ok(mut job) => {
                let seq = job.folder.last_safe() + 1;
                job.folder.append(&note(seq), at(0)).unwrap();
                added += 1;
            }
            Err(JobError::Busy { .. }) => {}
            Err(other) => panic!("{other}"),
        }
    }
}

#[test]
fn child_that_takes_turns() {
    let Some(jobs) = parents_jobs() else { return };
    add_in_turn(&jobs, 15);
}

#[test]
fn many_writers_mix_no_lines() {
    let jobs = Jobs::with_records(0);
    let mut children: Vec<Child> = (0..4).map(|_| start(me("child_that_takes_turns"), &jobs)).collect();
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| add_in_turn(&jobs.0, 15));
        }
    });
    for child in &mut children {
        assert!(child.wait().unwrap().success());
    }
    let job = jobs.open().unwrap();
    assert_eq!(numbers(&job.records), Vec::from_iter(1..=120));
    assert_eq!(job.damage, []);
}

/// Appends until the disk is full, and then some.
#[test]
fn child_that_runs_out_of_room() {
    let Some(jobs) = parents_jobs() else { return };
    let mut job = jobs.open::<Event>(&name("demo")).unwrap();
    let error = loop {
        let seq = job.folder.last_safe() + 1;
        match job.folder.append(&note(seq), at(0)) {
            Ok(_) => println!("recorded {seq}"),
            Err(error) => break error,
        }
    };
    println!("first {error}");
    println!("then {}", job.folder.append(&note(""), at(0)).unwrap_err());
}

/// A limit on the size of files stands in for a full disk: it too cuts a record in the middle.
#[cfg(unix)]
#[test]
fn a_full_disk_takes_nothing_that_was_recorded() {
    let jobs = Jobs::with_records(3);
    let mut command = Command::new("sh");
    // An ignored signal stays ignored in the program started. Eight blocks of 512 bytes, or 1 KiB in some shells.
    command.args(["-c", "trap '' XFSZ; ulimit -f 8; exec \"$@\"", "sh"]);
    let child = me("child_that_runs_out_of_room");
    command.arg(child.get_program()).args(child.get_args());
    let output = start(command, &jobs).wait_with_output().unwrap();
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    let last = text.lines().filter_map(|line| line.strip_prefix("recorded ")).next_back().unwrap();
    let path = jobs.file(JOURNAL);
    let first = format!(
        "first not recorded: cannot write {}: File too large (os error 27); record {last} is the last on disk",
        path.display()
    );
    let then = format!("then not recorded since an earlier record failed; record {last} is the last on disk");
    assert!(text.lines().any(|line| line == first), "{text}");
    assert!(text.lines().any(|line| line == then), "{text}");
    // The cut record was taken off again, so there is nothing to set aside, and the next one does not glue on.
    let mut job = jobs.open().unwrap();
    assert_eq!((job.folder.last_safe().to_string().as_str(), job.damage.len()), (last, 0));
    job.folder.append(&note("room again"), at(0)).unwrap();
    drop(job);
    assert_eq!(jobs.open().unwrap().damage, []);
}
