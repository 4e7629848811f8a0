//! The chart: every step and every way, with the numbers that the checklist has.

use std::collections::HashMap;

use super::numbers::{Numbered, minutes};
use super::stage_of;
use super::step::limit;
use crate::guide::{EndKind, Guide, Kind, Label, Pause, Step, StepIdx, Way};
use crate::sheet::chart::{self, Band, Chart, Node, NodeKind, To};
use crate::sheet::model::continued;
use crate::sheet::plain::Plain;

/// Returns a guide as a chart.
///
/// Where a procedure begins and returns there is no step to do: a way there leads to the step that comes of it, and
/// leaving a whole procedure out is a way out of its first step.
pub fn chart(guide: &Guide) -> Chart {
    let numbered = Numbered::new(guide);
    let edition = guide.edition().map(|edition| format!("edition {edition}"));
    let told = [Some(guide.id().to_owned()), edition];
    let mut chart = Chart {
        title: Plain::new(guide.title()),
        stamp: Plain::new(&told.into_iter().flatten().collect::<Vec<_>>().join(" · ")),
        ..Chart::default()
    };
    let mut names = HashMap::new();
    // The procedures that begin here wait for their first step.
    let mut runs = Vec::new();
    for (idx, step) in guide.steps() {
        let Some(number) = numbered.number(idx) else {
            match step.kind {
                Kind::Run => runs.push(idx),
                _ => runs.retain(|run| !matches!(step.kind, Kind::Return { run: ended } if ended == *run)),
            }
            continue;
        };
        let band = band(&mut chart.bands, stage_of(step));
        chart.nodes.push(node(&numbered, idx, number, band));
        let own = guide.ways_out(idx).iter().map(|way| (way, way_words(&numbered, step, way, number)));
        let skips = runs.drain(..).flat_map(|run: StepIdx| {
            let title = numbered.say(&guide.step(run).text, number);
            let skips = guide.ways_out(run).iter().filter(|way| way.label == Label::Skip);
            skips.map(move |way| (way, format!("left out: {title}")))
        });
        for (way, words) in own.chain(skips) {
            let to = match (&way.trouble, way.to.and_then(|to| numbered.lands(to))) {
                (Some(trouble), _) => To::Table(Plain::new(&trouble.table)),
                (None, Some(lands)) => To::Step(lands),
                // A ring of procedures with nothing to do in it leads nowhere.
                (None, None) => continue,
            };
            let end = if let To::Step(lands) = to { lands.to_string() } else { "trouble".to_owned() };
            let nth: &mut usize = names.entry((number, end.clone())).or_default();
            *nth += 1;
            let name = format!("way-{number}-{end}-{nth}");
            chart.ways.push(chart::Way { from: number, to, words: Plain::new(&words), name });
        }
    }
    chart
}

/// Returns the place of the stage's band; one that comes again after another is continued.
fn band(bands: &mut Vec<Band>, stage: &str) -> usize {
    if bands.last().is_none_or(|last| last.stage != stage) {
        let again = bands.iter().any(|band| band.stage == stage);
        let title = if again { continued(stage) } else { stage.to_owned() };
        bands.push(Band { stage: stage.to_owned(), title: Plain::new(&title) });
    }
    bands.len() - 1
}

fn node(numbered: &Numbered, idx: StepIdx, number: usize, band: usize) -> Node {
    let step = numbered.guide.step(idx);
    let title = numbered.title(idx, number);
    let title = if step.optional { format!("{title} (May be left out.)") } else { title };
    Node {
        number,
        kind: match &step.kind {
            Kind::Ask => NodeKind::Question,
            Kind::Gauge { .. } => NodeKind::Reading,
            Kind::Reckon { .. } => NodeKind::Sum,
            Kind::Wait(_) => NodeKind::Wait,
            Kind::End(EndKind::Finished) => NodeKind::Finished,
            Kind::End(EndKind::Scrap | EndKind::NotFixed) => NodeKind::Stopped,
            Kind::Do { .. } | Kind::Run | Kind::Return { .. } => NodeKind::Action,
        },
        words: Plain::new(&title),
        one_way: step.one_way,
        hold: step.one_way && !step.needs.is_empty(),
        tables: step.trouble.iter().map(|call| Plain::new(&call.table)).collect(),
        band,
        main: numbered.is_main(number),
        elsewhere: false,
    }
}

/// Returns when a way is gone, in a few words.
fn way_words(numbered: &Numbered, step: &Step, way: &Way, number: usize) -> String {
    let limit = || limit(numbered, step, &way.label, number).unwrap_or_default();
    match &way.label {
        Label::Then => String::new(),
        Label::Answer(say) => numbered.say(say, number),
        Label::Within => "good".to_owned(),
        Label::Under => format!("under {}", limit()),
        Label::Over => format!("over {}", limit()),
        Label::Ready => "over".to_owned(),
        Label::NotReady => match &step.kind {
            Kind::Wait(Pause { up_to: Some(up_to), .. }) => format!("not over after {}", minutes(*up_to)),
            _ => "not over".to_owned(),
        },
        Label::Verdict(verdict) => verdict.clone(),
        Label::Skip => "left out".to_owned(),
    }
}
