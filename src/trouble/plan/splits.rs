//! The exact search for the cause by sure checks of fixed price: which order of checks splits the causes up soonest.
//!
//! It is the search of [`super::search`] made narrow. The causes still open, as a set, are all there is to know; what
//! they take is counted in minutes times chance, so that the parts of a split add up as they are; and checks are tried
//! from the cheapest, so that at the first whose price alone is too much the rest are done with.

use indexmap::IndexMap;

use super::budget::MOST_IN_A_ROW;
use super::hash::Spread;
use super::huffman::{first_minutes, joined};
use super::lattice::Limit;
use super::search::Known;
use crate::trouble::bits::Bits;

/// How close to the best a check must be proved worse, as a share: nearer ones are tied.
const CLEARLY: f64 = 2e-9;

/// After so many sets it is asked whether to stop.
const EVERY: usize = 4_096;

/// See the file.
pub(super) struct Splits {
    /// The chance of each class of causes at the root, from the likeliest. A set holds places in this list.
    weights: Vec<f64>,
    /// The place of each cause's class; none for one that was out at the root.
    place_of: Vec<Option<usize>>,
    /// From the cheapest.
    checks: Vec<Check>,
    /// The most outcomes that a check has.
    widest: usize,
    /// What is known of each set that was looked at; a set goes by its place here.
    known: IndexMap<Bits, Known, Spread>,
    /// How many sets were looked at.
    looked_at: usize,
    depth: usize,
    stopped: bool,
}

/// A check as the search sees it.
struct Check {
    /// Its place among the moves.
    action: usize,
    minutes: f64,
    /// For each outcome the classes under which it shows, and what it adds to the minutes.
    shows: Vec<(Bits, f64)>,
}

/// A check that is tried at a set: its price, and the sets of several classes that it leaves.
struct Tried {
    check: usize,
    price: f64,
    rest: Vec<usize>,
}

/// A check as the search is given it: its place among the moves, its minutes, its outcomes with their causes and what
/// each adds.
pub(super) struct Given<'a> {
    pub action: usize,
    pub minutes: f64,
    pub shows: Vec<(&'a Bits, f64)>,
}

impl Splits {
    /// Returns the search over causes with these chances, those in one class being told apart by no check.
    pub fn new(chances: &[f64], class_of: &[usize], given: &[Given<'_>]) -> Splits {
        let mut weights = vec![0.0; class_of.iter().max().map_or(0, |last| last + 1)];
        for (chance, class) in chances.iter().zip(class_of) {
            weights[*class] += chance;
        }
        let mut classes: Vec<usize> = (0..weights.len()).filter(|class| weights[*class] > 0.0).collect();
        classes.sort_by(|one, other| weights[*other].total_cmp(&weights[*one]));
        let place = |class: &usize| classes.iter().position(|listed| listed == class);
        let place_of: Vec<Option<usize>> = class_of.iter().map(place).collect();
        let set = |causes: &Bits| {
            let shown: Vec<usize> = causes.iter().filter_map(|cause| place_of[cause]).collect();
            Bits::of(classes.len(), |place| shown.contains(&place))
        };
        let check = |given: &Given<'_>| Check {
            action: given.action,
            minutes: given.minutes,
            shows: given.shows.iter().map(|(causes, adds)| (set(causes), *adds)).collect(),
        };
        let mut checks: Vec<Check> = given.iter().map(check).collect();
        checks.sort_by(|one, other| one.minutes.total_cmp(&other.minutes));
        let widest = checks.iter().map(|check| check.shows.len()).max().unwrap_or(2).max(2);
        Splits {
            weights: classes.iter().map(|class| weights[*class]).collect(),
            place_of,
            checks,
            widest,
            known: IndexMap::default(),
            looked_at: 0,
            depth: 0,
            stopped: false,
        }
    }

    /// Finds out the minutes from a set of causes: exactly, or that they are no fewer than `limit`; less where it was
    /// stopped. Returns also how many sets were looked at.
    pub fn value(&mut self, possible: &Bits, minutes: f64, limit: &Limit<'_>) -> (Known, usize) {
        let places: Vec<usize> = possible.iter().filter_map(|cause| self.place_of[cause]).collect();
        let set = Bits::of(self.weights.len(), |place| places.contains(&place));
        let mass = self.mass(&set);
        (self.looked_at, self.stopped) = (0, limit.most == 0);
        let set = self.glance(set, limit);
        let found = self.search(set, minutes * mass, limit);
        let known = Known { low: found.low / mass, high: found.high / mass, action: found.action };
        (known, self.looked_at)
    }

