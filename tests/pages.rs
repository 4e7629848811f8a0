//! Every kind of finding has a page, and the examples on the pages are what they say.

use stepjig::check::check_file;
use stepjig::finding::{Code, Finding, Severity, Source};
use stepjig::guide::Library;
use stepjig::guide::document::Shelf;

/// The guide files of a section of a page, each with the name that the line before it gives.
fn files(section: &str) -> Vec<(Option<String>, String)> {
    let mut files = Vec::new();
    let mut name = None;
    let mut open: Option<String> = None;
    for line in section.lines() {
        match &mut open {
            None if line.trim() == "```toml" => open = Some(String::new()),
            None if line.starts_with("File ") => {
                name = line
                    .trim_start_matches("File ")
                    .trim_end_matches(':')
                    .trim_matches('`')
                    .split('/')
                    .next_back()
                    .map(str::to_owned);
            }
            None => {}
            Some(text) if line.trim() == "```" => {
                files.push((name.take(), std::mem::take(text)));
                open = None;
            }
            Some(text) => {
                text.push_str(line);
                text.push('\n');
            }
        }
    }
    files
}

fn found(section: &str) -> Vec<Finding> {
    let mut library = Library::empty();
    let mut guide = None;
    for (name, text) in files(section) {
        match name.and_then(|name| name.strip_suffix(".toml").map(str::to_owned)) {
            Some(stem) if text.contains("[procedure]") => {
                library.add(Shelf::Procedure, stem.clone(), Source::new(format!("procedures/{stem}.toml"), text));
            }
            Some(stem) if text.contains("[trouble]") => {
                library.add(Shelf::Trouble, stem.clone(), Source::new(format!("trouble/{stem}.toml"), text));
            }
            _ => guide = Some(Source::new("guide.toml", text)),
        }
    }
    check_file(&library, &guide.expect("a section has a guide")).findings
}

fn section<'p>(page: &'p str, title: &str) -> Option<&'p str> {
    let rest = page.split_once(&format!("## {title}"))?.1;
    Some(rest.split("\n## ").next().unwrap_or(rest))
}

#[test]
fn each_example_gives_its_finding_and_what_to_write_instead_does_not() {
    let mut wrong = Vec::new();
    for code in Code::ALL {
        let page = code.page();
        let (Some(example), Some(instead)) = (section(page, "Example"), section(page, "Write instead")) else {
            wrong.push(format!("{code}: the page has no example, or not what to write instead"));
            continue;
        };
        let findings = found(example);
        if !findings.iter().any(|finding| finding.code == *code) {
            wrong.push(format!("{code}: the example gives {:?}", findings.iter().map(|f| f.code).collect::<Vec<_>>()));
        }
        let helpless = findings.iter().filter(|finding| finding.help.is_none());
        wrong.extend(
            helpless.map(|finding| format!("{}: it does not say what to write: {}", finding.code, finding.message)),
        );
        let others = findings.iter().filter(|finding| finding.code != *code && finding.severity() == Severity::Error);
        wrong.extend(others.map(|other| format!("{code}: the example gives {} too", other.code)));
        let mended = found(instead);
        let still = mended.iter().filter(|finding| finding.code == *code || finding.severity() == Severity::Error);
        wrong.extend(still.map(|still| format!("{code}: what to write instead gives {}", still.code)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_two_codes_are_the_same_word() {
    let mut words: Vec<&str> = Code::ALL.iter().map(|code| code.as_str()).collect();
    words.sort_unstable();
    words.dedup();
    assert_eq!(words.len(), Code::ALL.len());
}
