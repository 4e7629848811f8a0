//! The program's own limits: one clear finding that names the limit, and at once.

use std::time::Instant;

use stepjig::check::check_file;
use stepjig::finding::render::{Look, for_people, one_line};
use stepjig::finding::{Finding, Severity, Source};
use stepjig::guide::Library;
use stepjig::guide::document::Shelf;

use super::rig::{AT_MOST, checked, harmless, shown};

const HEAD: &str = "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\n";
const END: &str = "\n[[step]]\nid = \"end\"\nend = \"finished\"\n";

/// Returns the errors of a guide that has these steps.
#[track_caller]
fn errors(library: &Library, what: &str, text: &str) -> Vec<Finding> {
    let checked = checked(library, &Source::new("g.toml", text), what);
    shown(&checked.findings[..checked.findings.len().min(40)], what);
    let error = |finding: &Finding| finding.severity() == Severity::Error;
    checked.findings.into_iter().filter(error).collect()
}

/// Checks that a guide has one error, which says this.
#[track_caller]
fn one_error(library: &Library, what: &str, text: &str, code: &str, said: &[&str]) {
    let errors = errors(library, what, text);
    assert_eq!(
        errors.len(),
        1,
        "{what}: {:?}",
        errors.iter().map(|e| (e.place.to_string(), &e.message)).take(9).collect::<Vec<_>>()
    );
    assert_eq!(errors[0].code.as_str(), code, "{what}: {}", errors[0].message);
    for said in said {
        assert!(errors[0].message.contains(said), "{what}: `{}` does not say `{said}`", errors[0].message);
    }
}

fn steps(n: usize) -> String {
    (0..n).map(|n| format!("[[step]]\nid = \"s{n}\"\ndo = \"Wipe piece {n}.\"\n")).collect()
}

#[test]
fn what_is_nested_a_thousand_deep_is_one_finding() {
    let arrays = format!("{}{}", "[".repeat(1_000), "]".repeat(1_000));
    let tables = format!("{}1{}", "{ a = ".repeat(1_000), " }".repeat(1_000));
    let dotted = vec!["a"; 1_000].join(".");
    let nested = [
        ("arrays", format!("needs = {arrays}\n")),
        ("tables", format!("then = {tables}\n")),
        ("arrays of tables", format!("answers = {}1{}\n", "[{ a = ".repeat(500), " }]".repeat(500))),
        ("arrays never closed", format!("needs = {}\n", "[".repeat(1_000))),
        ("tables never closed", format!("then = {}\n", "{ a = ".repeat(1_000))),
    ];
    for (what, line) in nested {
        let text = format!("{HEAD}{}{line}{END}", steps(1));
        one_error(&Library::empty(), what, &text, "bad-value", &["more than 16 deep"]);
    }
    for (what, lines) in [
        ("a dotted key", format!("[kit]\n{dotted} = 1\n")),
        ("a dotted table", format!("[kit.{dotted}]\nb = 1\n")),
        ("a dotted list", format!("[[kit.{dotted}]]\nb = 1\n")),
    ] {
        let errors = errors(&Library::empty(), what, &format!("{HEAD}{lines}{}{END}", steps(1)));
        assert_eq!(errors.len(), 1, "{what}: {errors:?}");
    }
}

#[test]
fn a_file_over_a_mebibyte_is_one_finding() {
    let guide = format!("{HEAD}{}{END}", steps(3));
    let most = 1 << 20;
    let padded = |bytes: usize| format!("{guide}#{}\n", "x".repeat(bytes - guide.len() - 2));
    assert!(
        errors(&Library::empty(), "as large as can be", &padded(most)).iter().all(|e| e.code.as_str() != "bad-value")
    );
    one_error(&Library::empty(), "too large", &padded(most + 1), "bad-value", &["1048577 bytes", "at most 1048576"]);
}

#[test]
fn five_thousand_and_one_nodes_are_one_finding() {
    let with_end = |n: usize| format!("{HEAD}{}{END}", steps(n - 1));
    let at_most = errors(&Library::empty(), "5,000 nodes", &with_end(5_000));
    assert!(at_most.iter().all(|error| error.code.as_str() != "bad-value"), "{at_most:?}");
    one_error(&Library::empty(), "5,001 nodes", &with_end(5_001), "bad-value", &["more than 5000 steps"]);
}

