//! The journal read back after everything that can happen to a file.

use jiff::Timestamp;
use proptest::prelude::*;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use stepjig::walk::journal::{Damage, Journal, Limits, Record, Refused, Why, decode, decode_within, encode};

/// Written by another program (its checksums are zlib's), never by `encode`: what format 1 means, for ever.
const GOLDEN: &[u8] = include_bytes!("data/journal-v1.jsonl");

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Event {
    Done { step: String },
    Note(String),
}

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_764_068_100 + second).unwrap()
}

fn line(job: &str, seq: u64) -> String {
    let event = match seq % 7 {
        0 => Event::Note(format!("the cap is {seq} hundredths \"proud\"\nof its rim, é")),
        _ => Event::Done { step: format!("glue-body/step-{seq}") },
    };
    encode(job, &Record { seq, at: at(60 * seq.cast_signed()), event }).unwrap()
}

/// The journal of `demo` with these numbers.
fn journal(numbers: impl IntoIterator<Item = u64>) -> String {
    numbers.into_iter().map(|seq| line("demo", seq)).collect()
}

/// A line with a right checksum around any text.
fn signed(front: &str) -> String {
    let sum = crc32fast::hash(format!("{front}}}").as_bytes());
    format!("{front},\"crc\":\"{sum:08x}\"}}\n")
}

fn read(bytes: &[u8]) -> Journal<Event> {
    decode(bytes, "demo").unwrap()
}

fn numbers<E>(journal: &Journal<E>) -> Vec<u64> {
    journal.records.iter().map(|record| record.seq).collect()
}

/// Reads `text` and compares the numbers of the records kept and all that is said of the damage.
#[track_caller]
fn check(text: impl AsRef<[u8]>, kept: &[u64], damage: &[&str]) -> Journal<Event> {
    let journal = read(text.as_ref());
    assert_eq!(numbers(&journal), kept);
    let said: Vec<String> = journal.damage.iter().map(Damage::to_string).collect();
    assert_eq!(said, damage);
    journal
}

#[test]
fn format_1_is_read_for_ever() {
    let journal = decode::<Value>(GOLDEN, "walnut-gift.2").unwrap();
    assert_eq!(journal.damage, []);
    let expected = [
        ("2026-11-25T10:55:00Z", json!("begun")),
        ("2026-11-25T10:55:00.123456789Z", json!({"done": {"step": "glue-body/scuff"}})),
        ("2026-11-25T10:54:00Z", json!({"reading": {"gauge": "measure-body", "said": "25/64 in", "value": 9.921875}})),
        ("2026-11-25T11:00:00Z", json!({"note": "café, \"quoted\", line\nend, \0 and \u{2028}"})),
        ("2036-11-25T11:00:00Z", json!(null)),
        ("2026-11-25T11:00:00Z", json!([1, -2, 3.5, true, []])),
        ("1999-12-31T23:59:59Z", json!({"wait": {"due": "2026-11-26T10:55:00Z", "for": "glue"}})),
        ("2026-03-29T01:30:00Z", json!({})),
    ];
    let expected: Vec<_> =
        (1..).zip(expected).map(|(seq, (at, event))| Record { seq, at: at.parse().unwrap(), event }).collect();
    assert_eq!(journal.records, expected);
    assert_eq!(journal.whole_bytes(), GOLDEN.len() as u64);
    assert!(journal.may_go_on());
}

#[test]
fn format_1_is_still_written() {
    let journal = decode::<Value>(GOLDEN, "walnut-gift.2").unwrap();
    let lines: Vec<&str> = std::str::from_utf8(GOLDEN).unwrap().split_inclusive('\n').collect();
    for (record, line) in journal.records.iter().zip(lines) {
        assert_eq!(encode("walnut-gift.2", record).unwrap(), line);
    }
}

#[test]
fn an_empty_journal_is_in_order() {
    let journal = check("", &[], &[]);
    assert!(journal.may_go_on());
    assert_eq!((journal.whole_bytes(), journal.last_seq()), (0, 0));
}

