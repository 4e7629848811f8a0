//! A rehearsal: a walk that the guide's author has written down, and what must come of it.

use super::{Shape, Table, allowed, wanted};

/// A `[[rehearsal]]`.
pub static REHEARSAL: Table = Table {
    name: "rehearsal",
    place: "in a `[[rehearsal]]`",
    this: "this rehearsal",
    about: "A walk at a table, and what must come of it; the guide's own test.",
    fields: &[
        wanted("title", Shape::Text, "What is tried, as a heading."),
        allowed("numbers", Shape::Pairs, "Numbers of the kit that this walk has."),
        allowed("answers", Shape::Replies, "What is typed at a step, by its id; a list where it is come to again."),
        allowed("leaves-out", Shape::Texts(None), "Steps that are passed by, so that a later one must notice."),
        allowed("arrives", Shape::Text, "The step or the end that it must come to: finished, scrap."),
        allowed("finding", Shape::Text, "What must show instead: need-unmet."),
    ],
    kinds: &[],
};
