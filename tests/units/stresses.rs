//! Stresses: MPa, GPa, N/mm² and psi.

use proptest::prelude::*;
use stepjig::units::Stress;

#[test]
fn a_stress_is_read_in_each_of_its_units() {
    let rows = [
        ("3.9MPa", 3.9),
        ("1.2 GPa", 1200.0),
        ("4 N/mm2", 4.0),
        ("4 N/mm²", 4.0),
        ("0 mpa", 0.0),
        // 1000 psi = 6.894757 MPa: NIST SP 811 (2008), appendix B.
        ("1000 psi", 6.894757),
    ];
    for (typed, mpa) in rows {
        let read = Stress::parse(typed).unwrap_or_else(|wrong| panic!("{typed}: {wrong:#}"));
        assert!((read.in_mpa() - mpa).abs() < 5e-7, "{typed}: {}", read.in_mpa());
    }
}

#[test]
fn a_stress_is_shown_in_mpa_or_gpa() {
    for (typed, shown) in [("3.9 MPa", "3.9 MPa"), ("999.9996MPa", "1000 MPa"), ("1200 MPa", "1.2 GPa")] {
        assert_eq!(super::plain(&Stress::parse(typed).expect("it is a stress").to_string()), shown);
    }
}

#[test]
fn what_is_no_stress_is_refused_with_what_was_meant() {
    let rows = [
        ("3.9", "`3.9` has no unit: 3.9 MPa, 3.9 GPa or 3.9 psi? say which"),
        ("3,9 MPa", "`3,9 MPa` has a decimal comma: 3.9 MPa? write a point"),
        ("-1 MPa", "a stress is never below zero: `-1 MPa`: did you mean 1 MPa?"),
        ("3.9 Mpaa", "`Mpaa` is not a unit of stress: did you mean MPa?"),
        ("3.9 mm", "`mm` is a unit of length, and a stress is wanted: write it like 3.9 MPa or 1.2 GPa"),
        ("", "a stress is missing: write it like 3.9 MPa or 1.2 GPa"),
        ("nan", "`nan` is not a stress: write it like 3.9 MPa or 1.2 GPa"),
        (
            "2000 GPa",
            "`2000 GPa` is out of range: a stress goes from 0 to 1000 GPa: is the point in its place, and the unit right?",
        ),
    ];
    for (typed, expected) in rows {
        let said = Stress::parse(typed).map_or_else(|wrong| format!("{wrong:#}"), |read| panic!("{typed}: {read}"));
        assert_eq!(said, expected, "{typed}");
    }
}

proptest! {
    #[test]
    fn what_is_written_out_reads_back(mpa in 0.0..1e6_f64) {
        let stress = Stress::from_mpa(mpa).expect("it is in range");
        prop_assert_eq!(Stress::parse(&stress.exact()), Ok(stress));
    }

    #[test]
    fn any_text_is_read_or_refused(text in ".{0,60}") {
        if let Err(wrong) = Stress::parse(&text) {
            let said = format!("{wrong:#}");
            prop_assert!(!said.chars().any(char::is_control));
        }
    }
}
