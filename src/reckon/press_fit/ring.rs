//! Thick cylinders under pressure, in plane stress (Lamé).
//!
//! Each is free to change its length. Elastic only, and alike in all directions of its cross-section.

use crate::units::{Length, Stress, UnitError};

/// How a material gives way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Elastic {
    /// Its stiffness (Young's modulus), across the grain for wood.
    pub e: Stress,
    /// Poisson's ratio, 0 to 0.5.
    pub nu: f64,
}

impl Elastic {
    /// Steel: 200 GPa, 0.29.
    pub const STEEL: Elastic = Elastic { e: Stress::from_whole_gpa(200), nu: 0.29 };
    /// Brass: 105 GPa, 0.34.
    pub const BRASS: Elastic = Elastic { e: Stress::from_whole_gpa(105), nu: 0.34 };
}

/// A cylinder with a bore, by its diameters; a bore of 0 mm is a solid one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// The diameter of its bore.
    pub bore: Length,
    /// Its outside diameter.
    pub outside: Length,
    /// What it is made of.
    pub made_of: Elastic,
}

/// Pressures on the bore and on the outside, in MPa.
#[derive(Debug, Clone, Copy)]
pub(super) struct Load {
    pub(super) bore: f64,
    pub(super) outside: f64,
}

/// 1 MPa on the bore alone, and on the outside alone.
pub(super) const ON_BORE: Load = Load { bore: 1.0, outside: 0.0 };
pub(super) const ON_OUTSIDE: Load = Load { bore: 0.0, outside: 1.0 };

impl Ring {
    fn radii(&self) -> (f64, f64) {
        (self.bore.half().in_mm(), self.outside.half().in_mm())
    }

    /// Returns how far a point at radius r moves out, in mm:
    /// `u = r/E × ((1−ν)(p₁r₁² − p₂r₂²) + (1+ν) r₁²r₂²(p₁−p₂)/r²) / (r₂²−r₁²)`.
    pub(super) fn moved_out(&self, r: f64, load: Load) -> f64 {
        let (even, varying, nu) = (self.even(load), self.varying(r, load), self.made_of.nu);
        r / self.made_of.e.in_mpa() * ((1.0 - nu) * even + (1.0 + nu) * varying)
    }

    /// Returns the hoop stress at radius r, in MPa: `σ = (p₁r₁² − p₂r₂² + r₁²r₂²(p₁−p₂)/r²) / (r₂²−r₁²)`.
    pub(super) fn hoop(&self, r: f64, load: Load) -> f64 {
        self.even(load) + self.varying(r, load)
    }

    fn even(&self, load: Load) -> f64 {
        let (r1, r2) = self.radii();
        (load.bore * r1 * r1 - load.outside * r2 * r2) / (r2 * r2 - r1 * r1)
    }

    fn varying(&self, r: f64, load: Load) -> f64 {
        let (r1, r2) = self.radii();
        let far = (r1 * r2 / r).powi(2);
        far * (load.bore - load.outside) / (r2 * r2 - r1 * r1)
    }
}

/// What one cylinder pressed into another comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoRings {
    /// The pressure between them.
    pub pressure: Stress,
    /// The hoop stress in the outer one at its bore and at its outside: tension.
    pub outer_hoop: [Stress; 2],
    /// The hoop stress in the inner one at its bore (or middle) and at its outside: compression, without its sign.
    pub inner_hoop: [Stress; 2],
}

/// Returns what one cylinder pressed into another comes to:
/// `p = δ / (d/Eₒ × ((dₒ²+d²)/(dₒ²−d²) + νₒ) + d/Eᵢ × ((d²+dᵢ²)/(d²−dᵢ²) − νᵢ))`, from δ/2 = what the one gives inwards
/// and the other outwards.
///
/// `interference` δ is diametral (many texts give the radial one, half of it); the face between them is at the outer
/// one's bore d, and the inner one's outside is taken as the same. Shigley's Mechanical Engineering Design, 9th
/// edition, equations 7-39 to 7-47.
///
/// # Errors
/// [`UnitError`] for cylinders without a wall, or beyond 1000 GPa.
pub fn two_rings(inner: Ring, outer: Ring, interference: Length) -> Result<TwoRings, UnitError> {
    let r = outer.bore.half().in_mm();
    let inner = Ring { outside: outer.bore, ..inner };
    let apart = outer.moved_out(r, ON_BORE) - inner.moved_out(r, ON_OUTSIDE);
    let pressure = interference.half().in_mm() / apart;
    let (on_outer, on_inner) = (Load { bore: pressure, outside: 0.0 }, Load { bore: 0.0, outside: pressure });
    let stress = |mpa: f64| Stress::from_mpa(mpa.abs());
    let middle = inner.bore.half().in_mm();
    let inside = if middle == 0.0 { inner.hoop(r, on_inner) } else { inner.hoop(middle, on_inner) };
    Ok(TwoRings {
        pressure: stress(pressure)?,
        outer_hoop: [stress(outer.hoop(r, on_outer))?, stress(outer.hoop(outer.outside.half().in_mm(), on_outer))?],
        inner_hoop: [stress(inside)?, stress(inner.hoop(r, on_inner))?],
    })
}
