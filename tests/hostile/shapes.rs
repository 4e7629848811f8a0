//! Graphs of hostile shapes: each is read, linked, checked and shown in time, and on a small stack.

use std::fmt::Write;
use std::thread;
use std::time::Instant;

use stepjig::check::check_file;
use stepjig::finding::render::{Look, for_people, one_line};
use stepjig::finding::{Severity, Source};
use stepjig::guide::{Library, Limits};
use stepjig::walk::Walk;

use super::rig::{AT_MOST, morning};

/// An eighth of the stack that a thread has by default.
const STACK: usize = 256 << 10;

/// What came of checking a shape.
struct Outcome {
    steps: usize,
    errors: Vec<String>,
}

/// Reads, links, checks, shows and begins to walk a guide on a small stack.
#[track_caller]
fn checked(what: &'static str, limits: Limits, text: String) -> Outcome {
    let start = Instant::now();
    let work = move || {
        let checked = check_file(&Library::empty().with_limits(limits), &Source::new("g.toml", text));
        let lines: Vec<String> = checked.findings.iter().map(one_line).collect();
        assert!(lines.iter().all(|line| !line.is_empty()));
        let shown = for_people(&checked.findings, Look { width: 80, colour: false, ascii: false });
        assert_eq!(shown.is_empty(), checked.findings.is_empty());
        if let Some(guide) = checked.guide.as_ref().filter(|_| checked.is_sound()) {
            let mut walk = Walk::begin(guide, morning());
            for line in ["ahead", "where all", "why", "1", "done", "skip", "trouble yes", "back"] {
                // Some of it is refused; all of it is to be survived.
                let _ = walk.answer(line, morning());
                assert!(!walk.scene(morning()).title.is_empty());
            }
        }
        let errors = checked.findings.iter().filter(|finding| finding.severity() == Severity::Error);
        Outcome { steps: checked.n_steps(), errors: errors.map(|error| error.code.to_string()).collect() }
    };
    let thread = thread::Builder::new().name(what.to_owned()).stack_size(STACK).spawn(work).expect("a thread");
    let outcome = thread.join().expect("no panic");
    let took = start.elapsed();
    assert!(took < AT_MOST, "{what} took {took:?}");
    outcome
}

fn head() -> String {
    "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\nuse-when = \"Trying.\"\n".to_owned()
}

macro_rules! put {
    ($text:ident, $($written:tt)*) => { writeln!($text, $($written)*).expect("a string takes it") };
}

fn end(text: &mut String, needs: &str) {
    put!(text, "[[step]]\nid = \"end\"\nend = \"finished\"\nneeds = [{needs}]");
}

#[test]
fn a_chain_of_two_thousand_diamonds() {
    let mut text = head();
    for n in 0..2_000 {
        let (left, right) = (format!("l{n}"), format!("r{n}"));
        put!(text, "[[step]]\nid = \"q{n}\"\nask = \"Which side of piece {n} is up?\"\nanswers = [");
        put!(text, "{{ say = \"left\", to = \"{left}\" }}, {{ say = \"right\", to = \"{right}\" }} ]");
        put!(text, "[[step]]\nid = \"{left}\"\ndo = \"Turn it.\"\ngives = [\"c{n}\", \"l{n}\"]\nthen = \"j{n}\"");
        put!(text, "[[step]]\nid = \"{right}\"\ndo = \"Leave it.\"\ngives = [\"c{n}\", \"r{n}\"]\nthen = \"j{n}\"");
        put!(text, "[[step]]\nid = \"j{n}\"\ndo = \"Mark it.\"\nneeds = [\"c{n}\"]\ngives = [\"j{n}\"]");
    }
    end(&mut text, "\"c0\", \"c1999\", \"j0\", \"j1999\"");
    let outcome = checked("diamonds", Limits::lifted(), text.clone());
    assert_eq!((outcome.steps, outcome.errors), (8_001, vec![]));
    // One side of the first gives not what the end needs: of 2^2000 ways, half are without.
    let outcome = checked("a flaw at the first", Limits::lifted(), text.replacen("\"c0\", \"r0\"", "\"r0\"", 1));
    assert_eq!(outcome.errors, ["need-unmet", "need-unmet"]);
}