/// The order is the numbers': clocks go back by a day, ahead by ten years, and through both nights of summer time.
#[test]
fn times_may_go_back() {
    let times = [at(0), at(-86_400), at(315_360_000), "2026-03-29T00:59:59Z".parse().unwrap(), at(1), at(1)];
    let text: String = (1..)
        .zip(times)
        .map(|(seq, at)| encode("demo", &Record { seq, at, event: Event::Note(String::new()) }).unwrap())
        .collect();
    let journal = check(&text, &[1, 2, 3, 4, 5, 6], &[]);
    assert_eq!(journal.records.iter().map(|record| record.at).collect::<Vec<_>>(), times);
}

/// Where lines begin, and the length.
fn starts(text: &str) -> Vec<usize> {
    let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1);
    std::iter::once(0).chain(ends).collect()
}

#[test]
fn a_cut_loses_the_cut_record_and_nothing_else() {
    let text = journal(1..=500);
    let starts = starts(&text);
    let whole = read(text.as_bytes());
    assert_eq!(whole.records.len(), 500);
    let near_the_end = text.len() - 700;
    let cuts = (0..near_the_end).step_by(37).chain(near_the_end..=text.len());
    for cut in cuts {
        let journal = read(&text.as_bytes()[..cut]);
        let lines = starts.iter().filter(|start| **start <= cut).count() - 1;
        assert_eq!(journal.records, whole.records[..lines], "cut at {cut}");
        let byte = starts[lines] as u64;
        let bytes = cut as u64 - byte;
        let torn = (bytes > 0).then_some(Damage::TornTail { byte, bytes, record: lines as u64 + 1 });
        assert_eq!(journal.damage, Vec::from_iter(torn), "cut at {cut}");
        assert_eq!(journal.whole_bytes(), byte, "cut at {cut}");
        assert!(journal.may_go_on());
    }
}

/// Checks what must hold of any journal made of `whole` by changing the bytes `changed`: a record is kept as it was or
/// is gone, those whose lines were not touched are all kept, and what is gone is reported where it was.
fn check_changed(whole: &Journal<Event>, starts: &[usize], bytes: &[u8], changed: std::ops::Range<usize>) {
    let journal = match decode::<Event>(bytes, "demo") {
        Ok(journal) => journal,
        // A torn last line may seem begun in a newer format; nothing is written then.
        Err(Refused::NewerFormat { version, .. }) => {
            assert!(version > 1 && changed.end > starts[starts.len() - 2], "refused for {changed:?}");
            return;
        }
        Err(other) => panic!("refused for {changed:?}: {other}"),
    };
    let mut kept = journal.records.iter().peekable();
    for (record, line) in whole.records.iter().zip(starts.windows(2)) {
        let is_kept = kept.next_if(|kept| kept.seq == record.seq).inspect(|kept| assert_eq!(*kept, record)).is_some();
        // A changed line end touches the line after it too: the two become one.
        let touched = changed.start < line[1] && line[0] <= changed.end;
        assert!(is_kept || touched, "record {} is gone, though only {changed:?} changed", record.seq);
        let (start, end) = (line[0] as u64, line[1] as u64);
        let reported = journal.damage.iter().any(|damage| match damage {
            Damage::TornTail { byte, bytes, .. } => *byte < end && start < byte + bytes,
            Damage::Middle { byte, bytes, record: first, why, .. } => match why {
                Why::Gap { found } => (*first..*found).contains(&record.seq),
                _ => *byte < end && start < byte + bytes,
            },
        });
        assert!(is_kept || reported, "record {} is gone unsaid, {changed:?} changed", record.seq);
    }
    assert_eq!(kept.next(), None, "a record out of nowhere, {changed:?} changed");
}

/// A journal of just under this size, what is in it, and where its lines begin.
fn sized(bytes: usize) -> (Vec<u8>, Journal<Event>, Vec<usize>) {
    let mut text = String::new();
    for seq in 1.. {
        let line = line("demo", seq);
        if text.len() + line.len() > bytes {
            break;
        }
        text.push_str(&line);
    }
    let starts = starts(&text);
    let whole = read(text.as_bytes());
    assert!(text.len() > bytes - 200 && whole.damage.is_empty());
    (text.into_bytes(), whole, starts)
}

/// Every bit of 16 KiB where the code is optimized; else every bit of 1 KiB, and one bit of some bytes of 16 KiB.
#[test]
fn no_flipped_bit_goes_unseen() {
    let sparse = cfg!(debug_assertions);
    if sparse {
        flip_bits(1 << 10, |_| true);
    }
    flip_bits(16 << 10, |bit| !sparse || bit % 131 == 0);
}

