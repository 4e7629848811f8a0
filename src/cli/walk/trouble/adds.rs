//! What rejoining after each ending of a fault table adds to what would have been left to do anyway.

use crate::guide::document::Text;
use crate::guide::fault_table::{RawFaultTable, RawOutcome};
use crate::trouble::table::Endings;
use crate::walk::Walk;
use crate::walk::trouble::Onward;

/// What an ending adds to what would have been left to do anyway.
#[derive(Debug, Clone, Copy, Default)]
pub(in crate::cli) struct Added {
    /// Minutes of attention.
    pub(in crate::cli) attention: f64,
    /// Minutes of waiting.
    pub(in crate::cli) waits: f64,
}

/// Says what rejoining after each ending adds.
pub(super) struct Adds<'w, 'g> {
    walk: &'w Walk<'g>,
    anyway: Onward,
}

impl<'w, 'g> Adds<'w, 'g> {
    pub(super) fn new(walk: &'w Walk<'g>) -> Adds<'w, 'g> {
        let nothing = Onward { step: walk.state().here, attention: 0.0, waits: 0.0 };
        Adds { walk, anyway: walk.onward_from_here().unwrap_or(nothing) }
    }

    fn after(&self, undone: &[Text], given: &[Text]) -> Added {
        let names = |texts: &[Text]| texts.iter().map(|text| text.value.clone()).collect::<Vec<_>>();
        let Some(onward) = self.walk.onward(&names(undone), &names(given)) else { return Added::default() };
        Added {
            attention: (onward.attention - self.anyway.attention).max(0.0),
            waits: (onward.waits - self.anyway.waits).max(0.0),
        }
    }

    pub(super) fn remedies(&self, table: &RawFaultTable) -> Vec<Added> {
        table.remedies.iter().map(|remedy| self.after(&remedy.undoes, &remedy.gives)).collect()
    }

    pub(super) fn new_blank(&self, table: &RawFaultTable) -> Added {
        table.start_over.as_ref().map_or(Added::default(), |over| self.after(&over.undoes, &[]))
    }

    pub(super) fn endings(&self, table: &RawFaultTable) -> Endings {
        let of_outcome = |outcome: &RawOutcome| match outcome.fixed {
            true => self.after(&[outcome.spoils.clone(), outcome.undoes.clone()].concat(), &outcome.gives).attention,
            false => 0.0,
        };
        // The table's own minutes count the price of the wood, which no way through the guide does.
        let own = table.start_over.as_ref().and_then(|over| over.minutes).unwrap_or(0.0);
        Endings {
            start_over: Some(self.new_blank(table).attention.max(own)).filter(|minutes| *minutes > 0.0),
            checks: table.checks.iter().map(|check| check.outcomes.iter().map(of_outcome).collect()).collect(),
            remedies: self.remedies(table).iter().map(|added| added.attention).collect(),
        }
    }
}
