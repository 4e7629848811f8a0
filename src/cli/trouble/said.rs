//! What is said at a table: the likeliest causes, a question and why it comes next, a remedy and what it costs.

use super::asking::{Asking, LAY_ASIDE, NEW_BLANK};
use crate::cli::page::Page;
use crate::guide::fault_table::{RawAction, RawCheck, RawRemedy};
use crate::trouble::consult::{Standing, in_100};
use crate::walk::{minutes_said as minutes, work_said as work};

/// What gives way first to what, where a page would be more than two screens.
mod turn {
    pub(super) const REASON: usize = 1;
    pub(super) const TOOLS: usize = 2;
    pub(super) const CAUSES: usize = 3;
    /// The first caution of a remedy whose steps say it again in full.
    pub(super) const CAUTIONS: usize = 4;
}

/// How many causes are shown: the others are less likely than each of them.
const CAUSES_SHOWN: usize = 4;

/// How many causes are shown where there is little room.
const FEW_CAUSES: usize = 2;

impl Asking<'_, '_> {
    /// Returns what stands over every page: what went wrong, and the likeliest causes.
    pub(super) fn heading(&mut self, standing: &Standing) -> Page {
        let mut page = Page::default();
        page.say_all(self.news.take());
        let table = self.consultation.table();
        let mut causes: Vec<(f64, String)> = table
            .words
            .causes
            .iter()
            .zip(&standing.chances)
            .map(|(cause, chance)| (*chance, cause.say.value.clone()))
            .filter(|(chance, _)| *chance > 0.0)
            .collect();
        causes.sort_by(|a, b| b.0.total_cmp(&a.0));
        page.say(&format!("{}. Likeliest now, in 100 pens like this:", table.title));
        let (counts, said) = likeliest(&causes, CAUSES_SHOWN);
        let untold = counts.iter().zip(&said).skip(FEW_CAUSES).map(|(count, cause)| format!("{count} in 100: {cause}"));
        let untold = format!("Less likely: {}.", untold.collect::<Vec<_>>().join("; "));
        page.counted(counts, &said);
        if causes.len() > FEW_CAUSES + 1 {
            let (counts, said) = likeliest(&causes, FEW_CAUSES);
            page.else_short(turn::CAUSES, &untold, |page| page.counted(counts, &said));
        }
        page
    }

    pub(super) fn question(&self, page: &mut Page, check: &RawCheck, standing: &Standing) {
        page.about(&check.text.value);
        page.say_all(check.tell.iter().map(|tell| tell.value.clone()));
        check.cautions.iter().for_each(|caution| page.caution(caution));
        page.say_all(at_hand(check.parts.iter().map(|part| part.value.as_str())));
        let order = if self.is_first() { "first" } else { "next" };
        let takes = minutes(check.minutes);
        page.say(&match standing.saves.filter(|saves| *saves >= 0.1) {
            Some(saves) => {
                let saves = minutes(saves);
                format!("Why this {order}: {takes} to look, and on average it spares {saves} more than that.")
            }
            None => format!("Why this {order}: {takes} to look, and nothing else tells as much for it."),
        });
    }

    fn is_first(&self) -> bool {
        let findings = self.consultation.findings();
        (0..self.consultation.table().problem.actions().len()).all(|action| findings.leaves(action))
    }

    pub(super) fn offer(&self, page: &mut Page, action: usize, remedy: &RawRemedy, standing: &Standing) {
        let prospect = self.consultation.prospect(action, &standing.chances);
        page.about(&format!("Best now: {}.", remedy.called()));
        let (cures, loses) = (in_100(prospect.cures), in_100(prospect.loses));
        page.say(&format!("Of 100 such tries about {cures} put it right, {loses} lose the blank."));
        page.say(&format!("It takes {}.", work(remedy.minutes, remedy.wait)));
        let place = action - self.consultation.table().words.checks.len();
        let added = self.job.as_ref().and_then(|job| job.after_remedies.get(place));
        if let Some(added) = added.filter(|added| added.attention + added.waits >= 1.0) {
            page.say(&format!("Then, to be where you were: {}.", work(added.attention, added.waits)));
        }
        remedy.because.iter().for_each(|because| page.say_if_room(turn::REASON, &because.value));
        page.say_all(remedy.tell.iter().map(|tell| tell.value.clone()));
        for (n, caution) in remedy.cautions.iter().enumerate() {
            page.caution(caution);
            if matches!(remedy.action, RawAction::Run { .. }) {
                page.else_short(turn::CAUTIONS + n, &caution.avoid.value, |page| page.hazard(caution));
            }
        }
        let tools = at_hand(remedy.tools.iter().map(|tool| tool.value.as_str()));
        tools.iter().for_each(|tools| page.say_if_room(turn::TOOLS, tools));
        if !remedy.parts.is_empty() {
            let parts: Vec<&str> = remedy.parts.iter().map(|part| part.value.as_str()).collect();
            page.say(&format!("Uses up: {}; another kit may lend it, and is owed it then.", parts.join(", ")));
        }
    }

