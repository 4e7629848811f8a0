//! Lengths as they are typed.

use stepjig::units::{Length, LengthUnit, Offset};

fn mm(typed: &str) -> f64 {
    Length::parse(typed, None).unwrap_or_else(|wrong| panic!("{typed}: {wrong:#}")).in_mm()
}

#[test]
fn an_inch_is_exactly_25_4_mm() {
    let rows = [
        ("1 in", 25.4),         // international yard and pound agreement, 1959: 1 yd = 0.9144 m exactly
        ("36 in", 914.4),       // the same
        ("12 in", 304.8),       // NIST SP 811, appendix B: foot, exact
        ("0.001 in", 0.0254),   // NIST SP 811, appendix B: mil (0.001 in), exact
        ("25/64 in", 9.921875), // 25 x 25.4 / 64, by hand
        ("15/32 in", 11.90625), // 15 x 25.4 / 32, by hand
        ("3/64 in", 1.190625),  // 3 x 25.4 / 64, by hand; 3 x 25.4 alone is rounded down in binary
        ("0.391 in", 9.9314),   // 391 x 25.4 / 1000, by hand
        ("1 cm", 10.0),         // SI
        ("10.5 mm", 10.5),      // SI
    ];
    for (typed, expected) in rows {
        assert_eq!(mm(typed), expected, "{typed}");
    }
}

#[test]
fn one_length_may_be_typed_in_many_ways() {
    let ways = [
        (
            "25/64",
            "25/64\" | 25/64 in | 25/64in | 25 / 64 in | 25⁄64 | 25/64″ | 25/64'' | 25/64 inch | 25/64 IN. | 0.390625 in | .390625\" | 9.921875 mm | .9921875 cm | +25/64",
        ),
        (
            "1 1/2 in",
            "1-1/2\" | 1½″ | 1 ½ in | 1–1/2 inches | 1.5 in | 3/2 in | 38.1mm | 3.81 centimetres | 38.1 millimeters | 1\u{a0}1/2\u{a0}in",
        ),
        ("3/8", "⅜ | ⅜\" | 0.375 in | 9.525 mm | 24/64"),
        ("1/4 in", "¼ | 0.25 in | 16/64"),
        ("3/4 in", "¾ in | .75 in"),
        ("1/8 in", "⅛ in | 0.125 in"),
        ("0.5 mm", "½ mm | 1/2 mm | .5 mm | .05 cm | 0.50 MM"),
    ];
    for (typed, others) in ways {
        for other in others.split(" | ") {
            assert_eq!(mm(other), mm(typed), "{other} and {typed}");
        }
    }
}

#[test]
fn a_bare_number_takes_the_shops_unit_and_a_bare_fraction_is_in_inches() {
    let in_mm = |typed: &str, bare| Length::parse(typed, Some(bare)).map(Length::in_mm);
    assert_eq!(in_mm("9.92", LengthUnit::Millimetre), Ok(9.92));
    assert_eq!(in_mm(".5", LengthUnit::Inch), Ok(12.7));
    assert_eq!(in_mm("25/64", LengthUnit::Millimetre), Ok(9.921875));
    assert_eq!(in_mm("1 in", LengthUnit::Millimetre), Ok(25.4));
}

#[test]
fn a_length_remembers_how_it_was_written() {
    let unit = |typed: &str| Length::parse(typed, None).map(Length::unit);
    assert_eq!(unit("25/64"), Ok(LengthUnit::Inch));
    assert_eq!(unit(".391 in"), Ok(LengthUnit::Inch));
    assert_eq!(unit("1 cm"), Ok(LengthUnit::Millimetre));
    assert_eq!(unit("9.92 mm"), Ok(LengthUnit::Millimetre));
    let length = Length::from_inches(1.0).expect("an inch is a length");
    assert_eq!(length.unit(), LengthUnit::Inch);
    assert_eq!(length.written_in(LengthUnit::Millimetre).to_string(), "25.4\u{a0}mm");
}

#[test]
fn lengths_compare_by_how_long_they_are() {
    let length = |typed: &str| Length::parse(typed, None).expect("it is a length");
    assert_eq!(length("1 in"), length("25.4 mm"));
    assert!(length("25/64") < length("10 mm"));
    assert!(length("10 mm") < length("1 in"));
}

#[test]
fn a_difference_may_be_below_zero() {
    let offset = |typed: &str| Length::parse_signed(typed, None).map(Offset::in_mm);
    assert_eq!(offset("-0.03 mm"), Ok(-0.03));
    assert_eq!(offset("−0.03 mm"), Ok(-0.03));
    assert_eq!(offset("- 1/64"), Ok(-0.396875));
    assert_eq!(offset("+0.1 mm"), Ok(0.1));
    assert_eq!(offset("-0 mm").map(f64::is_sign_negative), Ok(false));
    let length = |typed: &str| Length::parse(typed, None).expect("it is a length");
    let below = length("9.5 mm") - length("10 mm");
    assert_eq!((below.in_mm(), below.size()), (-0.5, length("0.5 mm")));
    assert!(below < Offset::from(length("0 mm")));
    assert_eq!(Offset::from_inches(-1.0).map(|offset| (offset.in_inches(), offset.in_mm())), Ok((-1.0, -25.4)));
}
