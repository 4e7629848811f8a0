//! The one place where the oracle's tests touch the program; all else compares plain data.

use stepjig::check::{check_file, flow::Flow};
use stepjig::finding::Source;
use stepjig::guide::{ConditionSet, Library};
use stepjig::walk::rejoin::without_job;

use super::flow::Finding;

/// Returns what `check` finds in the guide file `toml`, whose id is `g`.
pub fn findings(toml: &str) -> Vec<Finding> {
    let checked = check_file(&Library::empty(), &Source::new("g.toml", toml));
    let told = checked.findings.into_iter().map(|finding| Finding {
        code: finding.code.as_str().to_owned(),
        step: finding.step,
        condition: finding.condition,
        walk: finding.walk,
    });
    told.collect()
}

/// Returns where to pick up again with `held`: the step, the minutes, and the steps that are done again.
pub fn rejoin(toml: &str, held: &[&str]) -> Option<(String, f64, Vec<String>)> {
    let checked = check_file(&Library::empty(), &Source::new("g.toml", toml));
    let guide = checked.is_sound().then_some(checked.guide)??;
    let held: Option<ConditionSet> = held.iter().map(|name| guide.condition(name)).collect();
    let found = without_job(&Flow::new(&guide), &held?)?;
    let id = |step| guide.step(step).id.to_string();
    Some((id(found.step), found.minutes, found.again.into_iter().map(id).collect()))
}
