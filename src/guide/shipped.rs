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

/// Shelf, id, path and text of each shipped file.
pub(super) const FILES: &[(Shelf, &str, &str, &str)] = shipped! {
    Guide "kits":
        "two-tube-fountain"
    ;
    Procedure "procedures":
        "clear-both-ends"
        "draw-loose-tube"
        "drill-out-tube"
        "drill-piece"
        "drill-up-to-size"
        "finish-build"
        "fit-washer"
        "flush-nib"
        "glue-part-in"
        "glue-ring-on"
        "glue-split"
        "glue-up"
        "measure-tube"
        "mend-crack"
        "open-tines"
        "own-fountain-pen"
        "plug-and-redrill"
        "push-out-soft"
        "ready-to-press"
        "ream-tube"
        "reset-clip"
        "reset-thread"
        "sand"
        "saw-off-other-end"
        "set-nib-on-feed"
        "soften-glue-in-tube"
        "square-ends"
        "take-out-and-start-again"
        "tap-part-back"
        "trim-long-end"
        "try-filler"
        "try-parts"
        "turn-piece"
        "turn-to-rim"
        "wick-thin-glue"
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
