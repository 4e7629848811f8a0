//! Made-up guides: any seed gives one, always the same.
//!
//! Deliberately independent of the library and of any crate: a few lines of splitmix64 and plain dice. A *wild* guide is
//! likely to have findings; a *clean* one is mended until the oracle has no error left to report.

use std::collections::BTreeMap;

use super::flow::{self, Finding};
use super::model::{Effects, Ending, Guide, Kind, Set, Step, Way};
use super::walk;

/// Codes that only warn; every other one is an error.
const WARNINGS: [&str; 3] = ["idle-step", "idle-gate", "unworded"];

/// The splitmix64 generator (Steele, Lea and Flood, 2014).
pub struct Dice(pub u64);

impl Dice {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from `low` up to and including `high`.
    pub fn within(&mut self, low: usize, high: usize) -> usize {
        low + (self.next() % (high - low + 1) as u64) as usize
    }

    pub fn chance(&mut self, percent: usize) -> bool {
        self.within(1, 100) <= percent
    }

    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.within(0, from.len() - 1)]
    }
}

/// Returns a guide that is likely to have findings.
pub fn wild(seed: u64) -> Guide {
    let mut maker = Maker::new(seed);
    let mut guide = maker.skeleton(90);
    let astray = *maker.dice.pick(&[0, 10, 40]);
    maker.dress(&mut guide, astray);
    if maker.dice.chance(12) {
        maker.trap(&mut guide);
    }
    if maker.dice.chance(8) {
        maker.lose_a_way(&mut guide);
    }
    maker.leave_unworded(&mut guide);
    guide
}

/// Returns a guide without errors; it may have warnings.
pub fn clean(seed: u64) -> Guide {
    let mut maker = Maker::new(seed ^ 0x5eed);
    let mut guide = maker.skeleton(100);
    mend(&mut guide, Finding::is_about_shape); // so that what is dressed next stays
    maker.dress(&mut guide, 5);
    mend(&mut guide, |_| true);
    maker.leave_unworded(&mut guide);
    guide
}

/// Returns conditions that a half-made pen might have: those of a random moment, or any.
pub fn held(guide: &Guide, dice: &mut Dice) -> Set {
    let given: Vec<String> = guide.given().into_iter().collect();
    let mut held = if dice.chance(75) { walk::a_moment(guide, dice) } else { Set::new() };
    let density = *dice.pick(&[0, 5, 20, 60]);
    held.extend(given.iter().filter(|_| dice.chance(density)).cloned());
    let losses = *dice.pick(&[0, 0, 10, 30]);
    held.retain(|c| given.contains(c) && !dice.chance(losses));
    held
}

struct Maker {
    dice: Dice,
    steps: usize,
    names: Vec<String>,
    passing: Set,
    jumps: usize,
    gives: usize,
    removals: usize,
}

impl Maker {
    fn new(seed: u64) -> Maker {
        let mut dice = Dice(seed);
        let (low, high) = *dice.pick(&[(2, 8), (4, 14), (4, 14), (8, 30), (30, 60)]);
        let steps = dice.within(low, high);
        let lasting = dice.within(1, (steps * 2 / 3).clamp(2, 24));
        let coming_and_going = dice.within(0, 3);
        let passing: Set = (0..coming_and_going).map(|n| format!("p.c{n}")).collect();
        let names = (0..lasting).map(|n| format!("c.c{n}")).chain(passing.iter().cloned()).collect();
        let (jumps, gives) = (*dice.pick(&[5, 15, 35]), *dice.pick(&[30, 60, 90]));
        let removals = *dice.pick(&[0, 8, 20]);
        Maker { dice, steps, names, passing, jumps, gives, removals }
    }

    /// Steps, ways and effects; nothing is needed yet. So many in a hundred of the steps are sure to be led to.
    fn skeleton(&mut self, led_to: usize) -> Guide {
        let steps = (0..self.steps).map(|at| self.step(at)).collect();
        let mut guide = Guide { steps, passing: self.passing.clone(), unworded: Set::new() };
        let mut seen = flow::led_to(&guide);
        for at in 1..self.steps {
            if !seen.contains(&id(at)) && self.dice.chance(led_to) {
                let before = guide.steps[..at].iter_mut().rev();
                let from = before.filter(|step| seen.contains(&step.id)).find(|step| !step.is_end());
                self.lead(from.expect("the first step is no end"), id(at));
                seen = flow::led_to(&guide);
            }
        }
        guide
    }

    /// Makes one of the ways of `from` lead to `to`; a step with one way becomes a question.
    fn lead(&mut self, from: &mut Step, to: String) {
        if let Kind::Do { then } = &from.kind {
            from.kind = Kind::Ask { answers: vec![then.clone(), Way::default()] };
        }
        let mut ways = from.ways_mut();
        ways.pop().expect("a step that is no end has a way").to = Some(to);
    }

