//! `cure`: when is the glue really hard.

mod damp;
mod warmth;

use super::data::{Glue, Hardening};
use super::given::quoted;
use super::input::{Input, Kind, Usual};
use super::temperature_rule;
use super::{Asking, Data, DataFile, Fork, Given, Outcome, Output, Reckoning, Refusal, Way};
use crate::finding::nearest;
use crate::units::Span;

pub use damp::{Air, air};

/// What to do where a glue is not listed.
const BY_NUMBERS: &str =
    "or leave `glue` out and give `factor`, how many times as fast it hardens 10 °C warmer, from its sheet";

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "cure",
    answers: "when the glue is really hard",
    inputs: &[
        Input {
            name: "glue",
            kind: Kind::Name(DataFile::Adhesives),
            meaning: "the glue by its chemistry: cyanoacrylate, epoxy, polyurethane, or one of the shop's own list",
            usual: Usual::Asked,
        },
        Input {
            name: "rated",
            kind: Kind::Minutes { least: 0.01, most: 43_200.0 },
            meaning: "how long it takes to harden through, from its sheet",
            usual: Usual::Asked,
        },
        Input {
            name: "rated-at",
            kind: Kind::Temperature { least: 5.0, most: 45.0 },
            meaning: "the temperature that its sheet states that time for",
            usual: Usual::Text("20 C"),
        },
        Input {
            name: "temperature",
            kind: Kind::Temperature { least: 0.0, most: 45.0 },
            meaning: "how warm the piece lies while it hardens",
            usual: Usual::Asked,
        },
        Input {
            name: "humidity",
            kind: Kind::Humidity,
            meaning: "relative humidity of the air where it hardens",
            usual: Usual::Asked,
        },
        Input {
            name: "thickness",
            kind: Kind::Length { least: 0.0, most: 3.0 },
            meaning: "how thick the glue lies: the gap on one side of the tube",
            usual: Usual::Asked,
        },
        Input {
            name: "factor",
            kind: Kind::Number { above: 1.0, most: 4.0 },
            meaning: "how many times as fast it hardens 10 °C warmer, where the glue is not listed",
            usual: Usual::Asked,
        },
    ],
    pencil: &[
        "Epoxy, polyurethane: the rated time, divided by 2 for each 10 °C that it is warmer than the time is rated at, times 2 for each 10 °C colder. A drop on scrap decides.",
    ],
    asking: Asking {
        forks: &[Fork {
            at: "glue",
            asks: "What is known of the glue?",
            ways: &[
                Way::Given {
                    say: "its chemistry: epoxy, polyurethane, cyanoacrylate, or one of the shop's own list",
                    inputs: &["glue"],
                },
                Way::Given {
                    say: "how many times as fast it hardens 10 °C warmer, from its sheet",
                    inputs: &["factor"],
                },
            ],
        }],
        ..Asking::NOTHING_BESIDES
    },
    verdicts: &[],
    sum,
};

/// What a reckoning of hardening comes to: the time, the soonest and the latest, each where it can be told.
struct Told {
    time: Result<Span, &'static str>,
    soonest: Result<Span, &'static str>,
    latest: Result<Span, &'static str>,
    say: String,
    working: String,
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    if given.has("factor") {
        return by_factor(given, data);
    }
    let glue = listed(&given.word("glue", data)?, data)?;
    let rated = given.span("rated", data)?;
    let mut note = glue.note.as_deref();
    let mut told = match &glue.hardening {
        Hardening::Warmth { factor, band, cold } => {
            let told = warmth::told(given, data, rated, *factor, *band)?;
            let temperature = given.number("temperature", data)?;
            if cold.is_some_and(|cold| temperature < cold) {
                note = Some("So cold it may stall and stay soft, whatever the clock says: warm the piece.");
            }
            told
        }
        Hardening::Damp { good, slow_under, shock_over, fills } => {
            let humidity = given.number("humidity", data)?;
            let thickness = given.length("thickness", data)?;
            match thickness <= *fills {
                true => damp::told(rated, humidity, air(humidity, *good, *slow_under, *shock_over)),
                false => damp::too_thick(thickness, *fills),
            }
        }
    };
    told.say.push_str(&format!(" It is hard when {}: trust that, not the clock.", glue.sign));
    if let Some(note) = note {
        told.say.push(' ');
        told.say.push_str(note);
    }
    Ok(outcome(told, glue.source.clone()))
}

/// Reckons a glue that is known by its factor alone.
fn by_factor(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    if given.has("glue") {
        return Err(Refusal::Contradicts {
            input: "factor",
            why: "`glue` is given too, and a listed glue has its own".to_owned(),
            help: "give only one of them; a shop can list its glue in `adhesives.toml`".to_owned(),
        });
    }
    let rated = given.span("rated", data)?;
    let factor = given.number("factor", data)?;
    let (least, most) = (data.practice_number("cure.band-least")?, data.practice_number("cure.band-most")?);
    let mut told = warmth::told(given, data, rated, factor, [least.min(factor), most.max(factor)])?;
    told.say.push_str(
        " It is hard when what is left of the mix takes no mark from a fingernail: trust that, not the clock.",
    );
    Ok(outcome(told, temperature_rule::SOURCE.to_owned()))
}

fn listed<'d>(name: &str, data: &'d Data) -> Result<&'d Glue, Refusal> {
    let glues = data.glues()?;
    glues.named(name).ok_or_else(|| {
        let near = nearest(name, glues.all().iter().flat_map(Glue::names)).and_then(|near| glues.named(near));
        let near = near.map_or_else(|| glues.all().iter().collect(), |near| vec![near]);
        let near = near.into_iter().map(|glue| glue.name.clone()).collect();
        Refusal::NotListed { input: "glue", typed: quoted(name), near, instead: Some(BY_NUMBERS) }
    })
}

fn outcome(told: Told, source: String) -> Outcome {
    let output = |name, time: Result<Span, &str>| match time {
        Ok(time) => Output::estimate(name, time),
        Err(why) => Output::none(name, "min", why),
    };
    let outputs = vec![output("time", told.time), output("soonest", told.soonest), output("latest", told.latest)];
    Outcome { outputs, verdict: None, say: told.say, working: told.working, sources: vec![source], face: None }
}
