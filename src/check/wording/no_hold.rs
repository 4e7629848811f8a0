//! `no-hold`: a step that cannot be taken back, and nothing says what to do when it goes wrong.
//!
//! The hold before it shows what must be true, all its moves, and where to turn if it goes wrong; the last is `if-wrong`.

use super::text::Worded;
use crate::finding::{Code, Finding};

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    let step = worded.step;
    if step.one_way && step.if_wrong.is_none() {
        let message =
            format!("`{}` cannot be taken back, and nothing says what to do when it goes wrong", step.id.value);
        let finding = worded.at(Code::NoHold, &step.id.span, message);
        findings.push(finding.help("add `if-wrong`: what means stop, and where to go from there"));
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked;
    use crate::finding::Code;

    #[test]
    fn a_one_way_step_says_what_to_do_when_it_goes_wrong() {
        assert_eq!(marked(Code::NoHold, "do = \"Press it.\"\none-way = true"), ["\"s\""]);
        assert_eq!(
            marked(Code::NoHold, "do = \"Press it.\"\none-way = true\nif-wrong = \"If it tilts, stop.\""),
            [""; 0]
        );
        assert_eq!(marked(Code::NoHold, "do = \"Press it.\""), [""; 0]);
    }
}