    /// As [`Splits::value`], in minutes times chance.
    fn search(&mut self, place: usize, most: f64, limit: &Limit<'_>) -> Known {
        let known = self.known[place];
        if known.is_settled() || known.low >= most || self.stopped || self.depth >= MOST_IN_A_ROW {
            return known;
        }
        let Some((set, _)) = self.known.get_index(place) else { return known };
        let set = set.clone();
        let mass = self.mass(&set);
        let mut best = Known { low: f64::INFINITY, ..known };
        let mut open = Vec::new();
        for check in 0..self.checks.len() {
            let price = self.checks[check].minutes * mass;
            // The checks that follow are dearer still.
            if price >= most.min(clearly_over(best.high)) {
                best.low = best.low.min(price);
                break;
            }
            let Some(tried) = self.tried(check, &set, mass, limit) else { continue };
            let (low, high) = self.sums(&tried);
            match low < high {
                true => open.push((low, tried)),
                false => best.offer(low, high, self.checks[check].action),
            }
        }
        open.sort_by(|(one, _), (other, _)| one.total_cmp(other));
        self.depth += 1;
        for (_, tried) in open {
            self.pursue(&tried, most.min(clearly_over(best.high)), limit);
            let (low, high) = self.sums(&tried);
            best.offer(low, high, self.checks[tried.check].action);
        }
        self.depth -= 1;
        best.low = best.low.min(best.high).max(known.low);
        self.known[place] = best;
        best
    }

    /// Finds out what a check takes, or that it is no less than `most`.
    fn pursue(&mut self, tried: &Tried, most: f64, limit: &Limit<'_>) {
        for set in &tried.rest {
            let (low, _) = self.sums(tried);
            if low >= most {
                return;
            }
            self.search(*set, most - low + self.known[*set].low, limit);
        }
    }

    /// Returns what a check takes at least and at most, by what is known of the sets that it leaves.
    fn sums(&self, tried: &Tried) -> (f64, f64) {
        tried
            .rest
            .iter()
            .map(|set| self.known[*set])
            .fold((tried.price, tried.price), |(low, high), known| (low + known.low, high + known.high))
    }

    /// Returns a check with the sets that it leaves, the largest first, each looked at; none if it leaves all that
    /// there was.
    fn tried(&mut self, check: usize, set: &Bits, mass: f64, limit: &Limit<'_>) -> Option<Tried> {
        let Check { minutes, shows, .. } = &self.checks[check];
        let mut price = minutes * mass;
        let mut left = Vec::with_capacity(shows.len());
        let mut outcomes = 0;
        for (shows, adds) in shows {
            let count = shows.count_in(set);
            outcomes += usize::from(count > 0);
            if *adds > 0.0 && count > 0 {
                price += adds * self.mass(&shows.and(set));
            }
            if count > 1 {
                left.push((count, shows.and(set)));
            }
        }
        if outcomes < 2 {
            return None;
        }
        left.sort_by_key(|(count, _)| std::cmp::Reverse(*count));
        let rest = left.into_iter().map(|(_, set)| self.glance(set, limit)).collect();
        Some(Tried { check, price, rest })
    }

    /// Looks at a set without a search, and returns its place.
    fn glance(&mut self, set: Bits, limit: &Limit<'_>) -> usize {
        if let Some(place) = self.known.get_index_of(&set) {
            return place;
        }
        self.looked_at += 1;
        self.stopped |= self.looked_at >= limit.most;
        if self.looked_at.is_multiple_of(EVERY) {
            self.stopped |= limit.stop.is_some_and(|stop| stop());
        }
        let known = self.at_first(&set);
        self.known.insert_full(set, known).0
    }

    /// Returns a bound on a set's minutes times chance, the Huffman bound of section 8 of the definition; a pair is
    /// known exactly, if nothing is added: the cheapest check that tells it apart.
    fn at_first(&self, set: &Bits) -> Known {
        let splitting = || (0..self.checks.len()).filter(|check| self.splits(*check, set));
        let Some(cheapest) = splitting().next() else { return Known { low: 0.0, high: 0.0, action: None } };
        let mut chances: Vec<f64> = set.iter().map(|place| self.weights[place]).collect();
        let mass: f64 = chances.iter().sum();
        let check = &self.checks[cheapest];
        if chances.len() == 2 && check.shows.iter().all(|(_, adds)| *adds == 0.0) {
            let minutes = mass * check.minutes;
            return Known { low: minutes, high: minutes, action: Some(check.action) };
        }
        chances.reverse();
        let checks = joined(&chances, self.widest) / mass;
        let low = mass * first_minutes(checks, splitting().map(|check| self.checks[check].minutes));
        Known { low, high: f64::INFINITY, action: None }
    }

    fn splits(&self, check: usize, set: &Bits) -> bool {
        self.checks[check].shows.iter().any(|(shows, _)| shows.splits(set))
    }

    fn mass(&self, set: &Bits) -> f64 {
        set.iter().map(|place| self.weights[place]).sum()
    }
}

fn clearly_over(minutes: f64) -> f64 {
    minutes * (1.0 + CLEARLY)
}
