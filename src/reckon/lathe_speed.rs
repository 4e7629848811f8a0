//! `lathe-speed`: how fast the rim passes the tool, and how fast is advised.

use std::f64::consts::PI;

use super::input::{Input, Kind, Usual};
use super::limit::{is_over, reaches};
use super::{Asking, Data, Fork, Given, Outcome, Output, Reckoning, Refusal, Way};
use crate::units::{Length, LengthUnit, Quantity, SurfaceSpeed, Unit, UnitError, shown};

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "lathe-speed",
    answers: "how fast the rim passes the tool, and whether that is too fast",
    inputs: &[
        Input {
            name: "diameter",
            kind: Kind::Length { least: 1.0, most: 600.0 },
            meaning: "the work where it is widest, corner to corner while it is square",
            usual: Usual::Asked,
        },
        Input {
            name: "speed",
            kind: Kind::Speed { least: 10.0, most: 20_000.0 },
            meaning: "turns a minute; or type surface=60 m/min instead, the surface speed that is wanted",
            usual: Usual::Asked,
        },
        Input {
            name: "surface",
            kind: Kind::SurfaceSpeed { least: 0.1, most: 2_000.0 },
            meaning: "the surface speed that is wanted, 60 m/min or 200 ft/min; or type speed=1200 instead",
            usual: Usual::Asked,
        },
    ],
    pencil: &[
        "Metres a minute: 3.14 × diameter in mm × turns a minute, divided by 1000.",
        "The most for a diameter is the lathe's own limit, or its maker's table.",
    ],
    asking: Asking {
        forks: &[Fork {
            at: "speed",
            asks: "Which is known?",
            ways: &[
                Way::Given { say: "the turns a minute that the lathe is set to", inputs: &["speed"] },
                Way::Given { say: "the surface speed that is wanted", inputs: &["surface"] },
            ],
        }],
        ..Asking::NOTHING_BESIDES
    },
    verdicts: &[
        ("usual", "what is advised for shaping work of this diameter"),
        ("slow", "what is advised for rounding a blank, and less"),
        ("fast", "for work that runs true and balanced, and for sanding"),
        ("too-fast", "over what is advised for this diameter"),
    ],
    sum,
};

/// Returns how fast the rim passes the tool: `surface = π · d · n`.
///
/// In m/min it is `π · d[mm] · n / 1000`, in ft/min `π · d[in] · n / 12`; `n` is in turns a minute. Exact for round work
/// on its axis; for square work `d` is from corner to corner.
///
/// # Errors
/// [`UnitError`] if the speed is no number from 0 up, or it comes to more than 10 000 m/min.
pub fn surface_speed(diameter: Length, turns_a_minute: f64) -> Result<SurfaceSpeed, UnitError> {
    SurfaceSpeed::from_metres_a_minute(PI * diameter.in_mm() * turns_a_minute / 1_000.0)
}

/// Returns the turns a minute for a surface speed: `n = 1000 · v[m/min] / (π · d[mm])`, or `12 · v[ft/min] / (π · d[in])`.
///
/// # Errors
/// [`UnitError`] if it comes to more than 100 000 turns a minute, or the diameter is 0.
pub fn turns_a_minute(diameter: Length, surface: SurfaceSpeed) -> Result<Quantity, UnitError> {
    Quantity::new(1_000.0 * surface.in_metres_a_minute() / (PI * diameter.in_mm()), Unit::TurnsAMinute)
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let diameter = given.length("diameter", data)?.written_in(LengthUnit::Millimetre);
    if given.has("speed") && given.has("surface") {
        return Err(Refusal::Contradicts {
            input: "surface",
            why: "`speed` is given too, and one follows from the other".to_owned(),
            help: "give only one of them".to_owned(),
        });
    }
    let d = shown(diameter.in_mm(), 3);
    let (speed, surface, working) = match given.has("surface") {
        true => {
            let surface = given.surface_speed("surface", data)?;
            let speed = turns_a_minute(diameter, surface);
            let speed = speed.map_err(|fault| Refusal::Unreadable { input: "surface", fault })?.value();
            let v = shown(surface.in_metres_a_minute(), 2);
            (speed, surface, format!("speed = 1000 × v / (π × d) = 1000 × {v} / (π × {d}) = {}", turns(speed)))
        }
        false => {
            let speed = given.number("speed", data)?;
            let surface = surface_speed(diameter, speed);
            let surface = surface.map_err(|fault| Refusal::Unreadable { input: "speed", fault })?;
            let n = shown(speed, 2);
            (speed, surface, format!("surface = π × d × n / 1000 = π × {d} × {n} / 1000 = {}", surface.both()))
        }
    };
    let speeds = data.speeds()?;
    let band = speeds.band(diameter).ok_or_else(|| Refusal::NoFigure {
        of: format!("work of {diameter}"),
        figure: "speed",
        instead: "add a row without `to` to the shop's own `speeds.toml`",
    })?;
    let limit = turns(band.most);
    let (verdict, say) = match speed {
        n if !reaches(n, band.slow_under) => {
            ("slow", "Good for rounding a blank. Raise it once the work runs true.".to_owned())
        }
        n if !is_over(n, band.usual_to) => ("usual", "Less is right if in doubt.".to_owned()),
        n if !is_over(n, band.most) => (
            "fast",
            "Only for work that runs true and is held well. Go up to it in steps, hand on the switch.".to_owned(),
        ),
        _ => (
            "too-fast",
            format!("Over what is advised for this diameter: at most {limit}, and never over the lathe's own limit."),
        ),
    };
    let own = band.is_own.then(|| "advice: the shop's own".to_owned());
    Ok(Outcome {
        outputs: vec![
            Output::number("surface", surface.in_metres_a_minute(), "m/min", surface.both()),
            Output::number(
                "surface-ft",
                surface.in_feet_a_minute(),
                "ft/min",
                format!("{}\u{a0}ft/min", shown(surface.in_feet_a_minute(), 1)),
            )
            .aside(),
            Output::number("speed", speed, "rev/min", turns(speed)),
            Output::number("limit", band.most, "rev/min", limit),
        ],
        verdict: Some(verdict),
        say,
        working,
        face: None,
        sources: vec![
            "the way round a circle, π × d, times the turns a minute".to_owned(),
            own.unwrap_or_else(|| speeds.source().to_owned()),
        ],
    })
}

fn turns(speed: f64) -> String {
    format!("{}\u{a0}rev/min", shown(speed, 0))
}
