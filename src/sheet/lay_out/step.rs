//! One step's lines: what must be true, what can hurt, what to do, what to write down, where to go on.

use std::cmp::Ordering;

use super::TROUBLE;
use super::numbers::{Numbered, minutes};
use crate::finding::sentence::ended;
use crate::guide::{Kind, Label, Pause, Step, StepIdx, Way};
use crate::reckon::{Reckoning, Usual};
use crate::sheet::clock_figure;
use crate::sheet::drawing::Drawing;
use crate::sheet::model::{Line, Role, Run};
use crate::sheet::plain::Plain;
use crate::units::Unit;

/// The reckonings whose answers are places on a clock.
const ON_A_CLOCK: [&str; 2] = ["grain-match", "thread-stop"];

/// How a clock face is read, told where one is drawn.
const CLOCK_READ: &str = "Clock face: finial end towards you, 12 the body's grain mark. Pencil in what points where.";

/// Returns the lines of the step of this number.
pub(super) fn lines(guide: &Numbered, idx: StepIdx, number: usize) -> Vec<Line> {
    let step = guide.guide.step(idx);
    let mut lines = hold(guide, step, number);
    lines.extend(cautions(guide, step, number));
    let title = guide.title(idx, number);
    let title = if step.optional { format!("{title} (May be left out.)") } else { title };
    lines.push(Line::new(Role::Action, &title).ticked());
    match &step.kind {
        Kind::Do { in_one_go } => lines.extend(moves(guide, in_one_go, number)),
        Kind::Gauge { unit, .. } => lines.push(reading(guide, step, unit, number)),
        Kind::Reckon { from } => lines.extend(sum(guide, step, from, number)),
        Kind::Wait(pause) => lines.extend(wait(guide, pause, idx, number)),
        Kind::Ask | Kind::Run | Kind::Return { .. } | Kind::End(_) => {}
    }
    lines.extend(remarks(guide, step, number));
    lines.extend(figure(step).map(|_| Line::new(Role::Note, CLOCK_READ)));
    // What happens when nothing is amiss is said last: who follows the first line that is read must not miss another.
    let (plain, amiss): (Vec<&Way>, Vec<&Way>) =
        guide.guide.ways_out(idx).iter().partition(|way| way.label == Label::Then);
    let amiss: Vec<Line> = amiss.into_iter().filter_map(|way| this_way(guide, step, way, number)).collect();
    let plain: Vec<Line> = plain
        .into_iter()
        .filter_map(|way| this_way(guide, step, way, number))
        .map(|line| if amiss.is_empty() { line } else { otherwise(line) })
        .collect();
    lines.extend(amiss.into_iter().chain(plain));
    lines
}

/// Returns a way that is gone where none of those before it is.
fn otherwise(mut line: Line) -> Line {
    if let Some(Run::Words(words)) = line.runs.first_mut()
        && let Some(goes) = words.as_str().strip_prefix("Then ")
    {
        *words = Plain::new(&format!("Otherwise {goes}"));
    }
    line
}

/// Returns what a sum takes, how it is done with a pencil, and where its result is written.
fn sum(guide: &Numbered, step: &Step, from: &[(String, String)], number: usize) -> Vec<Line> {
    let sum = crate::reckon::named(&step.text);
    let takes =
        |(name, text): &(String, String)| format!("{}: {}", name.replace('-', " "), guide.say_short(text, number));
    let takes: Vec<String> = from.iter().map(takes).collect();
    let takes = (!takes.is_empty()).then(|| Line::new(Role::Note, &format!("It takes {}.", takes.join("; "))));
    let measured: Vec<&str> = sum.map_or(Vec::new(), |sum| still_asked(sum, from));
    let measured = (1..=MOST_ASKED).contains(&measured.len()).then(|| {
        let blank = |line: Line, name: &&str| line.and(&name.replace('-', " ")).with(Run::Blank);
        let meaning = |name: &&str| {
            let input = sum.and_then(|sum| sum.input(name))?;
            Some(Line::new(Role::Note, &format!("{}: {}.", name.replace('-', " "), input.meaning.replace('`', ""))))
        };
        let told: Vec<Line> = measured.iter().filter_map(meaning).collect();
        std::iter::once(measured.iter().fold(Line::new(Role::Fill, "And"), blank)).chain(told)
    });
    let by_hand = sum.zip(guide.data).and_then(|(sum, data)| sum.by_hand(data).ok());
    let by_hand = by_hand.unwrap_or_default().into_iter().enumerate();
    let by_hand = by_hand.map(|(n, line)| match n {
        0 => Line::new(Role::Note, &format!("With a pencil: {line}")),
        _ => Line::new(Role::Note, &line),
    });
    let asks = format!("Or at a screen: `stepjig reckon {}` asks and works it out.", step.text);
    let comes = Line::new(Role::Fill, "Comes to").with(Run::Blank);
    takes
        .into_iter()
        .chain(measured.into_iter().flatten())
        .chain(by_hand)
        .chain([Line::new(Role::Note, &asks), comes])
        .collect()
}

