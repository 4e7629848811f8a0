//! Sheets: what a person looks at or prints, laid out once and shown in several forms.
//!
//! [`lay_out`] turns a guide into a [`Sheet`]: sections, blocks and lines in the order they are read, with every word
//! in its place. [`text`], [`markdown`] and [`html`] only show it; they never see a guide.
//!
//! ```
//! use stepjig::guide::Library;
//! use stepjig::reckon::Data;
//! use stepjig::sheet::{Stamp, lay_out, text};
//!
//! let linked = Library::shipped().link_id("two-tube-fountain").expect("it is shipped");
//! let guide = linked.guide.expect("shipped guides link");
//! let sheet = lay_out::checklist(&guide, &Data::shipped(), &Stamp::default());
//! assert!(text::render(&sheet).contains("[ ]   1. Read"));
//! ```

pub mod chart;
pub mod clock_face;
pub mod clock_figure;
pub mod dot;
pub mod drawing;
pub mod font;
pub mod html;
pub mod lay_out;
pub mod markdown;
mod model;
pub mod pages;
#[cfg(feature = "pdf")]
pub mod pdf;
mod plain;
pub mod svg;
pub mod text;
pub mod tiles;
mod xml;

pub use model::{Block, BlockKind, Line, Role, Run, Section, Sheet, Stamp};
pub use plain::Plain;
