//! Reading, linking and checking whatever comes: no panic, in time, and what is found is inside the file.

use jiff::{SignedDuration, Timestamp};
use stepjig::finding::Source;
use stepjig::guide::document::Shelf;
use stepjig::guide::{Guide, Library};
use stepjig::walk::{Event, Phase, Walk, Wanted};

use super::mutants::{mutant, shipped, small};
use super::rig::{AT_MOST, checked, harmless, inside, morning, shown, texts, times};
use crate::oracle::random::Dice;

/// Reads a text as a guide, shows what is found, and walks it where nothing is wrong; tells whether it was walked.
fn survives(library: &Library, text: &str, dice: &mut Dice, what: &str) -> bool {
    let checked = checked(library, &Source::new("g.toml", text), what);
    if dice.chance(10) {
        shown(&checked.findings, what);
    }
    match &checked.guide {
        Some(guide) if checked.is_sound() => {
            walk(guide, dice, what);
            true
        }
        _ => false,
    }
}

/// Types this and that at a guide for a while.
fn walk(guide: &Guide, dice: &mut Dice, what: &str) {
    let mut now = morning();
    let mut walk = Walk::begin(guide, now);
    for _ in 0..25 {
        let scene = walk.scene(now);
        texts(&scene).into_iter().for_each(|text| harmless(what, text));
        if walk.state().phase == Phase::Ended {
            break;
        }
        now += SignedDuration::from_mins(dice.within(0, 900) as i64);
        let line = typed(&walk, now, dice);
        if let Ok(events) = walk.answer(&line, now)
            && let Some(Event::Parked { .. }) = events.last()
        {
            walk.take(&Event::Resumed { at: now });
        }
    }
}

/// Something that may be typed here, mostly an answer.
fn typed(walk: &Walk<'_>, now: Timestamp, dice: &mut Dice) -> String {
    const OTHER: [&str; 8] = ["back", "back yes", "back no 1", "park", "trouble 1", "trouble yes", "again", "skip"];
    if dice.chance(20) {
        return (*dice.pick(&OTHER)).to_owned();
    }
    match walk.scene(now).wanted {
        Wanted::Hold => (*dice.pick(&["yes", "yes", "no 1"])).to_owned(),
        Wanted::Answer(answers) => dice.within(1, answers.len().max(1)).to_string(),
        Wanted::Reading { unit, .. } => format!("{} {unit}", dice.within(0, 40)),
        Wanted::Sign => (*dice.pick(&["ready", "not ready"])).to_owned(),
        _ => "done".to_owned(),
    }
}

#[test]
fn any_bytes_are_read() {
    let library = Library::shipped();
    let mut dice = Dice(1);
    // Half of them from an alphabet in which TOML is likely, the other half from all bytes.
    let alphabet = b"[]{}\"'\\=.,#\n\r\t -_+:azT019exuU\x00\x7f\xc3\xa9\xff";
    for n in 0..times(6_000) {
        let length = *dice.pick(&[0, 1, 3, 10, 40, 200, 3_000]);
        let bytes: Vec<u8> =
            (0..length).map(|_| if n % 2 == 0 { *dice.pick(alphabet) } else { dice.next() as u8 }).collect();
        // As a lossy reader would hand them on, and as characters of their own, C1 included.
        let text = match n % 4 {
            0 | 1 => String::from_utf8_lossy(&bytes).into_owned(),
            _ => bytes.iter().map(|byte| char::from(*byte)).collect(),
        };
        let text = if dice.chance(30) { format!("stepjig = 1\n[guide]\n{text}") } else { text };
        let checked = checked(&library, &Source::new("g.toml", &*text), &format!("bytes {n}"));
        assert!(!checked.is_sound(), "bytes {n} are a guide: {text:?}");
        shown(&checked.findings, &format!("bytes {n}"));
    }
}

#[test]
fn any_mutant_of_a_shipped_file_is_read() {
    let files = shipped();
    let mut dice = Dice(2);
    let mut walked = 0;
    for n in 0..times(700) {
        let file = dice.pick(&files);
        let other = dice.pick(&files);
        let text = mutant(&mut dice, &file.text, &other.text);
        let what = format!("{} {n}", file.id);
        let mut library = Library::shipped();
        if file.is_procedure {
            library.add(Shelf::Procedure, file.id.clone(), Source::new("p.toml", text));
            let guide = library.guide("two-tube-fountain").expect("it is shipped");
            let start = std::time::Instant::now();
            let linked = library.link(&guide);
            assert!(start.elapsed() < AT_MOST, "{what}");
            inside(&linked.findings, &what);
        } else {
            walked += u64::from(survives(&library, &text, &mut dice, &what));
        }
    }
    assert!(walked > 0, "no mutant was walked");
}

#[test]
fn any_mutant_of_a_small_guide_is_read_and_walked() {
    let library = Library::empty();
    let mut dice = Dice(3);
    let mut walked = 0;
    for seed in 0..times(250) {
        let (text, other) = (small(seed), small(seed + 1));
        for n in 0..20 {
            let text = mutant(&mut dice, &text, &other);
            walked += u64::from(survives(&library, &text, &mut dice, &format!("small {seed}.{n}")));
        }
    }
    assert!(walked > times(250), "only {walked} mutants were walked");
}
