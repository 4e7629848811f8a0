//! What the guide says in words, by the kind of pen.

use crate::draft::build::{Build, Closes, Facing, Holder, Home, Part, Past, Rod, Tube, WayOut, Writes};
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
pub(super) fn writer(style: Style, build: &Build) -> &'static str {
    match (style.writes, style.closes) {
        // A tip that is pressed stays where it is.
        (Writes::Ballpoint, Closes::Click) if build.parts.iter().any(|part| part.name == "tip") => "the refill",
        (Writes::Nib, _) => "grip section with nib",
        (Writes::Rollerball, _) => "grip section with refill",
        (Writes::Ballpoint, Closes::Click) => "tip part with refill",
        (Writes::Ballpoint, _) => "the refill",
        (Writes::Pencil, _) => "the mechanism",
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
        Closes::Click => ("clicked out", "clicked in"),
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
pub(super) fn told(style: Style, build: &Build) -> String {
    let with_it: Vec<&str> = build.held_by(&Holder::Writer).map(|loose| loose.name.as_str()).collect();
    let refill = match with_it.as_slice() {
        [] => "Show how the refill is changed.".to_owned(),
        names => format!("Show how the refill is changed, and where its {} goes.", names.join(" and its ")),
    };
    match style.writes {
        Writes::Nib => {
            "Say: fountain-pen ink only, cool water every four to eight weeks, cap on, nib up in the air.".to_owned()
        }
        Writes::Rollerball => format!("{refill} Say: cap on when it is not written with."),
        Writes::Ballpoint => format!("{refill} Say: point hidden in the pocket."),
        Writes::Pencil => "Show how a lead goes in. Say: point hidden in the pocket.".to_owned(),
    }
}

/// Returns where a loose part is put.
pub(super) fn place(holder: &Holder, style: Style, build: &Build) -> String {
    match holder {
        Holder::Writer => style.writer().to_owned(),
        Holder::Halves => build
            .tubes
            .first()
            .map_or("the joint".to_owned(), |tube| format!("the {}'s {} end", tube.name, tube.near.name)),
        Holder::Part(part) => format!("the {}", called(part)),
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

/// Returns how a part comes out, its other end being called so, past what is in its piece by then.
pub(in crate::draft) fn way_out(out: WayOut, past: Option<&Past>, other_end: &str) -> String {
    match (out, past) {
        (WayOut::Rod, None) => format!("a rod through the open {other_end} end"),
        (WayOut::Rod, Some(Past { parts, rod: Rod::Passes })) => {
            format!("a thin rod through the {}", all_called(parts))
        }
        (WayOut::Rod, Some(Past { parts, rod: Rod::Stopped })) => {
            let close = if parts.len() == 1 { "closes" } else { "close" };
            format!("{STAYS}, for the {} {close} the way", all_called(parts))
        }
        (WayOut::Drawn, _) => "drawn straight by what screws into it".to_owned(),
        (WayOut::Stays, _) => STAYS.to_owned(),
    }
}

/// Returns what a part is called in a sentence: `tip` is the tip part, a coupler is a coupler.
pub(super) fn called(name: &str) -> String {
    let is_whole =
        ["coupler", "mechanism", "clip", "finial", "sleeve", "spring"].iter().any(|word| name.ends_with(word));
    if is_whole { name.to_owned() } else { format!("{name} part") }
}

fn all_called(names: &[String]) -> String {
    names.iter().map(|name| called(name)).collect::<Vec<_>>().join(" and the ")
}

/// What is said of a part that has no way out any more.
const STAYS: &str = "by hand while 1 mm in; once home it does not come out";

/// Returns what a piece stands on while a part is pressed into it: its other end, or what is in there by then.
pub(super) fn foot(part: &Part, before: &[Part], tubes: &[Tube]) -> String {
    let other = other_end(part, tubes);
    match before.iter().find(|there| there.tube == part.tube && there.end == other) {
        // Rim on rim it stands flat; by its tip it is tried, and needs room.
        Some(there) if part.home == Home::Rim => called(&there.name),
        Some(there) => format!("{} over a hole in the pad", called(&there.name)),
        None => format!("bare {other} end"),
    }
}

/// Returns each part's way out, in a sentence each.
pub(super) fn ways_out(parts: &[Part], tubes: &[Tube]) -> String {
    let one =
        |part: &Part| format!("The {}: {}.", part.name, way_out(part.out, part.past.as_ref(), other_end(part, tubes)));
    parts.iter().map(one).collect::<Vec<_>>().join(" ")
}

/// Returns the end across from the one that a part goes into.
pub(super) fn other_end(part: &Part, tubes: &[Tube]) -> &'static str {
    let tube = tubes.iter().find(|tube| tube.name == part.tube);
    tube.map_or("other", |tube| if tube.near.name == part.end { tube.far.name } else { tube.near.name })
}
