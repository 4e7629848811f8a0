//! `answers-overlap`: answers that are not two to five, begin alike, or name numbers that overlap or leave a gap.

use super::text::{Phrase, Role, Worded};
use crate::finding::{Code, Finding};
use crate::guide::document::RawKind;
use crate::guide::fold;

const MOST: usize = 5;

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    let RawKind::Ask { key, answers, .. } = &worded.step.kind else { return };
    if answers.len() > MOST {
        let message = format!("{} answers are more than a glance takes in", answers.len());
        let finding = worded.at(Code::AnswersOverlap, key, message);
        findings.push(finding.help(format!("keep to {MOST} at most; ask twice, the coarse question first")));
    }
    begin_alike(worded, findings);
    let ranges: Vec<_> =
        worded.of(&[Role::Answer]).filter_map(|phrase| Some((range(&phrase.text.value)?, phrase))).collect();
    if ranges.len() >= 2 {
        numbers(worded, ranges, findings);
    }
}

fn begin_alike(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    let alike = |a: &str, b: &str| {
        a.as_bytes().first().map(u8::to_ascii_lowercase) == b.as_bytes().first().map(u8::to_ascii_lowercase)
    };
    let phrases = || worded.of(&[Role::Answer]);
    for (n, long) in phrases().enumerate() {
        // Folding costs; only answers with the same first letter can be prefixes of each other. Where punctuation
        // stands first, all are compared.
        let odd = |phrase: &Phrase<'_>| !phrase.text.value.as_bytes().first().is_some_and(u8::is_ascii_alphanumeric);
        let begins = phrases().enumerate().find(|(m, short)| {
            *m != n
                && (odd(long) || odd(short) || alike(&short.text.value, &long.text.value))
                && is_prefix(&fold(&short.text.value), &fold(&long.text.value))
        });
        if let Some((_, short)) = begins {
            let message = format!("`{}` begins with the answer `{}`", long.text.value, short.text.value);
            let finding = worded.at(Code::AnswersOverlap, &long.text.span, message);
            findings.push(finding.help("begin it with another word, so that typing its beginning means one answer"));
        }
    }
}

fn is_prefix(short: &str, long: &str) -> bool {
    short.len() < long.len() && !short.is_empty() && long.starts_with(short)
}

/// Numbers that an answer stands for, ends included or not.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Numbers {
    low: f64,
    with_low: bool,
    high: f64,
    with_high: bool,
}

fn numbers(worded: &Worded<'_>, mut ranges: Vec<(Numbers, &Phrase<'_>)>, findings: &mut Vec<Finding>) {
    ranges.sort_by(|(a, _), (b, _)| a.low.total_cmp(&b.low).then(a.high.total_cmp(&b.high)));
    for pair in ranges.windows(2) {
        let ((a, first), (b, second)) = (pair[0], pair[1]);
        let said = (&first.text.value, &second.text.value);
        let overlap = b.low < a.high || b.low == a.high && b.with_low && a.with_high;
        // Whole numbers may step by one: `1 to 3`, `4 or more` coats.
        let whole = a.high.fract() == 0.0 && b.low.fract() == 0.0 && a.with_high && b.with_low;
        let gap = b.low > a.high && !(whole && b.low == a.high + 1.0) || b.low == a.high && !b.with_low && !a.with_high;
        let (message, help) = if overlap {
            (
                format!("`{}` and `{}` overlap", said.0, said.1),
                "let one begin where the other ends: `under 5 mm`, `5 mm or more`",
            )
        } else if gap {
            (
                format!("there is no answer between `{}` and `{}`", said.0, said.1),
                "let one begin where the other ends: `under 5 mm`, `5 mm or more`",
            )
        } else {
            continue;
        };
        findings.push(worded.at(Code::AnswersOverlap, &second.text.span, message).help(help));
    }
}

/// Reads an answer that is nothing but a range of numbers: `under 5 mm`, `5 to 8 mm`, `8 mm or more`.
fn range(said: &str) -> Option<Numbers> {
    if !said.bytes().any(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let folded = said.trim().trim_end_matches('.').to_ascii_lowercase();
    let all = Numbers { low: f64::NEG_INFINITY, with_low: false, high: f64::INFINITY, with_high: false };
    for (head, with, below) in [
        ("under ", false, true),
        ("below ", false, true),
        ("less than ", false, true),
        ("up to ", true, true),
        ("at most ", true, true),
        ("over ", false, false),
        ("above ", false, false),
        ("more than ", false, false),
        ("at least ", true, false),
        ("from ", true, false),
    ] {
        if let Some(number) = folded.strip_prefix(head).and_then(number) {
            return Some(if below {
                Numbers { high: number, with_high: with, ..all }
            } else {
                Numbers { low: number, with_low: with, ..all }
            });
        }
    }
    for (tail, below) in
        [("or more", false), ("or over", false), ("and over", false), ("or less", true), ("or under", true)]
    {
        if let Some(number) = folded.strip_suffix(tail).and_then(number) {
            return Some(if below {
                Numbers { high: number, with_high: true, ..all }
            } else {
                Numbers { low: number, with_low: true, ..all }
            });
        }
    }
    let (low, high) =
        folded.split_once(" to ").or_else(|| folded.split_once('–')).or_else(|| folded.split_once('-'))?;
    Some(Numbers { low: number(low)?, with_low: true, high: number(high)?, with_high: true })
}

/// Reads a number with at most one word behind it.
fn number(said: &str) -> Option<f64> {
    let mut words = said.split_whitespace();
    let number: f64 =
        words.next()?.trim_end_matches(|c: char| c.is_alphabetic() || c == '%' || c == '°').parse().ok()?;
    (words.count() <= 1 && number.is_finite()).then_some(number)
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked;
    use crate::finding::Code;

    #[test]
    fn answers_are_exclusive() {
        let table: &[(&[&str], &str)] = &[
            (&["yes", "no", "cannot tell"], ""),
            (&["yes", "yes, but tight"], "\"yes, but tight\""),
            (&["(no)", "No gap"], "\"No gap\""),
            (&["no", "none"], "\"none\""),
            (&["under 5 mm", "5 to 8 mm", "over 8 mm", "cannot tell"], ""),
            (&["under 5 mm", "5 to 8 mm", "8 mm or more"], "\"8 mm or more\""),
            (&["under 5 mm", "4.5 to 8 mm"], "\"4.5 to 8 mm\""),
            (&["under 5 mm", "over 5 mm"], "\"over 5 mm\""),
            (&["under 5 mm", "6 mm or more"], "\"6 mm or more\""),
            (&["1 to 3 coats", "4 or more"], ""),
            (&["1-3", "3-5"], "\"3-5\""),
            (&["240", "400", "4 o'clock"], ""),
            (&["a", "b", "c", "d", "e", "f"], "answers"),
        ];
        for (answers, expected) in table {
            let answers = answers.iter().map(|say| format!("{{ say = {say:?} }}")).collect::<Vec<_>>().join(", ");
            let step = format!("ask = \"How wide?\"\nanswers = [{answers}]");
            assert_eq!(marked(Code::AnswersOverlap, &step).join(" | "), *expected, "{answers}");
        }
    }
}