fn flip_bits(size: usize, wanted: impl Fn(usize) -> bool + Sync) {
    let (text, whole, starts) = sized(size);
    let flip = |bits: std::ops::Range<usize>| {
        let mut bytes = text.clone();
        for bit in bits.filter(|bit| wanted(*bit)) {
            let place = bit / 8;
            bytes[place] ^= 1 << (bit % 8);
            check_changed(&whole, &starts, &bytes, place..place + 1);
            bytes[place] = text[place];
        }
    };
    let half = text.len() * 4;
    std::thread::scope(|scope| {
        scope.spawn(|| flip(0..half));
        scope.spawn(|| flip(half..text.len() * 8));
    });
}

/// A small generator of our own, so that a failure is the same on every machine.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % limit as u64) as usize
    }
}

/// How much more than usual is tried: `STEPJIG_TEST_TIMES=100` before a release.
fn times() -> usize {
    std::env::var("STEPJIG_TEST_TIMES").map_or(1, |times| times.parse().expect("a number"))
}

#[test]
fn no_overwritten_bytes_go_unseen() {
    let (text, whole, starts) = sized(16 << 10);
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
    for _ in 0..1_000 * times() {
        let mut bytes = text.clone();
        let length = 1 + dice.below(64);
        let start = dice.below(text.len() - length);
        let kind = dice.below(4);
        for byte in &mut bytes[start..start + length] {
            *byte = match kind {
                0 => dice.below(256) as u8,
                1 => 0,
                2 => b"\n\"}{,:019af"[dice.below(11)],
                _ => text[dice.below(text.len())],
            };
        }
        check_changed(&whole, &starts, &bytes, start..start + length);
    }
}

/// After a power cut any of the last line's sectors may be missing, and read as NUL.
#[test]
fn a_last_line_with_sectors_missing_is_torn() {
    let before = journal(1..=3);
    let long = encode("demo", &Record { seq: 4, at: at(0), event: Event::Note("x".repeat(3_000)) }).unwrap();
    let sectors = long.len().div_ceil(512);
    for missing in 1u32..1 << sectors {
        let mut bytes = [before.as_bytes(), long.as_bytes()].concat();
        for (at, byte) in bytes[before.len()..].iter_mut().enumerate() {
            if missing >> (at / 512) & 1 == 1 {
                *byte = 0;
            }
        }
        let journal = read(&bytes);
        assert_eq!(numbers(&journal), [1, 2, 3]);
        let byte = before.len() as u64;
        assert_eq!(journal.damage, [Damage::TornTail { byte, bytes: long.len() as u64, record: 4 }], "{missing:b}");
    }
}

#[test]
fn a_cut_line_that_was_ended_by_hand_is_torn() {
    let whole = journal(1..=2);
    let cut = &line("demo", 3)[..40];
    let journal = check(
        format!("{whole}{cut}\n"),
        &[1, 2],
        &[&format!("record 3 at byte {}: cut off while it was written, 41 bytes are there", whole.len())],
    );
    assert!(journal.may_go_on());
    assert_eq!(journal.whole_bytes(), whole.len() as u64);
    check(
        format!("{whole}\n"),
        &[1, 2],
        &[&format!("record 3 at byte {}: cut off while it was written, 1 bytes are there", whole.len())],
    );
}

/// It may have been confirmed and been damaged since; only what cannot have been confirmed is cut off.
#[test]
fn a_changed_last_line_is_damage_and_not_a_torn_tail() {
    let text = journal(1..=3);
    let changed = text.replace("step-3", "step-4");
    let byte = journal(1..=2).len();
    let journal = check(changed, &[1, 2], &[&format!("record 3 at byte {byte} (line 3): the checksum does not match")]);
    assert!(!journal.may_go_on());
    assert_eq!(journal.whole_bytes(), text.len() as u64);
}

#[test]
fn the_rest_is_kept_on_both_sides_of_damage() {
    let text = journal(1..=9).replace("step-4", "step-5").replace("step-8", "step-9");
    let (four, eight) = (journal(1..=3).len(), journal(1..=7).len());
    let journal = check(
        text,
        &[1, 2, 3, 5, 6, 7, 9],
        &[
            &format!("record 4 at byte {four} (line 4): the checksum does not match"),
            &format!("record 8 at byte {eight} (line 8): the checksum does not match"),
        ],
    );
    assert!(!journal.may_go_on());
    assert_eq!(journal.last_seq(), 9);
}

