//! The metric thread profile: how deep the flanks reach.

use crate::units::{Length, UnitError};

/// The height of the sharp triangle over the pitch, `H / P = √3 / 2`: flanks of 60°.
const HEIGHT: f64 = 0.866_025_403_784_438_6;

/// Returns the pitch diameter, on which thread and gap are equally wide: `d₂ = d − 2 × 3/8 × H = d − 0.649 519 × P`.
///
/// `d` is the nominal outside diameter, `P` the pitch (not the lead), `H = √3/2 × P`; the same for nut and screw, d₂ and
/// D₂. Of the basic profile, without tolerances: ISO 68-1, as two engineering reference pages give it (the standard
/// itself was not read).
///
/// # Errors
/// [`UnitError`] for a thread so coarse that nothing is left.
pub fn pitch_diameter(nominal: Length, pitch: Length) -> Result<Length, UnitError> {
    less(nominal, 2.0 * 3.0 / 8.0, pitch)
}

/// Returns the minor diameter, at the crest of the nut's thread: `d₁ = d − 2 × 5/8 × H = d − 1.082 532 × P`.
///
/// Symbols and source as in [`pitch_diameter`]. It is where the bore for an inside thread ends, at its tightest; a bit of
/// `d − P`, the tapping size in use, leaves a little more.
///
/// # Errors
/// [`UnitError`] for a thread so coarse that nothing is left.
///
/// ```
/// use stepjig::reckon::thread_stop::{minor_diameter, pitch_diameter};
/// use stepjig::units::Length;
///
/// let (d, pitch) = (Length::from_mm(10.0)?, Length::from_mm(1.0)?);
/// assert!((pitch_diameter(d, pitch)?.in_mm() - 9.3505).abs() < 0.0005);
/// assert!((minor_diameter(d, pitch)?.in_mm() - 8.9175).abs() < 0.0005);
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
pub fn minor_diameter(nominal: Length, pitch: Length) -> Result<Length, UnitError> {
    less(nominal, 2.0 * 5.0 / 8.0, pitch)
}

fn less(nominal: Length, heights: f64, pitch: Length) -> Result<Length, UnitError> {
    Ok(Length::from_mm(nominal.in_mm() - heights * HEIGHT * pitch.in_mm())?.written_in(nominal.unit()))
}
