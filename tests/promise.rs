//! The promise to the person at the press, over made-up guides without errors: no sequence of answers, skips, backs,
//! parks, holds refused and troubles ever presents a step with an unmet need, nor runs again a one-way step that
//! stands; and replay equals live.

mod oracle;

use jiff::{SignedDuration, Timestamp};
use oracle::random::{self, Dice};
use stepjig::finding::Source;
use stepjig::guide::{Guide, Kind, Library};
use stepjig::walk::trouble::TroubleEvent;
use stepjig::walk::{Answer, Event, Phase, Walk, Wanted, rejoin};

/// Something that a person may type here: mostly an answer, now and then anything else.
fn typed(walk: &Walk<'_>, now: Timestamp, dice: &mut Dice) -> String {
    let state = walk.state();
    if dice.chance(15) {
        let other =
            ["back", "back yes", "back no 1", "park", "trouble 1", "trouble 2 3", "trouble yes", "again", "note x"];
        return (*dice.pick(&other)).to_owned();
    }
    let guide = walk.guide();
    let scene = walk.scene(now);
    match scene.wanted {
        Wanted::Hold if dice.chance(5) => format!("no 1 {}", dice.within(1, scene.needs.len().max(1))),
        Wanted::Hold if dice.chance(25) => format!("no {}", dice.within(1, scene.needs.len().max(1))),
        Wanted::Hold => "yes".to_owned(),
        _ if scene.optional && dice.chance(30) => "skip".to_owned(),
        Wanted::Answer(answers) => dice.within(1, answers.len()).to_string(),
        Wanted::Reading { .. } => match &guide.step(state.here).kind {
            Kind::Gauge { unit, .. } => format!("{} {unit}", dice.within(0, 40)),
            _ => String::new(),
        },
        Wanted::Sign => (*dice.pick(&["ready", "ready", "not ready"])).to_owned(),
        _ => "done".to_owned(),
    }
}

/// Lets a person who goes back say now and then that what comes and goes is still so.
fn still_so(walk: &Walk<'_>, event: Event, dice: &mut Dice) -> Event {
    let asked = walk.still_asked(&event);
    match event {
        Event::Back { to, held, at, .. } if !asked.is_empty() && dice.chance(60) => {
            let still = asked.into_iter().map(|condition| walk.guide().name(condition).to_owned()).collect();
            Event::Back { to, held, still, at }
        }
        other => other,
    }
}

/// A fault table at the present step: what is found and done removes and gives anything at all.
fn in_trouble(guide: &Guide, dice: &mut Dice) -> Vec<TroubleEvent> {
    let names: Vec<String> = guide.conditions().map(|condition| guide.name(condition).to_owned()).collect();
    let some = |dice: &mut Dice| (0..dice.within(0, 2)).map(|_| dice.pick(&names).clone()).collect::<Vec<_>>();
    let mut events = vec![TroubleEvent::Opened { table: "t".to_owned(), with: Vec::new(), title: "T".to_owned() }];
    if dice.chance(50) {
        let (check, answer) = ("look".to_owned(), "it leans".to_owned());
        events.push(TroubleEvent::Found { check, answer, removed: some(dice), given: Vec::new(), fixed: false });
    }
    let remedy = || "drill-out".to_owned();
    events.push(TroubleEvent::RemedyBegun { remedy: remedy(), undone: some(dice), borrowed: Vec::new() });
    let outcome = (*dice.pick(&["fixed", "not fixed", "lost"])).to_owned();
    let (removed, given) = (some(dice), some(dice));
    let is_fixed = outcome == "fixed";
    events.push(TroubleEvent::RemedyEnded { remedy: remedy(), outcome, removed, given });
    if !is_fixed {
        let started_over = TroubleEvent::StartedOver { undone: some(dice), borrowed: Vec::new() };
        events.push(if dice.chance(50) { started_over } else { TroubleEvent::Closed });
    }
    events
}

fn held_to_it(guide: &Guide, walk: &Walk<'_>, seed: u64, events: &[Event]) {
    let state = walk.state();
    let step = guide.step(state.here);
    for need in &step.needs {
        let name = guide.name(need.condition);
        let last = &events[events.len().saturating_sub(6)..];
        assert!(state.held.contains(need.condition), "seed {seed}: {} is shown without {name}\n{last:#?}", step.id);
    }
}

#[test]
fn no_sequence_of_inputs_presents_a_step_with_an_unmet_need() {
    for seed in 0..1_000 {
        let model = random::clean(seed);
        let text = oracle::toml::render(&model);
        let linked = Library::empty().link(&Source::new("g.toml", text));
        let guide = linked.guide.unwrap_or_else(|| panic!("seed {seed}: {:?}", linked.findings.first()));
        let mut dice = Dice(seed ^ 0x5eed);
        let mut now: Timestamp = "2026-11-25T08:00:00Z".parse().expect("a time");
        let mut walk = Walk::begin(&guide, now);
        let mut events = vec![Event::Begun { at: now, held: Vec::new() }];
        held_to_it(&guide, &walk, seed, &events);
        for _ in 0..120 {
            if walk.state().phase == Phase::Ended {
                break;
            }
            now += SignedDuration::from_mins(dice.within(0, 90) as i64);
            let line = typed(&walk, now, &mut dice);
            let before = walk.state().clone();
            // A refusal changes nothing, and that is all there is to it.
            if dice.chance(6) {
                for what in in_trouble(&guide, &mut dice) {
                    let is_a_slip = dice.chance(20)
                        && matches!(what, TroubleEvent::Found { .. } | TroubleEvent::RemedyBegun { .. });
                    let event = what.at(now);
                    let before = walk.state().clone();
                    walk.take(&event);
                    events.push(event.clone());
                    if is_a_slip {
                        let Ok(Answer::Event(back)) = walk.read(":back", now) else {
                            panic!("seed {seed}: a slip stays")
                        };
                        walk.take(&back);
                        assert_eq!(walk.state().trouble, before.trouble, "seed {seed}: it is taken back whole");
                        assert_eq!(walk.state().held, before.held, "seed {seed}: it is taken back whole");
                        walk.take(&event);
                        events.extend([back, event]);
                    }
                }
                held_to_it(&guide, &walk, seed, &events);
                continue;
            }
            let Ok(Answer::Event(event)) = walk.read(&line, now) else { continue };
            let event = still_so(&walk, event, &mut dice);
            walk.take(&event);
            let mut taken = vec![event];
            if walk.state().trouble.is_some() {
                // A new blank was taken back: the table is open again, and is closed without a new one.
                let closed = TroubleEvent::Closed.at(now);
                walk.take(&closed);
                taken.push(closed);
            }
            if matches!(taken.last(), Some(Event::Parked { .. })) {
                now += SignedDuration::from_hours(dice.within(0, 30) as i64);
                let resumed = Event::Resumed { at: now };
                walk.take(&resumed);
                taken.push(resumed);
            }
            if let [Event::Left { step, .. }] = taken.as_slice() {
                let idx = guide.step_of_id(step).expect("a step that was left");
                let stood = rejoin::stands(&guide, idx, &before.lasting(&guide));
                let in_window = before.standing_until.is_some() && !before.has_stood(idx);
                assert!(
                    !(guide.step(idx).one_way && stood && in_window),
                    "seed {seed}: {step} stood and was run again"
                );
            }
            events.extend(taken);
            held_to_it(&guide, &walk, seed, &events);
        }
        let replayed = Walk::from_events(&guide, &events);
        assert_eq!(*replayed.state(), *walk.state(), "seed {seed}: replay differs from live");
    }
}
