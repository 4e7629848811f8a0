//! How moist wood becomes in air, and what that does to its width.

use super::super::Air;
use crate::units::{Length, Offset, UnitError};

/// The moisture between which a coefficient of change holds, in percent.
pub const LINEAR: std::ops::RangeInclusive<f64> = 6.0..=14.0;

/// Returns the moisture content at which wood comes to rest in air, in percent of its dry weight.
///
/// The two-hydrate form of Hailwood and Horrobin, Wood Handbook (FPL-GTR-190, 2010) equation 4-5:
/// `M = 1800/W × (Kh/(1−Kh) + (K₁Kh + 2K₁K₂K²h²)/(1 + K₁Kh + K₁K₂K²h²))`, h the relative humidity as a share of 1,
/// T in °C, `W = 349 + 1.29T + 0.0135T²`, `K = 0.805 + 0.000736T − 0.00000273T²`,
/// `K₁ = 6.27 − 0.00938T − 0.000303T²`, `K₂ = 1.91 + 0.0407T − 0.000293T²` (Simpson 1998, FPL-RN-0268).
///
/// It gives the handbook's table (4-2) to 0.06 % moisture. One curve for all woods; one rich in resin or oil lies lower.
pub fn equilibrium(air: Air) -> f64 {
    let (t, h) = (air.celsius(), air.percent() / 100.0);
    let of_t = |[c0, c1, c2]: [f64; 3]| c0 + c1 * t + c2 * t * t;
    let w = of_t([349.0, 1.29, 0.0135]);
    let kh = of_t([0.805, 0.000736, -0.00000273]) * h;
    let k1 = of_t([6.27, -0.00938, -0.000303]);
    let k2 = of_t([1.91, 0.0407, -0.000293]);
    let (one, two) = (k1 * kh, k1 * k2 * kh * kh);
    1800.0 / w * (kh / (1.0 - kh) + (one + 2.0 * two) / (1.0 + one + two))
}

/// Returns the change of a width: `ΔD = D × C × (M₂ − M₁)`, in mm; below 0 it shrinks.
///
/// `coefficient` C is a share of the width for each percent of moisture; `from` M₁ and `to` M₂ in percent, from 6 to
/// 14. Wood Handbook (FPL-GTR-190, 2010) equation 13-2.
///
/// # Errors
/// [`UnitError`] beyond 10 m.
pub fn change(width: Length, coefficient: f64, from: f64, to: f64) -> Result<Offset, UnitError> {
    Offset::from_mm(width.in_mm() * coefficient * (to - from))
}

/// Returns the change of a width where moisture leaves 6 to 14 %: `ΔD = D × (M₂ − M₁) / (3000/S − 30 + M₁)`, in mm.
///
/// `shrinkage` S is from green to dry, in percent; moisture at most 30 %. Wood Handbook (FPL-GTR-190, 2010) equation
/// 13-3; its form is from memory, and gives the coefficients of Table 13-5 from the shrinkages of Table 4-3.
///
/// # Errors
/// [`UnitError`] beyond 10 m, or for no shrinkage at all.
pub fn change_by_shrinkage(width: Length, shrinkage: f64, from: f64, to: f64) -> Result<Offset, UnitError> {
    Offset::from_mm(width.in_mm() * (to - from) / (3000.0 / shrinkage - 30.0 + from))
}

/// Returns the coefficient of change that goes with a shrinkage in percent: `C = (S/3000) / (1 − 20S/3000)`, which is
/// equation 13-3 begun at 10 % moisture.
pub fn coefficient_of(shrinkage: f64) -> f64 {
    shrinkage / 3000.0 / (1.0 - shrinkage * 20.0 / 3000.0)
}

/// Returns the shrinkage in percent that goes with a coefficient of change: `S = 3000C / (1 + 20C)`.
pub fn shrinkage_of(coefficient: f64) -> f64 {
    3000.0 * coefficient / (1.0 + 20.0 * coefficient)
}
