//! A gauge's limits and the marks on a clock face, as far as they can be judged before the walk.

use super::Linker;
use super::scope::Scope;
use crate::finding::Code;
use crate::guide::document::{KitValue, RawKind, RawStep, Text};
use crate::guide::phrase;
use crate::units::{ClockPosition, Quantity, Unit, UnitError};

impl Linker<'_> {
    /// Tells of limits that no reading can be held against: such a gauge would let everything pass.
    pub(super) fn limits(&mut self, n: usize, raw: &RawStep, min: Option<&str>, max: Option<&str>) {
        let RawKind::Gauge { unit, min: min_at, max: max_at, .. } = &raw.kind else { return };
        let Ok(unit) = unit.value.parse::<Unit>() else { return };
        let mut limits = [None, None];
        for (at, (limit, text)) in [(min, min_at), (max, max_at)].into_iter().enumerate() {
            let (Some(limit), Some(text)) = (limit, text) else { continue };
            match self.limit(unit, limit) {
                Ok(limit) => limits[at] = limit,
                Err(wrong) => {
                    let about = if limit.contains('{') { format!("`{}`: ", text.value) } else { String::new() };
                    self.report(n, Code::BadValue, &text.span, format!("{about}{wrong}")).help = wrong.help();
                }
            }
        }
        // On a clock face the limits may go round past 12.
        if let ([Some(min), Some(max)], Some(text), false) = (limits, max_at, unit == Unit::Clock)
            && max < min
        {
            let message = format!("no reading is good: the `max` of {max} is below the `min` of {min}");
            self.report(n, Code::BadValue, &text.span, message).help = Some("let `min` be no more than `max`".into());
        }
    }

    /// Returns a limit in the gauge's unit; none where it rests on a reading that is yet to come.
    fn limit(&self, unit: Unit, limit: &str) -> Result<Option<Quantity>, UnitError> {
        if let Ok(number) = limit.parse() {
            return Quantity::new(number, unit).map(Some);
        }
        let unknown = std::cell::Cell::new(false);
        let written = phrase::said(limit, |name| {
            let number = self.kit.get(name).map(KitValue::written);
            unknown.set(unknown.get() || number.is_none());
            number
        });
        if unknown.get() {
            return Ok(None);
        }
        Quantity::parse_signed(&written, unit, unit.length_unit()).map(Some)
    }

    /// Returns a mark on a clock face; one that is no place on it is told.
    pub(super) fn mark(&mut self, n: usize, head: usize, scope: &Scope, mark: &(Text, Text)) -> (String, String) {
        let (mark, at) = mark;
        let place = self.text(n, head, scope, at);
        if !place.contains('{')
            && let Err(wrong) = place.parse::<ClockPosition>()
        {
            self.report(n, Code::BadValue, &at.span, wrong.to_string()).help = wrong.help();
        }
        (mark.value.clone(), place)
    }
}
