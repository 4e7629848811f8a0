//! What a turner types when all goes well, shared by the tests that play a whole pen.

use jiff::Timestamp;
use stepjig::walk::{Phase, Scene, Walk, Wanted};

/// What a turner types when all goes well: the first answer, a reading in the middle of its limits.
pub fn all_well(scene: &Scene) -> String {
    match &scene.wanted {
        Wanted::Done | Wanted::DoneWord | Wanted::Verdict | Wanted::Value { .. } => "done".to_owned(),
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

/// Plays a walk to its end when all goes well, and returns every line that was typed.
#[allow(dead_code)] // not every test that types plays to the end
pub fn to_the_end(mut walk: Walk<'_>, now: Timestamp) -> Vec<String> {
    let mut lines = Vec::new();
    while walk.state().phase != Phase::Ended {
        let line = all_well(&walk.scene(now));
        walk.answer(&line, now).expect("it is what is wanted");
        lines.push(line);
    }
    lines
}
