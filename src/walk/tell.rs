//! What the walk can say of itself: why, where, what lies ahead, what can be typed.

use jiff::{SignedDuration, Timestamp};

use super::state::{Phase, State};
use crate::finding::plain_text::cleaned;
use crate::guide::{Condition, Guide, Kind, Label, StepIdx};

pub(super) use super::scene::title;

/// Returns the needs that a hold asks about.
pub(super) fn hold_needs(guide: &Guide, state: &State) -> Vec<Condition> {
    guide.step(state.here).needs.iter().map(|need| need.condition).collect()
}

/// Returns the answers to a question, in order, as they are shown: they can be typed like that.
pub(super) fn answers(guide: &Guide, state: &State, idx: StepIdx) -> Vec<String> {
    let answer = |label: &Label| match label {
        Label::Answer(say) => Some(cleaned(state.say(guide, say))),
        _ => None,
    };
    guide.ways_out(idx).iter().filter_map(|way| answer(&way.label)).collect()
}

/// Returns what holds for certain, the latest given first.
pub(super) fn holding(guide: &Guide, state: &State) -> Vec<Condition> {
    let lasting = state.lasting(guide);
    let holds = |condition: &Condition| lasting.contains(*condition) && !guide.name(*condition).starts_with("read.");
    state.given.iter().rev().copied().filter(holds).collect()
}

/// Returns what leaving a step may have made true and still holds.
pub(super) fn given_by(guide: &Guide, state: &State, idx: StepIdx) -> Vec<Condition> {
    let mut given: Vec<Condition> = guide
        .ways_out(idx)
        .iter()
        .flat_map(|way| way.gives.iter().copied())
        .filter(|c| state.held.contains(*c))
        .collect();
    given.sort_unstable();
    given.dedup();
    given.retain(|condition| !guide.is_passing(*condition));
    given
}

/// Returns the number of the present step on this path, and how many the path has as far as can be told.
pub(super) fn progress(guide: &Guide, state: &State) -> (usize, usize) {
    let n = state.visits.len() + 1;
    (n, n + guide.path_from(state.here).skip(1).filter(|idx| counts(guide, *idx)).count())
}

fn counts(guide: &Guide, idx: StepIdx) -> bool {
    !matches!(guide.step(idx).kind, Kind::Run | Kind::Return { .. } | Kind::End(_))
}

/// Says why the present step is done, and what rests on it.
pub(super) fn why(guide: &Guide, state: &State) -> Vec<String> {
    let step = guide.step(state.here);
    let mut told: Vec<String> = step.why.iter().map(|why| state.say(guide, why)).collect();
    let given: Vec<Condition> = guide.ways_out(state.here).iter().flat_map(|way| way.gives.iter().copied()).collect();
    let resting = |step: &crate::guide::Step| step.needs.iter().any(|need| given.contains(&need.condition));
    let mut later: Vec<String> = guide
        .steps()
        .filter(|(idx, step)| *idx != state.here && resting(step))
        .map(|(idx, _)| title(guide, state, idx))
        .collect();
    later.dedup();
    if let Some(first) = later.first() {
        let more = if later.len() > 1 { format!(" And {} more.", later.len() - 1) } else { String::new() };
        told.push(format!("What rests on it: {first}{more}"));
    }
    if told.is_empty() {
        told.push("The guide gives no reason.".to_owned());
    }
    told
}

/// How many conditions are listed unasked: more would push what matters off a low screen.
const LISTED: usize = 6;

/// Says where the walk is: guide, stage, step n of N, what holds.
pub(super) fn place(guide: &Guide, state: &State, all: bool) -> Vec<String> {
    let (n, of) = progress(guide, state);
    let stage = guide.step(state.here).stage.as_deref().map_or(String::new(), |stage| format!("{stage}, "));
    let (here, id) = (title(guide, state, state.here), &guide.step(state.here).id);
    let step = guide.number(state.here).map_or(String::new(), |number| format!("step {number}, "));
    let mut told = vec![format!("{}. {stage}{step}{n} of {of} on this path, {id}: {here}", guide.title())];
    for wait in &state.pending {
        told.push(format!("Running: {}, due {}", title(guide, state, wait.step), clock_said(state, wait.due)));
    }
    let holds = holding(guide, state);
    if holds.is_empty() {
        told.push("Nothing lasting holds yet.".to_owned());
        return told;
    }
    told.push("What holds now, the latest first:".to_owned());
    let listed = if all { holds.len() } else { LISTED };
    told.extend(holds.iter().take(listed).map(|condition| format!("· {}", guide.said(*condition))));
    if holds.len() > listed {
        told.push(format!("And {} more: `where all`.", holds.len() - listed));
    }
    told
}

