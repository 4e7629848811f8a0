//! Sheets: what a person looks at, laid out as lines of text.

pub mod clock_face;
