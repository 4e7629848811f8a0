//! Job folders on a real disk, in a folder of the test's own.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use serde::{Deserialize, Serialize};

use super::*;
use crate::walk::journal::{Refused, Why, encode};

mod other_processes;

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
enum Event {
    Note(String),
    Weight(f64),
}

fn note(text: impl ToString) -> Event {
    Event::Note(text.to_string())
}

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_764_068_100 + second).unwrap()
}

fn name(text: &str) -> JobName {
    text.parse().unwrap()
}

/// A jobs folder that goes when the test is over.
struct Jobs(JobsRoot);

impl Jobs {
    fn new() -> Jobs {
        Jobs(JobsRoot::new(std::env::temp_dir().join(format!("stepjig-jobs-{}", unique()))))
    }

    /// A job `demo` with this many records.
    fn with_records(records: u64) -> Jobs {
        let jobs = Jobs::new();
        let mut folder = jobs.0.create(&name("demo"), "guide").unwrap();
        for seq in 1..=records {
            assert_eq!(folder.append(&note(seq), at(0)).unwrap(), seq);
        }
        jobs
    }

    fn file(&self, file: &str) -> PathBuf {
        self.0.path().join("demo").join(file)
    }

    fn open(&self) -> Result<OpenJob<Event>, JobError> {
        self.0.open(&name("demo"))
    }

    /// All files of the job but the lock, with what is in them.
    fn files(&self) -> Vec<(String, Vec<u8>)> {
        let entries = fs::read_dir(self.0.path().join("demo")).unwrap();
        let mut files: Vec<_> = entries
            .map(|entry| entry.unwrap())
            .map(|entry| (entry.file_name().into_string().unwrap(), fs::read(entry.path()).unwrap()))
            .filter(|(name, _)| name != "lock")
            .collect();
        files.sort();
        files
    }

    fn file_names(&self) -> Vec<String> {
        self.files().into_iter().map(|(name, _)| name).collect()
    }
}

impl Drop for Jobs {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(self.0.path());
    }
}

fn numbers(records: &[Record<Event>]) -> Vec<u64> {
    records.iter().map(|record| record.seq).collect()
}

#[test]
fn what_was_recorded_is_there_again() {
    let jobs = Jobs::new();
    let mut folder = jobs.0.create(&name("demo"), "stepjig = 1\n# ünd\n").unwrap();
    assert_eq!(folder.store(), Store::Writable);
    assert_eq!(folder.last_safe(), 0);
    assert_eq!(folder.path(), jobs.0.path().join("demo"));
    assert_eq!(folder.name().as_str(), "demo");
    assert_eq!(folder.append(&note("cap"), at(0)).unwrap(), 1);
    assert_eq!(folder.append(&note("body"), at(-86_400)).unwrap(), 2);
    drop(folder);
    let mut job = jobs.open().unwrap();
    assert_eq!(job.guide, "stepjig = 1\n# ünd\n");
    assert_eq!(job.folder.last_safe(), 2);
    assert_eq!(job.folder.append(&note("clip"), at(9)).unwrap(), 3);
    drop(job);
    let job = jobs.open().unwrap();
    let expected = [(1, at(0), "cap"), (2, at(-86_400), "body"), (3, at(9), "clip")];
    assert_eq!(job.records, expected.map(|(seq, at, text)| Record { seq, at, event: note(text) }));
    assert_eq!((job.damage, job.set_aside), (vec![], None));
    assert_eq!(jobs.file_names(), ["guide.toml", "journal.jsonl"]);
    let left: Vec<_> = fs::read_dir(jobs.0.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(left, ["demo"], "no draft is left");
}

#[test]
fn a_job_is_begun_once() {
    let jobs = Jobs::with_records(2);
    let before = jobs.files();
    let error = jobs.0.create(&name("demo"), "other").unwrap_err();
    assert_eq!(error.to_string(), "there is already a job named `demo`");
    assert_eq!(jobs.files(), before);
    fs::write(jobs.0.path().join("file"), "").unwrap();
    assert!(matches!(jobs.0.create(&name("file"), "x"), Err(JobError::Exists { .. })));
    // The system itself would put the job in the place of an empty folder.
    fs::create_dir(jobs.0.path().join("folder")).unwrap();
    assert!(matches!(jobs.0.create(&name("folder"), "x"), Err(JobError::Exists { .. })));
    assert_eq!(fs::read_dir(jobs.0.path()).unwrap().count(), 3, "no draft is left");
}

#[test]
fn of_many_who_begin_a_job_at_once_one_does() {
    let jobs = Jobs::new();
    let begun = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..8).map(|_| scope.spawn(|| jobs.0.create(&name("demo"), "x"))).collect();
        let results = threads.into_iter().map(|thread| thread.join().unwrap());
        // All are kept until the last has ended, so that no lock is let go early.
        let results: Vec<_> = results.collect();
        for result in &results {
            assert!(matches!(result, Ok(_) | Err(JobError::Exists { .. })), "{result:?}");
        }
        results.iter().filter(|result| result.is_ok()).count()
    });
    assert_eq!(begun, 1);
    assert_eq!(fs::read_dir(jobs.0.path()).unwrap().count(), 1, "no draft is left");
}

