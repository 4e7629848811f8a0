//! The chart for the wall: every step and every way of a guide once and no other, in the data, in the DOT and in the
//! SVG; and what is drawn can be read and followed, measured in the SVG alone.
//!
//! The SVG is read by `roxmltree`. The DOT is read by Graphviz where `dot` is installed, and by a small reader of its
//! lines everywhere. For made-up guides what must be there comes from the tests' own model of a guide.

mod home;
mod oracle;

mod draw {
    pub mod graph;
    mod guides;
    pub mod measured;
    pub mod picture;
    mod verb;
}