/// Says what to lay out for the next 20 minutes.
pub(super) fn ahead(guide: &Guide, state: &State) -> Vec<String> {
    let mut minutes = 0.0;
    let (mut steps, mut parts, mut looks): (Vec<String>, Vec<String>, Vec<String>) = Default::default();
    for idx in guide.path_from(state.here) {
        let step = guide.step(idx);
        for part in &step.parts {
            let part = state.say(guide, part);
            if !parts.contains(&part) {
                parts.push(part);
            }
        }
        if counts(guide, idx) {
            let mark = if step.one_way { " (one-way)" } else { "" };
            steps.push(format!("· {}{mark}", title(guide, state, idx)));
        }
        if let Kind::Wait(_) = step.kind {
            looks.push(title(guide, state, idx));
        }
        // A step of which the guide gives no minutes is taken as one.
        minutes += if step.minutes > 0.0 { step.minutes } else { f64::from(u8::from(counts(guide, idx))) };
        if minutes >= 20.0 || matches!(step.kind, Kind::Wait(ref pause) if !pause.meanwhile && idx != state.here) {
            break;
        }
    }
    let mut told = vec!["The next 20 minutes:".to_owned()];
    told.extend(steps);
    if !parts.is_empty() {
        told.push(format!("Lay out: {}.", parts.join(", ")));
    }
    told
}

/// Lists the kit's numbers as they are now.
pub(super) fn numbers(guide: &Guide, state: &State) -> Vec<String> {
    let mut told = vec!["The kit's numbers:".to_owned()];
    let measured = |path: &str| if state.numbers.contains_key(path) { ", measured or corrected" } else { "" };
    told.extend(
        guide.kit().keys().filter_map(|path| Some(format!("{path}  {}{}", state.number(guide, path)?, measured(path)))),
    );
    told.push("To correct one: `correct`, its name, the number with its unit.".to_owned());
    told
}

/// Says what can be typed here, with what it does.
pub(super) fn help(guide: &Guide, state: &State) -> Vec<String> {
    vec![
        format!("Here: {}", can_type(guide, state).join(" · ")),
        "why · where · ahead: the reason, the place, the next 20 minutes. They change nothing.".to_owned(),
        "back: take the last step back. trouble: something went wrong. note …: keep a remark.".to_owned(),
        "done 10 min ago: it was done earlier. again: do a passed-over step once more.".to_owned(),
        "reckon: the shop's sums, by name: reckon wall.".to_owned(),
        "correct: the kit's numbers, and how to put one right.".to_owned(),
        "park: lay the pen aside; everything is kept. Ctrl-D does the same.".to_owned(),
    ]
}

/// Returns the words that can be typed here, the likeliest first.
pub(super) fn can_type(guide: &Guide, state: &State) -> Vec<String> {
    let step = guide.step(state.here);
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
    let mut can: Vec<String> = match (&state.phase, &step.kind) {
        (Phase::Ended, _) => return words(&["where", "note"]),
        (Phase::Hold, _) => words(&["yes", "no"]),
        (Phase::Waiting(_), _) => words(&["ready", "not ready"]),
        (_, Kind::Ask) => answers(guide, state, state.here),
        (_, Kind::Reckon { .. }) => words(&["done"]),
        (_, Kind::Wait(pause)) if !pause.meanwhile => words(&["ready", "not ready"]),
        (_, Kind::Gauge { unit, .. }) if unit == "clock" => words(&["a clock position"]),
        (_, Kind::Gauge { unit, .. }) => vec![format!("a reading in {}", crate::units::Unit::shown(unit))],
        _ => words(&["done"]),
    };
    if step.optional {
        can.push("skip".to_owned());
    }
    if !state.passed_over.is_empty() {
        can.push("again".to_owned());
    }
    can.extend(["trouble", "back", "why", "where", "ahead", "note", "park", "?"].map(str::to_owned));
    can
}

/// Asks what is true after a one-way step that is taken back.
pub(super) fn back_asks(guide: &Guide, state: &State, idx: StepIdx, asked: &[Condition]) -> Vec<String> {
    let mut told = vec![
        format!("On the work itself this cannot be taken back: {}", title(guide, state, idx)),
        "What is true now?".to_owned(),
    ];
    told.extend(numbered(guide, asked));
    told.push("Type `yes` when all of it is still true, `no 1` when the first is not.".to_owned());
    told
}