/// How many things that a sum asks have a place to be written in; of more, only some are wanted.
const MOST_ASKED: usize = 3;

/// Returns what a sum asks that the guide does not give it.
fn still_asked(sum: &Reckoning, from: &[(String, String)]) -> Vec<&'static str> {
    let is_given = |name: &str| from.iter().any(|(given, _)| given == name) || sum.asking.also.contains(&name);
    let asked = sum.inputs.iter().filter(|input| input.usual == Usual::Asked && !is_given(input.name));
    asked.map(|input| input.name).collect()
}

/// Returns what is drawn under a step: a clock face, where its places are read on one.
pub(super) fn figure(step: &Step) -> Option<Drawing> {
    let on_a_clock = match &step.kind {
        Kind::Gauge { unit, .. } => unit == "clock",
        Kind::Reckon { .. } => ON_A_CLOCK.contains(&step.text.as_str()),
        _ => false,
    };
    on_a_clock.then(|| clock_figure::draw(&[]))
}

/// Returns what a person is told where a procedure begins, before the step of this number.
pub(super) fn heading(guide: &Numbered, idx: StepIdx, number: usize) -> Vec<Line> {
    let step = guide.guide.step(idx);
    let title = guide.say(&step.text, number);
    let title = if step.optional { format!("{title} (May be left out.)") } else { title };
    let mut lines = vec![Line::new(Role::Action, &title)];
    lines.extend(cautions(guide, step, number));
    lines.extend(remarks(guide, step, number));
    let skips = guide.guide.ways_out(idx).iter().filter(|way| way.label == Label::Skip);
    // The number that the procedure's first step has stands for the procedure here.
    lines.extend(skips.filter_map(|way| this_way(guide, step, way, number)));
    lines
}

fn hold(guide: &Numbered, step: &Step, number: usize) -> Vec<Line> {
    if !step.one_way || step.needs.is_empty() {
        return Vec::new();
    }
    let stop = Plain::new("Hold.");
    let first = Line { role: Role::Hold, tick: false, runs: vec![Run::Strong(stop)] };
    let mut lines = vec![first.and(&format!(
        "Step\u{a0}{number} cannot be taken back. All of this is true now; where it is not, go to the step named:"
    ))];
    lines.extend(step.needs.iter().map(|need| {
        let line = Line::new(Role::Need, &guide.guide.said(need.condition)).ticked();
        let Some(giver) = guide.giver(need.condition, number) else { return line };
        let others = guide.other_givers(need.condition, number);
        let line = line.and("–").with(Run::Step(giver));
        others.into_iter().fold(line, |line, other| line.and("or").with(Run::Step(other)))
    }));
    lines
}

fn cautions(guide: &Numbered, step: &Step, number: usize) -> Vec<Line> {
    let say = |text: &str| ended(&guide.say(text, number));
    let caution = |caution: &crate::guide::document::Caution| {
        let word = Plain::new(caution.level.signal_word());
        let line = Line { role: Role::Hazard, tick: false, runs: vec![Run::Strong(word)] };
        line.and(&say(&caution.hazard.value)).and(&say(&caution.avoid.value))
    };
    step.cautions.iter().map(caution).collect()
}

fn moves(guide: &Numbered, in_one_go: &[String], number: usize) -> Vec<Line> {
    let say = |(n, text): (usize, &String)| Line::new(Role::Move, &format!("{}) {}", n + 1, guide.say(text, number)));
    let first = (!in_one_go.is_empty()).then(|| Line::new(Role::Move, "In one go:"));
    first.into_iter().chain(in_one_go.iter().enumerate().map(say)).collect()
}

fn reading(guide: &Numbered, step: &Step, unit: &str, number: usize) -> Line {
    let line = Line::new(Role::Fill, "Reading").with(Run::Blank);
    let line = line.and(if unit == "clock" { "on the clock face" } else { Unit::shown(unit) });
    match (limit(guide, step, &Label::Under, number), limit(guide, step, &Label::Over, number)) {
        (Some(min), Some(max)) => line.and(&format!("(good: {min} to {max})")),
        (Some(min), None) => line.and(&format!("(good: {min} or more)")),
        (None, Some(max)) => line.and(&format!("(good: {max} or less)")),
        (None, None) => line,
    }
}

/// Returns the limit of a reading that a way is about, as it is said; a bare number is in the reading's unit.
pub(super) fn limit(guide: &Numbered, step: &Step, label: &Label, number: usize) -> Option<String> {
    limit_with(step, label, |limit| guide.read_before(limit, number).unwrap_or_else(|| guide.say(limit, number)))
}

