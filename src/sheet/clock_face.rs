//! A clock face in text.

use crate::units::ClockPosition;

/// Returns the marks as lines, one a mark.
pub fn draw(marks: &[(&str, ClockPosition)], _ascii: bool) -> Vec<String> {
    marks.iter().map(|(mark, at)| format!("{mark} at {at}")).collect()
}
