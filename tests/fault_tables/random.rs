//! Made-up tables: noise, certainty, checks that lose or fix, zero costs, zero weights.

use stepjig::trouble::problem::{
    ByCause, CauseDraft, CheckDraft, Draft, Effect, Goal, OutcomeDraft, RemedyDraft, StartOverDraft,
};

/// A small generator of numbers (SplitMix64), the same on every machine.
pub struct Dice(pub u64);

impl Dice {
    fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from 0 to below 1.
    pub fn share(&mut self) -> f64 {
        (self.roll() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn chance(&mut self, percent: u64) -> bool {
        self.roll() % 100 < percent
    }

    /// A number from `least` to `most`, both of them possible.
    pub fn within(&mut self, least: usize, most: usize) -> usize {
        least + (self.roll() % (most - least + 1) as u64) as usize
    }
}

/// How large and of what kind a made-up table is.
#[derive(Debug, Clone, Copy)]
pub struct Size {
    pub causes: usize,
    pub checks: usize,
    pub remedies: usize,
    pub sure: bool,
}

/// A small table with all that a table may have.
pub fn small(seed: u64, goal: Goal) -> Draft {
    let mut dice = Dice(seed);
    let size = Size {
        causes: dice.within(1, 4),
        checks: dice.within(0, 3),
        remedies: dice.within(0, 3),
        sure: dice.chance(30),
    };
    table(&mut dice, size, goal)
}

pub fn table(dice: &mut Dice, size: Size, goal: Goal) -> Draft {
    let ids: Vec<String> = (0..size.causes).map(|n| format!("cause-{n}")).collect();
    let mut causes: Vec<CauseDraft> = ids
        .iter()
        .map(|id| CauseDraft { id: id.clone(), weight: if dice.chance(15) { 0.0 } else { dice.within(1, 20) as f64 } })
        .collect();
    causes[0].weight += 1.0;
    let checks = (0..size.checks).map(|n| check(dice, n, &ids, size.sure)).collect();
    let remedies = (0..size.remedies).map(|n| remedy(dice, n, &ids, size.sure)).collect();
    let again = if dice.chance(50) { by_cause(&ids, |_| dice.within(0, 30) as f64) } else { Vec::new() };
    let minutes = if dice.chance(5) { 0.0 } else { dice.within(5, 60) as f64 };
    let after = if dice.chance(30) { dice.within(0, 10) as f64 } else { 0.0 };
    Draft { goal, causes, checks, remedies, start_over: Some(StartOverDraft { minutes, after, again }) }
}

fn minutes(dice: &mut Dice, most: usize) -> f64 {
    if dice.chance(12) { 0.0 } else { dice.within(1, 4 * most) as f64 / 4.0 }
}

fn by_cause(ids: &[String], mut number: impl FnMut(usize) -> f64) -> ByCause {
    ids.iter().enumerate().map(|(n, id)| (id.clone(), number(n))).collect()
}

fn check(dice: &mut Dice, n: usize, ids: &[String], sure: bool) -> CheckDraft {
    let outcomes = dice.within(2, 3);
    let rows: Vec<Vec<f64>> = ids.iter().map(|_| row(dice, outcomes, sure)).collect();
    let effect = |dice: &mut Dice, outcome: usize| match outcome {
        0 => Effect::Continue,
        _ if dice.chance(15) => Effect::Lost,
        _ if dice.chance(15) => Effect::Fixed,
        _ => Effect::Continue,
    };
    let outcomes = (0..outcomes)
        .map(|outcome| OutcomeDraft {
            label: format!("shows {outcome}"),
            effect: effect(dice, outcome),
            after: if dice.chance(15) { dice.within(0, 5) as f64 } else { 0.0 },
            chance: by_cause(ids, |cause| rows[cause][outcome]),
        })
        .collect();
    CheckDraft { id: format!("check-{n}"), minutes: minutes(dice, 6), outcomes }
}

/// Chances in sixteenths, so that they sum to 1 to the bit.
fn row(dice: &mut Dice, outcomes: usize, sure: bool) -> Vec<f64> {
    let mut row = vec![0.0; outcomes];
    if sure || dice.chance(30) {
        row[dice.within(0, outcomes - 1)] = 1.0;
        return row;
    }
    for _ in 0..16 {
        row[dice.within(0, outcomes - 1)] += 1.0 / 16.0;
    }
    row
}

fn remedy(dice: &mut Dice, n: usize, ids: &[String], sure: bool) -> RemedyDraft {
    let rows: Vec<Vec<f64>> = ids
        .iter()
        .map(|_| match () {
            () if sure || dice.chance(40) => {
                if dice.chance(50) {
                    vec![1.0, 0.0, 0.0]
                } else {
                    vec![0.0, 1.0, 0.0]
                }
            }
            () => row(dice, 3, false),
        })
        .collect();
    let can_lose = dice.chance(50);
    RemedyDraft {
        id: format!("remedy-{n}"),
        minutes: minutes(dice, 20),
        cures: by_cause(ids, |cause| rows[cause][0]),
        loses: by_cause(ids, |cause| if can_lose { rows[cause][2] } else { 0.0 }),
        after_fixed: if dice.chance(20) { dice.within(0, 10) as f64 } else { 0.0 },
        after_lost: if dice.chance(20) { dice.within(0, 10) as f64 } else { 0.0 },
    }
}
