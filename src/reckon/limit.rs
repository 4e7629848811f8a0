//! Comparing with a threshold.

/// How far a sum may miss a threshold by its binary digits alone: 10.35 − 10.30 is a hair under 0.05. No gauge reads it.
const HAIR: f64 = 1e-9;

/// Tells whether a value is no less than a limit.
pub(super) fn reaches(value: f64, limit: f64) -> bool {
    limit - HAIR <= value
}

/// Tells whether a value is over a limit.
pub(super) fn is_over(value: f64, limit: f64) -> bool {
    limit + HAIR < value
}
