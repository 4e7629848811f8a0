//! A number that is never NaN or infinite and never minus zero, so that it has an order.

use std::cmp::Ordering;

/// A checked number. Only made from what [`Measure::check`](super::Measure) let through, or from sums of such.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Finite(pub(super) f64);

impl Eq for Finite {}

impl PartialOrd for Finite {
    fn partial_cmp(&self, other: &Finite) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Finite {
    fn cmp(&self, other: &Finite) -> Ordering {
        self.0.total_cmp(&other.0)
    }
}
