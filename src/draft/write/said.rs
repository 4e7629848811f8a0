//! What the guide says in words, by the kind of pen.

use crate::draft::build::{Closes, Facing, Part, Tube, WayOut, Writes};
use crate::draft::style::Style;

/// Returns the procedure that says what the pen's owner does. It tells what writes.
pub(in crate::draft) fn care(writes: Writes) -> &'static str {
    match writes {
        Writes::Nib => "own-fountain-pen",
        Writes::Rollerball => "own-rollerball",
        Writes::Ballpoint => "own-ballpoint",
        Writes::Pencil => "own-pencil",
    }
}

/// Returns how long the job is.
pub(super) fn time(style: Option<Style>) -> &'static str {
    match style.map(|style| style.writes) {
        Some(Writes::Nib) => "Two evenings, a night of glue between, a night nib up after.",
        _ => "Two evenings, a night of glue between.",
    }
}

/// Returns what is put in to write.
pub(super) fn refill(style: Style) -> &'static str {
    match style.writes {
        Writes::Nib => "nib",
        Writes::Rollerball | Writes::Ballpoint => "refill",
        Writes::Pencil => "lead",
    }
}

/// Returns what comes out first where a loose part is mended.
pub(super) fn writer(style: Style) -> &'static str {
    match style.writes {
        Writes::Nib => "the grip section with its nib",
        Writes::Rollerball | Writes::Ballpoint => "the refill",
        Writes::Pencil => "the lead",
    }
}

/// Returns what writes, as it stands out of a pen without its cap.
pub(super) fn point(style: Style) -> &'static str {
    match style.writes {
        Writes::Nib => "the nib",
        Writes::Rollerball | Writes::Ballpoint => "the refill's tip",
        Writes::Pencil => "the lead",
    }
}

/// Returns how the point is brought out, and how it is hidden.
pub(super) fn to_and_fro(style: Style) -> (&'static str, &'static str) {
    match style.closes {
        Closes::Twist => ("wound out", "wound back"),
        Closes::Click => ("clicked out", "clicked back"),
        Closes::ThreadedCap | Closes::PushCap => ("uncapped", "capped"),
    }
}

/// Returns how the pen is held and twisted in the last look. It tells what closes the pen.
pub(in crate::draft) fn held(closes: Closes) -> &'static str {
    match closes {
        Closes::ThreadedCap => "Cap at its stop, two fingers each side, as hard as a cap is ever closed.",
        Closes::PushCap => "Cap pushed home, two fingers each side, turned as by an absent mind.",
        Closes::Twist => "Point out, two fingers each side, as hard as a point is ever wound out.",
        Closes::Click => "Point out, two fingers each side, as hard as a pen is ever opened.",
    }
}

/// Returns what the owner is told.
pub(super) fn told(style: Style) -> &'static str {
    match style.writes {
        Writes::Nib => "Say: fountain-pen ink only, cool water every four to eight weeks, cap on, nib up in the air.",
        Writes::Rollerball => "Show how the refill is changed. Say: cap on when it is not written with.",
        Writes::Ballpoint => "Show how the refill is changed. Say: point hidden in the pocket.",
        Writes::Pencil => "Show how a lead goes in. Say: point hidden in the pocket.",
    }
}

/// Returns what of a part faces what.
pub(in crate::draft) fn face(facing: Facing) -> Option<(&'static str, &'static str)> {
    match facing {
        Facing::Nothing => None,
        Facing::Nib => Some(("the nib's top", "the mark on the tape")),
        Facing::Cap => Some(("the cap's mark", "the body's mark")),
        Facing::Clip => Some(("the clip", "the mark on the tape")),
    }
}

/// Returns how a part comes out, its other end being called so.
pub(in crate::draft) fn way_out(out: WayOut, other_end: &str) -> String {
    match out {
        WayOut::Rod => format!("a rod through the open {other_end} end"),
        WayOut::Drawn => "drawn straight by what screws into it".to_owned(),
        WayOut::Stays => "by hand while 1 mm in; home, it stays".to_owned(),
    }
}

/// Returns each part's way out, in a sentence each.
pub(super) fn ways_out(parts: &[Part], tubes: &[Tube]) -> String {
    let one = |part: &Part| format!("The {}: {}.", part.name, way_out(part.out, other_end(part, tubes)));
    parts.iter().map(one).collect::<Vec<_>>().join(" ")
}

/// Returns the end across from the one that a part goes into.
pub(super) fn other_end(part: &Part, tubes: &[Tube]) -> &'static str {
    let tube = tubes.iter().find(|tube| tube.name == part.tube);
    tube.map_or("other", |tube| if tube.near.name == part.end { tube.far.name } else { tube.near.name })
}
