//! Guides: from the text of a file to a graph of steps over what is true of the work.
//!
//! [`read()`] turns a file into a [`Document`](document::Document) with spans; [`Library::link`] expands its procedures,
//! resolves every name and gives a [`Guide`]. Both return what they could make and all findings.

pub mod document;
pub mod edit;
pub mod fault_table;
pub mod keys;
mod library;
mod limits;
mod link;
mod model;
mod phrase;
mod pick;
mod read;
pub mod schema;
mod shipped;
mod toml_1_0;
pub mod write;
mod written;

pub use document::Level;
pub use library::Library;
pub use limits::Limits;
pub use link::{AS_IT_STANDS, FIXED, Linked};
pub use model::{
    Arrival, Condition, ConditionSet, EndKind, Guide, Kind, Label, Mention, Pause, Rehearsal, Reply, Step, StepIdx,
    TroubleCall, Way, WayIdx,
};
pub use pick::{Picked, pick};
pub use read::read;
pub(crate) use shipped::is_shipped;

/// Folds what a person types or a file says for comparing: lower case, punctuation dropped, one space between words.
///
/// ```
/// assert_eq!(stepjig::guide::fold("  Can't tell. "), "cant tell");
/// ```
pub fn fold(text: &str) -> String {
    let kept: String = text.chars().filter(|c| c.is_alphanumeric() || c.is_whitespace()).collect();
    kept.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}
