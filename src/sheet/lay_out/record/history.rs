//! What happened to a pen, from its events: what was taken back is not in it.

use jiff::Timestamp;

use crate::guide::{Condition, ConditionSet, Guide, Kind, StepIdx};
use crate::walk::trouble::TroubleEvent;
use crate::walk::{Event, Leave, State, Visit, Walk, Wanted};

/// Something that happened, and when.
pub(super) struct Entry {
    pub(super) at: Timestamp,
    /// The step at which it happened.
    pub(super) step: StepIdx,
    /// What the step said then.
    pub(super) title: String,
    pub(super) what: What,
}

/// What happened.
pub(super) enum What {
    Done,
    Skipped,
    Answered(String),
    Read {
        said: String,
        limits: String,
        beyond: bool,
    },
    Reckoned {
        verdict: String,
        told: Vec<String>,
    },
    /// A wait is begun that runs while work goes on.
    WaitBegun,
    Waited {
        ready: bool,
    },
    /// At a hold something was not true.
    Refused {
        needs: Vec<String>,
        after: After,
    },
    /// Somebody said what was no longer true.
    LostByHand {
        lost: Vec<String>,
        after: After,
    },
    Number {
        path: String,
        value: String,
    },
    Trouble(TroubleEvent),
    /// A fault table is over.
    TroubleOver(After),
}

impl What {
    /// Returns in a word or a few what was said or done.
    pub(super) fn short(&self) -> String {
        match self {
            What::Done => "done".to_owned(),
            What::Skipped => "left out".to_owned(),
            What::Answered(answer) => format!("“{answer}”"),
            What::Read { said, .. } => said.clone(),
            What::Reckoned { verdict, .. } => verdict.replace('-', " "),
            What::WaitBegun => "begun".to_owned(),
            What::Waited { ready: true } => "over".to_owned(),
            What::Waited { ready: false } => "not over yet".to_owned(),
            What::Refused { needs, .. } => format!("not true: {}", needs.join("; ")),
            What::LostByHand { lost, .. } if lost.is_empty() => "trouble".to_owned(),
            What::LostByHand { lost, .. } => format!("no longer true: {}", lost.join("; ")),
            What::Number { path, value } => format!("{path} is {value}"),
            What::Trouble(_) | What::TroubleOver(_) => "trouble".to_owned(),
        }
    }
}

/// How things stood after it.
pub(super) struct After {
    /// What was true before it and is not any more.
    pub(super) undone: Vec<String>,
    /// Where the pen is picked up again.
    pub(super) picked_up: String,
}

/// What happened to a pen.
#[derive(Default)]
pub(super) struct History {
    pub(super) entries: Vec<Entry>,
    /// What was taken back by `back`: when, and each entry.
    pub(super) taken_back: Vec<(Timestamp, Entry)>,
    pub(super) notes: Vec<(Timestamp, String)>,
    /// Parts that were borrowed and are settled: when, the part, where it came from.
    pub(super) settled: Vec<(Timestamp, String, String)>,
    pub(super) began: Option<Timestamp>,
    pub(super) last: Option<Timestamp>,
}

/// Follows a walk through its events.
pub(super) fn history(mut walk: Walk<'_>, events: &[Event]) -> History {
    let mut history = History::default();
    // How many entries there were before each slip that `back` can take back whole.
    let mut before_slips: Vec<usize> = Vec::new();
    let mut at_trouble: Option<ConditionSet> = None;
    for event in events {
        history.began = history.began.or(Some(event.at()));
        history.last = Some(event.at());
        let before = Before::of(&walk);
        let was = history.entries.len();
        // The sign of a wait is looked at from another step.
        let step = match event {
            Event::Looked { wait, .. } => walk.guide().step_of_id(wait).unwrap_or(before.here),
            _ => before.here,
        };
        let told = Told { title: walk.title(step), event, before: &before };
        let entry = told.what(&walk);
        walk.take(event);
        match event {
            Event::Back { .. } if before.slips > 0 => {
                let slip = history.entries.split_off(before_slips.pop().unwrap_or(was).min(was));
                history.taken_back.extend(slip.into_iter().map(|entry| (event.at(), entry)));
            }
            Event::Back { .. } => history.take_back(before.last.as_ref(), event.at()),
            Event::Note { text, at } => history.notes.push((*at, text.clone())),
            Event::Settled { part, kit, at } => history.settled.push((*at, part.clone(), kit.clone())),
            _ => {}
        }
        if let Some(what) = entry {
            let what = told.with_after(what, &walk);
            history.entries.push(Entry { at: event.at(), step, title: told.title, what });
        }
        if let Event::InTrouble { .. } = event {
            let is_open = walk.state().trouble.is_some();
            if is_open {
                at_trouble.get_or_insert(before.lasting.clone());
            } else if let Some(lasting) = at_trouble.take() {
                let what = What::TroubleOver(After::of(&walk, &lasting));
                history.entries.push(Entry { at: event.at(), step: before.here, title: String::new(), what });
            }
        } else if walk.state().trouble.is_none() {
            at_trouble = None;
        }
        match event {
            Event::Denied { .. }
            | Event::Looked { ready: false, .. }
            | Event::Trouble { .. }
            | Event::Number { .. } => {
                before_slips = vec![was];
            }
            Event::InTrouble { what: TroubleEvent::Opened { .. }, .. } => before_slips = vec![was],
            Event::InTrouble { .. } if before_slips.len() < slips(walk.state()) => before_slips.push(was),
            _ => {}
        }
        before_slips.truncate(slips(walk.state()));
    }
    history
}

