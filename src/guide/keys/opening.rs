//! The file itself and the table that it opens with.

use super::{CAUSE, CHECK, Field, Kind, REHEARSAL, REMEDY, START_OVER, STEP, Shape, Table, VERIFIED, allowed, wanted};

const STEPS: Field = wanted("step", Shape::Tables(&STEP, 1), "A step; they are walked in the order of the file.");

/// A file. Its kind is the table that it opens with.
pub static FILE: Table = Table {
    name: "file",
    place: "at the top of this file",
    this: "the file",
    about: "A guide (one kit style), a procedure (steps that guides share) or a fault table, by the table it opens with.",
    fields: &[
        wanted("stepjig", Shape::Version, "The version of the format: 1."),
        allowed("$schema", Shape::Text, "Where an editor finds the description of the format."),
        allowed(
            "words",
            Shape::Words,
            "How each condition is said to a person: \"cap.glued\" = \"the cap tube is glued and hard\".",
        ),
    ],
    kinds: &[
        Kind {
            key: wanted("guide", Shape::Table(&GUIDE), "What the guide is, and when to use it."),
            fields: &[
                STEPS,
                allowed("kit", Shape::Kit, "Numbers off the kit's own sheet; a length carries its unit."),
                allowed(
                    "rehearsal",
                    Shape::Tables(&REHEARSAL, 0),
                    "Walks that try the guide, and what must come of them.",
                ),
                allowed("verified", Shape::Tables(&VERIFIED, 0), "How the guide was tried, one table a trial."),
                allowed("linked", Shape::Flag, "Only in a guide as it is kept with a job; stepjig writes it."),
            ],
            without: &[],
        },
        Kind {
            key: wanted("procedure", Shape::Table(&PROCEDURE), "What the procedure is, and what it takes."),
            fields: &[STEPS],
            without: &[],
        },
        Kind {
            key: wanted("trouble", Shape::Table(&TROUBLE), "What went wrong, and where the table is offered."),
            fields: &[
                allowed("cause", Shape::Tables(&CAUSE, 0), "What may be behind it."),
                allowed("check", Shape::Tables(&CHECK, 0), "A look or a reading that tells the causes apart."),
                allowed("remedy", Shape::Tables(&REMEDY, 0), "What may put it right."),
                allowed("start-over", Shape::Table(&START_OVER), "Beginning again with a new blank."),
            ],
            without: &[],
        },
    ],
};

const ID: Field = wanted("id", Shape::Text, "The name of the file without `.toml`.");
const TITLE: Field = wanted("title", Shape::Text, "What it is, as a heading.");
const PASSING: Field = allowed(
    "passing",
    Shape::Conditions,
    "Conditions that come and go, such as a mask that is on; nothing rests on them.",
);
const TAKES: Field = allowed("takes", Shape::Texts(None), "The names that steps give it: `{tube}` in its texts.");

/// `[guide]`.
pub static GUIDE: Table = Table {
    name: "guide",
    place: "in `[guide]`",
    this: "`[guide]`",
    about: "What the guide is, and when to use it.",
    fields: &[
        ID,
        TITLE,
        PASSING,
        allowed("edition", Shape::Text, "Which edition it is."),
        allowed("use-when", Shape::Text, "The pen in hand that this guide is for."),
        allowed("not-when", Shape::Text, "The pen in hand that it is not for."),
        allowed("kept-by", Shape::Text, "Who keeps the guide, and is told what did not go as written."),
        allowed("care", Shape::Text, "The procedure that says what the owner of the pen does."),
    ],
    kinds: &[],
};

/// `[procedure]`.
pub static PROCEDURE: Table = Table {
    name: "procedure",
    place: "in `[procedure]`",
    this: "`[procedure]`",
    about: "A piece that guides share. It gives its conditions where it is run.",
    fields: &[ID, TITLE, PASSING, TAKES],
    kinds: &[],
};

/// `[trouble]`.
pub static TROUBLE: Table = Table {
    name: "trouble",
    place: "in `[trouble]`",
    this: "`[trouble]`",
    about: "What went wrong, and where the table is offered.",
    fields: &[
        ID,
        TITLE,
        TAKES,
        allowed("needs", Shape::Conditions, "What is true where the table is offered."),
        allowed("seen", Shape::Texts(None), "What a person sees, in the words they would use."),
        allowed("first", Shape::Texts(None), "What to do at once, before any question."),
        allowed("lay-aside", Shape::Text, "How to lay the pen aside until tomorrow."),
        allowed("goal", Shape::OneOf(&["fix", "identify"]), "To put it right, or only to tell what it is."),
        allowed("confidence", Shape::Confidence, "How sure is sure enough, where the goal is to tell what it is."),
    ],
    kinds: &[],
};
