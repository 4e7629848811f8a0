//! A fixture is guide text that says what is found in it: the one place here that knows the library.
//!
//! An expectation stands in a comment under the faulty line, its carets under the faulty characters:
//!
//! ```toml
//! then = "press-cap"
//!     #  ^^^^^^^^^^^ no-such-step: no step is named `press-cap` … did you mean `press-nib`
//! ```
//!
//! The carets are as many as the span has characters on that line; `|` is a place between two. `#<^^` begins at column
//! 1: its `#` and `<` count as carets. What follows the code must stand in the message or the help, ` … ` between its
//! parts; ` @ a < b` at its end names the runs that the finding is inside of, innermost first. Expectations are taken
//! out before the text is read, and their lines left empty.
//!
//! A fixture with `[trouble]` is a fault table and stands as it is.
//!
//! A line `--- NAME.toml` begins another file, a procedure. A guide without `[guide]` gets one, a guide in which no step
//! ends gets an end.

use std::sync::Arc;

use stepjig::finding::{Finding, Source};
use stepjig::guide::document::Shelf;
use stepjig::guide::{Guide, Library, Limits};

/// Something that is found, or is to be: where, how many characters wide, which code, what is said.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Mark {
    file: String,
    line: usize,
    column: usize,
    width: usize,
    code: String,
    said: String,
}

/// Checks that exactly the findings that the fixture expects are found; returns them.
#[track_caller]
pub fn check_guide(fixture: &str) -> Vec<Finding> {
    check_guide_with(Limits::default(), fixture)
}

/// Checks as [`check_guide`], within other limits.
#[track_caller]
pub fn check_guide_with(limits: Limits, fixture: &str) -> Vec<Finding> {
    let (library, source, mut wanted) = unpacked(limits, fixture);
    let findings = library.link(&source).findings;
    let mut extra = Vec::new();
    for mark in findings.iter().map(marked) {
        match wanted.iter().position(|expected| meets(&mark, expected)) {
            Some(at) => drop(wanted.remove(at)),
            None => extra.push(mark),
        }
    }
    assert!(
        wanted.is_empty() && extra.is_empty(),
        "expected and not found:{}\nfound and not expected:{}",
        listed(&wanted),
        listed(&extra)
    );
    findings
}

/// Returns the guide of a fixture in which nothing is found.
#[track_caller]
pub fn links(fixture: &str) -> Guide {
    let (library, source, wanted) = unpacked(Limits::default(), fixture);
    assert_eq!(wanted, [], "a guide that links expects nothing");
    let linked = library.link(&source);
    let found: Vec<Mark> = linked.findings.iter().map(marked).collect();
    linked.guide.unwrap_or_else(|| panic!("it does not link:{}", listed(&found)))
}

/// Returns the ids of a guide's steps in order.
pub fn ids(guide: &Guide) -> Vec<&str> {
    guide.steps().map(|(_, step)| &*step.id).collect()
}

fn unpacked(limits: Limits, fixture: &str) -> (Library, Arc<Source>, Vec<Mark>) {
    let mut library = Library::empty().with_limits(limits);
    let mut wanted = Vec::new();
    let mut guide = None;
    for (name, text) in files(fixture) {
        let (text, expected) = without_expectations(name, text);
        wanted.extend(expected);
        let source = Source::new(name, text);
        match name.strip_suffix(".toml") {
            Some("g") | None => guide = Some(source),
            Some(stem) => library.add(Shelf::Procedure, stem, source),
        }
    }
    (library, guide.expect("a fixture has a guide"), wanted)
}

fn files(fixture: &str) -> Vec<(&str, String)> {
    let mut files = vec![("g.toml", String::new())];
    for line in fixture.trim_start_matches('\n').split_inclusive('\n') {
        match line.strip_prefix("--- ") {
            Some(name) => files.push((name.trim(), String::new())),
            None => files.last_mut().expect("there is a first").1.push_str(line),
        }
    }
    let guide = &mut files[0].1;
    if guide.contains("[trouble]") {
        return files;
    }
    if !guide.contains("[guide]") && !guide.contains("guide =") {
        guide.insert_str(0, "stepjig = 1\nguide = { id = \"g\", title = \"G\" }\n");
    }
    if !guide.contains("end = ") {
        guide.push_str("\n[[step]]\nid = \"end\"\nend = \"finished\"\n");
    }
    files
}

/// Takes the expectations out of a text and leaves their lines empty.
fn without_expectations(file: &str, text: String) -> (String, Vec<Mark>) {
    let (mut rest, mut expected, mut under) = (String::new(), Vec::new(), 0);
    for (n, line) in text.split_inclusive('\n').enumerate() {
        match expectation(line) {
            Some((column, width, said)) => {
                let (code, said) = said.split_once(':').unwrap_or((said, ""));
                let (code, said) = (code.trim().to_owned(), said.trim().to_owned());
                expected.push(Mark { file: file.to_owned(), line: under, column, width, code, said });
                rest.push('\n');
            }
            None => {
                under = n + 1;
                rest.push_str(line);
            }
        }
    }
    (rest, expected)
}

/// Returns column and number of the carets, and what follows them.
fn expectation(line: &str) -> Option<(usize, usize, &str)> {
    let hash = line.find('#').filter(|at| line[..*at].trim().is_empty())?;
    let sign = hash + 1 + line[hash + 1..].find(|c: char| !c.is_whitespace())?;
    let (first, marks) = match line[sign..].chars().next()? {
        '<' => (hash, 2),
        '^' => (sign, 0),
        '|' => return Some((sign + 1, 0, line[sign + 1..].trim())),
        _ => return None,
    };
    let after = line[first + marks..].trim_start_matches('^');
    Some((first + 1, line.len() - after.len() - first, after.trim()))
}

fn marked(finding: &Finding) -> Mark {
    let place = &finding.place;
    let (line, column) = place.line_column();
    let help = finding.help.as_ref().map_or(String::new(), |help| format!("; help: {help}"));
    let runs: Vec<&str> =
        finding.used_at.iter().map(|place| place.source.text()[place.span.clone()].trim_matches('"')).collect();
    let inside = if runs.is_empty() { String::new() } else { format!(" @ {}", runs.join(" < ")) };
    let marked = &place.source.text()[place.span.clone()];
    Mark {
        file: place.source.name().to_owned(),
        line,
        column,
        width: marked.lines().next().unwrap_or("").chars().count(),
        code: finding.code.as_str().to_owned(),
        said: format!("{}{help}{inside}", finding.message),
    }
}

fn meets(found: &Mark, expected: &Mark) -> bool {
    let place = |mark: &Mark| (mark.file.clone(), mark.line, mark.column, mark.width, mark.code.clone());
    let (words, runs) = expected.said.split_once(" @ ").unwrap_or((&expected.said, ""));
    let runs_found = found.said.split_once(" @ ").map_or("", |(_, runs)| runs);
    place(found) == place(expected)
        && words.split('…').all(|part| found.said.contains(part.trim()))
        && runs == runs_found
}

fn listed(marks: &[Mark]) -> String {
    let row = |m: &Mark| format!("\n  {}:{}:{}+{} {}: {}", m.file, m.line, m.column, m.width, m.code, m.said);
    marks.iter().map(row).collect()
}
