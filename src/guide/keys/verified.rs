//! A record of how a guide was tried before it was handed on.

use super::{Shape, Table, allowed, wanted};

/// The ways to try a guide, the weakest first.
pub(crate) const METHODS: &[&str] = &["desk", "table-top", "bench"];

/// A `[[verified]]`.
pub static VERIFIED: Table = Table {
    name: "verified",
    place: "in a `[[verified]]`",
    this: "this record",
    about: "How the guide was tried: when, by whom, what was looked at.",
    fields: &[
        wanted("on", Shape::Date, "The day: 2026-11-26."),
        wanted("by", Shape::Text, "Who tried it."),
        wanted(
            "method",
            Shape::OneOf(METHODS),
            "desk: read and checked; table-top: walked without parts; bench: walked with real parts.",
        ),
        wanted("what", Shape::Text, "What was looked at, and what came of it."),
        allowed("edition", Shape::Text, "Which edition it was."),
    ],
    kinds: &[],
};
