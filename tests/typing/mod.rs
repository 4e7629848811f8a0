//! What a turner types when all goes well, shared by the tests that play a whole pen.

use jiff::Timestamp;
use stepjig::walk::{Phase, Scene, Walk, Wanted};

/// What a caliper, a rule and a clock read with the shipped kit's own numbers: the gauge, and what is typed there.
const READINGS: [(&str, &str); 20] = [
    ("measure-body/outside", "10.34 mm"),
    ("measure-body/length", "54 mm"),
    ("measure-body/bit", "10.5 mm"),
    ("measure-cap/outside", "12.34 mm"),
    ("measure-cap/length", "46 mm"),
    ("measure-cap/bit", "12.5 mm"),
    ("choose-blank/saw-cut", "2 mm"),
    ("choose-blank/blank-length", "140 mm"),
    ("choose-blank/blank-thick", "20 mm"),
    ("know-glue/glue-open", "30 s"),
    ("know-glue/warmth", "20 C"),
    ("glue-body/dry-run", "4 s"),
    ("glue-cap/dry-run", "4 s"),
    ("glue-body/slow-glue", "10 min"),
    ("glue-cap/slow-glue", "10 min"),
    ("turn-body/near/rim", "12.9 mm"),
    ("turn-body/far/rim", "12.6 mm"),
    ("turn-cap/near/rim", "15.2 mm"),
    ("turn-cap/far/rim", "14.4 mm"),
    ("let-go", "9 o'clock"),
];

/// What is typed for a value that a sum wants, by the value's name.
const VALUES: [(&str, &str); 17] = [
    ("hole", "finger"),
    ("vapour", "no"),
    ("diameter", "28 mm"),
    ("speed", "900"),
    ("squared-off", "3 mm"),
    ("band", "3 mm"),
    ("slant", "10 deg"),
    ("let-go", "9 o'clock"),
    ("part", "9.62 mm"),
    ("tube-in", "9.6 mm"),
    ("wood-out", "12.6 mm"),
    ("wood", "black cherry"),
    ("e", "0.8GPa"),
    ("from", "8 %"),
    ("to", "8 %"),
    ("temperature", "20 C"),
    ("open", "30 s"),
];

/// What a turner types when all goes well: the first answer, a reading with the shipped kit's numbers, else in the
/// middle of its limits; a value that a sum wants, else the sum is left out.
pub fn all_well(scene: &Scene) -> String {
    let listed =
        |rows: &[(&str, &str)], name: &str| rows.iter().find(|(known, _)| *known == name).map(|row| row.1.to_owned());
    match &scene.wanted {
        Wanted::Done | Wanted::DoneWord | Wanted::Verdict => "done".to_owned(),
        Wanted::Value { name, .. } => listed(&VALUES, name).unwrap_or_else(|| "done".to_owned()),
        Wanted::Hold => "yes".to_owned(),
        Wanted::Answer(_) => "1".to_owned(),
        Wanted::Sign => "ready".to_owned(),
        Wanted::Nothing => String::new(),
        Wanted::Reading { unit, limits } => listed(&READINGS, &scene.id).unwrap_or_else(|| within(unit, limits)),
    }
}

/// A reading in the middle of its limits.
fn within(unit: &str, limits: &str) -> String {
    if unit == "clock" {
        return "9 o'clock".to_owned();
    }
    let number = |text: &str| text.split(['\u{a0}', ' ']).next().and_then(|number| number.parse::<f64>().ok());
    let middle = match limits.split_once(" to ") {
        Some((min, max)) => (number(min).unwrap_or(0.0) + number(max).unwrap_or(0.0)) / 2.0,
        None => number(limits).unwrap_or(1.0),
    };
    format!("{middle} {unit}")
}

/// Plays a walk to its end when all goes well, and returns every line that was typed.
#[allow(dead_code)] // not every test that types plays to the end
pub fn to_the_end(mut walk: Walk<'_>, now: Timestamp) -> Vec<String> {
    let mut lines = Vec::new();
    while walk.state().phase != Phase::Ended {
        let line = all_well(&walk.scene(now));
        walk.answer(&line, now).expect("it is what is wanted");
        lines.push(line);
        assert!(lines.len() < 5_000, "the walk does not end; at {}", walk.scene(now).id);
    }
    lines
}