#[test]
fn what_is_not_a_job_is_said() {
    let jobs = Jobs::with_records(1);
    let missing = jobs.0.open::<Event>(&name("dmeo")).unwrap_err();
    assert_eq!(missing.to_string(), "no job is named `dmeo`");
    fs::remove_file(jobs.file(GUIDE)).unwrap();
    let said = jobs.open().unwrap_err().to_string();
    let path = jobs.file(GUIDE);
    assert_eq!(said, format!("cannot read {}: No such file or directory (os error 2)", path.display()));
    fs::write(&path, b"\xff").unwrap();
    let said = jobs.open().unwrap_err().to_string();
    assert_eq!(said, format!("cannot read {}: it is not UTF-8 text", path.display()));
    let large = fs::File::create(&path).unwrap();
    large.set_len(MOST_GUIDE_BYTES + 1).unwrap();
    let said = jobs.open().unwrap_err().to_string();
    assert_eq!(said, format!("cannot read {}: it has more than 16777216 bytes", path.display()));
    large.set_len(MOST_GUIDE_BYTES).unwrap();
    assert_eq!(jobs.open().unwrap().guide.len() as u64, MOST_GUIDE_BYTES);
}

#[test]
fn an_open_job_is_busy() {
    let jobs = Jobs::with_records(3);
    let first = jobs.open().unwrap();
    let started = Instant::now();
    let error = jobs.open().unwrap_err();
    assert!(started.elapsed() < Duration::from_secs(1));
    assert_eq!(error.to_string(), format!("job `demo` is open in another stepjig (pid {})", std::process::id()));
    assert!(matches!(jobs.0.repair::<Event>(&name("demo")), Err(JobError::Busy { .. })));
    // Reading is always possible.
    let read = jobs.0.open_read_only::<Event>(&name("demo")).unwrap();
    assert_eq!((numbers(&read.journal.records), read.guide.as_str()), (vec![1, 2, 3], "guide"));
    assert_eq!(jobs.0.list::<Event>().unwrap()[0].open_in, OpenIn::Process(Some(std::process::id())));
    drop(first);
    assert_eq!(jobs.0.list::<Event>().unwrap()[0].open_in, OpenIn::Nothing);
    assert_eq!(fs::read(jobs.file(LOCK)).unwrap(), b"");
    jobs.open().unwrap();
}

/// A lock file that came along with a copied folder, or that a crash left, holds nobody out.
#[test]
fn the_lock_is_the_systems_and_not_a_file() {
    let jobs = Jobs::with_records(1);
    fs::write(jobs.file(LOCK), "1\n").unwrap();
    jobs.open().unwrap();
    fs::remove_file(jobs.file(LOCK)).unwrap();
    let _held = jobs.open().unwrap();
    assert!(matches!(jobs.open(), Err(JobError::Busy { pid: Some(pid), .. }) if pid == std::process::id()));
    fs::write(jobs.file(LOCK), "no number").unwrap();
    let error = jobs.open().unwrap_err();
    assert_eq!(error.to_string(), "job `demo` is open in another stepjig");
}

