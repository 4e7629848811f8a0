//! Lists of plain words that no single lint owns: units, numbers, joining words, parts of the body.

#[rustfmt::skip]
pub(super) const UNITS: &[&str] = &[
    "c", "cm", "coat", "coats", "day", "days", "deg", "degree", "degrees", "drop", "drops", "f", "g", "gram", "grams",
    "grit", "h", "hour", "hours", "in", "inch", "inches", "litre", "litres", "m", "metre", "metres", "millimetre",
    "millimetres", "min", "minute", "minutes", "ml", "mm", "n", "nm", "o'clock", "part", "parts", "pass", "passes",
    "per", "percent", "rev/min", "rpm", "s", "sec", "second", "seconds", "sheet", "sheets", "strip", "strips",
    "stroke", "strokes", "time", "times", "turn", "turns", "week", "weeks", "width", "°", "°c", "°f",
];
#[rustfmt::skip]
pub(super) const NUMBERS: &[&str] = &[
    "dozen", "eight", "eleven", "five", "four", "half", "nine", "one", "quarter", "seven", "six", "ten", "third",
    "three", "twelve", "twenty", "two",
];
pub(super) const CONDITIONS: &[&str] = &["if", "unless", "when", "whenever"];
#[rustfmt::skip]
pub(super) const NEGATIONS: &[&str] = &[
    "aren't", "can't", "cannot", "doesn't", "don't", "isn't", "mustn't", "neither", "never", "no", "nobody", "none",
    "nor", "not", "nothing", "nowhere", "shouldn't", "without", "won't",
];
pub(super) const JOINS: &[&str] = &["and", "but", "or"];
pub(super) const ORDERS: &[&str] = &["afterwards", "finally", "first", "firstly", "next", "second", "secondly", "then"];
#[rustfmt::skip]
pub(super) const OBJECTS: &[&str] = &[
    "a", "across", "all", "an", "another", "any", "around", "away", "back", "both", "down", "each", "every", "home",
    "into", "it", "its", "off", "onto", "out", "over", "that", "the", "them", "these", "this", "those", "together",
    "up", "your",
];
#[rustfmt::skip]
pub(super) const SIGNS: &[&str] =
    &[
    "clicks", "flush", "meets", "rattles", "shines", "shows", "slides", "stops", "till", "touches", "until",
];
#[rustfmt::skip]
pub(super) const STATEMENTS: &[&str] = &[
    "are", "comes", "drops", "falls", "fits", "goes", "has", "have", "is", "lie", "lies", "meet", "moves", "no",
    "passes", "points", "reads", "runs", "sits", "spins", "stands", "stays", "that", "turns",
];
pub(super) const MODALS: &[&str] = &["can", "could", "may", "might", "must", "needs", "should", "will"];
#[rustfmt::skip]
pub(super) const BODY: &[&str] = &[
    "airways", "arm", "arms", "eye", "eyes", "face", "finger", "fingers", "fingertip", "fingertips", "hair", "hand",
    "hands", "knuckle", "knuckles", "lips", "lung", "lungs", "nose", "palm", "palms", "scalp", "skin", "sleeve",
    "sleeves", "throat", "thumb", "thumbs", "wrist", "wrists",
];
#[rustfmt::skip]
pub(super) const INJURIES: &[&str] = &[
    "bond", "bonds", "burn", "burns", "catch", "catches", "crush", "crushes", "cut", "cuts", "drag", "drags", "grab",
    "grabs", "hit", "hits", "irritate", "irritates", "pierce", "pierces", "pinch", "pinches", "scald", "scalds",
    "slice", "slices", "splinter", "splinters", "stab", "stabs", "stick", "sticks", "sting", "stings", "strike",
    "strikes", "tear", "tears", "trap", "traps",
];
