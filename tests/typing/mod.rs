//! What a turner types when all goes well, shared by the tests that play a whole pen.

use stepjig::walk::{Scene, Wanted};

/// What a turner types when all goes well: the first answer, a reading in the middle of its limits.
pub fn all_well(scene: &Scene) -> String {
    match &scene.wanted {
        Wanted::Done | Wanted::DoneWord | Wanted::Verdict => "done".to_owned(),
        Wanted::Hold => "yes".to_owned(),
        Wanted::Answer(_) => "1".to_owned(),
        Wanted::Sign => "ready".to_owned(),
        Wanted::Nothing => String::new(),
        Wanted::Reading { unit, .. } if unit == "clock" => "9 o'clock".to_owned(),
        Wanted::Reading { unit, limits } => {
            let number = |text: &str| text.split(['\u{a0}', ' ']).next().and_then(|number| number.parse::<f64>().ok());
            let middle = match limits.split_once(" to ") {
                Some((min, max)) => (number(min).unwrap_or(0.0) + number(max).unwrap_or(0.0)) / 2.0,
                None => number(limits).unwrap_or(1.0),
            };
            format!("{middle} {unit}")
        }
    }
}
