//! `trial-behind`: a guide whose trials are all of other editions.

use crate::finding::{Code, Finding};
use crate::guide::document::{Document, Shelf};

pub(super) fn check(document: &Document, findings: &mut Vec<Finding>) {
    let Some(edition) = document.edition.as_deref().filter(|_| document.shelf == Shelf::Guide) else { return };
    let mut tried = document.verified.iter().map(|trial| trial.edition.as_deref());
    // A trial that names no edition may be of this one.
    let Some(Some(last)) = tried.clone().next_back() else { return };
    if tried.any(|tried| tried.is_none_or(|tried| tried == edition)) {
        return;
    }
    let message = format!("edition {edition} was not tried; the last trial was of edition {last}");
    let finding = Finding::new(Code::TrialBehind, document.place(&document.header), message);
    findings.push(finding.help(format!("try it again, then add a `[[verified]]` with `edition = \"{edition}\"`")));
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked_in_file;
    use crate::finding::Code;

    #[test]
    fn one_trial_at_least_is_of_this_edition() {
        let file = |edition: &str, tried: &[&str]| {
            let tried: String = tried
                .iter()
                .map(|edition| {
                    format!(
                        "[[verified]]\non = \"2026-11-26\"\nby = \"B\"\nmethod = \"desk\"\nwhat = \"W.\"\n{edition}\n"
                    )
                })
                .collect();
            format!(
                "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\n{edition}\n{tried}[[step]]\nid = \"s\"\ndo = \"Press it.\"\n"
            )
        };
        let n = |edition: &str, tried: &[&str]| marked_in_file(Code::TrialBehind, &file(edition, tried)).len();
        let (first, second) = ("edition = \"1\"", "edition = \"2\"");
        assert_eq!([n(second, &[first]), n(second, &[first, first])], [1, 1]);
        assert_eq!([n(second, &[second, first]), n(second, &[first, second]), n(second, &["", first])], [0, 0, 0]);
        assert_eq!([n(second, &[]), n("", &[first]), n("", &[])], [0, 0, 0]);
    }
}
