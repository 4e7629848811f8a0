//! Plays walks over a guide, one step at a time, and watches for an unmet need.
//!
//! Deliberately independent even of the oracle's own analyses: effects are applied one after another, exactly in the
//! order in which they are defined, and nothing is worked out ahead.

use super::model::{Effects, Exit, Guide, Set, Step};
use super::random::Dice;
use super::rejoin::stands;

/// How far a walk goes before it is left.
const LONGEST: usize = 400;

/// Walks from the first step and says which need was not met, if one was.
pub fn from_start(guide: &Guide, dice: &mut Dice) -> Result<(), String> {
    play(guide, dice, guide.first().to_owned(), Set::new(), false).map(|_| ())
}

/// Picks up at `step` with `held`, passing over what stands, and says which need was not met, if one was.
pub fn picked_up(guide: &Guide, dice: &mut Dice, step: &str, held: &Set) -> Result<(), String> {
    let lasting = held.difference(&guide.passing).cloned().collect();
    play(guide, dice, step.to_owned(), lasting, true).map(|_| ())
}

/// What holds at some moment of a walk from the first step.
pub fn a_moment(guide: &Guide, dice: &mut Dice) -> Set {
    let trail = play(guide, dice, guide.first().to_owned(), Set::new(), false).unwrap_or_default();
    if trail.is_empty() { Set::new() } else { dice.pick(&trail).clone() }
}

/// Returns what held on arrival at each step of the walk.
fn play(guide: &Guide, dice: &mut Dice, start: String, start_held: Set, rejoined: bool) -> Result<Vec<Set>, String> {
    let (mut at, mut held) = (start, start_held);
    let (mut trail, mut arrived) = (vec![], Set::new());
    for moves in 0..LONGEST {
        let step = guide.step(&at);
        trail.push(held.clone());
        let first_time = arrived.insert(at.clone());
        // What stands is passed over, though never the step at which one picks up.
        if rejoined && first_time && moves > 0 && stands(guide, step, &held) {
            at = guide.exits(step)[0].to.clone();
            continue;
        }
        if let Some(need) = step.all_needs().iter().find(|need| !held.contains(*need)) {
            return Err(format!("{at} needs {need}, after {moves} moves"));
        }
        let exits = guide.exits(step);
        if exits.is_empty() {
            break;
        }
        let exit = dice.pick(&exits);
        held = leave(guide, step, exit, held);
        at = exit.to.clone();
    }
    Ok(trail)
}

fn leave(guide: &Guide, step: &Step, exit: &Exit, mut held: Set) -> Set {
    if exit.skip {
        return held;
    }
    remove(guide, &step.effects, &mut held);
    let mut own = if exit.good { step.effects.gives.clone() } else { Set::new() };
    if let Some(reading) = step.reading() {
        undo(guide, &reading, &mut held, &mut Set::new());
        own.insert(reading);
    }
    held.extend(own.iter().cloned());
    remove(guide, &exit.effects, &mut held);
    held.extend(exit.effects.gives.iter().cloned());
    if step.is_waited_at() {
        held.retain(|c| !guide.passing.contains(c) || own.contains(c) || exit.effects.gives.contains(c));
    }
    held
}

fn remove(guide: &Guide, effects: &Effects, held: &mut Set) {
    held.retain(|c| !effects.spoils.contains(c));
    for condition in &effects.undoes {
        undo(guide, condition, held, &mut Set::new());
    }
}

/// Removes a condition, and in turn whatever a step gives that needs it.
fn undo(guide: &Guide, condition: &str, held: &mut Set, done: &mut Set) {
    if !done.insert(condition.to_owned()) {
        return;
    }
    held.remove(condition);
    if guide.passing.contains(condition) {
        return;
    }
    for step in guide.steps.iter().filter(|step| step.rests_on(condition)) {
        for above in step.ever_gives() {
            undo(guide, &above, held, done);
        }
    }
}
