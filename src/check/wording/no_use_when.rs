//! `no-use-when`: a guide that does not say when it is the right one, and when not.

use crate::finding::{Code, Finding};
use crate::guide::document::{Document, Shelf};

pub(super) fn check(document: &Document, findings: &mut Vec<Finding>) {
    if document.shelf != Shelf::Guide {
        return;
    }
    let missing = match (&document.use_when, &document.not_when) {
        (None, None) => "neither when to use it nor when not to",
        (None, Some(_)) => "not when to use it",
        (Some(_), None) => "not when not to use it",
        (Some(_), Some(_)) => return,
    };
    let place = document.place(&document.header);
    let finding = Finding::new(Code::NoUseWhen, place, format!("the guide says {missing}"));
    findings.push(finding.help("add `use-when` and `not-when` in words that a turner would look for"));
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked_in_file;
    use crate::finding::Code;

    #[test]
    fn a_guide_says_when_to_use_it() {
        let file = |keys: &str| {
            format!(
                "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\n{keys}\n[[step]]\nid = \"s\"\ndo = \"Press it.\"\n"
            )
        };
        let n = |keys: &str| marked_in_file(Code::NoUseWhen, &file(keys)).len();
        assert_eq!(
            [n(""), n("use-when = \"a\""), n("not-when = \"b\""), n("use-when = \"a\"\nnot-when = \"b\"")],
            [1, 1, 1, 0]
        );
        let procedure = file("").replace("[guide]", "[procedure]");
        assert_eq!(marked_in_file(Code::NoUseWhen, &procedure), [""; 0]);
    }
}