#[test]
fn a_torn_tail_is_set_aside_and_said() {
    let jobs = Jobs::with_records(3);
    let whole = fs::read(jobs.file(JOURNAL)).unwrap();
    let tear = |bytes: &[u8]| fs::write(jobs.file(JOURNAL), [&whole[..], bytes].concat()).unwrap();
    tear(b"{\"v\":1,\"jo");
    // Reading changes nothing.
    let before = jobs.files();
    let read = jobs.0.open_read_only::<Event>(&name("demo")).unwrap();
    let torn = Damage::TornTail { byte: whole.len() as u64, bytes: 10, record: 4 };
    assert_eq!(read.journal.damage, std::slice::from_ref(&torn));
    assert_eq!(jobs.files(), before);

    let job = jobs.open().unwrap();
    let set_aside = SetAside { path: jobs.file("journal.torn-4"), record: 4, byte: whole.len() as u64, bytes: 10 };
    assert_eq!(job.set_aside, Some(set_aside.clone()));
    assert_eq!(job.damage, [torn]);
    assert_eq!(numbers(&job.records), [1, 2, 3]);
    assert_eq!(fs::read(&set_aside.path).unwrap(), b"{\"v\":1,\"jo");
    assert_eq!(fs::read(jobs.file(JOURNAL)).unwrap(), whole);
    drop(job);

    // The same bytes again: a crash between copying and cutting. Then others.
    tear(b"{\"v\":1,\"jo");
    assert_eq!(jobs.open().unwrap().set_aside, Some(set_aside.clone()));
    tear(b"{\"v\":1,\"xx");
    let second = SetAside { path: jobs.file("journal.torn-4-2"), ..set_aside };
    assert_eq!(jobs.open().unwrap().set_aside, Some(second));
    assert_eq!(jobs.file_names(), ["guide.toml", "journal.jsonl", "journal.torn-4", "journal.torn-4-2"]);

    // The next record does not glue on.
    tear(b"{\"v\":1,\"jo");
    assert_eq!(jobs.open().unwrap().folder.append(&note(4), at(0)).unwrap(), 4);
    let job = jobs.open().unwrap();
    assert_eq!((numbers(&job.records), job.damage), (vec![1, 2, 3, 4], vec![]));
}

#[test]
fn damage_elsewhere_opens_read_only_and_changes_nothing() {
    let jobs = Jobs::with_records(3);
    let text = fs::read_to_string(jobs.file(JOURNAL)).unwrap().replacen("\"Note\":\"2\"", "\"Note\":\"7\"", 1);
    fs::write(jobs.file(JOURNAL), text + "{\"v\"").unwrap();
    let before = jobs.files();
    let mut job = jobs.open().unwrap();
    assert_eq!(numbers(&job.records), [1, 3]);
    assert!(matches!(&job.damage[..], [Damage::Middle { record: 2, why: Why::Checksum, .. }, Damage::TornTail { .. }]));
    assert_eq!((job.folder.store(), job.set_aside.take()), (Store::ReadOnly, None));
    let error = job.folder.append(&note(4), at(0)).unwrap_err();
    assert_eq!(error.to_string(), "not recorded: the journal is damaged and only read");
    assert_eq!(job.folder.last_safe(), 3);
    assert_eq!(jobs.files(), before);
    assert!(matches!(jobs.open(), Err(JobError::Busy { .. })), "it is locked all the same");
}