#[test]
fn a_ring_of_nearly_five_thousand_steps() {
    let ring = |leave: bool| {
        let mut text = head();
        for n in 0..4_900 {
            let next = (n + 1) % 4_900;
            let needs = if n == 0 { String::new() } else { format!("needs = [\"c{}\"]\n", n - 1) };
            match n {
                4_899 if leave => {
                    put!(text, "[[step]]\nid = \"s{n}\"\nask = \"Once more?\"\n{needs}answers = [");
                    put!(text, "{{ say = \"yes\", to = \"s0\" }}, {{ say = \"no\", to = \"end\" }} ]");
                }
                _ => put!(
                    text,
                    "[[step]]\nid = \"s{n}\"\ndo = \"Turn piece {n}.\"\n{needs}gives = [\"c{n}\"]\nthen = \"s{next}\""
                ),
            }
        }
        end(&mut text, "\"c0\"");
        text
    };
    let outcome = checked("a ring with a way out", Limits::default(), ring(true));
    assert_eq!((outcome.steps, outcome.errors), (4_901, vec![]));
    let outcome = checked("a ring without", Limits::default(), ring(false));
    assert!(outcome.errors.contains(&"no-way-out".to_owned()), "{:?}", &outcome.errors[..9]);
}

#[test]
fn three_hundred_questions_that_all_lead_to_all() {
    let complete = |answers: usize| {
        let mut text = head();
        for n in 0..300 {
            put!(text, "[[step]]\nid = \"q{n}\"\nask = \"Which comes after {n}?\"\ngives = [\"c{n}\"]\nanswers = [");
            for answer in 1..answers {
                let to = (n + answer * 300usize.div_ceil(answers)) % 300;
                let gives = if answer % 3 == 0 { format!(", gives = [\"a{to}\"]") } else { String::new() };
                let undoes = if answer % 7 == 0 { format!(", undoes = [\"a{n}\"]") } else { String::new() };
                put!(text, "  {{ say = \"number {answer}\", to = \"q{to}\"{gives}{undoes} }},");
            }
            put!(text, "  {{ say = \"none of them\", to = \"end\" }},\n]");
        }
        end(&mut text, "\"c0\"");
        text
    };
    let outcome = checked("twenty answers each", Limits::default(), complete(20));
    assert_eq!(outcome.steps, 301);
    let limits = Limits { answers: 300, ..Limits::lifted() };
    let outcome = checked("three hundred answers each", limits, complete(300));
    assert_eq!((outcome.steps, outcome.errors), (301, vec![]));
}

#[test]
fn nearly_five_thousand_steps_that_can_be_skipped() {
    let mut text = head();
    for n in 0..4_900 {
        let needs = if n == 0 { String::new() } else { format!("needs = [\"c{}\"]\n", n - 1) };
        put!(text, "[[step]]\nid = \"s{n}\"\ndo = \"Turn piece {n}.\"\noptional = true\ngives = [\"c{n}\"]\n{needs}");
    }
    end(&mut text, "\"c4899\"");
    let outcome = checked("optional steps", Limits::default(), text);
    assert_eq!(outcome.errors, vec!["need-unmet"; 4_900]);
}

#[test]
fn one_chain_as_deep_as_can_be() {
    let mut text = head();
    for n in 0..4_900 {
        let needs = if n == 0 { String::new() } else { format!("needs = [\"c{}\", \"c0\"]\n", n - 1) };
        let undoes = if n % 100 == 99 { format!("undoes = [\"c{}\"]\n", n - 98) } else { String::new() };
        put!(text, "[[step]]\nid = \"s{n}\"\ndo = \"Turn piece {n}.\"\ngives = [\"c{n}\"]\n{needs}{undoes}");
    }
    end(&mut text, "\"c4899\"");
    let outcome = checked("a chain", Limits::default(), text);
    assert_eq!((outcome.steps, outcome.errors), (4_901, vec![]));
}
