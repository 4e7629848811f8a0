//! The shop's reckonings, by name.

/// The names of the reckonings that a guide's `reckon` step may use.
pub const NAMES: &[&str] = &[
    "blank-cut",
    "cure",
    "drill-for",
    "grain-match",
    "lathe-speed",
    "open-time",
    "press-fit",
    "thread-stop",
    "tube-gap",
    "wall",
    "wood-move",
];
