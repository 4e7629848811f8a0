//! A part pressed into a tube that is glued into wood: three layers.

use super::ring::{Elastic, Load, ON_BORE, ON_OUTSIDE, Ring};
use crate::units::{Length, Offset, Stress, UnitError};

/// A solid round part, the tube that it is pressed into, and the wood round the tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    /// What the part is made of.
    pub part: Elastic,
    /// The tube: its bore, outside and material.
    pub tube: Ring,
    /// The wood's outside diameter; its bore is the tube's outside.
    pub wood_out: Length,
    /// The wood, taken as alike in all directions across its grain.
    pub wood: Elastic,
}

/// What pressing comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pressed {
    /// The pressure between part and tube, p₁.
    pub part_pressure: Stress,
    /// The pressure between tube and wood, p₂.
    pub wood_pressure: Stress,
    /// The hoop stress in the tube, at its bore, where it is greatest.
    pub tube_hoop: Stress,
    /// The hoop stress in the tube at its outside, in MPa; below 0 only in wood stiffer than the tube.
    pub tube_hoop_outside: f64,
    /// How much wider the tube's bore gets, in radius.
    pub tube_grows: Offset,
    /// The hoop stress in the wood, at its bore, where it is greatest.
    pub wood_hoop: Stress,
    /// The hoop stress in the wood at its outside.
    pub wood_hoop_outside: Stress,
    /// The pressure between tube and wood if the tube yields and holds nothing back: the most there can be.
    pub wood_pressure_if_tube_yields: Stress,
    /// The hoop stress in the wood, at its bore, then.
    pub wood_hoop_if_tube_yields: Stress,
}

/// Returns what pressing a part comes to that is wider than the tube's bore by `interference` (diametral).
///
/// Two pressures are unknown, p₁ between part and tube at radius r₁, p₂ between tube and wood at r₂, and two things are
/// known: `u_tube(r₁) − u_part(r₁) = interference/2` and `u_tube(r₂) = u_wood(r₂)`, each u as in thick cylinders under
/// plane stress (Lamé). A tube that yields lets the wood's bore grow by interference/2 at most, which bounds p₂:
/// `(interference/2) / (r₂/E × ((r₃²+r₂²)/(r₃²−r₂²) + ν))`.
///
/// Without interference there is no pressure. The glue layer, and pressing a part only partly home, are left out: at a
/// depth of a third of the diameter the stress at the mouth is about 1.2 times as high (finite elements).
///
/// # Errors
/// [`UnitError`] for layers without a wall, or beyond 1000 GPa.
pub fn pressed(joint: &Joint, interference: Offset) -> Result<Pressed, UnitError> {
    let Joint { part, tube, wood_out, wood } = *joint;
    let part = Ring { bore: Length::from_mm(0.0)?, outside: tube.bore, made_of: part };
    let wood = Ring { bore: tube.outside, outside: wood_out, made_of: wood };
    let (r1, r2) = (tube.bore.half().in_mm(), tube.outside.half().in_mm());
    let half = interference.in_mm().max(0.0) / 2.0;
    let wood_gives = wood.moved_out(r2, ON_BORE);

    // a p₁ + b p₂ = half and c p₁ + d p₂ = 0.
    let a = tube.moved_out(r1, ON_BORE) - part.moved_out(r1, ON_OUTSIDE);
    let b = tube.moved_out(r1, ON_OUTSIDE);
    let c = tube.moved_out(r2, ON_BORE);
    let d = tube.moved_out(r2, ON_OUTSIDE) - wood_gives;
    let p1 = half / (a - b * c / d);
    let p2 = -c / d * p1;

    let (on_tube, on_wood) = (Load { bore: p1, outside: p2 }, Load { bore: p2, outside: 0.0 });
    let yields = half / wood_gives;
    Ok(Pressed {
        part_pressure: Stress::from_mpa(p1)?,
        wood_pressure: Stress::from_mpa(p2)?,
        tube_hoop: Stress::from_mpa(tube.hoop(r1, on_tube))?,
        tube_hoop_outside: tube.hoop(r2, on_tube),
        tube_grows: Offset::from_mm(tube.moved_out(r1, on_tube))?,
        wood_hoop: Stress::from_mpa(wood.hoop(r2, on_wood))?,
        wood_hoop_outside: Stress::from_mpa(wood.hoop(wood_out.half().in_mm(), on_wood))?,
        wood_pressure_if_tube_yields: Stress::from_mpa(yields)?,
        wood_hoop_if_tube_yields: Stress::from_mpa(wood.hoop(r2, Load { bore: yields, outside: 0.0 }))?,
    })
}

/// Returns the force that presses a part home, in N: `F = π × d × L × p × µ`.
///
/// `bore` d and `length` L of engagement in mm, `pressure` p between part and tube in MPa, `friction` µ.
pub fn force(bore: Length, length: Length, pressure: Stress, friction: f64) -> f64 {
    std::f64::consts::PI * bore.in_mm() * length.in_mm() * pressure.in_mpa() * friction
}