    /// Returns a remedy in a line: its chance and what it takes, what it uses up and what it may cost.
    pub(super) fn in_a_line(&self, action: usize, standing: &Standing) -> String {
        let Some(remedy) = self.consultation.table().remedy(action) else { return String::new() };
        let prospect = self.consultation.prospect(action, &standing.chances);
        let (cures, loses) = (in_100(prospect.cures), in_100(prospect.loses));
        let takes = work(remedy.minutes, remedy.wait);
        format!("{}: of 100 it puts {cures} right and loses {loses}; {takes}", remedy.called())
    }

    /// Returns what stands beside every question and remedy.
    pub(super) fn beside(&self, standing: &Standing) -> Vec<String> {
        let worth = standing.start_over.map(|over| {
            let (on, over) = (minutes(standing.plan.minutes), minutes(over));
            format!("Is it worth saving? On with this piece takes {on} of work on average, a new blank {over}.")
        });
        let blank = self.new_blank(standing);
        let beside = format!("Or `{NEW_BLANK}`: begin again{blank}; or `{LAY_ASIDE}`: nothing more today.");
        worth.into_iter().chain([beside]).collect()
    }

    /// Returns what a new blank costs, as the end of a sentence.
    pub(super) fn new_blank(&self, standing: &Standing) -> String {
        let waits = self.job.as_ref().map_or(0.0, |job| job.after_new_blank.waits);
        let cost = standing.start_over.map(|over| format!(", about {}", work(over, waits)));
        let parts: Vec<&str> = self
            .consultation
            .table()
            .words
            .start_over
            .iter()
            .flat_map(|over| &over.parts)
            .map(|part| part.value.as_str())
            .collect();
        let parts = (!parts.is_empty()).then(|| format!(", uses up: {}", parts.join(", ")));
        cost.into_iter().chain(parts).collect()
    }
}

/// Returns the likeliest causes, each with its count of 100, and the others as one.
fn likeliest(causes: &[(f64, String)], shown: usize) -> (Vec<String>, Vec<String>) {
    let mut causes = causes.to_vec();
    if causes.len() > shown + 1 {
        let rest = causes.split_off(shown);
        causes.push((rest.iter().map(|(chance, _)| chance).sum(), format!("{} other causes together", rest.len())));
    }
    let (chances, causes): (Vec<f64>, Vec<String>) = causes.into_iter().unzip();
    (all_in_100(&chances), causes)
}

fn at_hand<'t>(things: impl Iterator<Item = &'t str>) -> Option<String> {
    let things: Vec<&str> = things.collect();
    (!things.is_empty()).then(|| format!("At hand: {}", things.join(", ")))
}

/// Says chances that sum to 1 as counts of 100 that sum to 100: the largest remainders are rounded up.
fn all_in_100(chances: &[f64]) -> Vec<String> {
    let whole = |chance: f64| (chance * 100.0 + 1e-9).floor().max(0.0);
    let left = 100.0 - chances.iter().map(|chance| whole(*chance)).sum::<f64>();
    let mut order: Vec<usize> = (0..chances.len()).collect();
    let rest = |n: &usize| chances[*n] * 100.0 - whole(chances[*n]);
    order.sort_by(|one, other| rest(other).total_cmp(&rest(one)));
    let up = &order[..(left.round().max(0.0) as usize).min(order.len())];
    let said = |(n, chance): (usize, &f64)| match whole(*chance) + f64::from(u8::from(up.contains(&n))) {
        0.0 => "under 1".to_owned(),
        count => format!("{count:.0}"),
    };
    chances.iter().enumerate().map(said).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_of_100_sum_to_100() {
        for (chances, said) in [
            (vec![0.385, 0.323, 0.103, 0.053, 0.136], ["39", "32", "10", "5", "14"]),
            (vec![0.795, 0.053, 0.048, 0.042, 0.062], ["80", "5", "5", "4", "6"]),
            (vec![0.996, 0.001, 0.001, 0.001, 0.001], ["100", "under 1", "under 1", "under 1", "under 1"]),
        ] {
            assert_eq!(all_in_100(&chances), said, "{chances:?}");
        }
    }
}