#[test]
fn neighbouring_faults_are_one_report() {
    let text = journal(1..=9).replace("glue-body/step-4", "glue").replace("step-5", "x\nx").replace("step-6", "y");
    let byte = journal(1..=3).len();
    check(
        &text,
        &[1, 2, 3, 7, 8, 9],
        &[&format!("record 4 at byte {byte} (line 4): the checksum does not match; 3 more unusable after it")],
    );
    let bytes = (text.len() - journal(1..=3).len() - journal(7..=9).len()) as u64;
    let why = Why::Checksum;
    let expected = Damage::Middle { line: 4, byte: byte as u64, lines: 4, bytes, record: 4, why };
    assert_eq!(read(text.as_bytes()).damage, [expected]);

    // Not a report for each of 64 million line ends.
    let empty = "\n".repeat(1 << 20);
    let damage = read(empty.as_bytes()).damage;
    assert_eq!(damage.len(), 2);
    assert_eq!(damage[0].to_string(), "record 1 at byte 0 (line 1): not a record; 1048574 more unusable after it");
}

#[test]
fn a_torn_tail_is_told_beside_other_damage() {
    let text = journal(1..=4).replace("step-2", "step-3");
    let (two, four) = (journal(1..=1).len(), journal(1..=3).len());
    let bytes = text.len() - 1 - four;
    let journal = check(
        &text[..text.len() - 1],
        &[1, 3],
        &[
            &format!("record 2 at byte {two} (line 2): the checksum does not match"),
            &format!("record 4 at byte {four}: cut off while it was written, {bytes} bytes are there"),
        ],
    );
    assert!(!journal.may_go_on());
}

#[test]
fn numbers_left_out_or_used_twice_are_damage() {
    let line_of = |seq| line("demo", seq);
    let (one, two) = (journal(1..=1).len(), journal(1..=2).len());
    check(journal([1, 3, 4]), &[1, 3, 4], &[&format!("record 2 at byte {one} (line 2): missing; the next one is 3")]);
    check(journal([2, 3]), &[2, 3], &["record 1 at byte 0 (line 1): missing; the next one is 2"]);
    check(journal([0, 1]), &[1], &["record 1 at byte 0 (line 1): numbered 0, which is not above the one before"]);
    let repeat = format!("record 3 at byte {two} (line 3): numbered 2, which is not above the one before");
    check(journal([1, 2, 2, 3]), &[1, 2, 3], &[&repeat]);
    let repeat = format!("record 3 at byte {two} (line 3): numbered 1, which is not above the one before");
    check(journal([1, 2, 1, 2, 3]), &[1, 2, 3], &[&format!("{repeat}; 1 more unusable after it")]);
    check(
        journal([1, 2, u64::MAX, 3]),
        &[1, 2, u64::MAX],
        &[
            &format!("record 3 at byte {two} (line 3): missing; the next one is {}", u64::MAX),
            &format!(
                "record {} at byte {} (line 4): numbered 3, which is not above the one before",
                u64::MAX,
                two + line_of(u64::MAX).len()
            ),
        ],
    );
    // A bad line stands for one record: what is missing beyond it is said.
    let text = journal([1]) + "rubbish\n" + &journal([4]);
    check(
        &text,
        &[1, 4],
        &[
            &format!("record 2 at byte {one} (line 2): not a record"),
            &format!("record 3 at byte {} (line 3): missing; the next one is 4", one + 8),
        ],
    );
    assert!(!read(text.as_bytes()).may_go_on());
}

