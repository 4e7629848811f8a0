//! Whatever is answered, at every moment: nothing for `check` to find, nothing lost by going back, texts stay texts.

use proptest::prelude::*;
use stepjig::draft::{Answers, Asked, Interview, Question, from, parse, to_text, write};
use stepjig::finding::Source;
use stepjig::guide::Library;

use super::{assert_clean, by_proposals, checked};

/// Texts that would break out of a file, a comment or a placeholder if they could.
const HOSTILE: [&str; 12] = [
    "a pen",
    "\"quoted\" and 'quoted'",
    "\"\"\"",
    "''' # no comment",
    "{tube} {{ } {kit.tube.body.drill} {",
    "one\ntwo\r\n[[step]]\nid = \"x\"",
    "\u{1b}[2J\u{7} bell \u{7f} del \u{85} nel",
    "\\u0041 \\n \\",
    "# fill in: this",
    "\u{202e}drawkcab\u{2028}line",
    "a\tb = [1]",
    "Ünïcödé 筆 🖋",
];

/// Names of parts, among them the usual ones and words that a rule on wording knows.
const PARTS: [&str; 15] = [
    "tip",
    "mechanism",
    "spring",
    "clip",
    "tail",
    "coupler",
    "thread",
    "ring",
    "finial",
    "top",
    "gently",
    "press",
    "and-then",
    "rim",
    "stop",
];

fn said(question: &Question, n: usize) -> String {
    let typed = match &question.asked {
        Asked::Choice(choices) => choices[n % choices.len()].clone(),
        Asked::Length(least, most) => match n % 4 {
            0 => "not known".to_owned(),
            1 => format!("{} mm", least + (most - least) * (n / 4 % 100) as f64 / 100.0),
            2 => format!("{most} mm"),
            _ => "25/64 in".to_owned(),
        },
        Asked::Parts | Asked::Loose(_) => {
            let mut names: Vec<&str> = Vec::new();
            for place in 0..1 + n % 5 {
                let name = PARTS[(n / 7 + place * (1 + n % 3)) % PARTS.len()];
                if !names.contains(&name) {
                    names.push(name);
                }
            }
            names.join(", ")
        }
        Asked::Text(most) => {
            let text = if n.is_multiple_of(5) { "w".repeat(*most) } else { HOSTILE[n % HOSTILE.len()].to_owned() };
            text.chars().take(*most).collect()
        }
        Asked::Name => format!("kit-{n}"),
    };
    // What is out of a question's range is a slip, and the person says that it is not known.
    question.read(&typed).unwrap_or_else(|_| question.any_answer())
}

/// Answers by numbers, one a question, until all is answered or the numbers are used up.
fn answered(numbers: &[usize]) -> Vec<Answers> {
    let mut moments = vec![Answers::default()];
    for n in numbers {
        let mut answers = moments.last().cloned().unwrap_or_default();
        let interview = Interview::of(&answers);
        let Some(question) = interview.next() else { break };
        answers.set(&question.key, said(question, *n));
        moments.push(answers);
    }
    moments
}

fn numbers() -> impl Strategy<Value = Vec<usize>> {
    prop::collection::vec(0_usize..100_000, 1..60)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn check_finds_nothing_at_any_moment(numbers in numbers(), at in 0_usize..60) {
        let moments = answered(&numbers);
        for moment in [at % moments.len(), moments.len() / 2, moments.len() - 1] {
            assert_clean(&moments[moment], "by any answers");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_file_of_answers_reads_back(numbers in numbers()) {
        let answers = answered(&numbers).pop().expect("there is a moment");
        let text = to_text(&answers);
        let read = parse(&Source::new("kept.toml", text.clone())).expect("it reads back");
        prop_assert_eq!(&read, &answers);
        prop_assert_eq!(to_text(&read), text);
    }

    #[test]
    fn going_back_keeps_every_other_answer(numbers in numbers(), which in 0_usize..60, other in 0_usize..100_000) {
        let answers = by_proposals(answered(&numbers).pop().expect("there is a moment"));
        let interview = Interview::of(&answers);
        let question = &interview.questions[which % interview.questions.len()];
        let before = answers.get(&question.key).expect("all is answered").to_owned();
        let mut changed = answers.clone();
        changed.set(&question.key, said(question, other));
        for (key, kept) in answers.iter().filter(|(key, _)| *key != question.key) {
            prop_assert_eq!(changed.get(key), Some(kept));
        }
        changed.set(&question.key, before);
        prop_assert_eq!(to_text(&changed), to_text(&answers));
        prop_assert_eq!(write(&Interview::of(&changed).build), write(&interview.build));
    }

    #[test]
    fn what_is_read_back_of_a_guide_is_what_was_said(numbers in numbers()) {
        let answers = answered(&numbers).pop().expect("there is a moment");
        let interview = Interview::of(&answers);
        let guide = Source::new("draft.toml", write(&interview.build));
        let read = from(&Library::shipped(), &guide).expect("it is a guide").answers;
        for (key, said) in read.iter() {
            let known = interview.answered().find(|(question, _)| question.key == key).map(|(_, said)| said);
            prop_assert_eq!(known, Some(said), "{} of {}", key, guide.text());
        }
    }
}

/// What a person says stands in the guide as the very text, and nothing of it is read as anything else.
#[test]
fn hostile_texts_stay_texts() {
    for text in HOSTILE {
        let mut answers = Answers::default();
        for (key, said) in [("tubes", "one"), ("closes", "twist"), ("writes", "ballpoint refill")] {
            answers.set(key, said.to_owned());
        }
        for key in ["title", "use-when", "not-when"] {
            let interview = Interview::of(&answers);
            let said = interview.question(key).expect("it is asked").read(text).expect("it is a text");
            answers.set(key, said);
        }
        assert_clean(&answers, text);
        let guide = checked(&write(&Interview::of(&answers).build)).guide.expect("it links");
        assert_eq!((guide.title(), guide.use_when(), guide.not_when()), (text, Some(text), Some(text)));
        let read = parse(&Source::new("kept.toml", to_text(&answers))).expect("it reads back");
        assert_eq!(read, answers);
    }
}

#[test]
fn what_cannot_be_an_answer_is_refused_with_what_to_say() {
    let answers = by_proposals(Answers::default());
    let interview = Interview::of(&answers);
    for (key, typed, message) in [
        ("tubes", "three", "`three` is none of these"),
        ("closes", "t", "`t` may be several of these"),
        ("lower.drill", "99 mm", "99 mm is out of range"),
        ("lower.drill", "7", "7"),
        ("parts", "", "0 parts are named"),
        ("parts", "tip, tip", "two parts are called `tip`"),
        ("parts", "tip, \u{1b}[2J", "`^[[2j` cannot be a part's name"),
        ("parts", "tip, cap", "`cap` is not a part's own name"),
        ("loose", "spring, tip", "`tip` is a part that is pressed"),
        ("loose", "band, band", "two parts are called `band`"),
        ("loose", "", "0 parts are named"),
        ("part.band.held-by", "glue", "`glue` is none of these"),
        ("part.mechanism.rod", "perhaps", "`perhaps` is none of these"),
        ("title", "  ", "nothing was said"),
        ("name", "../x", "`../x` cannot be a guide's name"),
    ] {
        let refused = interview.question(key).expect("it is asked").read(typed).expect_err(typed);
        assert!(refused.message.contains(message), "{key}: {refused}");
        assert!(!refused.help.is_empty() && !refused.help.ends_with('.'), "{key}: {refused}");
    }
}
