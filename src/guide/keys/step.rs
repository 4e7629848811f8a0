//! A step, and the tables inside it.

use super::{Field, Kind, Shape, Table, allowed, wanted};
use crate::guide::written::Level;

const LEVELS: &[&str] = &[Level::WORDS[0].0, Level::WORDS[1].0, Level::WORDS[2].0, Level::WORDS[3].0];

pub(super) const GIVES: Field = allowed("gives", Shape::Conditions, "What is true of the work after it.");
pub(super) const SPOILS: Field = allowed("spoils", Shape::Conditions, "What is no longer true after it.");
pub(super) const UNDOES: Field =
    allowed("undoes", Shape::Conditions, "What is no longer true after it, with all that was built on it.");
const THEN: Field = allowed("then", Shape::Way, "The step that comes after it; without this the next in the file.");
const TO: Field = allowed("to", Shape::Text, "The step it leads to; without this the next in the file.");
const TROUBLE: Field = allowed("trouble", Shape::FaultTable, "The fault table it opens.");

/// A `[[step]]`.
pub static STEP: Table = Table {
    name: "step",
    place: "in a step",
    this: "this step",
    about: "A step: exactly one of `do`, `ask`, `gauge`, `reckon`, `wait`, `run`, `end` says what it is.",
    fields: &[
        wanted("id", Shape::StepId, "The step's name: letters, digits and hyphens."),
        allowed("needs", Shape::Conditions, "What must be true of the work before it."),
        GIVES,
        SPOILS,
        UNDOES,
        allowed("one-way", Shape::Flag, "It cannot be taken back: everything it needs is asked for first."),
        allowed("optional", Shape::Flag, "It may be skipped."),
        allowed("caution", Shape::Tables(&CAUTION, 0), "What can hurt, told before the step."),
        allowed("if-wrong", Shape::Text, "What to do when it goes wrong."),
        allowed("why", Shape::Text, "Why it is done."),
        allowed("tell", Shape::Text, "A note under the step."),
        allowed("minutes", Shape::Number(0.0, Some(100_000.0)), "Minutes of attention, an estimate."),
        allowed("at", Shape::Text, "The place or machine: lathe, press, bench."),
        allowed("parts", Shape::Texts(None), "What to have at hand."),
        allowed("trouble", Shape::FaultTables, "The fault tables to offer first when something goes wrong here."),
        allowed("stage", Shape::Text, "The stage that begins here."),
        allowed("clock", Shape::Pairs, "Marks to draw on a clock face."),
    ],
    kinds: &[
        Kind {
            key: wanted("do", Shape::Text, "One action."),
            fields: &[allowed("in-one-go", Shape::Texts(Some(7)), "Up to 7 moves that cannot be interrupted."), THEN],
            without: &[],
        },
        Kind {
            key: wanted("ask", Shape::Text, "A question."),
            fields: &[wanted(
                "answers",
                Shape::Tables(&ANSWER, 2),
                "Two or more answers, one of them for who cannot tell.",
            )],
            without: &[],
        },
        Kind {
            key: wanted("gauge", Shape::Text, "What to measure, and where."),
            fields: &[
                wanted("unit", Shape::Text, "The unit of the reading: mm, in, clock."),
                wanted("limits", Shape::Table(&LIMITS), "The lowest and the highest good reading."),
                allowed("sets", Shape::Text, "The kit number that the reading becomes: kit.tube.body.outside."),
                allowed("within", Shape::Way, "Where a good reading leads; without this to the next step in the file."),
                allowed("under", Shape::Way, "Where a reading under the lowest leads."),
                allowed("over", Shape::Way, "Where a reading over the highest leads."),
            ],
            without: &[],
        },
        Kind {
            key: wanted("reckon", Shape::Text, "One of the shop's sums, by its name."),
            fields: &[
                allowed("from", Shape::Pairs, "What the sum is given, by name."),
                allowed("verdicts", Shape::Ways, "Where each verdict of the sum leads."),
                THEN,
            ],
            without: &[],
        },
        Kind {
            key: wanted("wait", Shape::Text, "How long: 20 min, 12 h."),
            fields: &[
                allowed("for", Shape::Text, "What is being waited for."),
                wanted("ready", Shape::Text, "The sign that it is really over."),
                allowed("up-to", Shape::Text, "The longest wait; after it the sign will not come."),
                allowed("not-ready", Shape::Way, "Where it leads when the sign does not come."),
                allowed("meanwhile", Shape::Flag, "Other work goes on meanwhile."),
                THEN,
            ],
            without: &[],
        },
        Kind {
            key: wanted("run", Shape::Text, "A procedure, by its id."),
            fields: &[
                allowed("with", Shape::Pairs, "What the procedure is given, by name."),
                allowed("each", Shape::SomeTexts, "It is repeated for each of these; `{each}` in its texts."),
                THEN,
            ],
            without: &["one-way", "minutes", "at"],
        },
        Kind {
            key: wanted("end", Shape::Text, "finished, scrap, or in a procedure return."),
            fields: &[],
            without: &[],
        },
    ],
};

/// A way out of a step.
pub static WAY: Table = Table {
    name: "way",
    place: "in a way",
    this: "this way",
    about: "A way out of a step, and what is true of the work on it.",
    fields: &[TO, TROUBLE, GIVES, SPOILS, UNDOES],
    kinds: &[],
};

/// An answer.
pub static ANSWER: Table = Table {
    name: "answer",
    place: "in an answer",
    this: "this answer",
    about: "An answer, where it leads, and what is true of the work then.",
    fields: &[wanted("say", Shape::Text, "The answer in a few words."), TO, TROUBLE, GIVES, SPOILS, UNDOES],
    kinds: &[],
};

/// A caution.
pub static CAUTION: Table = Table {
    name: "caution",
    place: "in a caution",
    this: "this caution",
    about: "What can hurt, and how to avoid it.",
    fields: &[
        wanted(
            "level",
            Shape::OneOf(LEVELS),
            "danger, warning, caution: people, by how badly; notice: the work, a tool or the kit.",
        ),
        wanted("hazard", Shape::Text, "What can happen."),
        wanted("avoid", Shape::Text, "How it is avoided."),
    ],
    kinds: &[],
};

/// A gauge's limits.
pub static LIMITS: Table = Table {
    name: "limits",
    place: "in `limits`",
    this: "`limits`",
    about: "The lowest and the highest good reading; both are good themselves.",
    fields: &[
        allowed("min", Shape::TextOrNumber, "The lowest good reading."),
        allowed("max", Shape::TextOrNumber, "The highest good reading."),
    ],
    kinds: &[],
};

/// A fault table with what it is given.
pub static TROUBLE_REF: Table = Table {
    name: "fault-table",
    place: "in `trouble`",
    this: "this `trouble`",
    about: "A fault table with what it is given.",
    fields: &[
        wanted("table", Shape::Text, "The table's id."),
        allowed("with", Shape::Pairs, "What the table is given, by name."),
    ],
    kinds: &[],
};
