//! The verbs of the trade: what a step may begin with.
//!
//! Sorted, so that a new verb has one place to go; a test sees to it.

/// Actions: each is work of its own, ends, and can be ticked.
#[rustfmt::skip]
pub(super) const WORK: &[&str] = &[
    "abrade", "add", "adjust", "align", "apply", "arrange", "assemble", "attach", "bend", "bevel", "blow", "bolt",
    "bore", "brush", "buff", "burnish", "carry", "center", "centre", "chamfer", "change", "chuck", "clamp", "clean",
    "clear", "close", "coat", "collect", "cool", "copy", "countersink", "cover", "cut", "dab", "deburr", "degrease",
    "dilute", "dip", "divide", "drain", "draw", "drill", "drip", "drive", "drop", "dry", "dust", "ease", "empty",
    "enter", "extend", "face", "fasten", "feed", "fetch", "file", "fill", "fit", "fix", "flatten", "flip", "flush",
    "fold", "gather", "glue", "grind", "grip", "guide", "hammer", "hang", "heat", "hone", "insert", "join", "knock",
    "label", "lap", "lay", "level", "lift", "light", "line", "load", "lock", "loosen", "lower", "lubricate", "mark",
    "mask", "match", "measure", "melt", "mill", "mix", "mount", "move", "number", "oil", "open", "pack", "part",
    "paste", "peel", "pencil", "photograph", "pick", "pinch", "place", "plane", "plug", "polish", "pour", "press",
    "prime", "prise", "pry", "pull", "punch", "push", "put", "raise", "ream", "refill", "refit", "remove", "replace",
    "rinse", "roll", "rotate", "rough", "round", "rub", "sand", "saw", "scrape", "scratch", "screw", "scribe",
    "scuff", "seal", "seat", "secure", "separate", "set", "shake", "shape", "sharpen", "shave", "shim", "shorten",
    "sketch", "slacken", "slice", "slide", "slip", "slit", "smear", "smooth", "snap", "soak", "sort", "spin", "split",
    "spray", "spread", "square", "squeeze", "stack", "stamp", "start", "stick", "stir", "store", "straighten",
    "strike", "strip", "swap", "sweep", "swing", "switch", "tack", "tap", "tape", "taper", "tear", "thin", "thread",
    "throw", "tie", "tighten", "tilt", "tip", "touch", "transfer", "trim", "true", "turn", "twist", "unclamp",
    "uncover", "undo", "unlock", "unpack", "unplug", "unscrew", "unwind", "unwrap", "vacuum", "varnish", "warm",
    "wash", "wax", "weigh", "wet", "wind", "wipe", "withdraw", "wrap", "write",
];

/// Verbs that a step may begin with and that are no ticked work: looking, choosing, holding still, keeping clear.
#[rustfmt::skip]
pub(super) const STILL: &[&str] = &[
    "agree", "air", "allow", "ask", "avoid", "back", "breathe", "bring", "check", "choose", "compare", "confirm",
    "consult", "count", "cross", "decide", "do", "ensure", "examine", "expect", "feel", "find", "finish", "follow",
    "get", "give", "go", "hand", "have", "hear", "hold", "imagine", "inspect", "keep", "lean", "learn", "leave",
    "let", "listen", "look", "make", "mind", "note", "observe", "offer", "pass", "pause", "plan", "point", "practise",
    "prepare", "prove", "reach", "read", "recall", "reckon", "record", "remember", "repeat", "rest", "return", "run",
    "save", "say", "see", "select", "share", "show", "sit", "smell", "stand", "stay", "stop", "study", "support",
    "take", "test", "think", "tick", "trace", "try", "use", "verify", "wait", "walk", "watch", "wear", "work",
];
