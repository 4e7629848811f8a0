//! The field table: which keys each table of a guide file may have.
//!
//! The reader, its did-you-mean and anything that describes the format work from these lists.

/// The kinds of a step: the key that names the kind.
pub const KINDS: &[&str] = &["do", "ask", "gauge", "reckon", "wait", "run", "end"];

/// Keys that any step may have.
pub const STEP: &[&str] = &[
    "id", "needs", "gives", "spoils", "undoes", "one-way", "optional", "caution", "if-wrong", "why", "tell", "minutes",
    "at", "parts", "trouble", "stage", "clock",
];

/// Keys that only a step of this kind may have.
pub fn of_kind(kind: &str) -> &'static [&'static str] {
    match kind {
        "do" => &["in-one-go", "then"],
        "ask" => &["answers"],
        "gauge" => &["unit", "limits", "sets", "within", "under", "over"],
        "reckon" => &["from", "verdicts", "then"],
        "wait" => &["for", "ready", "up-to", "not-ready", "meanwhile", "then"],
        "run" => &["with", "each", "then"],
        _ => &[],
    }
}

/// Keys of a way out of a step.
pub const WAY: &[&str] = &["to", "trouble", "gives", "spoils", "undoes"];
/// Keys of an answer.
pub const ANSWER: &[&str] = &["say", "to", "trouble", "gives", "spoils", "undoes"];
/// Keys of a caution.
pub const CAUTION: &[&str] = &["level", "hazard", "avoid"];
/// Keys of a gauge's limits.
pub const LIMITS: &[&str] = &["min", "max"];
/// Keys of a reference to a fault table.
pub const TROUBLE_REF: &[&str] = &["table", "with"];
/// Keys of `[guide]`.
pub const GUIDE: &[&str] = &["id", "title", "edition", "use-when", "not-when", "passing", "care"];
/// Keys of `[procedure]`.
pub const PROCEDURE: &[&str] = &["id", "title", "takes", "passing"];
/// Keys of `[trouble]`.
pub const TROUBLE: &[&str] = &["id", "title", "takes", "needs", "seen", "first", "lay-aside", "goal", "confidence"];
/// Keys of `[start-over]`.
pub const START_OVER: &[&str] = &["say", "minutes", "undoes", "again", "parts", "tell"];
/// Keys of a `[[cause]]`.
pub const CAUSE: &[&str] = &["id", "say", "odds", "because"];
/// Keys of a `[[check]]`.
pub const CHECK: &[&str] =
    &["id", "ask", "answers", "gauge", "unit", "bands", "minutes", "caution", "parts", "tell", "at"];
/// Keys of an answer of a check.
pub const OUTCOME: &[&str] = &["say", "fixed", "lost", "gives", "spoils", "undoes", "chance"];
/// Keys of a band of a check's gauge.
pub const BAND: &[&str] = &["say", "min", "max", "fixed", "lost", "gives", "spoils", "undoes", "chance"];
/// Keys of a `[[remedy]]`.
pub const REMEDY: &[&str] = &[
    "id", "say", "do", "run", "with", "minutes", "wait", "cures", "loses", "undoes", "gives", "parts", "tools",
    "caution", "tell", "at", "because",
];
/// Keys of a `[[rehearsal]]`.
pub const REHEARSAL: &[&str] = &["title", "numbers", "answers", "leaves-out", "arrives", "finding"];
/// Tables at the top of a guide file.
pub const GUIDE_FILE: &[&str] = &["stepjig", "linked", "guide", "words", "kit", "step", "rehearsal"];
/// Tables at the top of a trouble file.
pub const TROUBLE_FILE: &[&str] = &["stepjig", "trouble", "words", "start-over", "cause", "check", "remedy"];
/// Tables at the top of a procedure file.
pub const PROCEDURE_FILE: &[&str] = &["stepjig", "procedure", "words", "step"];

/// The words of a step's own commands; no answer may be one of them.
pub const RESERVED_ANSWERS: &[&str] =
    &["done", "trouble", "back", "why", "where", "ahead", "note", "park", "again", "skip", "?"];

/// Tells whether a text can be the name of a step or a condition: letters, digits, dots, hyphens and slashes.
pub fn is_name(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"-_./".contains(&byte))
}