#[test]
fn a_record_of_another_job_is_damage() {
    let text = journal([1]) + &line("gift", 2) + &journal([2]);
    let one = journal([1]).len();
    check(&text, &[1, 2], &[&format!("record 2 at byte {one} (line 2): a record of another job, `gift`")]);
    let hostile = signed(r#"{"v":1,"job":"\u001b[2J\u202e","seq":1,"at":"2026-11-25T10:55:00Z","event":0"#);
    check(
        &(hostile + &journal([1])),
        &[1],
        &[r"record 1 at byte 0 (line 1): a record of another job, `\u{1b}[2J\u{202e}`"],
    );
}

#[test]
fn an_unknown_event_is_named_and_defused() {
    let unknown =
        signed("{\"v\":1,\"job\":\"demo\",\"seq\":2,\"at\":\"2026-11-25T10:55:00Z\",\"event\":{\"b\u{9b}ored\":{}}");
    let one = journal([1]).len();
    let text = journal([1]) + &unknown + &journal([3]);
    let said = format!(
        "record 2 at byte {one} (line 2): an event that this program does not know (unknown variant `b\\u{{9b}}ored`, \
         expected `done` or `note` at line 1 column 84)"
    );
    let journal = read(text.as_bytes());
    assert_eq!(numbers(&journal), [1, 3]);
    assert_eq!(journal.damage.len(), 1);
    let (found, expected) = (journal.damage[0].to_string(), said);
    let upto = |text: &str| text.split(" at line ").next().unwrap_or_default().to_owned();
    assert_eq!(upto(&found), upto(&expected));
    // Whoever reads any event reads this one.
    assert_eq!(decode::<Value>(text.as_bytes(), "demo").unwrap().damage, []);
}

#[test]
fn what_is_not_a_record_under_a_right_checksum() {
    let stamp = r#""at":"2026-11-25T10:55:00Z""#;
    let note = r#""event":{"note":"x"}"#;
    for front in [
        "{".to_owned(),
        format!(r#"{{"v":1,"job":"demo","seq":1,{stamp}"#),
        format!(r#"{{"v":0,"job":"demo","seq":1,{stamp},{note}"#),
        format!(r#"{{"v":1.5,"job":"demo","seq":1,{stamp},{note}"#),
        format!(r#"{{"v":1,"job":"demo","seq":-1,{stamp},{note}"#),
        format!(r#"{{"v":1,"job":"demo","seq":1,"at":"yesterday",{note}"#),
        format!(r#"{{"v":1,"job":"demo","seq":1,{stamp},{note},"extra":1"#),
        format!(r#"{{"v":1,"job":"demo","seq":1,"seq":1,{stamp},{note}"#),
        format!(r#"{{"v":1,"job":"demo","seq":1,{stamp},{note}}}"#),
        format!(r#"{{"v":99999999999999999999999,"job":"demo","seq":1,{stamp},{note}"#),
    ] {
        check(signed(&front) + &journal([2]), &[2], &["record 1 at byte 0 (line 1): not a record"]);
    }
    // The envelope around all of these is sound.
    check(signed(&format!(r#"{{"v":1,"job":"demo","seq":1,{stamp},{note}"#)), &[1], &[]);
}

#[test]
fn a_newer_format_is_refused() {
    let newer = signed(r#"{"v":2,"who":"demo","record":{"n":2}"#);
    let refused = |text: String| decode::<Event>(text.as_bytes(), "demo").unwrap_err();
    assert_eq!(refused(newer.clone()), Refused::NewerFormat { version: 2, line: 1 });
    assert_eq!(refused(journal([1]) + &newer + &journal([3])), Refused::NewerFormat { version: 2, line: 2 });
    // A newer program was cut off in its first line.
    assert_eq!(refused(journal([1]) + &newer[..20]), Refused::NewerFormat { version: 2, line: 2 });
    assert_eq!(refused(journal([1]) + &newer[..20] + "\n"), Refused::NewerFormat { version: 2, line: 2 });
    // A flipped bit in the format's number is damage, for its checksum is wrong.
    let flipped = journal(1..=3).replacen("\"v\":1", "\"v\":3", 1);
    check(flipped, &[2, 3], &["record 1 at byte 0 (line 1): the checksum does not match"]);
}

#[test]
fn sizes_are_limited_before_anything_is_parsed() {
    let long = |bytes: usize| signed(&format!("{{\"x\":\"{}\"", "x".repeat(bytes - 26)));
    assert_eq!(long(65_536).len(), 65_536);
    check(long(65_536) + &journal([2]), &[2], &["record 1 at byte 0 (line 1): not a record"]);
    check(
        long(65_537) + &journal([2]),
        &[2],
        &["record 1 at byte 0 (line 1): a line of 65537 bytes, which is too long"],
    );

    let text = journal(1..=3);
    let limits = Limits { file: text.len() as u64, ..Limits::default() };
    assert_eq!(decode_within::<Event>(text.as_bytes(), "demo", limits).unwrap().records.len(), 3);
    let limits = Limits { file: text.len() as u64 - 1, ..limits };
    assert_eq!(
        decode_within::<Event>(text.as_bytes(), "demo", limits).unwrap_err(),
        Refused::TooLong { bytes: text.len() as u64, most: text.len() as u64 - 1 }
    );
    let limits = Limits { line: line("demo", 1).len() - 1, ..Limits::default() };
    assert_eq!(decode_within::<Event>(text.as_bytes(), "demo", limits).unwrap().records, []);
    assert_eq!(Limits::default(), Limits { line: 65_536, file: 67_108_864 });
}

#[test]
fn what_other_programs_do_to_text_files_is_seen() {
    let text = journal(1..=3);
    let crlf = text.replace('\n', "\r\n");
    assert!(read(crlf.as_bytes()).records.is_empty());
    assert!(!read(crlf.as_bytes()).may_go_on());
    check(format!("\u{feff}{text}"), &[2, 3], &["record 1 at byte 0 (line 1): the checksum does not match"]);
    let spaced = text.replace(",\"crc\"", ", \"crc\"");
    assert!(read(spaced.as_bytes()).records.is_empty());
    let deep = signed(&format!("{{\"v\":1,\"job\":\"demo\",\"event\":{}", "[".repeat(60_000)));
    check(deep + &text, &[1, 2, 3], &["record 1 at byte 0 (line 1): not a record"]);
}

/// A reading that came back a hair smaller could fall out of its limits on resuming.
#[test]
fn a_reading_is_read_back_to_the_last_bit() {
    for sixty_fourths in 0..6_400 {
        let event = f64::from(sixty_fourths) / 64.0 * 25.4;
        let line = encode("demo", &Record { seq: 1, at: at(0), event }).unwrap();
        let read = decode::<f64>(line.as_bytes(), "demo").unwrap().records[0].event;
        assert_eq!(read.to_bits(), event.to_bits(), "{event}: is serde_json's feature float_roundtrip on?");
    }
}

proptest! {
    #[test]
    fn what_is_written_is_read(
        notes in prop::collection::vec((any::<String>(), -377_705_023_201i64..253_402_207_200, 0i32..1_000_000_000), 0..20),
        job in "[a-z0-9_][a-z0-9_.-]{0,63}",
    ) {
        let records: Vec<Record<Event>> = (1..).zip(notes).map(|(seq, (note, second, nano))| {
            Record { seq, at: Timestamp::new(second, nano).unwrap(), event: Event::Note(note) }
        }).collect();
        let text: String = records.iter().map(|record| encode(&job, record).unwrap()).collect();
        let journal = decode::<Event>(text.as_bytes(), &job).unwrap();
        prop_assert_eq!(&journal.damage, &[]);
        prop_assert_eq!(journal.records, records);
    }

    #[test]
    fn any_bytes_are_met(
        pieces in prop::collection::vec(prop_oneof![
            any::<Vec<u8>>(),
            (0u64..6).prop_map(|seq| line("demo", seq).into_bytes()),
            Just(b"\n".to_vec()),
            "\\{\"v\":[0-9]{1,3},".prop_map(String::into_bytes),
            "\"crc\":\"[0-9a-f]{8}\"\\}\n".prop_map(String::into_bytes),
        ], 0..12),
    ) {
        let bytes = pieces.concat();
        if let Ok(journal) = decode::<Event>(&bytes, "demo") {
            prop_assert!(journal.records.windows(2).all(|pair| pair[0].seq < pair[1].seq));
            prop_assert!(journal.whole_bytes() <= bytes.len() as u64);
            // Every byte is in a record that was kept, or reported.
            let kept: u64 = journal.records.iter().map(|record| encode("demo", record).unwrap().len() as u64).sum();
            let reported: u64 = journal.damage.iter().map(|damage| match damage {
                Damage::TornTail { bytes, .. } | Damage::Middle { bytes, .. } => *bytes,
            }).sum();
            prop_assert_eq!(kept + reported, bytes.len() as u64);
            if journal.may_go_on() {
                prop_assert_eq!(journal.last_seq(), journal.records.len() as u64);
            }
        }
    }
}
