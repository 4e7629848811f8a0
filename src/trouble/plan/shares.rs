//! How the regrets of the actions are dealt out to the pairs of causes, see [`super::pairs`]. Good shares put a cost
//! where it decides something.

use super::moves::{Move, Onward};
use super::pairs::Whole;

/// See the file.
pub(super) struct Shares {
    causes: usize,
    /// For each action, cause and other cause the share of the pair in the action's regret under the cause.
    of: Vec<Vec<f64>>,
    /// How much each check brings the regret of each pair down on its own.
    gains: Vec<Vec<f64>>,
}

impl Shares {
    pub fn new(whole: &Whole<'_>) -> Shares {
        let causes = whole.belief.len();
        let mut shares =
            Shares { causes, of: vec![Vec::new(); whole.moves.len()], gains: vec![Vec::new(); whole.moves.len()] };
        let regrets = Regrets::new(whole);
        // A remedy's regret goes to the pairs with those causes that it is good for.
        for (action, chosen) in whole.moves.iter().enumerate().filter(|(_, chosen)| chosen.fixes()) {
            let regret = |cause: usize| regrets.of[action][cause].max(0.0);
            let good = |cause: usize| whole.belief[cause] * (1.0 - chosen.goes_on(cause)).max(0.0);
            shares.of[action] = shares.dealt(|_, other| good(other) / (1.0 + regret(other)));
        }
        // A check's regret, its price, goes to the pairs that it helps to tell apart.
        for (action, chosen) in whole.moves.iter().enumerate().filter(|(_, chosen)| !chosen.fixes()) {
            let gains = shares.gains(whole, &regrets, chosen);
            shares.of[action] = shares.dealt(|one, other| gains[one * causes + other]);
            shares.gains[action] = gains;
        }
        shares
    }

    /// Returns by how much a check alone brings the regret of each pair down.
    fn gains(&self, whole: &Whole<'_>, regrets: &Regrets, chosen: &Move) -> Vec<f64> {
        let mut gains = vec![0.0; self.causes * self.causes];
        for one in 0..self.causes {
            for other in (one + 1..self.causes).filter(|other| chosen.tells(one, *other)) {
                let (x, y) = (whole.belief[one], whole.belief[other]);
                let before = self.unchecked(whole, regrets, (one, x), (other, y));
                let after = |onward: &Onward| {
                    let (x, y) = (x * onward.chance[one], y * onward.chance[other]);
                    self.unchecked(whole, regrets, (one, x), (other, y))
                };
                // A check that gains nothing at once may do so with others: it keeps a trace of a share.
                let gain = (before - chosen.onward.iter().map(after).sum::<f64>()).max(1e-12 * before);
                gains[one * self.causes + other] = gain;
                gains[other * self.causes + one] = gain;
            }
        }
        gains
    }

    /// Returns shares in proportion to weights, those of each cause summing to 1.
    fn dealt(&self, weight: impl Fn(usize, usize) -> f64) -> Vec<f64> {
        let mut shares = vec![0.0; self.causes * self.causes];
        for one in 0..self.causes {
            let others = || (0..self.causes).filter(|other| *other != one);
            let sum: f64 = others().map(|other| weight(one, other)).sum();
            for other in others() {
                let share = if sum > 0.0 { weight(one, other) / sum } else { 1.0 / (self.causes - 1) as f64 };
                shares[one * self.causes + other] = share;
            }
        }
        shares
    }

    /// Returns by how much a check alone brings the regret of a pair down; 0 for a remedy.
    pub fn gain(&self, action: usize, one: usize, other: usize) -> f64 {
        self.gains[action].get(one * self.causes + other).copied().unwrap_or(0.0)
    }

    pub fn share(&self, action: usize, one: usize, other: usize) -> f64 {
        self.of[action][one * self.causes + other]
    }

    pub fn share_of_over(&self) -> f64 {
        1.0 / (self.causes - 1) as f64
    }

    /// Returns about the least regret of a pair without checks.
    fn unchecked(&self, whole: &Whole<'_>, regrets: &Regrets, (one, x): (usize, f64), (other, y): (usize, f64)) -> f64 {
        let over = |cause: usize| whole.over[cause] - regrets.told[cause];
        let fixing = whole.moves.iter().enumerate().filter(|(_, chosen)| chosen.fixes());
        let regret = |(action, _): (usize, &Move)| {
            x * self.share(action, one, other) * regrets.of[action][one]
                + y * self.share(action, other, one) * regrets.of[action][other]
        };
        fixing
            .filter(|(_, chosen)| chosen.ends(one) || chosen.ends(other))
            .map(regret)
            .fold((x * over(one) + y * over(other)) * self.share_of_over(), f64::min)
    }
}

/// What the actions cost beside knowing the cause, where the search begins.
struct Regrets {
    /// What knowing each cause would cost.
    told: Vec<f64>,
    /// The regret of each action under each cause.
    of: Vec<Vec<f64>>,
}

impl Regrets {
    fn new(whole: &Whole<'_>) -> Regrets {
        let causes = whole.belief.len();
        let told: Vec<f64> = (0..causes).map(|cause| (whole.told)(cause, &|_| false)).collect();
        let regret = |action: usize, cause: usize| {
            let chosen = &whole.moves[action];
            let after = (whole.told)(cause, &|used| used == action);
            chosen.price[cause] + chosen.goes_on(cause) * after - told[cause]
        };
        let of =
            (0..whole.moves.len()).map(|action| (0..causes).map(|cause| regret(action, cause)).collect()).collect();
        Regrets { told, of }
    }
}
