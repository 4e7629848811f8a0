//! Glues that warmth hardens sooner: two parts that react.

use super::super::outcome::about;
use super::super::temperature_rule::at_temperature;
use super::super::{Data, Given, Refusal};
use super::Told;
use crate::units::{Span, shown};

/// The time by the rule for temperature, between those for the least and the most factor.
pub(super) fn told(
    given: &Given,
    data: &Data,
    rated: Span,
    factor: f64,
    [least, most]: [f64; 2],
) -> Result<Told, Refusal> {
    let (from, to) = (given.number("rated-at", data)?, given.number("temperature", data)?);
    let at =
        |factor| at_temperature(rated, from, to, factor).map_err(|fault| Refusal::Unreadable { input: "rated", fault });
    let (time, one, other) = (at(factor)?, at(least)?, at(most)?);
    let (soonest, latest) = (one.min(other), one.max(other));
    let between = match soonest == latest {
        true => String::new(),
        false => format!(", by the hardener anything from {} to {}", about(soonest), about(latest)),
    };
    Ok(Told {
        time: Ok(time),
        soonest: Ok(soonest),
        latest: Ok(latest),
        say: format!("About {}, an estimate{between}.", about(time)),
        working: format!(
            "time = rated × {factor}^((rated-at − T) / 10) = {rated} × {factor}^(({from} − {to}) / 10) = {}",
            about(time),
            factor = shown(factor, 2),
            from = shown(from, 1),
            to = shown(to, 1),
        ),
    })
}
