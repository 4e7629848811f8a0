//! What holds for every input.

use proptest::prelude::*;
use stepjig::units::{Angle, ClockPosition, Length, LengthUnit, Offset, Quantity, Span, SurfaceSpeed, Unit, UnitError};

/// Any text, and texts made of the pieces readings are made of, which get further.
fn text() -> impl Strategy<Value = String> {
    let pieces = prop::sample::select(vec![
        "1",
        "25",
        "64",
        "007",
        "999999999",
        "/",
        "-",
        "−",
        "+",
        ".",
        ",",
        ":",
        " ",
        "\u{a0}",
        "½",
        "⅜",
        "mm",
        "in",
        "\"",
        "″",
        "'",
        "h",
        "min",
        "s",
        "days",
        "o'clock",
        "oclock",
        "deg",
        "°",
        "turns",
        "%",
        "F",
        "g",
        "rev/min",
        "m/min",
        "É",
        "\u{1b}",
        "0",
    ]);
    prop_oneof![".{0,60}", prop::collection::vec(pieces, 0..12).prop_map(|pieces| pieces.concat()), "[0-9/ .,:-]{1,24}"]
}

fn any_unit() -> impl Strategy<Value = Unit> {
    prop::sample::select(Unit::ALL.to_vec())
}

/// Sees that an error can be shown.
fn check_error(wrong: &UnitError) -> Result<(), TestCaseError> {
    let said = format!("{wrong:#}");
    prop_assert!(!said.chars().any(char::is_control), "{said:?}");
    prop_assert!(said.chars().count() <= 400, "{said:?}");
    match wrong.comma_reading() {
        // What a prompt asks back is never refused for another comma.
        Some(reading) => prop_assert!(!reading.contains(',')),
        None => prop_assert!(!said.contains("decimal comma")),
    }
    Ok(())
}

