//! A reading to say at a gauge: within its limits, or beyond one of them.

use super::super::State;
use super::super::answer::judged;
use super::super::scene::limit_value;
use crate::guide::{Guide, Kind, Label, StepIdx};
use crate::units::{Quantity, Unit};

/// Returns a reading that the gauge takes for this, as it is said and in its unit; none where no reading would do.
///
/// One within the limits is the number that the guide gives for it, else the middle between them.
pub(super) fn reading(guide: &Guide, state: &State, gauge: StepIdx, wanted: &Label) -> Option<(String, f64)> {
    let Kind::Gauge { unit: named, min, max, sets, .. } = &guide.step(gauge).kind else { return None };
    let unit: Unit = named.parse().ok()?;
    let limit = |limit: &Option<String>| limit_value(guide, state, named, limit.as_deref()?);
    let tried: Vec<String> = match (wanted, limit(min), limit(max)) {
        (Label::Under, Some(min), _) => below(min),
        (Label::Over, _, Some(max)) => above(max),
        (Label::Within, min, max) => {
            let known = sets.as_ref().and_then(|path| state.written(guide, path));
            let middle = match (min, max) {
                (Some(min), Some(max)) => vec![rounded((min + max) / 2.0), ((min + max) / 2.0).to_string()],
                (Some(one), None) | (None, Some(one)) => vec![one.to_string()],
                (None, None) => vec!["1".to_owned(), "0".to_owned()],
            };
            known.into_iter().chain(middle).chain(min.map(|min| min.to_string())).collect()
        }
        _ => Vec::new(),
    };
    tried.iter().find_map(|text| {
        // A clock position is said as one; its number is in hours of the clock's own angle.
        let quantity = Quantity::parse_signed(text, unit, unit.length_unit());
        let quantity = quantity.or_else(|wrong| text.parse().map_err(|_| wrong).and_then(|n| Quantity::new(n, unit)));
        let quantity = quantity.ok()?;
        (judged(guide, state, gauge, quantity.value()) == *wanted).then(|| (quantity.exact(), quantity.value()))
    })
}

/// Numbers below a limit, the nearest that an instrument shows first.
fn below(limit: f64) -> Vec<String> {
    [limit - 0.1, limit - 1.0, limit / 2.0].into_iter().map(rounded).chain([(limit - 0.001).to_string()]).collect()
}

fn above(limit: f64) -> Vec<String> {
    [limit + 0.1, limit + 1.0, limit * 2.0].into_iter().map(rounded).chain([(limit + 0.001).to_string()]).collect()
}

/// Returns a number with two decimals at most.
fn rounded(number: f64) -> String {
    ((number * 100.0).round() / 100.0).to_string()
}