#[test]
fn twenty_one_answers_are_one_finding() {
    let question = |n: usize| {
        let answers: String = (0..n).map(|n| format!("{{ say = \"word {n}\" }}, ")).collect();
        format!("{HEAD}[[step]]\nid = \"a\"\nask = \"Which is it?\"\nanswers = [{answers}]\n{END}")
    };
    let at_most = errors(&Library::empty(), "20 answers", &question(20));
    assert!(at_most.iter().all(|error| error.code.as_str() != "bad-value"), "{at_most:?}");
    one_error(&Library::empty(), "21 answers", &question(21), "bad-value", &["21 answers", "20 is the most"]);
}

#[test]
fn a_field_over_four_kibibytes_is_one_finding() {
    let most = 4 << 10;
    let fields = ["do", "why", "tell", "at", "stage", "if-wrong"];
    for field in fields {
        let with = |bytes: usize| {
            let own = if field == "do" { String::new() } else { "do = \"Wipe it.\"\n".to_owned() };
            let text = "x".repeat(bytes);
            format!("{HEAD}[[step]]\nid = \"a\"\n{own}{field} = \"{text}\"\n{END}")
        };
        let at_most = errors(&Library::empty(), field, &with(most));
        assert!(at_most.iter().all(|error| error.code.as_str() != "bad-value"), "{field}: {at_most:?}");
        one_error(&Library::empty(), field, &with(most + 1), "bad-value", &[field, "4096 bytes"]);
    }
}

/// A library of procedures, each a text under its id.
fn library(procedures: impl IntoIterator<Item = (String, String)>) -> Library {
    let mut library = Library::empty();
    for (id, text) in procedures {
        let head = format!("stepjig = 1\n[procedure]\nid = \"{id}\"\ntitle = \"T\"\n");
        let source = Source::new(format!("{id}.toml"), format!("{head}{text}"));
        library.add(Shelf::Procedure, id, source);
    }
    library
}

/// Returns a guide that does not fit when its procedures are put in, each in another way.
fn grown() -> Vec<(&'static str, Library, String, &'static str)> {
    let run = |with: &str| format!("{HEAD}[[step]]\nid = \"a\"\nrun = \"p\"\n{with}{END}");
    let head = "takes = [\"x\"]\n";
    let step = |text: &str| format!("[[step]]\nid = \"a\"\n{text}{RETURN}");
    let words = |n: usize, word: &str| (0..n).map(|n| format!("\"{n}{word}\" = \"w\"\n")).collect::<String>();
    let many = |n: usize| (0..n).map(|n| format!("\"v{n}\", ")).collect::<String>();
    let many_each = |n: usize| run(&format!("each = [{}]\n", many(n)));
    let passed_on = |text: String| ("p".to_owned(), format!("{head}{text}"));
    // Each level puts in 1,300 times what it was given.
    let laughs = (0..4).map(|n| {
        let text = match n {
            3 => step("do = \"Wipe {x}.\"\n"),
            _ => step(&format!("run = \"p{}\"\nwith = {{ x = \"{}\" }}\n", n + 1, "{x}".repeat(1_300))),
        };
        (if n == 0 { "p".to_owned() } else { format!("p{n}") }, format!("{head}{text}"))
    });
    let parts: String = (0..5)
        .map(|n| format!("[[step]]\nid = \"a{n}\"\ndo = \"Wipe.\"\nparts = [{}]\n", "\"{x}\", ".repeat(900)))
        .chain([RETURN.to_owned()])
        .collect();
    let plain = |text: String| library([("p".to_owned(), text)]);
    vec![
        ("a text of texts of texts", library(laughs), run("with = { x = \"xxxx\" }\n"), "longer than 4096 bytes"),
        (
            "a long text put into many",
            library([passed_on(parts)]),
            run(&format!("with = {{ x = \"{}\" }}\n", "x".repeat(4_000))),
            "8388608 bytes when expanded",
        ),
        (
            "many words, many times",
            plain(format!("[words]\n{}{}", words(40_000, "{each}"), step("do = \"Wipe it.\"\n"))),
            many_each(1_000),
            "8388608 bytes when expanded",
        ),
        (
            "many turns of nothing to do",
            plain(format!("[words]\n{}{RETURN}", words(2_000, ""))),
            many_each(60_000),
            "60000 entries; 1000 is the most",
        ),
        (
            "runs of runs of runs",
            library((0..4).map(|n| {
                let id = if n == 0 { "p".to_owned() } else { format!("p{n}") };
                let run = format!("run = \"p{}\"\neach = [{}]\n", n + 1, many(50));
                (id, step(if n == 3 { "do = \"Wipe it.\"\n" } else { &run }))
            })),
            many_each(50),
            "more than 5000 steps",
        ),
    ]
}

