//! The rule of thumb for how warmth speeds up a glue.

use crate::units::{Span, UnitError};

/// Where the rule comes from.
pub(super) const SOURCE: &str = "twice as fast for every 10 °C warmer: the rule of thumb for reaction rates, common practice; true factors are 1.5 to 2.5";

/// Returns how many times as long a glue takes: `factor^((from − to) / 10)`.
///
/// `from` and `to` are in °C, `factor` says how many times as fast it goes for every 10 °C warmer: about 2, by the
/// hardener 1.5 to 2.5. It holds for glues that harden by reacting, between about 10 °C, where many stall, and 40 °C.
/// A rule of thumb (of van 't Hoff, 1884): expect it to be out by a third.
pub fn times_as_long(from: f64, to: f64, factor: f64) -> f64 {
    factor.powf((from - to) / 10.0)
}

/// Returns the time at a temperature `to`, of the time that was stated for `from`, as [`times_as_long`].
///
/// # Errors
/// [`UnitError`] if it comes to more than 3650 days.
pub fn at_temperature(time: Span, from: f64, to: f64, factor: f64) -> Result<Span, UnitError> {
    Span::from_seconds(time.seconds() * times_as_long(from, to, factor))
}