#[test]
fn what_is_too_new_or_too_large_is_refused_and_left_alone() {
    let jobs = Jobs::with_records(1);
    let front = "{\"v\":2,\"job\":\"demo\"";
    let sum = crc32fast::hash(format!("{front}}}").as_bytes());
    let text = fs::read_to_string(jobs.file(JOURNAL)).unwrap();
    for newer in [format!("{front},\"crc\":\"{sum:08x}\"}}\n"), front.to_owned()] {
        fs::write(jobs.file(JOURNAL), format!("{text}{newer}")).unwrap();
        let before = jobs.files();
        let said = format!(
            "cannot read {}: line 2 is in journal format 2, which needs a newer stepjig",
            jobs.file(JOURNAL).display()
        );
        assert_eq!(jobs.open().unwrap_err().to_string(), said);
        assert_eq!(jobs.0.open_read_only::<Event>(&name("demo")).unwrap_err().to_string(), said);
        assert_eq!(jobs.0.repair::<Event>(&name("demo")).unwrap_err().to_string(), said);
        assert_eq!(jobs.files(), before);
    }
    fs::OpenOptions::new().write(true).open(jobs.file(JOURNAL)).unwrap().set_len((64 << 20) + 5).unwrap();
    let why = Refused::TooLong { bytes: (64 << 20) + 5, most: 64 << 20 };
    assert!(matches!(jobs.open(), Err(JobError::Refused { why: found, .. }) if found == why));
    // It can be opened again at once: nothing that failed kept the lock.
    fs::write(jobs.file(JOURNAL), text).unwrap();
    jobs.open().unwrap();
}

/// A reader of a pipe or a socket would wait for somebody to write.
#[cfg(unix)]
#[test]
fn what_is_not_a_regular_file_is_not_opened() {
    for file in [GUIDE, JOURNAL, LOCK] {
        let jobs = Jobs::with_records(1);
        fs::remove_file(jobs.file(file)).unwrap();
        let _socket = std::os::unix::net::UnixListener::bind(jobs.file(file)).unwrap();
        let said = jobs.open().unwrap_err().to_string();
        assert_eq!(said, format!("cannot open {}: it is not a regular file", jobs.file(file).display()));
        jobs.0.list::<Event>().unwrap();
    }
}

/// Whatever somebody else does to the journal while we have it open, we notice before we write, and write no more.
#[test]
fn a_journal_changed_by_another_program_gets_no_more_records() {
    type Change = fn(&Path);
    let changes: [(&str, Change); 5] = [
        ("grown", |path| {
            fs::write(path, [&fs::read(path).unwrap()[..], b"x"].concat()).unwrap();
        }),
        ("shortened", |path| {
            let bytes = fs::read(path).unwrap();
            fs::write(path, &bytes[..bytes.len() - 1]).unwrap();
        }),
        ("another file with the same bytes", |path| {
            let bytes = fs::read(path).unwrap();
            fs::rename(path, path.with_extension("old")).unwrap();
            fs::write(path, bytes).unwrap();
        }),
        ("another last checksum", |path| {
            let mut bytes = fs::read(path).unwrap();
            let place = bytes.len() - 4;
            bytes[place] ^= 1;
            fs::write(path, bytes).unwrap();
        }),
        ("gone", |path| fs::remove_file(path).unwrap()),
    ];
    for (what, change) in changes {
        let jobs = Jobs::with_records(2);
        let mut job = jobs.open().unwrap();
        job.folder.append(&note(3), at(0)).unwrap();
        change(&jobs.file(JOURNAL));
        let before = jobs.files();
        let said = job.folder.append(&note(4), at(0)).unwrap_err().to_string();
        let path = jobs.file(JOURNAL);
        assert_eq!(
            said,
            format!("not recorded: another program changed {}; record 3 is the last on disk", path.display()),
            "{what}"
        );
        assert_eq!(jobs.files(), before, "{what}");
        assert_eq!(job.folder.store(), Store::Broken, "{what}");
        let said = job.folder.append(&note(4), at(0)).unwrap_err().to_string();
        assert_eq!(said, "not recorded since an earlier record failed; record 3 is the last on disk");
    }
}

