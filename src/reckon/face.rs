//! Marks on the face of the capped pen, for whoever draws it.

use crate::units::ClockPosition;

/// Marks on the face of the capped pen, seen with its finial end towards you; 12 o'clock is the body's grain mark.
///
/// It is the sum's picture and not a drawing: [`sheet::clock_face`](crate::sheet::clock_face) draws such marks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Face {
    /// The name of each mark and where it points, in the order that a legend tells them.
    pub marks: Vec<(&'static str, ClockPosition)>,
}
