//! What each way does to what is held: the step's own effects first, the way's second.

use super::Linker;
use crate::guide::model::{Condition, Kind, Label, Mention, Way};

/// A way with step and way effects still apart.
pub(super) struct Draft {
    pub(super) way: Way,
    /// What the way itself removes, its `undoes` without what was built on them.
    pub(super) own_spoils: Vec<Condition>,
    pub(super) own_undoes: Vec<Condition>,
    pub(super) own_gives: Vec<Condition>,
}

impl Linker<'_> {
    /// Puts together what each way does, step first and way second.
    pub(super) fn with_effects(&mut self, drafts: Vec<Draft>) -> Vec<Way> {
        let mut ways = Vec::with_capacity(drafts.len());
        let mut later = Vec::new();
        for draft in drafts {
            let Draft { mut way, own_spoils, own_undoes, own_gives } = draft;
            let step = &self.steps[way.from.index()];
            if way.label == Label::Skip {
                ways.push(way);
                continue;
            }
            let run_in = matches!(step.kind, Kind::Run) && !step.document.linked;
            let named = |mentions: &[Mention]| -> Vec<Condition> {
                if run_in { Vec::new() } else { mentions.iter().map(|mention| mention.condition).collect() }
            };
            let mut given =
                if way.trouble.is_none() && way.label.gives_own() { named(&step.gives) } else { Vec::new() };
            way.removes = named(&step.spoils);
            way.undoes = named(&step.undoes);
            if let Kind::Gauge { read, .. } = step.kind {
                way.undoes.push(read);
                given.push(read);
            }
            if let Kind::Wait(pause) = &step.kind {
                way.drops_passing = !pause.meanwhile;
            }
            if !own_undoes.is_empty() && !given.is_empty() {
                later.push((ways.len(), given.clone(), own_undoes.clone(), own_gives.clone()));
            }
            given.retain(|condition| !own_spoils.contains(condition));
            given.extend(own_gives);
            given.sort_unstable();
            given.dedup();
            way.gives = given;
            way.removes.extend(own_spoils);
            way.undoes.extend(own_undoes);
            ways.push(way);
        }
        // What a way undoes takes away what its own step gave, with all that was built on it: that needs all the ways.
        if !later.is_empty() {
            let rests = self.rests(&ways);
            for (n, given, undoes, own_gives) in later {
                let mut gives = rests.left(&given, &undoes);
                gives.retain(|given| ways[n].gives.binary_search(given).is_ok());
                gives.extend(own_gives);
                gives.sort_unstable();
                gives.dedup();
                ways[n].gives = gives;
            }
        }
        ways
    }
}
