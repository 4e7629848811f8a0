//! Whatever is typed at whatever step: no panic, and what is refused or only told has changed nothing.

use jiff::{SignedDuration, Timestamp};
use stepjig::guide::{Guide, Library};
use stepjig::walk::{Answer, Event, Phase, Walk};

use super::rig::{forbidden, harmless, morning, texts, times, told};
use crate::oracle::random::Dice;
use crate::typing::all_well;

/// Beginnings that lead somewhere, so that what follows is read and not just refused.
const BEGINNINGS: [&str; 26] = [
    "",
    "",
    "",
    ":",
    "no ",
    "yes ",
    "done ",
    "done 10 min ago",
    "back ",
    "back no ",
    "trouble ",
    "trouble no ",
    "again ",
    "correct ",
    "correct kit.tube.body.drill ",
    "correct kit.thread.starts ",
    "note ",
    "where ",
    "ahead ",
    "why ",
    "?",
    "1",
    "9.92 mm",
    "25/64",
    ".391 in",
    "6 o'clock ",
];

/// Words that a parser of numbers, times or lists may trip over.
const WORDS: [&str; 36] = [
    "0",
    "-1",
    "18446744073709551616",
    "99999999999999999999999999",
    "1e308",
    "1e-400",
    "nan",
    "inf",
    "-inf",
    "1/0",
    "0/0",
    "1//2",
    "1 1/2",
    "−5",
    "½",
    "9,92",
    "1,234.5",
    "1.2.3",
    "mm",
    "in",
    "\"",
    "min",
    "h",
    "days ago",
    "ago",
    "9999999 h ago",
    "1e300 h ago",
    "o'clock",
    "12:60",
    "25:00",
    "ſ",
    "İ",
    "ß",
    "e\u{301}",
    "👩‍🔧",
    "٣",
];

/// Returns a line as nobody would type it, up to 4 KiB long.
fn line(dice: &mut Dice, forbidden: &[char]) -> String {
    let mut line = (*dice.pick(&BEGINNINGS)).to_owned();
    let n_pieces = *dice.pick(&[0, 1, 1, 2, 5, 40, 400]);
    for _ in 0..n_pieces {
        match dice.within(0, 5) {
            0 => line.push(*dice.pick(forbidden)),
            1 => line.push(char::from_u32(dice.within(0, 0x10_ffff) as u32).unwrap_or('\u{fffd}')),
            2 => line.push(char::from(dice.within(0, 255) as u8)),
            3 => line.push(' '),
            4 => line.push_str(&dice.within(0, 30).to_string()),
            _ => line.push_str(WORDS[dice.within(0, WORDS.len() - 1)]),
        }
    }
    let most = (0..=line.len().min(4 << 10)).rev().find(|at| line.is_char_boundary(*at));
    line.truncate(most.unwrap_or(0));
    line
}

/// Types a line and checks what came of it; returns the event, where it is one.
fn typed(walk: &mut Walk<'_>, line: &str, now: Timestamp) -> Option<Event> {
    let what = format!("{} at `{}`", walk.guide().step(walk.state().here).id, line.escape_debug());
    let read = walk.read(line, now);
    if let Ok(Answer::Event(event)) = read {
        return Some(event);
    }
    harmless(&what, &told(read.clone()));
    let before = walk.state().clone();
    match (read, walk.answer(line, now)) {
        (Err(refusal), Err(again)) => assert_eq!(refusal, again, "{what}"),
        (Ok(_), Ok(events)) => assert_eq!(events, [], "{what}"),
        (read, answer) => panic!("{what}: {read:?}, then {answer:?}"),
    }
    assert_eq!(*walk.state(), before, "{what}");
    None
}

fn shipped() -> Guide {
    Library::shipped().link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("shipped guides link")
}

#[test]
fn any_line_is_read_at_every_step_of_a_pen() {
    let (guide, forbidden, mut dice) = (shipped(), forbidden(), Dice(5));
    let mut now = morning();
    let mut walk = Walk::begin(&guide, now);
    let (mut refused, mut taken) = (0, 0);
    loop {
        for _ in 0..times(150) {
            let line = line(&mut dice, &forbidden);
            match typed(&mut walk, &line, now) {
                None => refused += 1,
                Some(_) => taken += 1,
            }
        }
        let scene = walk.scene(now);
        if walk.state().phase == Phase::Ended {
            break;
        }
        walk.answer(&all_well(&scene), now).expect("all goes well");
        now += SignedDuration::from_mins(3);
    }
    assert!(refused > 1_000 && taken > 1_000, "{refused} refused, {taken} taken");
}

/// The same, but what is taken is taken: the walk goes wherever the lines lead, and is replayed to the same place.
#[test]
fn a_walk_of_any_lines_goes_on() {
    let (guide, forbidden) = (shipped(), forbidden());
    for seed in 0..times(150) {
        let mut dice = Dice(seed);
        let mut now = morning();
        let mut walk = Walk::begin(&guide, now);
        let mut events = vec![Event::Begun { at: now, held: Vec::new() }];
        for _ in 0..120 {
            let scene = walk.scene(now);
            texts(&scene).into_iter().for_each(|text| harmless(&scene.id, text));
            let line = if dice.chance(60) { all_well(&scene) } else { line(&mut dice, &forbidden) };
            if let Some(event) = typed(&mut walk, &line, now) {
                walk.take(&event);
                events.push(event);
            }
            // Now and then the clock is moved back.
            let minutes = if dice.chance(10) { -300 } else { dice.within(0, 90) as i64 };
            now += SignedDuration::from_mins(minutes);
        }
        assert_eq!(*Walk::from_events(&guide, &events).state(), *walk.state(), "seed {seed}");
    }
}
