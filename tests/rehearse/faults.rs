//! Faults of a `[[rehearsal]]`: each is found by `check`, at its place, with what to write instead.

use stepjig::check::check_file;
use stepjig::finding::Source;
use stepjig::guide::Library;

const GUIDE: &str = r#"stepjig = 1
[guide]
id = "choir"
title = "A raffle pen"
[kit.tube.body]
outside = "10.34 mm"
[[step]]
id = "read"
gauge = "Measure the tube."
unit = "mm"
limits = {}
[[step]]
id = "glue"
do = "Push the tube home."
needs = ["read.read"]
gives = ["tube.in"]
one-way = true
if-wrong = "Stop."
[[step]]
id = "face"
ask = "What does the face show?"
answers = [{ say = "bare brass" }, { say = "a split", to = "lost" }]
[[step]]
id = "air"
wait = "20 min"
ready = "the smell is gone"
[[step]]
id = "wall"
reckon = "wall"
[[step]]
id = "end"
end = "finished"
needs = ["tube.in"]
[[step]]
id = "lost"
end = "scrap"
[[rehearsal]]
"#;

/// The rehearsal's lines; the code; the text that the finding stands at; what message and help say.
type Row = (&'static str, &'static str, &'static str, &'static str);

const ROWS: [Row; 24] = [
    ("arrives = \"end\"", "missing-key", "[[rehearsal]]", "this rehearsal has no `title`"),
    ("title = \"t\"", "missing-key", "[[rehearsal]]", "what must come of it … add `arrives"),
    ("title = \"t\"\narives = \"end\"", "unknown-key", "arives", "did you mean `arrives`?"),
    ("title = 3\narrives = \"end\"", "wrong-type", "3", "text in quotes"),
    ("title = \"t\"\narrives = \"ennd\"", "no-such-step", "\"ennd\"", "did you mean `end`?"),
    ("title = \"t\"\narrives = \"finishd\"", "no-such-step", "\"finishd\"", "no step is named"),
    ("title = \"t\"\narrives = \"end\"\nanswers = { fase = \"a split\" }", "no-such-step", "fase", "mean `face`?"),
    (
        "title = \"t\"\narrives = \"end\"\nanswers = { face = \"a splt\" }",
        "no-such-answer",
        "\"a splt\"",
        "mean `a split`?",
    ),
    (
        "title = \"t\"\narrives = \"end\"\nanswers = { face = \"grey\" }",
        "no-such-answer",
        "\"grey\"",
        "`bare brass`, `a split`",
    ),
    (
        "title = \"t\"\narrives = \"end\"\nanswers = { read = \"10 kg\" }",
        "no-such-answer",
        "\"10 kg\"",
        "is no reading of `read`",
    ),
    ("title = \"t\"\narrives = \"end\"\nanswers = { read = 10 }", "no-such-answer", "10", "is no reading of `read`"),
    (
        "title = \"t\"\narrives = \"end\"\nanswers = { air = \"done\" }",
        "no-such-answer",
        "\"done\"",
        "`ready` or `not ready`",
    ),
    (
        "title = \"t\"\narrives = \"end\"\nanswers = { air = \"not ready\" }",
        "no-such-answer",
        "\"not ready\"",
        "no way `not-ready`",
    ),
    (
        "title = \"t\"\narrives = \"end\"\nanswers = { glue = \"skip\" }",
        "no-such-answer",
        "\"skip\"",
        "cannot be said at `glue`",
    ),
    (
        "title = \"t\"\narrives = \"end\"\nanswers = { glue = \"no tube.inn\" }",
        "no-such-answer",
        "\"no tube.inn\"",
        "does not need `tube.inn` … it needs read.read",
    ),
    (
        "title = \"t\"\narrives = \"end\"\nanswers = { glue = \"no\" }",
        "no-such-answer",
        "\"no\"",
        "does not say what is not true",
    ),
    (
        "title = \"t\"\narrives = \"end\"\nanswers = { glue = \"trouble tube.inn\" }",
        "no-such-answer",
        "\"trouble tube.inn\"",
        "mean `tube.in`?",
    ),
    ("title = \"t\"\narrives = \"end\"\nanswers = { wall = \"sond\" }", "no-such-answer", "\"sond\"", "mean `sound`?"),
    ("title = \"t\"\narrives = \"end\"\nanswers = { wall = \"hole=10\" }", "no-such-answer", "\"hole=10\"", "unit"),
    (
        "title = \"t\"\narrives = \"end\"\nnumbers = { \"kit.tube.body.outsid\" = \"10 mm\" }",
        "no-such-value",
        "\"kit.tube.body.outsid\"",
        "mean `kit.tube.body.outside`?",
    ),
    ("title = \"t\"\narrives = \"end\"\nnumbers = { \"kit.tube.body.outside\" = 10 }", "bad-value", "10", "unit"),
    ("title = \"t\"\nleaves-out = [\"glu\"]\nfinding = \"need-unmet\"", "no-such-step", "\"glu\"", "mean `glue`?"),
    ("title = \"t\"\nfinding = \"need-unmet\"", "missing-key", "finding", "leaves-out"),
    ("title = \"t\"\nleaves-out = [\"glue\"]\nfinding = \"idle-step\"", "bad-value", "\"idle-step\"", "`need-unmet`"),
];

#[test]
fn each_fault_is_found_at_its_place_with_what_to_write() {
    let mut wrong = Vec::new();
    for (lines, code, at, said) in ROWS {
        let source = Source::new("choir.toml", format!("{GUIDE}{lines}\n"));
        let found = check_file(&Library::empty(), &source).findings;
        let told = |finding: &stepjig::finding::Finding| {
            let text = &source.text()[finding.place.span.clone()];
            let says = format!("{} … {}", finding.message, finding.help.as_deref().unwrap_or(""));
            let mut rest = says.as_str();
            let in_order = said.split(" … ").all(|part| rest.split_once(part).map(|(_, after)| rest = after).is_some());
            finding.code.as_str() == code && text.trim_end() == at && in_order
        };
        if found.len() != 1 || !told(&found[0]) {
            let found: Vec<String> = found.iter().map(|found| format!("{found:?}")).collect();
            wrong.push(format!("{lines}\n  wanted {code} at {at}: {said}\n  found {found:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_a_guide_has_rehearsals() {
    let text = "stepjig = 1\n[procedure]\nid = \"p\"\ntitle = \"P\"\n[[step]]\nid = \"a\"\nend = \"return\"\n[[rehearsal]]\ntitle = \"t\"\n";
    let found = check_file(&Library::empty(), &Source::new("p.toml", text)).findings;
    let codes: Vec<&str> = found.iter().map(|finding| finding.code.as_str()).collect();
    assert_eq!(codes, ["unknown-key"]);
}
