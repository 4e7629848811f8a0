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
        "drill-piece"
        "finish-build"
        "glue-up"
        "measure-tube"
        "ready-to-press"
        "sand"
        "square-ends"
        "try-filler"
        "try-parts"
        "turn-piece"
        "turn-to-rim"
    ;
};