/// Returns the limit of a reading that a way is about, said by `say`.
pub(super) fn limit_with(step: &Step, label: &Label, say: impl Fn(&str) -> String) -> Option<String> {
    let Kind::Gauge { unit, min, max, .. } = &step.kind else { return None };
    let said = say(if *label == Label::Under { min } else { max }.as_deref()?);
    Some(if said.parse::<f64>().is_ok() { format!("{said}\u{a0}{}", Unit::shown(unit)) } else { said })
}

fn wait(guide: &Numbered, pause: &Pause, idx: StepIdx, number: usize) -> Vec<Line> {
    let times = Line::new(Role::Fill, "Start").with(Run::Blank).and("Due").with(Run::Blank);
    let mut lines =
        vec![times, Line::new(Role::Fill, &format!("Over when: {}", ended(&guide.say(&pause.ready, number))))];
    if pause.meanwhile {
        let gives: Vec<_> = guide.guide.ways_out(idx).iter().flat_map(|way| way.gives.iter().copied()).collect();
        lines.push(match guide.needed_at(&gives, number) {
            Some(needed) => {
                Line::new(Role::Fill, "Go on meanwhile. It must be over before").with(Run::Step(needed)).and(".")
            }
            None => Line::new(Role::Fill, "Go on meanwhile."),
        });
    }
    lines
}

fn remarks(guide: &Numbered, step: &Step, number: usize) -> Vec<Line> {
    let tell = step.tell.iter().map(|tell| Line::new(Role::Note, &guide.say(tell, number)));
    let wrong = step.if_wrong.iter().map(|text| {
        let word = Run::Strong(Plain::new("If it goes wrong:"));
        Line { role: Role::Wrong, tick: false, runs: vec![word] }.and(&guide.say(text, number))
    });
    // Before a step that cannot be taken back the reason is told too: who knows it looks more closely.
    let why = step
        .why
        .iter()
        .filter(|_| step.one_way)
        .map(|why| Line::new(Role::Note, &format!("Why: {}", guide.say(why, number))));
    tell.chain(why).chain(wrong).collect()
}

/// Returns where a way leads, unless that is the next step and goes without saying.
fn this_way(guide: &Numbered, step: &Step, way: &Way, number: usize) -> Option<Line> {
    let lands = way.to.and_then(|to| guide.lands(to));
    let is_next = way.trouble.is_none() && lands == Some(number + 1);
    let when = match &way.label {
        Label::Then | Label::Within | Label::Ready | Label::Skip if is_next => return None,
        Label::Then => String::new(),
        Label::Within => "If it is good,".to_owned(),
        Label::Ready => "If it is over,".to_owned(),
        Label::Skip => "If it is left out,".to_owned(),
        Label::Answer(say) => format!("If “{}”,", guide.say(say, number)),
        Label::Under => format!("If it is under {},", limit(guide, step, &way.label, number).unwrap_or_default()),
        Label::Over => format!("If it is over {},", limit(guide, step, &way.label, number).unwrap_or_default()),
        Label::NotReady => match &step.kind {
            Kind::Wait(Pause { up_to: Some(up_to), .. }) => format!("If it is not over after {},", minutes(*up_to)),
            _ => "If it is not over,".to_owned(),
        },
        Label::Verdict(verdict) => match crate::reckon::named(&step.text).and_then(|known| known.meaning(verdict)) {
            Some(meaning) => format!("If it comes to {verdict} ({meaning}),"),
            None => format!("If it comes to {verdict},"),
        },
    };
    let line = match (&way.trouble, lands) {
        (Some(trouble), _) => {
            let sheet = TROUBLE;
            let title = match guide.guide.table_title(&trouble.table) {
                Some(title) => format!("“{title}” ({})", trouble.table),
                None => trouble.table.clone(),
            };
            Line::new(Role::Way, &format!("{when} it is trouble: {title}, on the sheet “{sheet}”."))
        }
        (None, Some(lands)) => {
            let go = match lands.cmp(&number) {
                Ordering::Equal => "do",
                Ordering::Less => "go back to",
                Ordering::Greater if is_next => "go on to",
                Ordering::Greater => "go to",
            };
            let when = if when.is_empty() { "Then" } else { &when };
            let line = Line::new(Role::Way, &format!("{when} {go}")).with(Run::Step(lands));
            line.and(if lands == number { "again." } else { "." })
        }
        // A ring of procedures with nothing to do in it leads nowhere.
        (None, None) => return None,
    };
    Some(if let Label::Answer(say) = &way.label {
        // Where every answer goes on, nothing turns on it.
        let goes_on = |way: &Way| way.trouble.is_none() && way.to.and_then(|to| guide.lands(to)) == Some(number + 1);
        match guide.guide.ways_out(way.from).iter().all(goes_on) {
            true => Line::new(Role::Way, &format!("“{}”", guide.say(say, number))).ticked(),
            false => line.ticked(),
        }
    } else {
        line
    })
}
