//! Readings at a gauge.

use stepjig::units::{LengthUnit, Measure, Quantity, Unit};

use super::plain;

#[test]
fn a_reading_is_in_its_gauges_unit() {
    // Gauge | typed | value | shown.
    let rows = [
        ("mm", "25/64", 9.921875, "25/64 in"), // 25 x 25.4 / 64, by hand
        ("mm", "9.92 mm", 9.92, "9.92 mm"),
        ("in", "9.525 mm", 0.375, "9.525 mm"), // 3/8 in, by hand
        ("in", "3/8", 0.375, "3/8 in"),
        ("deg", "12.5", 12.5, "12.5°"),
        ("deg", "1 turn", 360.0, "360°"),
        ("turns", "1 1/4", 1.25, "1.25 turns"),
        ("turns", "360 deg", 1.0, "1 turn"),
        ("clock", "4:30", 4.5, "4:30"),
        ("clock", "12", 0.0, "12 o'clock"),
        ("s", "90", 90.0, "1 min 30 s"),
        ("min", "2 h", 120.0, "2 h"),
        ("min", "20", 20.0, "20 min"),
        ("h", "24", 24.0, "24 h"),
        ("h", "30 min", 0.5, "30 min"),
        ("g", "23.4", 23.4, "23.4 g"),
        ("g", "1 oz", 28.349523125, "28.35 g"), // NIST SP 811, appendix B: ounce (avoirdupois) 28.349 52 g
        ("g", "1.2 kg", 1_200.0, "1200 g"),
        ("%", "7.5", 7.5, "7.5 %"),
        ("%", "7.5 percent", 7.5, "7.5 %"),
        ("C", "21", 21.0, "21 °C"),
        ("C", "-5 °C", -5.0, "-5 °C"),
        ("C", "68 F", 20.0, "20 °C"),    // ISO 1: the reference temperature, 20 °C = 68 °F
        ("C", "212 F", 100.0, "100 °C"), // water boils
        ("rev/min", "1200", 1_200.0, "1200 rev/min"),
        ("rev/min", "1200 rpm", 1_200.0, "1200 rev/min"),
    ];
    for (unit, typed, value, shown) in rows {
        let unit: Unit = unit.parse().expect("it is a label");
        let reading = unit.read(typed, None).unwrap_or_else(|wrong| panic!("{typed}: {wrong:#}"));
        assert_eq!((reading.value(), reading.unit()), (value, unit), "{typed}");
        assert_eq!(plain(&reading.to_string()), shown, "{typed}");
    }
}

#[test]
fn a_reading_of_the_wrong_kind_is_refused() {
    let rows = [
        ("mm", "9.92", "`9.92` has no unit: 9.92 mm or 9.92 in? say which"),
        ("mm", "-0.03 mm", "a length is never below zero: `-0.03 mm`: did you mean 0.03 mm?"),
        ("g", "5 mm", "`mm` is a unit of length, and a weight is wanted: write it like 23.4 g"),
        ("%", "-3", "a percentage is never below zero: `-3`: did you mean 3?"),
        ("rev/min", "1200 rmp", "`rmp` is not a unit of speed: did you mean rev/min?"),
        (
            "C",
            "-200",
            "`-200` is out of range: a temperature goes from -100 to 500 °C: is the point in its place, and the unit right?",
        ),
        ("turns", "2 mm", "`mm` is a unit of length, and an angle is wanted: write it like 90 deg or 1/4 turn"),
    ];
    for (unit, typed, expected) in rows {
        let unit: Unit = unit.parse().expect("it is a label");
        let wrong = unit.read(typed, None).expect_err("it is no reading");
        assert_eq!(format!("{wrong:#}"), expected);
    }
}

#[test]
fn a_gauge_with_a_limit_below_zero_reads_signed() {
    let reading = Quantity::parse_signed("-0.03 mm", Unit::Millimetre, None).expect("it is signed");
    assert_eq!((reading.value(), reading.length()), (-0.03, None));
    assert_eq!(plain(&reading.both()), "−0.03 mm (−0.0012 in)");
    assert!(Quantity::new(-0.05, Unit::Millimetre).expect("a limit may be signed") < reading);
    let bare = Quantity::parse_signed("-1", Unit::Millimetre, Some(LengthUnit::Inch)).expect("the shop is in inches");
    assert_eq!(bare.value(), -25.4);
}

#[test]
fn quantities_of_one_kind_compare_whatever_their_unit() {
    let quantity = |value, unit| Quantity::new(value, unit).expect("it is a quantity");
    assert_eq!(quantity(25.4, Unit::Millimetre), quantity(1.0, Unit::Inch));
    assert_eq!(quantity(90.0, Unit::Minute), quantity(1.5, Unit::Hour));
    assert_eq!(quantity(0.25, Unit::Turn), quantity(90.0, Unit::Degree));
    assert!(quantity(30.0, Unit::Second) < quantity(1.0, Unit::Minute));
    assert!(quantity(3.0, Unit::Clock) < quantity(4.5, Unit::Clock));
    assert!(quantity(20.0, Unit::Gram) < quantity(21.0, Unit::Gram));
    let (weight, share) = (quantity(5.0, Unit::Gram), quantity(5.0, Unit::Percent));
    assert_eq!((weight.partial_cmp(&share), weight == share), (None, false));
}

#[test]
fn a_quantity_gives_what_it_holds() {
    let both = |typed: &str| plain(&Unit::Millimetre.read(typed, None).expect("it is a length").both());
    assert_eq!(both("10.5 mm"), "10.5 mm (13/32 in + 0.181 mm)");
    let clip = Unit::Clock.read("4 o'clock", None).expect("it is a position");
    assert_eq!(clip.clock_position().map(|position| position.figures()), Some("4:00".to_owned()));
    let turned = Unit::Turn.read("1/4", None).expect("it is an angle");
    assert_eq!(turned.angle().map(|angle| angle.degrees()), Some(90.0));
    let cure = Unit::Hour.read("24", None).expect("it is a time");
    assert_eq!(cure.span().map(|span| span.minutes()), Some(1_440.0));
    assert_eq!((clip.length(), clip.angle(), turned.span(), cure.clock_position()), (None, None, None, None));
}

#[test]
fn every_unit_measures_something() {
    use Measure::{Angle, ClockPosition, Length, Share, Speed, Temperature, Time, Weight};
    let expected = [Length, Length, Angle, ClockPosition, Time, Time, Time, Weight, Share, Temperature, Speed, Angle];
    assert_eq!(Unit::ALL.map(Unit::measures), expected);
    let lengths = Unit::ALL.map(Unit::length_unit);
    assert_eq!(lengths[..2], [Some(LengthUnit::Millimetre), Some(LengthUnit::Inch)]);
    assert!(lengths[2..].iter().all(Option::is_none));
}