impl History {
    /// Takes the last entry of a step out that was left by a way.
    fn take_back(&mut self, visit: Option<&Visit>, at: Timestamp) {
        let Some(visit) = visit else { return };
        let left = |entry: &Entry| {
            let is_left = !matches!(
                entry.what,
                What::Refused { .. }
                    | What::LostByHand { .. }
                    | What::Number { .. }
                    | What::Trouble(_)
                    | What::TroubleOver(_)
            );
            is_left && entry.step == visit.step
        };
        if let Some(place) = self.entries.iter().rposition(left) {
            let entry = self.entries.remove(place);
            self.taken_back.push((at, entry));
        }
    }
}

/// Returns how many slips `back` could take back, one after the other.
fn slips(state: &State) -> usize {
    std::iter::successors(state.before_slip.as_deref(), |before| before.before_slip.as_deref()).count()
}

/// How things stood before an event.
struct Before {
    here: StepIdx,
    slips: usize,
    last: Option<Visit>,
    lasting: ConditionSet,
}

impl Before {
    fn of(walk: &Walk<'_>) -> Before {
        let state = walk.state();
        let last = state.visits.last().cloned();
        Before { here: state.here, slips: slips(state), last, lasting: state.lasting(walk.guide()) }
    }
}

/// An event, and what is told of it.
struct Told<'e> {
    title: String,
    event: &'e Event,
    before: &'e Before,
}

impl Told<'_> {
    /// Returns what happened, before it is applied; none where it is nothing to tell, or changes nothing.
    fn what(&self, walk: &Walk<'_>) -> Option<What> {
        let guide = walk.guide();
        let said = |names: &mut dyn Iterator<Item = &String>| -> Vec<String> {
            names.filter_map(|name| Some(guide.said(guide.condition(name)?))).collect()
        };
        let nothing = || After { undone: Vec::new(), picked_up: String::new() };
        match self.event {
            Event::Left { step, by, .. } if *guide.step(self.before.here).id == **step => {
                left(walk, self.before.here, by)
            }
            Event::Looked { ready, .. } => Some(What::Waited { ready: *ready }),
            Event::Denied { condition, also, .. } => {
                let needs = said(&mut std::iter::once(condition).chain(also));
                Some(What::Refused { needs, after: nothing() })
            }
            Event::Trouble { lost, .. } => Some(What::LostByHand { lost: said(&mut lost.iter()), after: nothing() }),
            Event::Number { path, value, .. } => Some(What::Number { path: path.clone(), value: value.clone() }),
            Event::InTrouble { what: TroubleEvent::InRemedy(_), .. } => None,
            Event::InTrouble { what, .. } => Some(What::Trouble(what.clone())),
            _ => None,
        }
    }

    /// Returns what happened with how things stand after it.
    fn with_after(&self, what: What, walk: &Walk<'_>) -> What {
        let after = || After::of(walk, &self.before.lasting);
        match what {
            What::Refused { needs, .. } => What::Refused { needs, after: after() },
            What::LostByHand { lost, .. } => What::LostByHand { lost, after: after() },
            other => other,
        }
    }
}

impl After {
    fn of(walk: &Walk<'_>, before: &ConditionSet) -> After {
        let (guide, now) = (walk.guide(), walk.state().lasting(walk.guide()));
        let gone = before.iter().filter(|condition| !now.contains(*condition) && !is_reading(guide, *condition));
        After {
            undone: gone.map(|condition| guide.said(condition)).collect(),
            picked_up: walk.title(walk.state().here),
        }
    }
}

fn is_reading(guide: &Guide, condition: Condition) -> bool {
    guide.name(condition).starts_with("read.")
}

fn left(walk: &Walk<'_>, here: StepIdx, by: &Leave) -> Option<What> {
    let (guide, at) = (walk.guide(), walk.state().clock);
    let step = guide.step(here);
    Some(match by {
        Leave::Then => match &step.kind {
            Kind::Run | Kind::Return { .. } | Kind::End(_) => return None,
            Kind::Wait(_) => What::WaitBegun,
            _ => What::Done,
        },
        Leave::Skip => What::Skipped,
        Leave::Answer(n) => {
            let answers = guide.ways_out(here).iter().filter_map(|way| match &way.label {
                crate::guide::Label::Answer(say) => Some(say),
                _ => None,
            });
            What::Answered(walk.state().say(guide, answers.clone().nth(*n)?))
        }
        Leave::Reading { said, value } => {
            let limits = match walk.scene(at).wanted {
                Wanted::Reading { limits, .. } => limits,
                _ => String::new(),
            };
            What::Read { said: said.clone(), limits, beyond: walk.is_beyond(*value) }
        }
        Leave::Ready => What::Waited { ready: true },
        Leave::NotReady => What::Waited { ready: false },
        Leave::Verdict(verdict) => {
            let told = walk.scene(at).sum;
            // Other figures than those of that day may come to another verdict: then only that one is told.
            let is_the_same = told.first().is_some_and(|first| first.starts_with(&verdict.replace('-', " ")));
            What::Reckoned { verdict: verdict.clone(), told: if is_the_same { told } else { Vec::new() } }
        }
    })
}
