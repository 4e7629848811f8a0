//! Fits by their limits: against a textbook, and against an extract of ISO 286.

use proptest::prelude::*;
use stepjig::reckon::press_fit::{Fit, Limits, tightness};
use stepjig::units::Offset;

use crate::helper::near;

fn limits([one, other]: [i32; 2]) -> Limits {
    let mm = |micrometres: i32| Offset::from_mm(f64::from(micrometres) / 1000.0).expect("it is small");
    Limits::new(mm(one), mm(other))
}

#[test]
fn limits_make_the_fit_that_is_published() {
    // Hole and shaft in µm | least and most interference in µm, clearance below 0 | fit | source. The deviations of the
    // last two are from a package of ISO 286 tables that three textbooks agree with; the standard was not read.
    let rows = [
        ([0, 21], [28, 41], [7, 41], Fit::Interference, "U. C. Jindal, Machine Design, chapter 4, 25 mm"),
        ([0, 15], [-14, -5], [-29, -5], Fit::Clearance, "10 H7/g6, computed from the extract"),
        ([0, 15], [15, 24], [0, 24], Fit::Interference, "8 H7/p6, computed from the extract: at its least it touches"),
        // Computed from the extract: h6 may just touch, k6 goes either way.
        ([0, 15], [-9, 0], [-24, 0], Fit::Clearance, "8 H7/h6"),
        ([0, 15], [1, 10], [-14, 10], Fit::Transition, "8 H7/k6"),
    ];
    for (hole, shaft, [least, most], fit, source) in rows {
        let found = tightness(limits(hole), limits(shaft)).expect("it is small");
        near(found.least.in_mm() * 1000.0, f64::from(least), 1e-9, source);
        near(found.most.in_mm() * 1000.0, f64::from(most), 1e-9, source);
        assert_eq!(found.fit(), fit, "{source}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Any hole and shaft within their limits are as tight as is said.
    #[test]
    fn every_pair_lies_between(hole in [-200..200, -200..200_i32], shaft in [-200..200, -200..200_i32], at in [0.0..=1.0, 0.0..=1.0_f64]) {
        let found = tightness(limits(hole), limits(shaft)).expect("it is small");
        let between = |[one, other]: [i32; 2], share: f64| (f64::from(one) + share * f64::from(other - one)) / 1000.0;
        let tight = between(shaft, at[1]) - between(hole, at[0]);
        prop_assert!(found.least.in_mm() <= tight + 1e-12 && tight <= found.most.in_mm() + 1e-12);
        match found.fit() {
            Fit::Interference => prop_assert!(-1e-12 <= tight),
            Fit::Clearance => prop_assert!(tight <= 1e-12),
            Fit::Transition => prop_assert!(found.least.in_mm() < 0.0 && 0.0 < found.most.in_mm()),
        }
    }
}
