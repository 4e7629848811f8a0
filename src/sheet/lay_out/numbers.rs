//! The numbers of the steps on a sheet, where a way leads among them, and how texts are said on paper.

use std::collections::{HashMap, HashSet};

use jiff::Timestamp;

use crate::finding::sentence::ended;
use crate::guide::{Condition, EndKind, Guide, Kind, Label, StepIdx};
use crate::reckon::Data;
use crate::walk::{State, Walk};

/// A guide whose steps have numbers: all but where a procedure begins and returns.
pub(super) struct Numbered<'g> {
    pub(super) guide: &'g Guide,
    state: State,
    numbers: Vec<Option<usize>>,
    /// Where each kit number is read, in order.
    read_at: HashMap<&'g str, Vec<usize>>,
    /// The numbers of the steps that give each condition, in order.
    given_at: HashMap<Condition, Vec<usize>>,
    /// The numbers on the path that is gone when nothing is amiss.
    main: HashSet<usize>,
    /// The figures by which sums are told with a pencil; none where a sheet has no sums.
    pub(super) data: Option<&'g Data>,
}

impl<'g> Numbered<'g> {
    pub(super) fn new(guide: &'g Guide) -> Numbered<'g> {
        Numbered::from(guide, 1)
    }

    /// Numbers the steps of a guide that stands on a sheet after others: its first step has the number `first`.
    pub(super) fn from(guide: &'g Guide, first: usize) -> Numbered<'g> {
        let mut count = first - 1;
        let (mut numbers, mut read_at, mut given_at) = (Vec::new(), HashMap::new(), HashMap::new());
        for (idx, step) in guide.steps() {
            count += usize::from(step.has_number());
            numbers.push(step.has_number().then_some(count));
            if let Kind::Gauge { sets: Some(path), .. } = &step.kind {
                let at: &mut Vec<usize> = read_at.entry(path.as_str()).or_default();
                at.push(count);
            }
            // What a run gives is true after its last step.
            for condition in guide.ways_out(idx).iter().flat_map(|way| &way.gives) {
                let at: &mut Vec<usize> = given_at.entry(*condition).or_default();
                if at.last() != Some(&count) {
                    at.push(count);
                }
            }
        }
        // The state of a walk that has just begun says the numbers as the guide has them.
        let state = Walk::begin(guide, Timestamp::UNIX_EPOCH).state().clone();
        let mut numbered = Numbered { guide, state, numbers, read_at, given_at, main: HashSet::new(), data: None };
        numbered.main = numbered.main_path();
        numbered
    }

    /// Tells sums with the thresholds of these figures.
    pub(super) fn with_data(self, data: &'g Data) -> Numbered<'g> {
        Numbered { data: Some(data), ..self }
    }

    /// Returns the path that is gone when nothing is amiss: at each step the first way that leads on.
    fn main_path(&self) -> HashSet<usize> {
        let mut main = HashSet::new();
        let mut here = self.guide.steps().next().map(|(idx, _)| idx);
        let mut number = self.numbers.iter().flatten().next().map_or(0, |first| first - 1);
        while let Some(idx) = here {
            number = self.number(idx).unwrap_or(number);
            main.insert(number);
            let ways = self.guide.ways_out(idx).iter().filter(|way| way.trouble.is_none());
            let leads_on = |to: &StepIdx| *to > idx && self.lands(*to).is_some_and(|lands| lands > number);
            here = ways.filter_map(|way| way.to).find(leads_on);
        }
        main
    }

    /// Tells whether a step is gone through when nothing is amiss.
    pub(super) fn is_main(&self, number: usize) -> bool {
        self.main.contains(&number)
    }

    /// Returns a step's number; none where a procedure begins or returns.
    pub(super) fn number(&self, idx: StepIdx) -> Option<usize> {
        self.numbers[idx.index()]
    }

    /// Returns the number of the step that a way to `to` comes to.
    pub(super) fn lands(&self, to: StepIdx) -> Option<usize> {
        let onward = |idx: &StepIdx| {
            let ways = self.guide.ways_out(*idx);
            ways.iter().find(|way| way.label == Label::Then).and_then(|way| way.to)
        };
        let mut met = std::iter::successors(Some(to), onward).take(self.guide.len());
        met.find_map(|idx| self.number(idx))
    }

    /// Returns the step that makes a condition true for the step of number `before`: the last one before it on the path
    /// that is gone when nothing is amiss, else the last one before it, else the first one there is.
    pub(super) fn giver(&self, condition: Condition, before: usize) -> Option<usize> {
        let at = self.given_at.get(&condition)?;
        let mut before = at.iter().rev().filter(|number| **number < before);
        let on_main = before.clone().find(|number| self.main.contains(number));
        on_main.or(before.next()).or(at.first()).copied().filter(|number| *number > 0)
    }

    /// Returns the other steps between that and `before` that make it true, on other ways.
    pub(super) fn other_givers(&self, condition: Condition, before: usize) -> Vec<usize> {
        let Some(giver) = self.giver(condition, before) else { return Vec::new() };
        let at = self.given_at.get(&condition).map_or(&[][..], Vec::as_slice);
        at.iter().copied().filter(|number| giver < *number && *number < before).collect()
    }

    /// Returns the first step from number `after` on that needs one of these conditions.
    pub(super) fn needed_at(&self, conditions: &[Condition], after: usize) -> Option<usize> {
        let needs = |idx: StepIdx| self.guide.step(idx).needs.iter().any(|need| conditions.contains(&need.condition));
        let steps = self.guide.steps().map(|(idx, _)| idx).filter(|idx| needs(*idx));
        steps.filter_map(|idx| self.lands(idx)).find(|number| *number > after)
    }

    /// Returns a text as it is read at the step of this number.
    ///
    /// On paper a reading that is taken on the way cannot be put in: the step that takes it is named.
    pub(super) fn say(&self, text: &str, at: usize) -> String {
        self.guide.say(text, |name| match (self.reading(name, at), self.state.number(self.guide, name)) {
            (Some(reading), Some(number)) if self.guide.kit().contains_key(name) => {
                // `10 mm (25/64 in)` has its brackets already.
                let (number, opened) = number.strip_suffix(')').map_or((&*number, " ("), |inner| (inner, "; "));
                Some(format!("{number}{opened}{reading} goes first)"))
            }
            (Some(reading), _) => Some(reading),
            (None, number) => number,
        })
    }

    /// Returns a text as those read it who know the guide: a reading by its step, a number as it is written.
    pub(super) fn say_short(&self, text: &str, at: usize) -> String {
        self.guide.say(text, |name| match self.reading_at(name, at) {
            Some(step) => Some(step),
            None => Some(self.state.written(self.guide, name)?.replace(' ', "\u{a0}")),
        })
    }

    /// Returns how a text is said that is nothing but one number, where that is read before the step of this number.
    pub(super) fn read_before(&self, text: &str, at: usize) -> Option<String> {
        self.reading(text.strip_prefix('{')?.strip_suffix('}')?, at)
    }

    /// Returns how a number is said that is read before the step of this number.
    fn reading(&self, name: &str, at: usize) -> Option<String> {
        Some(format!("the reading of {}", self.reading_at(name, at)?))
    }

    /// Returns the step that reads a number before the step of this number: the last that was come to, where there are
    /// several.
    fn reading_at(&self, name: &str, at: usize) -> Option<String> {
        let steps: Vec<usize> = match name.strip_prefix("read.") {
            Some(gauge) => self.guide.step_of_id(gauge).and_then(|idx| self.number(idx)).into_iter().collect(),
            None if self.guide.measured().contains(name) => Vec::new(),
            None => self.read_at.get(name)?.iter().copied().filter(|number| *number < at).collect(),
        };
        let (first, later) = steps.split_first()?;
        let later: String = later.iter().map(|step| format!(" (of step\u{a0}{step}, once that is done)")).collect();
        Some(format!("step\u{a0}{first}{later}"))
    }

    /// Returns what the step of this number says.
    pub(super) fn title(&self, idx: StepIdx, number: usize) -> String {
        let step = self.guide.step(idx);
        match &step.kind {
            Kind::End(EndKind::Finished) => "Finished: the pen is done.".to_owned(),
            Kind::End(EndKind::Scrap) => "Stop: the blank is lost. Begin again with a new one.".to_owned(),
            Kind::End(EndKind::NotFixed) => "Stop: it is not put right.".to_owned(),
            Kind::Wait(pause) => {
                let length = minutes(pause.minutes);
                match &pause.waiting_for {
                    Some(what) => ended(&format!("Wait {length}: {}", self.say(what, number))),
                    None => format!("Wait {length}."),
                }
            }
            Kind::Reckon { .. } => match crate::reckon::named(&step.text) {
                Some(reckoning) => format!("Work out {}.", reckoning.answers),
                None => format!("Work out {}.", step.text.replace('-', " ")),
            },
            _ => self.say(&step.text, number),
        }
    }
}

/// Returns minutes in words.
pub(super) fn minutes(minutes: f64) -> String {
    crate::walk::span_said(jiff::SignedDuration::from_secs((minutes * 60.0) as i64))
}