#[test]
fn what_could_not_be_read_back_is_not_recorded() {
    let jobs = Jobs::with_records(1);
    let mut job = jobs.open().unwrap();
    let before = jobs.files();
    let said = job.folder.append(&Event::Weight(f64::NAN), at(0)).unwrap_err().to_string();
    assert!(said.starts_with("not recorded: the event cannot be written as JSON: "), "{said}");
    let said = job.folder.append(&note("x".repeat(70_000)), at(0)).unwrap_err().to_string();
    assert_eq!(said, "not recorded: the record is too long: 70094 bytes, and 65536 is the most");
    assert_eq!(jobs.files(), before);
    // These say nothing against the next one.
    assert_eq!(job.folder.store(), Store::Writable);
    assert_eq!(job.folder.append(&Event::Weight(0.1), at(0)).unwrap(), 2);
}

#[test]
fn the_list_shows_each_job_and_what_is_wrong_with_it() {
    let jobs = Jobs::new();
    assert_eq!(jobs.0.list::<Event>().unwrap().len(), 0, "no folder, no jobs");
    assert!(!jobs.0.path().exists(), "and none is made");
    for job in ["walnut", "empty", "b-torn", "gone"] {
        jobs.0.create(&name(job), "x").unwrap();
    }
    let line = |job, seq| encode(job, &Record { seq, at: at(60), event: note(seq) }).unwrap();
    let write = |job: &str, text: &str| fs::write(jobs.0.path().join(job).join(JOURNAL), text).unwrap();
    write("walnut", &(line("walnut", 1) + &line("walnut", 2)));
    write("b-torn", &(line("b-torn", 1) + "{"));
    fs::remove_file(jobs.0.path().join("gone").join(JOURNAL)).unwrap();
    fs::create_dir(jobs.0.path().join(".new-x")).unwrap();
    fs::create_dir(jobs.0.path().join("not a job")).unwrap();
    fs::write(jobs.0.path().join("file"), "").unwrap();
    let shown: Vec<String> = jobs
        .0
        .list::<Event>()
        .unwrap()
        .iter()
        .map(|job| {
            let name = &job.name;
            match &job.state {
                JobState::Read { records, last, damage } => format!("{name} {records} {last:?} {}", damage.len()),
                JobState::Unreadable(error) => format!("{name}: {error}"),
            }
        })
        .collect();
    let gone = jobs.0.path().join("gone").join(JOURNAL);
    assert_eq!(
        shown,
        [
            format!("b-torn 1 Some({}) 1", at(60)),
            "empty 0 None 0".to_owned(),
            format!("gone: cannot read {}: No such file or directory (os error 2)", gone.display()),
            format!("walnut 2 Some({}) 0", at(60)),
        ]
    );
}

#[test]
fn a_repair_keeps_what_was_before_the_damage_and_the_damaged_file() {
    let jobs = Jobs::with_records(4);
    let repair = || jobs.0.repair::<Event>(&name("demo"));
    assert_eq!(repair().unwrap_err().to_string(), "the journal of job `demo` needs no repair");
    let whole = fs::read_to_string(jobs.file(JOURNAL)).unwrap();
    let damaged = whole.replacen("\"Note\":\"2\"", "\"Note\":\"7\"", 1);
    for n in 1..3 {
        fs::write(jobs.file(JOURNAL), &damaged).unwrap();
        let done = repair().unwrap();
        let kept = jobs.file(&format!("journal.damaged-{n}"));
        assert_eq!((&done.damaged, done.kept, done.left, done.damage.len()), (&kept, 1, 2, 1));
        assert_eq!(fs::read_to_string(&kept).unwrap(), damaged);
        assert_eq!(fs::read_to_string(jobs.file(JOURNAL)).unwrap(), whole.split_inclusive('\n').next().unwrap());
    }
    let job = jobs.open().unwrap();
    assert_eq!((job.folder.store(), job.damage), (Store::Writable, vec![]));
    let events: Vec<_> = job.records.into_iter().map(|record| (record.seq, record.event)).collect();
    assert_eq!(events, [(1, note(1))]);
}
