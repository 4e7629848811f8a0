//! The guides that stepjig comes with, embedded so that it works from any folder.
//!
//! A test sees to it that every file under `guides/` is listed here.

use super::document::Shelf;

macro_rules! shipped {
    ($($shelf:ident $folder:literal: $($id:literal)*;)*) => {
        &[$($((
            Shelf::$shelf,
            $id,
            concat!("guides/", $folder, "/", $id, ".toml"),
            include_str!(concat!("../../guides/", $folder, "/", $id, ".toml")),
        ),)*)*]
    };
}

/// Tells whether a guide, a procedure or a fault table that stepjig comes with is called so.
pub(crate) fn is_shipped(id: &str) -> bool {
    FILES.iter().any(|(_, shipped, ..)| *shipped == id)
}

/// Shelf, id, path and text of each shipped file.
pub(super) const FILES: &[(Shelf, &str, &str, &str)] = shipped! {
    Guide "kits":
        "click-one-tube"
        "pencil-one-tube"
        "push-cap-fountain"
        "twist-one-tube"
        "twist-two-tube"
        "two-tube-fountain"
        "two-tube-rollerball"
    ;
    Procedure "procedures":
        "box-loose"
        "bring-into-line"
        "choose-blank"
        "choose-face"
        "clear-both-ends"
        "count-starts"
        "cure-tube"
        "draw-loose-tube"
        "drill-out-tube"
        "drill-piece"
        "drill-up-to-size"
        "find-cap-stop"
        "finish-build"
        "fit-washer"
        "flush-nib"
        "give-fountain"
        "glue-part-in"
        "glue-ring-on"
        "glue-split"
        "glue-up"
        "hand-over"
        "know-glue"
        "last-look"
        "look-at-band"
        "mark-clip"
        "mark-out"
        "mark-piece"
        "measure-tube"
        "mend-crack"
        "open-tines"
        "own-ballpoint"
        "own-fountain-pen"
        "own-pencil"
        "own-rollerball"
        "plug-and-redrill"
        "press-cap-thread"
        "press-clip"
        "press-nib-coupler"
        "press-part"
        "press-to-depth"
        "push-on-mechanism"
        "push-out-soft"
        "put-loose"
        "read-kit"
        "ready-press"
        "ready-to-press"
        "ream-tube"
        "reset-clip"
        "reset-thread"
        "sand"
        "saw-off-other-end"
        "saw-piece"
        "set-lathe"
        "set-nib-on-feed"
        "soften-glue-in-tube"
        "square-ends"
        "take-out-and-start-again"
        "tap-part-back"
        "trim-long-end"
        "try-change"
        "try-filler"
        "try-fillers"
        "try-lead"
        "try-mechanism"
        "try-nib"
        "try-parts"
        "try-refill"
        "try-writing"
        "turn-piece"
        "turn-to-face"
        "turn-to-rim"
        "wick-thin-glue"
        "write-fountain"
    ;
    Trouble "trouble":
        "barrel-cracked"
        "blank-split-or-chipped"
        "cap-grain-does-not-meet"
        "cap-will-not-seat"
        "clip-out-of-line"
        "glue-in-tube"
        "hard-start-or-no-flow"
        "loose-fit"
        "mechanism-too-deep"
        "nib-off-the-grain"
        "part-askew"
        "pressed-into-wrong-end"
        "pressed-too-deep"
        "tube-in-wrong-piece"
        "tube-loose"
        "tube-short-or-proud"
        "tube-stuck"
        "wrong-bit"
    ;
};
