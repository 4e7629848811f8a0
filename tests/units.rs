//! What is typed, checked and shown: lengths, angles, clock positions, times and readings.
//!
//! Each expected value names where it comes from; what names nothing follows from how this program is meant to read.

#[path = "units/drills.rs"]
mod drills;
#[path = "units/lengths.rs"]
mod lengths;
#[path = "units/lengths_shown.rs"]
mod lengths_shown;
#[path = "units/positions.rs"]
mod positions;
#[path = "units/properties.rs"]
mod properties;
#[path = "units/readings.rs"]
mod readings;
#[path = "units/refusals.rs"]
mod refusals;
#[path = "units/stresses.rs"]
mod stresses;
#[path = "units/surface_speeds.rs"]
mod surface_speeds;
#[path = "units/times.rs"]
mod times;

/// Returns a shown text with plain spaces, after seeing that every number is tied to its unit by U+00A0.
fn plain(shown: &str) -> String {
    for (n, _) in shown.match_indices(' ') {
        let after_digit = shown[..n].ends_with(|c: char| c.is_ascii_digit());
        let before_letter = shown[n + 1..].starts_with(|c: char| c.is_alphabetic());
        assert!(!(after_digit && before_letter), "a plain space stands before a unit in {shown:?}");
    }
    shown.replace('\u{a0}', " ")
}
