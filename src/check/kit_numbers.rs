//! `bad-value` in `[kit]`: a number off the kit's sheet that is no length, or that cannot be.
//!
//! Only what the format itself names is judged: a tube's `drill`, `outside` and `length`, a rim's `across`, the thread's
//! `lead`. What a guide calls otherwise is judged where a gauge or a sum reads it.

use std::collections::BTreeMap;

use crate::finding::{Code, Finding, Place};
use crate::guide::Guide;
use crate::units::Length;

/// The shortest and the longest that each of them is in a pen, in mm: wide bounds that only a slip lies beyond, our own,
/// no source.
const RANGES: [(&str, &str, f64, f64); 5] = [
    ("kit.tube.", ".drill", 3.0, 30.0),
    ("kit.tube.", ".outside", 3.0, 30.0),
    ("kit.tube.", ".length", 5.0, 300.0),
    ("kit.rim.", ".across", 3.0, 60.0),
    ("kit.thread", ".lead", 0.2, 30.0),
];

/// What is amiss with a number off a kit's sheet.
pub(crate) struct Amiss<'n> {
    /// The number, by its path.
    pub path: &'n str,
    /// What is amiss.
    pub message: String,
    /// What to do.
    pub help: Option<String>,
}

/// Returns what is amiss with a kit's numbers, each by its path as it is written.
pub(crate) fn amiss<'n>(numbers: impl IntoIterator<Item = (&'n str, String)>) -> Vec<Amiss<'n>> {
    let mut found = Vec::new();
    let mut lengths: BTreeMap<&str, Length> = BTreeMap::new();
    for (path, written) in numbers {
        let named = |(before, after, ..): &&(&str, &str, f64, f64)| path.starts_with(before) && path.ends_with(after);
        let Some((_, _, least, most)) = RANGES.iter().find(named) else { continue };
        match Length::parse(&written, None) {
            Err(wrong) => found.push(Amiss { path, message: format!("{path}: {wrong}"), help: wrong.help() }),
            Ok(length) if !(*least..=*most).contains(&length.in_mm()) => found.push(Amiss {
                path,
                message: format!("{path}: {written} is no such length in a pen"),
                help: Some(format!("it is {least} mm to {most} mm; look at the sheet, and at the unit")),
            }),
            Ok(length) => {
                lengths.insert(path, length);
            }
        }
    }
    for (path, drill) in lengths.iter().filter(|(path, _)| path.ends_with(".drill")) {
        let outside = format!("{}.outside", path.trim_end_matches(".drill"));
        if let Some(tube) = lengths.get(outside.as_str()).filter(|tube| drill <= tube) {
            found.push(Amiss {
                path,
                message: format!("{path}: a bit of {drill} makes no room for a tube of {tube}"),
                help: Some("a bit is wider than its tube; look at both on the sheet".to_owned()),
            });
        }
    }
    found
}

/// Checks the numbers of a guide's kit; those that are kept with a job are its own, and were taken as they are.
pub(super) fn check(guide: &Guide, findings: &mut Vec<Finding>) {
    let document = guide.document();
    if document.linked {
        return;
    }
    for amiss in amiss(document.kit.iter().map(|(path, value)| (&*path.value, value.written()))) {
        let Some((path, _)) = document.kit.iter().find(|(path, _)| path.value == amiss.path) else { continue };
        let place = Place::new(&document.source, path.span.clone());
        findings.push(Finding::new(Code::BadValue, place, amiss.message).maybe_help(amiss.help));
    }
}

#[cfg(test)]
mod tests {
    use crate::check::check_file;
    use crate::finding::{Code, Source};
    use crate::guide::Library;

    /// What is found in a shipped guide with one of its numbers written otherwise.
    fn found(from: &str, to: &str) -> Vec<String> {
        let library = Library::shipped();
        let text = library.guide("two-tube-fountain").expect("it is shipped").text().to_owned();
        assert_eq!(text.matches(from).count(), 1, "{from} stands in one place");
        let checked = check_file(&library, &Source::new("g.toml", text.replace(from, to)));
        let bad = checked.findings.iter().filter(|finding| finding.code == Code::BadValue);
        bad.map(|finding| format!("{} {finding:?}", finding.message)).collect()
    }

    #[test]
    fn a_number_that_is_no_length_or_cannot_be_is_told_at_its_key() {
        let rim = "across = \"14.40 mm\"";
        assert_eq!(found(rim, "across = \"14.5 mm\""), Vec::<String>::new());
        for (to, says) in [
            ("\"14.4\"", "unit"),
            ("\"14.4 m\"", "kit.rim.finial.across"),
            ("\"banana\"", "banana"),
            ("\"999 mm\"", "no such length in a pen"),
            ("\"14,4 mm\"", "14,4"),
        ] {
            let found = found(rim, &format!("across = {to}"));
            assert!(found.len() == 1 && found[0].contains(says), "{to}: {found:?}");
        }
    }

    #[test]
    fn a_bit_is_wider_than_its_tube() {
        let found = found("drill = \"10.5 mm\"", "drill = \"9 mm\"");
        assert!(found.len() == 1 && found[0].contains("no room for a tube"), "{found:?}");
    }
}