    fn step(&mut self, at: usize) -> Step {
        let kind = self.kind(at);
        let is_end = matches!(kind, Kind::End(_));
        let acts = matches!(kind, Kind::Do { .. } | Kind::Wait { .. });
        let effects = if is_end { Effects::default() } else { self.effects(self.gives) };
        Step {
            id: id(at),
            kind,
            needs: Set::new(),
            reads: Set::new(),
            effects,
            one_way: !is_end && self.dice.chance(if acts { 15 } else { 3 }),
            optional: !is_end && self.dice.chance(10),
            seconds: (!is_end && self.dice.chance(70)).then(|| 30 * self.dice.within(0, 20) as u64),
        }
    }

    fn kind(&mut self, at: usize) -> Kind {
        if at + 1 == self.steps {
            return Kind::End(if self.dice.chance(88) { Ending::Finished } else { Ending::Scrap });
        }
        match self.dice.within(1, 100) {
            1..=4 if at > 0 => Kind::End(if self.dice.chance(25) { Ending::Finished } else { Ending::Scrap }),
            5..=23 => Kind::Ask { answers: (0..self.dice.within(2, 4)).map(|_| self.way(at, 25)).collect() },
            24..=40 => {
                let (min, max) = *self.dice.pick(&[(true, true), (true, false), (false, true)]);
                let within = self.plain_way(at);
                let (under, over) = (min.then(|| self.failing_way(at)), max.then(|| self.failing_way(at)));
                Kind::Gauge { min, max, within, under, over }
            }
            41..=58 => {
                let seconds = *self.dice.pick(&[30, 90, 5 * 60, 20 * 60, 3600, 90 * 60, 8 * 3600]);
                let meanwhile = self.dice.chance(35);
                let up_to = !meanwhile && self.dice.chance(50);
                let not_ready = up_to.then(|| self.failing_way(at));
                Kind::Wait { seconds, meanwhile, up_to, then: self.plain_way(at), not_ready }
            }
            _ => Kind::Do { then: self.plain_way(at) },
        }
    }

    /// A way that mostly goes on.
    fn plain_way(&mut self, at: usize) -> Way {
        let way = self.way(at, 12);
        if self.dice.chance(75) { Way { to: None, ..way } } else { way }
    }

    fn way(&mut self, at: usize, gives: usize) -> Way {
        let jump = self.dice.chance(self.jumps);
        let to = jump.then(|| if self.dice.chance(60) { self.later(at) } else { self.earlier(at) });
        Way { to, effects: if self.dice.chance(40) { self.effects(gives) } else { Effects::default() } }
    }

    fn failing_way(&mut self, at: usize) -> Way {
        let to = match self.dice.within(1, 10) {
            1..=3 => Some(id(at)),
            4..=6 => Some(self.earlier(at)),
            7..=8 => Some(self.later(at)),
            _ => None,
        };
        Way { to, effects: if self.dice.chance(50) { self.effects(25) } else { Effects::default() } }
    }

    fn later(&mut self, at: usize) -> String {
        id(self.dice.within(at + 1, (at + 6).min(self.steps - 1)))
    }

    fn earlier(&mut self, at: usize) -> String {
        id(self.dice.within(at.saturating_sub(8), at))
    }

    fn effects(&mut self, gives: usize) -> Effects {
        Effects { gives: self.some(gives), spoils: self.some(self.removals), undoes: self.some(self.removals / 2) }
    }

    fn some(&mut self, percent: usize) -> Set {
        if !self.dice.chance(percent) {
            return Set::new();
        }
        (0..*self.dice.pick(&[1, 1, 1, 2, 3])).map(|_| self.dice.pick(&self.names).clone()).collect()
    }

    /// Lets steps need things: mostly what holds there in any case, `astray` in a hundred anything at all.
    fn dress(&mut self, guide: &mut Guide, astray: usize) {
        let holds = flow::forward(guide, &flow::edges(guide));
        let mut anything: Vec<String> = guide.conditions().into_iter().collect();
        anything.push("c.nowhere".to_owned());
        for step in &mut guide.steps {
            let sure: Vec<String> = holds.get(&step.id).into_iter().flatten().cloned().collect();
            let wanted = if self.dice.chance(70) || step.is_end() { self.dice.within(1, 3) } else { 0 };
            for _ in 0..wanted {
                let from = if self.dice.chance(astray) { &anything } else { &sure };
                if from.is_empty() {
                    continue;
                }
                let need = self.dice.pick(from).clone();
                match need.strip_prefix("read.") {
                    Some(gauge) if matches!(step.kind, Kind::Do { .. }) && self.dice.chance(70) => {
                        step.reads.insert(gauge.to_owned());
                    }
                    _ => drop(step.needs.insert(need)),
                }
            }
        }
    }

