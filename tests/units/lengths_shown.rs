//! Lengths as they are shown.

use stepjig::units::{Length, LengthUnit, Offset};

use super::plain;

#[test]
fn both_units_are_shown_with_the_error_of_the_64th() {
    // Typed | shown; the sums are by hand, with 1/64 in = 0.396875 mm.
    let rows = [
        ("25/64", "25/64 in (9.922 mm)"),
        ("9.921875 mm", "9.922 mm (25/64 in)"),
        ("10.5 mm", "10.5 mm (13/32 in + 0.181 mm)"), // 10.5 - 10.31875
        ("9.8 mm", "9.8 mm (25/64 in − 0.122 mm)"),   // 9.8 - 9.921875
        ("9.922 mm", "9.922 mm (25/64 in within 0.001 mm)"),
        (".391 in", "0.391 in (25/64 in + 0.01 mm, 9.931 mm)"), // 9.9314 - 9.921875
        ("26/64", "13/32 in (10.319 mm)"),
        ("1 1/2 in", "1 1/2 in (38.1 mm)"),
        ("2 in", "2 in (50.8 mm)"),
        ("25.4 mm", "25.4 mm (1 in)"),
        ("0.1 mm", "0.1 mm (0.0039 in)"), // under half a 64th there is no fraction to give
        (".002 in", "0.002 in (0.051 mm)"),
        ("0 mm", "0 mm (0 in)"),
        ("100 mm", "100 mm (3 15/16 in − 0.013 mm)"), // 3 15/16 in = 100.0125 mm
        ("1/128 in", "0.0078 in (1/64 in − 0.198 mm, 0.198 mm)"), // halfway goes up
    ];
    for (typed, expected) in rows {
        let length = Length::parse(typed, None).unwrap_or_else(|wrong| panic!("{typed}: {wrong:#}"));
        assert_eq!(plain(&length.both()), expected, "{typed}");
    }
}

#[test]
fn alone_it_is_shown_in_the_unit_it_was_written_in() {
    let rows = [
        ("9.920 mm", "9.92 mm"),
        ("10.0 mm", "10 mm"),
        ("0.0004 mm", "0 mm"),
        ("9.9996 mm", "10 mm"),
        ("1 cm", "10 mm"),
        (".391 in", "0.391 in"),
        (".39063 in", "0.3906 in"),
        ("48/64", "3/4 in"),
    ];
    for (typed, expected) in rows {
        let length = Length::parse(typed, None).unwrap_or_else(|wrong| panic!("{typed}: {wrong:#}"));
        assert_eq!(plain(&length.to_string()), expected, "{typed}");
    }
}

#[test]
fn a_difference_is_shown_with_its_sign() {
    let rows = [
        ("-0.03 mm", "−0.03 mm", "−0.03 mm (−0.0012 in)"),
        ("-1/64 in", "−1/64 in", "−1/64 in (−0.397 mm)"),
        ("0.25 mm", "0.25 mm", "0.25 mm (0.0098 in)"),
    ];
    for (typed, alone, both) in rows {
        let offset = Offset::parse(typed, None).unwrap_or_else(|wrong| panic!("{typed}: {wrong:#}"));
        assert_eq!((plain(&offset.to_string()), plain(&offset.both())), (alone.to_owned(), both.to_owned()));
    }
}

#[test]
fn the_nearest_64th_comes_with_what_is_over() {
    let (nearest, over) = Length::from_mm(10.5).expect("it is a length").nearest_64th();
    assert_eq!((nearest, nearest.unit()), (Length::from_64ths(26).expect("it is a length"), LengthUnit::Inch));
    assert_eq!(over.in_mm(), 10.5 - 10.31875); // 13 x 25.4 / 32
}

#[test]
fn the_exact_text_is_the_shortest_that_reads_back() {
    for exact in ["25/64 in", "0.391 in", "9.921875 mm", "10.5 mm", "1 1/2 in", "0.2345678 in"] {
        assert_eq!(Length::parse(exact, None).map(Length::exact), Ok(exact.to_owned()));
    }
    assert_eq!(Offset::parse("-0.03 mm", None).map(Offset::exact), Ok("-0.03 mm".to_owned()));
}
