//! What is said at a table: the likeliest causes, a question and why it comes first, a remedy and what it costs.

use super::asking::{Asking, LAY_ASIDE, NEW_BLANK};
use crate::guide::document::Caution;
use crate::guide::fault_table::{RawCheck, RawRemedy};
use crate::trouble::consult::Standing;
use crate::walk::span_said;

/// How many causes are shown: the others are less likely than each of them.
const CAUSES_SHOWN: usize = 4;

impl Asking<'_, '_> {
    /// Returns what stands over every page: what went wrong, and the likeliest causes.
    pub(super) fn heading(&self, standing: &Standing) -> Vec<String> {
        let table = self.consultation.table();
        let mut causes: Vec<(f64, &str)> = table
            .words
            .causes
            .iter()
            .zip(&standing.chances)
            .map(|(cause, chance)| (*chance, cause.say.value.as_str()))
            .filter(|(chance, _)| *chance > 0.0)
            .collect();
        causes.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut page = vec![format!("{}. Likeliest now, in 100 pens like this:", table.title)];
        page.extend(causes.iter().take(CAUSES_SHOWN).map(|(chance, say)| format!("{:>5}  {say}", in_100(*chance))));
        if causes.len() > CAUSES_SHOWN {
            let rest: f64 = causes[CAUSES_SHOWN..].iter().map(|(chance, _)| chance).sum();
            page.push(format!("{:>5}  {} other causes together", in_100(rest), causes.len() - CAUSES_SHOWN));
        }
        page
    }

    pub(super) fn offer(&self, action: usize, remedy: &RawRemedy, standing: &Standing) -> Vec<String> {
        let prospect = self.consultation.prospect(action, &standing.chances);
        let say = remedy.say.as_ref().map_or(&remedy.id.value, |say| &say.value);
        let mut page = vec![format!("Best now: {say}.")];
        page.push(format!(
            "Of 100 such tries about {} put it right, {} lose the blank.",
            in_100(prospect.cures),
            in_100(prospect.loses)
        ));
        let wait = if remedy.wait > 0.0 { format!(", and {} of waiting", minutes(remedy.wait)) } else { String::new() };
        page.push(format!("{} of work{wait}.", minutes(remedy.minutes)));
        let place = action - self.consultation.table().words.checks.len();
        if let Some(added) = self.after_remedies.get(place).filter(|added| added.attention + added.waits >= 1.0) {
            let wait =
                if added.waits >= 1.0 { format!(", {} of waiting", minutes(added.waits)) } else { String::new() };
            page.push(format!("Then, to be where you were: {} of work{wait}.", minutes(added.attention)));
        }
        page.extend(remedy.because.iter().map(|because| because.value.clone()));
        page.extend(remedy.tell.iter().map(|tell| tell.value.clone()));
        page.extend(cautions(&remedy.cautions));
        page.extend(at_hand(remedy.tools.iter().map(|tool| tool.value.as_str())));
        if !remedy.parts.is_empty() {
            let parts: Vec<&str> = remedy.parts.iter().map(|part| part.value.as_str()).collect();
            page.push(format!("Uses up: {}; another kit may lend it, and is owed it then.", parts.join(", ")));
        }
        page
    }

    /// Returns what stands beside every question and remedy.
    pub(super) fn beside(&self, standing: &Standing) -> String {
        let blank = standing.start_over.map_or(String::new(), |over| format!(" (about {} of work)", minutes(over)));
        format!("Or `{NEW_BLANK}`: begin again{blank}; or `{LAY_ASIDE}`: nothing more today.")
    }
}

pub(super) fn question(check: &RawCheck, standing: &Standing) -> Vec<String> {
    let mut page = vec![check.text.value.clone()];
    page.extend(check.tell.iter().map(|tell| tell.value.clone()));
    page.extend(cautions(&check.cautions));
    page.extend(at_hand(check.parts.iter().map(|part| part.value.as_str())));
    if let Some(saves) = standing.saves.filter(|saves| *saves >= 0.1) {
        page.push(format!(
            "Why this first: {} to look, and it saves about {} on the way to a good pen.",
            minutes(check.minutes),
            minutes(saves)
        ));
    }
    page
}

fn cautions(cautions: &[Caution]) -> impl Iterator<Item = String> {
    let said = |caution: &Caution| {
        let dot = |text: &str| format!("{}.", text.trim_end_matches('.'));
        let (hazard, avoid) = (dot(&caution.hazard.value), dot(&caution.avoid.value));
        format!("! {}: {hazard} {avoid}", caution.level.signal_word())
    };
    cautions.iter().map(said)
}

fn at_hand<'t>(things: impl Iterator<Item = &'t str>) -> Option<String> {
    let things: Vec<&str> = things.collect();
    (!things.is_empty()).then(|| format!("At hand: {}", things.join(", ")))
}

/// Says a chance as a count of 100.
pub(super) fn in_100(chance: f64) -> String {
    match chance * 100.0 {
        count if count > 0.0 && count < 0.5 => "under 1".to_owned(),
        count => format!("{count:.0}"),
    }
}

/// Says minutes: seconds under one, hours over 90.
pub(super) fn minutes(minutes: f64) -> String {
    let seconds = if minutes < 1.0 { (minutes * 60.0).round() } else { minutes.round() * 60.0 };
    span_said(jiff::SignedDuration::from_secs(seconds as i64))
}