#[test]
fn what_grows_when_procedures_are_put_in_is_one_finding() {
    for (what, library, guide, said) in grown() {
        let errors = errors(&library, what, &guide);
        let limit = errors.iter().filter(|error| error.code.as_str() == "bad-value");
        assert!(limit.clone().any(|error| error.message.contains(said)), "{what}: {errors:?}");
        assert_eq!(errors.len(), 1, "{what}: {:?}", errors.iter().map(|e| &e.message).take(9).collect::<Vec<_>>());
    }
}

#[test]
fn what_is_wrong_everywhere_is_told_in_time() {
    let numbered = |n: usize, one: &dyn Fn(usize) -> String| (0..n).map(one).collect::<String>();
    let step = |text: String| format!("[[step]]\nid = \"a\"\ndo = \"Wipe it.\"\n{text}");
    let (most, long) = (4_500, |n: usize| format!("{n:0>40}"));
    let wrong = [
        ("keys that are not known", format!("{}{HEAD}", numbered(90_000, &|n| format!("a{n} = 1\n")))),
        (
            "keys in one line",
            format!("{HEAD}{}", step(format!("then = {{ {} }}", numbered(60_000, &|n| format!("a{n}=1,"))))),
        ),
        ("a line of wrong types", format!("{HEAD}{}", step(format!("needs = [{}]\n", "1,".repeat(500_000))))),
        ("a line that is no TOML", format!("{HEAD}a = [{}\n", "=".repeat(1_000_000))),
        ("lines that are no TOML", format!("{HEAD}{}", "=\n".repeat(500_000))),
        (
            "steps that lead nowhere",
            numbered(most, &|n| {
                format!(
                    "[[step]]\nid = \"{}\"\ndo = \"Wipe.\"\nthen = \"{}\"\n",
                    long(n),
                    long(n).replacen('0', "x", 1)
                )
            }),
        ),
        (
            "needs that nothing gives",
            numbered(most, &|n| {
                format!(
                    "[[step]]\nid = \"s{n}\"\ndo = \"Wipe.\"\ngives = [\"{}\"]\nneeds = [\"x{}\"]\n",
                    long(n),
                    long(n)
                )
            }),
        ),
        (
            "lists as long as can be",
            numbered(45, &|n| {
                let list = |letter: &str| numbered(1_000, &|n| format!("\"{letter}{n}\","));
                let (a, b, c) = (list("a"), list("b"), list("a"));
                format!(
                    "[[step]]\nid = \"s{n}\"\ndo = \"Wipe.\"\nneeds = [{a}]\ngives = [{b}]\nthen = {{ undoes = [{c}] }}\n"
                )
            }),
        ),
    ];
    for (what, text) in wrong {
        let text = if text.starts_with("stepjig") || text.starts_with('a') { text } else { format!("{HEAD}{text}") };
        let start = Instant::now();
        let checked = check_file(&Library::empty(), &Source::new("g.toml", format!("{text}{END}")));
        assert!(!checked.findings.is_empty(), "{what}");
        let look = Look { width: 80, colour: false, ascii: false };
        let shown = for_people(&checked.findings, look) + &checked.findings.iter().map(one_line).collect::<String>();
        assert!(start.elapsed() < AT_MOST, "{what} took {:?}", start.elapsed());
        harmless(what, &shown);
    }
}

const RETURN: &str = "\n[[step]]\nid = \"back\"\nend = \"return\"\n";

#[test]
fn procedures_deeper_than_four_are_one_finding() {
    let nest = |deep: usize| {
        let run = |n: usize| format!("[[step]]\nid = \"a\"\nrun = \"p{}\"\n{RETURN}", n + 1);
        let last = format!("[[step]]\nid = \"a\"\ndo = \"Wipe it.\"\n{RETURN}");
        library((1..=deep).map(|n| (format!("p{n}"), if n == deep { last.clone() } else { run(n) })))
    };
    let guide = format!("{HEAD}[[step]]\nid = \"a\"\nrun = \"p1\"\n{END}");
    let at_most = errors(&nest(4), "4 deep", &guide);
    assert!(at_most.iter().all(|error| error.code.as_str() != "run-loop"), "{at_most:?}");
    one_error(&nest(5), "5 deep", &guide, "run-loop", &["more than 4 deep"]);
    let itself = library([("p1".to_owned(), format!("[[step]]\nid = \"a\"\nrun = \"p1\"\n{RETURN}"))]);
    one_error(&itself, "for ever", &guide, "run-loop", &["more than 4 deep"]);
}