    /// Sends some step back, often for ever.
    fn trap(&mut self, guide: &mut Guide) {
        let at = self.dice.within(0, self.steps - 1);
        let back = self.earlier(at);
        for way in guide.steps[at].ways_mut() {
            way.to = Some(back.clone());
        }
    }

    /// Takes a gauge's or a wait's failing way from it.
    fn lose_a_way(&mut self, guide: &mut Guide) {
        for step in &mut guide.steps {
            if self.dice.chance(30) {
                match &mut step.kind {
                    Kind::Gauge { under, over, .. } => *(if under.is_some() { under } else { over }) = None,
                    Kind::Wait { not_ready, .. } => *not_ready = None,
                    _ => {}
                }
            }
        }
    }

    fn leave_unworded(&mut self, guide: &mut Guide) {
        let mut given: Vec<String> = guide.given().into_iter().filter(|c| !c.starts_with("read.")).collect();
        if self.dice.chance(10) && !given.is_empty() {
            guide.unworded.insert(given.swap_remove(self.dice.within(0, given.len() - 1)));
        }
    }
}

fn id(at: usize) -> String {
    format!("s{at:02}")
}

impl Finding {
    /// Whether the finding is about ways, not about conditions.
    fn is_about_shape(&self) -> bool {
        ["unreachable", "no-way-out", "no-finish"].contains(&self.code.as_str())
    }
}

/// Mends the guide until no error of the chosen kind is left.
fn mend(guide: &mut Guide, chosen: impl Fn(&Finding) -> bool) {
    for _ in 0..200 {
        let mut errors = flow::findings(guide);
        errors.retain(|f| !WARNINGS.contains(&f.code.as_str()) && chosen(f));
        if errors.is_empty() {
            return;
        }
        let last_of = |code: &str| errors.iter().rfind(|f| f.code == code);
        // What nothing leads to goes first, then what leads nowhere.
        if last_of("unreachable").is_some() {
            drop_unreachable(guide);
        } else if let Some(trapped) = last_of("no-way-out") {
            of(guide, trapped).ways_mut()[0].to = None;
        } else {
            let holds = flow::forward(guide, &flow::edges(guide));
            errors.iter().for_each(|f| mend_one(guide, f, &holds));
        }
    }
    panic!("the guide could not be mended: {guide:#?}");
}

fn mend_one(guide: &mut Guide, finding: &Finding, holds: &BTreeMap<String, Set>) {
    let sure = finding.step.as_ref().and_then(|id| holds[id].first().cloned());
    match finding.code.as_str() {
        "no-finish" => guide.steps.last_mut().expect("a guide has steps").kind = Kind::End(Ending::Finished),
        "need-unmet" | "never-given" => {
            let need = finding.condition.as_ref().expect("the need");
            let step = of(guide, finding);
            step.needs.remove(need);
            step.reads.retain(|gauge| format!("read.{gauge}") != *need);
        }
        "one-way-unguarded" => {
            of(guide, finding).one_way = sure.is_some();
            of(guide, finding).needs.extend(sure);
        }
        "end-unguarded" => match sure {
            Some(sure) => drop(of(guide, finding).needs.insert(sure)),
            None => give_on_every_way_to(guide, finding.step.as_ref().expect("the end")),
        },
        other => panic!("a made-up guide has no {other} before it is mended"),
    }
}

fn of<'a>(guide: &'a mut Guide, finding: &Finding) -> &'a mut Step {
    let place = guide.place(finding.step.as_ref().expect("it names its step"));
    &mut guide.steps[place]
}

/// Takes out the steps that nothing leads to, but keeps the last, to which the last reachable step is led instead.
fn drop_unreachable(guide: &mut Guide) {
    let seen = flow::led_to(guide);
    let last = guide.steps.last().expect("a guide has steps").id.clone();
    guide.steps.retain(|step| seen.contains(&step.id) || step.id == last);
    if !seen.contains(&last) {
        let leaves = guide.steps.iter_mut().rev().find(|step| !step.is_end()).expect("the first step is no end");
        leaves.ways_mut()[0].to = Some(last);
    }
    let gauges: Set = guide.steps.iter().filter(|step| step.is_gauge()).map(|step| step.id.clone()).collect();
    for step in &mut guide.steps {
        step.reads.retain(|gauge| gauges.contains(gauge));
    }
}

/// Lets the end `id` need `c.last`, which every way to it gives.
fn give_on_every_way_to(guide: &mut Guide, id: &str) {
    let place = guide.place(id);
    guide.steps[place].needs.insert("c.last".to_owned());
    for from in 0..guide.steps.len() {
        let exits = guide.exits(&guide.steps[from]);
        let step = &mut guide.steps[from];
        if exits.iter().any(|exit| exit.skip && exit.to == *id) {
            step.optional = false;
        }
        for (way, exit) in step.ways_mut().into_iter().zip(&exits) {
            if exit.to == *id {
                way.effects.gives.insert("c.last".to_owned());
            }
        }
    }
}
