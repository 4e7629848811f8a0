//! What the tests of hostile input share: which characters may never be shown, everything that can be shown, the watch.

use std::sync::Arc;
use std::time::{Duration, Instant};

use jiff::Timestamp;
use stepjig::check::{Checked, check_file};
use stepjig::finding::json::{GuideReport, Report};
use stepjig::finding::render::{Look, for_people, one_line};
use stepjig::finding::{Finding, Source};
use stepjig::guide::Library;
use stepjig::walk::{Answer, Refusal, Scene, Walk, Wanted};

/// Far more than any hostile file takes to read, link and check, whatever else the machine is doing; how fast it is, is
/// for the benchmarks.
pub const AT_MOST: Duration = Duration::from_secs(10);

/// Returns how many cases to make of so many.
pub fn times(n: u64) -> u64 {
    let more = std::env::var("STEPJIG_HOSTILE").ok().and_then(|more| more.parse::<u64>().ok());
    n * more.unwrap_or(1)
}

/// Every character that may never be shown: C0 but the newline, DEL, C1, `Bidi_Control`, the separators of lines and
/// paragraphs, the byte order mark, the tags.
pub fn forbidden() -> Vec<char> {
    let ranges = [
        ('\0', '\u{9}'),
        ('\u{b}', '\u{1f}'),
        ('\u{7f}', '\u{9f}'),
        ('\u{61c}', '\u{61c}'),
        ('\u{200e}', '\u{200f}'),
        ('\u{202a}', '\u{202e}'),
        ('\u{2066}', '\u{2069}'),
        ('\u{2028}', '\u{2029}'),
        ('\u{feff}', '\u{feff}'),
        ('\u{e0000}', '\u{e007f}'),
    ];
    ranges.into_iter().flat_map(|(first, last)| first..=last).collect()
}

/// Checks that a text that is shown has no character that may not be.
#[track_caller]
pub fn harmless(what: &str, text: &str) {
    let ranges = |c: char| {
        matches!(u32::from(c),
            0..=9 | 0xb..=0x1f | 0x7f..=0x9f | 0x61c | 0x200e | 0x200f | 0x202a..=0x202e | 0x2066..=0x2069
            | 0x2028 | 0x2029 | 0xfeff | 0xe0000..=0xe007f)
    };
    if let Some(found) = text.chars().find(|c| ranges(*c)) {
        panic!("{what} shows U+{:04X}: {text:?}", u32::from(found));
    }
}

/// Reads, links and checks a file; it is done in time, and every finding is inside its file.
#[track_caller]
pub fn checked(library: &Library, source: &Arc<Source>, what: &str) -> Checked {
    let start = Instant::now();
    let checked = check_file(library, source);
    let took = start.elapsed();
    assert!(took < AT_MOST, "{what} took {took:?}");
    inside(&checked.findings, what);
    checked
}

/// Checks that findings have a line and a column that are in their file, or 1:1.
#[track_caller]
pub fn inside(findings: &[Finding], what: &str) {
    let places = findings.iter().flat_map(|finding| std::iter::once(&finding.place).chain(&finding.used_at));
    for place in places {
        let (line, column) = place.line_column();
        let columns = place.source.text().split('\n').nth(line - 1).map(|line| line.chars().count() + 1);
        let is_inside = (line, column) == (1, 1) || (1..=columns.unwrap_or(0)).contains(&column);
        assert!(is_inside, "{what}: {place} is not in the file");
    }
}

/// Shows findings in every way there is.
#[track_caller]
pub fn shown(findings: &[Finding], what: &str) {
    for look in [(40, true), (80, false), (200, false)] {
        let look = Look { width: look.0, colour: false, ascii: look.1 };
        harmless(what, &for_people(findings, look));
    }
    for finding in findings {
        harmless(what, &one_line(finding));
    }
    let report = Report::new(vec![GuideReport::new("g", 1, findings)]);
    harmless(what, &serde_json::to_string(&report).expect("a report is JSON"));
    harmless(what, &serde_json::to_string_pretty(&report).expect("a report is JSON"));
}

/// Returns every text of a scene.
pub fn texts(scene: &Scene) -> Vec<&str> {
    let mut texts = vec![scene.id.as_str(), &scene.title];
    let maybe = [&scene.stage, &scene.rejoined, &scene.remark, &scene.at, &scene.if_wrong, &scene.tell];
    texts.extend(maybe.into_iter().flatten().map(String::as_str));
    texts.extend(scene.cautions.iter().flat_map(|(word, said)| [*word, said]));
    let lists = [&scene.passed_over, &scene.needs, &scene.moves, &scene.parts, &scene.wait];
    texts.extend(lists.into_iter().flatten().map(String::as_str));
    texts.extend(scene.clock.iter().map(|(mark, _)| mark.as_str()));
    match &scene.wanted {
        Wanted::Answer(answers) => texts.extend(answers.iter().map(String::as_str)),
        Wanted::Reading { unit, limits } => texts.extend([unit.as_str(), limits]),
        _ => {}
    }
    texts
}

/// Checks everything that a walk can show where it stands, and what it says to each of these lines.
#[track_caller]
pub fn tells(walk: &Walk<'_>, now: Timestamp, lines: &[String], what: &str) {
    let scene = walk.scene(now);
    texts(&scene).into_iter().for_each(|text| harmless(what, text));
    walk.can_type().iter().for_each(|text| harmless(what, text));
    harmless(what, &walk.title(walk.state().here));
    const COMMANDS: [&str; 10] =
        ["why", "where", "where all", "ahead", "?", "correct", "trouble", "trouble more", "back", "not ready"];
    for line in COMMANDS.into_iter().chain(lines.iter().map(String::as_str)) {
        harmless(&format!("{what}, `{}`", line.escape_debug()), &told(walk.read(line, now)));
    }
}

/// Returns what is told to a typed line, as one text.
pub fn told(read: Result<Answer, Refusal>) -> String {
    match read {
        Ok(Answer::Event(_) | Answer::Reckon(_)) => String::new(),
        Ok(Answer::Tell(told) | Answer::Ask { told, .. }) => told.join("\n"),
        Err(refusal) => format!("{refusal}\n{}", refusal.meant.as_deref().unwrap_or_default()),
    }
}

/// The time at which the walks begin.
pub fn morning() -> Timestamp {
    "2026-11-25T08:00:00Z".parse().expect("a time")
}
