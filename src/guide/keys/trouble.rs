//! The tables of a fault table.

use super::step::{GIVES, SPOILS, UNDOES};
use super::{CAUTION, Field, Kind, Shape, Table, allowed, wanted};

const AT_LEAST_0: Shape = Shape::Number(0.0, None);
const SAY: Field = wanted("say", Shape::Text, "What is seen, in a few words.");
const FIXED: Field = allowed("fixed", Shape::Flag, "The look itself has put it right.");
const LOST: Field = allowed("lost", Shape::Flag, "The blank is lost.");
const CHANCE: Field = wanted("chance", Shape::Numbers, "Under each cause, how likely this is to be seen: 0 to 1.");
const CAUTIONS: Field = allowed("caution", Shape::Tables(&CAUTION, 0), "What can hurt, told before it.");
const PARTS: Field = allowed("parts", Shape::Texts(None), "What to have at hand.");
const TELL: Field = allowed("tell", Shape::Text, "A note under it.");
const AT: Field = allowed("at", Shape::Text, "The place or machine.");
const BECAUSE: Field = allowed("because", Shape::Text, "Where the numbers come from.");

/// `[start-over]`.
pub static START_OVER: Table = Table {
    name: "start-over",
    place: "in `[start-over]`",
    this: "`[start-over]`",
    about: "Beginning again with a new blank.",
    fields: &[
        allowed("say", Shape::Text, "What beginning again means here."),
        allowed("minutes", AT_LEAST_0, "Minutes of attention; in a job they are worked out."),
        UNDOES,
        allowed("again", Shape::Numbers, "Causes that would bite the next blank too, with the minutes that costs."),
        PARTS,
        TELL,
    ],
    kinds: &[],
};

/// A `[[cause]]`.
pub static CAUSE: Table = Table {
    name: "cause",
    place: "in a cause",
    this: "this cause",
    about: "What may be behind it.",
    fields: &[
        wanted("id", Shape::Text, "The cause's name."),
        wanted("say", Shape::Text, "The cause in a person's words."),
        wanted("odds", AT_LEAST_0, "How likely it is beside the others, before anything was looked at."),
        BECAUSE,
    ],
    kinds: &[],
};

/// A `[[check]]`.
pub static CHECK: Table = Table {
    name: "check",
    place: "in a check",
    this: "this check",
    about: "A look (`ask`) or a reading (`gauge`) that tells the causes apart.",
    fields: &[
        wanted("id", Shape::Text, "The check's name."),
        wanted("minutes", AT_LEAST_0, "Minutes of attention, an estimate."),
        CAUTIONS,
        PARTS,
        TELL,
        AT,
    ],
    kinds: &[
        Kind {
            key: wanted("ask", Shape::Text, "What to look at."),
            fields: &[wanted("answers", Shape::Tables(&OUTCOME, 2), "What can be seen.")],
            without: &[],
        },
        Kind {
            key: wanted("gauge", Shape::Text, "What to measure."),
            fields: &[
                wanted("bands", Shape::Tables(&BAND, 2), "What the reading can be."),
                wanted("unit", Shape::Text, "The unit of the reading."),
            ],
            without: &[],
        },
    ],
};

/// An answer of a check.
pub static OUTCOME: Table = Table {
    name: "seen",
    place: "in an answer",
    this: "this answer",
    about: "What can be seen, and under which cause it is likely.",
    fields: &[SAY, FIXED, LOST, GIVES, SPOILS, UNDOES, CHANCE],
    kinds: &[],
};

/// A band of a check's gauge.
pub static BAND: Table = Table {
    name: "band",
    place: "in a band",
    this: "this answer",
    about: "What the reading can be, and under which cause it is likely.",
    fields: &[
        SAY,
        allowed("min", Shape::TextOrNumber, "The lowest reading of the band."),
        allowed("max", Shape::TextOrNumber, "The highest reading of the band."),
        FIXED,
        LOST,
        GIVES,
        SPOILS,
        UNDOES,
        CHANCE,
    ],
    kinds: &[],
};

/// A `[[remedy]]`.
pub static REMEDY: Table = Table {
    name: "remedy",
    place: "in a remedy",
    this: "this remedy",
    about: "What may put it right: a single action (`do`) or a procedure (`run`).",
    fields: &[
        wanted("id", Shape::Text, "The remedy's name."),
        allowed("say", Shape::Text, "The remedy in a person's words."),
        wanted("minutes", AT_LEAST_0, "Minutes of attention, an estimate."),
        allowed("wait", AT_LEAST_0, "Minutes of waiting besides."),
        wanted("cures", Shape::Numbers, "Under each cause, the chance that it helps: 0 to 1."),
        allowed("loses", Shape::Numbers, "Under each cause, the chance that the blank is lost: 0 to 1."),
        UNDOES,
        GIVES,
        PARTS,
        allowed("tools", Shape::Texts(None), "What tools it takes."),
        CAUTIONS,
        TELL,
        AT,
        BECAUSE,
    ],
    kinds: &[
        Kind { key: wanted("do", Shape::Text, "A single action."), fields: &[], without: &[] },
        Kind {
            key: wanted("run", Shape::Text, "A procedure, by its id."),
            fields: &[allowed("with", Shape::Pairs, "What the procedure is given, by name.")],
            without: &[],
        },
    ],
};