/// Says what to do first in trouble, and asks what is no longer true.
pub(super) fn trouble_asks(guide: &Guide, state: &State, holds: &[Condition], all: bool) -> Vec<String> {
    let mut told = Vec::new();
    let step = guide.step(state.here);
    match &step.if_wrong {
        // What is under way has its own first words: glue leaves no time for others.
        Some(if_wrong) if state.phase == Phase::Open => told.push(state.say(guide, if_wrong)),
        _ => told.push("Hands off the glue, the switch off, the press up. Take your time.".to_owned()),
    }
    let looks = |idx: StepIdx| matches!(guide.step(idx).kind, Kind::Ask | Kind::Gauge { .. });
    if state.phase == Phase::Open && guide.next_step(state.here).is_some_and(looks) && !all {
        told.push("When that is done, leave this by Enter and type `done`: the next step asks how it went, and leads on from there.".to_owned());
        told.push("Something else is wrong: `more`.".to_owned());
        return told;
    }
    if holds.is_empty() {
        told.push("Nothing lasting holds yet. `yes` begins again at the right step; Enter leaves it.".to_owned());
        return told;
    }
    told.push("What is no longer true of the work? The latest first:".to_owned());
    let listed = if all { holds.len() } else { LISTED };
    told.extend(numbered(guide, &holds[..listed.min(holds.len())]));
    if holds.len() > listed {
        told.push(format!("And {} more: `more`.", holds.len() - listed));
    }
    told.push("Type the numbers, such as `1 3`; `yes` when all of it still holds; Enter leaves it.".to_owned());
    told
}

fn numbered(guide: &Guide, conditions: &[Condition]) -> Vec<String> {
    conditions.iter().enumerate().map(|(n, condition)| format!("{:>2}  {}", n + 1, guide.said(*condition))).collect()
}

/// Returns the lines about a wait: begun, due, how long yet, the sign.
pub(super) fn wait_lines(
    guide: &Guide,
    state: &State,
    idx: StepIdx,
    start: Timestamp,
    due: Timestamp,
    now: Timestamp,
) -> Vec<String> {
    let left = due.duration_since(now);
    let mut told = vec![format!("Begun {}, due {}.", clock_said(state, start), clock_said(state, due))];
    told.push(match left.is_positive() {
        true => format!("{} to go.", span_said(left)),
        false => format!("Due since {}.", span_said(-left)),
    });
    if state.clock_back_s > 0 {
        let by = span_said(SignedDuration::from_secs(state.clock_back_s));
        told.push(format!("The clock was moved back by {by}; the wait is counted from the last mark before."));
    }
    if let Kind::Wait(pause) = &guide.step(idx).kind {
        told.push(format!("Over when: {}", state.say(guide, &pause.ready)));
    }
    told
}

/// Returns a time as a clock on the wall shows it, with the day.
pub(crate) fn clock_said(state: &State, at: Timestamp) -> String {
    // A weekday alone says which day only within a week.
    let far = at.duration_since(state.clock).abs() >= SignedDuration::from_hours(6 * 24);
    let format = if far { "%a %-d %b %H:%M" } else { "%a %H:%M" };
    jiff::ZonedDateTime::new(at, state.zone.clone()).strftime(format).to_string()
}

/// Says minutes: seconds under one, else whole minutes.
pub(crate) fn minutes_said(minutes: f64) -> String {
    let seconds = if minutes < 1.0 { (minutes * 60.0).round() } else { minutes.round() * 60.0 };
    span_said(SignedDuration::from_secs(seconds as i64))
}

/// Says minutes of work, and of waiting where there are any.
pub(crate) fn work_said(attention: f64, waits: f64) -> String {
    match waits >= 1.0 {
        true => format!("{} of work, and {} of waiting", minutes_said(attention), minutes_said(waits)),
        false => format!("{} of work", minutes_said(attention)),
    }
}

/// Returns a length of time in words: `25 min`, `1 h 10 min`, `2 days 3 h`.
pub(crate) fn span_said(span: SignedDuration) -> String {
    let seconds = span.as_secs().max(0);
    let (days, hours, minutes) = (seconds / 86_400, seconds / 3600 % 24, seconds / 60 % 60);
    let nb = '\u{a0}';
    match (days, hours, minutes) {
        (0, 0, 0) => format!("{seconds}{nb}s"),
        (0, 0, minutes) => format!("{minutes}{nb}min"),
        (0, hours, 0) => format!("{hours}{nb}h"),
        (0, hours, minutes) => format!("{hours}{nb}h {minutes}{nb}min"),
        (1, 0, _) => format!("1{nb}day"),
        (days, 0, _) => format!("{days}{nb}days"),
        (1, hours, _) => format!("1{nb}day {hours}{nb}h"),
        (days, hours, _) => format!("{days}{nb}days {hours}{nb}h"),
    }
}