proptest! {
    // A failure is kept as a row of a table test, not in a file of its own.
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_panics_and_every_error_can_be_shown(text in text(), unit in any_unit()) {
        let errors = [
            Length::parse(&text, None).err(),
            Length::parse(&text, Some(LengthUnit::Inch)).err(),
            Offset::parse(&text, None).err(),
            Angle::parse(&text).err(),
            ClockPosition::parse(&text).err(),
            Span::parse(&text).err(),
            SurfaceSpeed::parse(&text).err(),
            Quantity::parse_signed(&text, unit, Some(LengthUnit::Millimetre)).err(),
            Unit::from_label(&text).err(),
        ];
        for wrong in errors.into_iter().flatten() {
            check_error(&wrong)?;
        }
    }

    #[test]
    fn what_was_read_is_in_range_and_reads_back(text in text(), unit in any_unit()) {
        if let Ok(read) = Quantity::parse_signed(&text, unit, None) {
            prop_assert!(read.value().is_finite());
            let again = Quantity::parse_signed(&read.exact(), unit, None);
            prop_assert_eq!(again, Ok(read), "{}", read.exact());
            let shown = read.to_string();
            prop_assert!(Quantity::parse_signed(&shown, unit, None).is_ok(), "{}", shown);
        }
    }

    #[test]
    fn a_length_is_shown_close_and_kept_exactly(mm in 0.0..10_000.0, inches in any::<bool>()) {
        let unit = if inches { LengthUnit::Inch } else { LengthUnit::Millimetre };
        let length = Length::from_mm(mm).expect("it is in range").written_in(unit);
        prop_assert_eq!(Length::parse(&length.exact(), None), Ok(length));
        let shown = Length::parse(&length.to_string(), None).expect("what is shown can be typed");
        let rounded = if inches { 0.00005 * 25.4 } else { 0.0005 };
        prop_assert!((shown.in_mm() - mm).abs() <= rounded * (1.0 + 1e-9), "{} for {}", shown, mm);
        prop_assert_eq!(shown.unit(), unit);
    }

    #[test]
    fn typed_inches_keep_their_unit_when_stored(millionths in 0_u32..100_000_000) {
        let typed = format!("{} in", f64::from(millionths) / 1e6);
        let length = Length::parse(&typed, None).expect("it is a length");
        let again = Length::parse(&length.exact(), None).expect("exact can be typed");
        prop_assert_eq!((again, again.unit()), (length, LengthUnit::Inch));
    }

    #[test]
    fn fractions_and_their_decimals_are_the_same_length(whole in 0_u32..100, upper in 0_u32..64) {
        let fraction = Length::parse(&format!("{whole} {upper}/64"), None);
        let decimals = f64::from(whole) + f64::from(upper) / 64.0;
        prop_assert_eq!(&fraction, &Length::parse(&format!("{decimals} in"), None));
        prop_assert_eq!(&fraction, &Length::from_64ths(whole * 64 + upper));
        prop_assert_eq!(fraction.map(Length::in_inches), Ok(decimals));
    }

    #[test]
    fn the_nearest_64th_is_within_half_of_one(mm in 0.0..9_999.0) {
        let length = Length::from_mm(mm).expect("it is in range");
        let (nearest, over) = length.nearest_64th();
        prop_assert!(over.size().in_mm() <= 25.4 / 128.0 * (1.0 + 1e-9));
        prop_assert!((nearest.in_mm() + over.in_mm() - mm).abs() < 1e-9);
        prop_assert_eq!(nearest.in_inches() * 64.0, (nearest.in_inches() * 64.0).round());
    }

    #[test]
    fn a_longer_length_compares_longer(one in 0.0..10_000.0, other in 0.0..10_000.0) {
        let length = |mm| Length::from_mm(mm).expect("it is in range");
        prop_assert_eq!(length(one) < length(other), one < other);
        prop_assert_eq!((length(one) - length(other)).in_mm() < 0.0, one < other);
    }

    #[test]
    fn positions_and_angles_agree(degrees in -2_000.0..2_000.0, turn in -2_000.0..2_000.0) {
        let angle = |degrees| Angle::from_degrees(degrees).expect("it is in range");
        let position = ClockPosition::from_angle(angle(degrees));
        prop_assert!((0.0..720.0).contains(&position.minutes()));
        prop_assert_eq!(ClockPosition::from_angle(position.to_angle()), position);
        let turned = position.turned_by(angle(turn));
        let back = position.clockwise_to(turned).degrees() - angle(turn).within_a_turn().degrees();
        prop_assert!(back.abs().min(360.0 - back.abs()) < 1e-9);
        let shown = ClockPosition::parse(&position.to_string()).expect("what is shown can be typed");
        let off = shown.clockwise_to(position).degrees();
        prop_assert!(off.min(360.0 - off) <= 0.25 + 1e-9);
    }

    #[test]
    fn a_span_is_shown_to_the_second_and_kept_exactly(seconds in 0.0..315_360_000.0) {
        let span = Span::from_seconds(seconds).expect("it is in range");
        prop_assert_eq!(Span::parse(&span.exact()), Ok(span));
        let shown = Span::parse(&span.to_string()).expect("what is shown can be typed");
        prop_assert!((shown.seconds() - seconds).abs() <= 0.5);
    }

    #[test]
    fn a_surface_speed_is_shown_close_and_kept_exactly(metres in 0.0..10_000.0) {
        let speed = SurfaceSpeed::from_metres_a_minute(metres).expect("it is in range");
        prop_assert_eq!(SurfaceSpeed::parse(&speed.exact()), Ok(speed));
        let shown = SurfaceSpeed::parse(&speed.to_string()).expect("what is shown can be typed");
        prop_assert!((shown.in_metres_a_minute() - metres).abs() <= 0.05 * (1.0 + 1e-9));
        let feet = SurfaceSpeed::from_feet_a_minute(speed.in_feet_a_minute()).expect("it is in range");
        prop_assert!((feet.in_metres_a_minute() - metres).abs() <= 1e-9);
    }

    #[test]
    fn any_number_is_a_quantity_or_refused(value in any::<f64>(), unit in any_unit()) {
        if let Ok(quantity) = Quantity::new(value, unit) {
            let again = Quantity::parse_signed(&quantity.exact(), unit, None);
            prop_assert_eq!(again, Ok(quantity), "{}", quantity.exact());
        }
    }
}
