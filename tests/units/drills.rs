//! Inch drills against the published tables in `tests/data/drills.toml`, whose sources are named there.

use stepjig::units::Length;

struct Drill {
    size: String,
    inch: f64,
    mm: f64,
}

fn table(name: &str) -> Vec<Drill> {
    let text = include_str!("../data/drills.toml");
    let data: toml::Table = toml::from_str(text).expect("the table is TOML");
    let rows = data[name].as_array().expect("each set is an array");
    let row = |row: &toml::Value| Drill {
        size: row["size"].as_str().expect("size is a text").to_owned(),
        inch: row["inch"].as_float().expect("inch is a number"),
        mm: row["mm"].as_float().expect("mm is a number"),
    };
    rows.iter().map(row).collect()
}

/// Tells whether a length is what the table rounded to 0.001 mm; the last term is for the binary digits of the row.
fn rounds_to(length: Length, mm: f64) -> bool {
    (length.in_mm() - mm).abs() <= 0.0005 + 1e-9
}

#[test]
fn fractional_drills_are_read_as_the_table_has_them() {
    let drills = table("fractional");
    assert_eq!(drills.len(), 48);
    for Drill { size, inch, mm } in drills {
        let read = Length::parse(&size, None).unwrap_or_else(|wrong| panic!("{size}: {wrong:#}"));
        assert_eq!(read.in_inches(), inch, "{size}: a 64th is exact in inches");
        assert!(rounds_to(read, mm), "{size}: {} is not {mm}", read.in_mm());
        assert_eq!(read, Length::parse(&format!("{inch} in"), None).expect("a decimal is a length"), "{size}");
        assert_eq!(read.to_string(), format!("{size}\u{a0}in"), "shown reduced, as drills are marked");
    }
}

#[test]
fn letter_and_number_drills_are_read_as_the_table_has_them() {
    let (letters, numbers) = (table("letter"), table("number"));
    assert_eq!((letters.len(), numbers.len()), (26, 80));
    for Drill { size, inch, mm } in letters.into_iter().chain(numbers) {
        let typed = format!("{inch} in");
        let read = Length::parse(&typed, None).unwrap_or_else(|wrong| panic!("{size}: {wrong:#}"));
        assert!(rounds_to(read, mm), "{size}: {} is not {mm}", read.in_mm());
        assert!((read.in_inches() - inch).abs() < 1e-12, "{size}: {}", read.in_inches());
    }
}

/// The table's own note: letter E and 1/4 in are the same size.
#[test]
fn drill_e_is_a_quarter_inch() {
    let e = table("letter").into_iter().find(|drill| drill.size == "E").expect("there is a drill E");
    assert_eq!(Length::from_inches(e.inch), Length::parse("1/4", None));
}
