//! `wait-unclear`: a wait that leaves open what is waited for, how one sees that it is over, or what to do if it is not.

use super::senses::Senses;
use super::text::{Role, Worded};
use crate::finding::{Code, Finding};
use crate::guide::document::RawKind;

/// Words that say that it is over, and name no sign of it.
#[rustfmt::skip]
pub(super) const OVER: &[&str] = &[
    "a", "all", "are", "been", "completely", "cured", "done", "dried", "dry", "elapsed", "finish", "finished",
    "fully", "glue", "gone", "hard", "hardened", "has", "have", "hours", "is", "it", "minutes", "now", "over",
    "passed", "ready", "set", "the", "time", "up", "wait",
];

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    let RawKind::Wait { text, waiting_for, meanwhile, not_ready, .. } = &worded.step.kind else { return };
    if waiting_for.is_none() {
        let finding = worded.at(Code::WaitUnclear, &text.span, "the wait does not say what is being waited for");
        findings.push(finding.help("say it with `for`: `for = \"the glue to set\"`"));
    }
    if !meanwhile && not_ready.is_none() {
        let finding = worded.at(Code::WaitUnclear, &text.span, "nothing says what to do when the sign does not come");
        findings
            .push(finding.help("say the longest wait with `up-to`, and with `not-ready` the step that follows then"));
    }
    for phrase in worded.of(&[Role::Ready]) {
        let senses = Senses::OVER.and(Senses::MEASURE).and(Senses::UNIT).and(Senses::NUMBER);
        if worded.sentences(phrase).all(|sentence| sentence.words.iter().all(|word| word.senses.has(senses))) {
            let message = format!("`{}` is no sign that one can see or feel", phrase.text.value);
            let finding = worded.at(Code::WaitUnclear, &phrase.text.span, message);
            findings.push(finding.help("say what to look at or touch: `a drop of the same glue on scrap is hard`"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked;
    use crate::finding::Code;

    #[test]
    fn a_wait_says_what_for_and_how_it_ends() {
        let whole = "wait = \"20 min\"\nfor = \"the glue to set\"\nup-to = \"1 h\"\nnot-ready = \"s\"\n";
        for ready in ["it is dry", "Dry.", "the time is over", "20 minutes have passed", "the glue has cured"] {
            assert_eq!(marked(Code::WaitUnclear, &format!("{whole}ready = {ready:?}")), [format!("{ready:?}")]);
        }
        for ready in ["a drop of the same glue on scrap is hard", "it feels dry to a knuckle", "the wet sheen is gone"]
        {
            assert_eq!(marked(Code::WaitUnclear, &format!("{whole}ready = {ready:?}")), [""; 0], "{ready}");
        }
        let bare = "wait = \"20 min\"\nready = \"the wet sheen is gone\"";
        assert_eq!(marked(Code::WaitUnclear, bare), ["\"20 min\"", "\"20 min\""]);
        let meanwhile = format!("{bare}\nfor = \"the sheen\"\nmeanwhile = true");
        assert_eq!(marked(Code::WaitUnclear, &meanwhile), [""; 0]);
    }
}
