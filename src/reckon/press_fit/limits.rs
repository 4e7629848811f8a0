//! What a hole and a shaft make of one another, by the limits they are made to.

use crate::units::{Offset, UnitError};

/// How far a diameter may lie from its nominal size: ISO 286 calls them the lower and the upper deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    lower: Offset,
    upper: Offset,
}

/// What a hole and a shaft make of one another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// The shaft always goes in; it may just touch.
    Clearance,
    /// One pair goes in, another must be pressed.
    Transition,
    /// The shaft must always be pressed, or just touches at the least.
    Interference,
}

/// The interference between the limits, both [`Offset`]s: below 0 it is clearance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tightness {
    /// That of the smallest shaft in the widest hole.
    pub least: Offset,
    /// That of the widest shaft in the smallest hole.
    pub most: Offset,
}

impl Limits {
    /// Returns limits, in either order: `+0.021 mm` and `0 mm` for a 25 H7 hole.
    pub fn new(one: Offset, other: Offset) -> Limits {
        Limits { lower: one.min(other), upper: one.max(other) }
    }
}

/// Returns how tight a shaft is in a hole: `least = ei − ES`, `most = es − EI`, of the diameters.
///
/// `EI` and `ES` are the lower and upper deviation of the hole, `ei` and `es` those of the shaft, all from the same
/// nominal size; the names are those of ISO 286, which was not read itself. The sum is plain arithmetic. What
/// [`pressed`](super::pressed) takes lies between the two.
///
/// ```
/// use stepjig::reckon::press_fit::{Fit, Limits, tightness};
/// use stepjig::units::Offset;
///
/// let limits = |one: &str, other: &str| Ok::<_, stepjig::units::UnitError>(Limits::new(one.parse()?, other.parse()?));
/// let found = tightness(limits("0 mm", "0.021 mm")?, limits("0.028 mm", "0.041 mm")?)?;
/// assert_eq!([found.least, found.most].map(|one| one.to_string().replace('\u{a0}', " ")), ["0.007 mm", "0.041 mm"]);
/// assert_eq!(found.fit(), Fit::Interference);
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
///
/// # Errors
/// [`UnitError`] beyond 10 m.
pub fn tightness(hole: Limits, shaft: Limits) -> Result<Tightness, UnitError> {
    let over = |shaft: Offset, hole: Offset| Offset::from_mm(shaft.in_mm() - hole.in_mm());
    Ok(Tightness { least: over(shaft.lower, hole.upper)?, most: over(shaft.upper, hole.lower)? })
}

impl Tightness {
    /// Returns what that makes of the two. What just touches at its least counts as interference, at its most as
    /// clearance.
    pub fn fit(&self) -> Fit {
        match (self.least.in_mm(), self.most.in_mm()) {
            (0.0.., _) => Fit::Interference,
            (_, ..=0.0) => Fit::Clearance,
            _ => Fit::Transition,
        }
    }
}
