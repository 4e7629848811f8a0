//! A rehearsal that is written in its guide: played, and held against what must come of it.

use std::collections::{BTreeMap, VecDeque};
use std::sync::Arc;

use super::Move;
use super::player::Player;
use super::reading::reading;
use crate::check::proofs;
use crate::finding::plain_text::cleaned;
use crate::finding::{Code, Finding};
use crate::guide::document::KitValue;
use crate::guide::{Arrival, EndKind, Guide, Kind, Label, Rehearsal, Reply, StepIdx};
use crate::reckon::Data;
use crate::walk::{Leave, Phase};

/// How often a walk may come to the same step before it counts as going round.
const TIMES: usize = 100;

/// What came of a rehearsal.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// What was said, and what came of it.
    pub moves: Vec<Move>,
    /// The step at which it stopped.
    pub at: StepIdx,
    /// What it must come to, in words.
    pub expected: String,
    /// What it came to, in words.
    pub came: String,
    /// Whether that is what it must come to.
    pub holds: bool,
}

/// Plays a rehearsal of a guide without errors.
///
/// At a step that the rehearsal does not name, or not that often, the walk goes on as where nothing is amiss: it is
/// done, ready, all true; a reading is the guide's own number or in the middle of its limits; a sum comes to what it
/// comes to; a question gets the first answer that leads on.
///
/// ```
/// use std::sync::Arc;
/// use stepjig::finding::Source;
/// use stepjig::guide::Library;
/// use stepjig::reckon::Data;
/// use stepjig::walk::rehearse::rehearse;
///
/// let text = r#"
/// stepjig = 1
/// [guide]
/// id = "look"
/// title = "Look"
/// [[step]]
/// id = "face"
/// ask = "What does the face show?"
/// answers = [{ say = "bare brass" }, { say = "a split", to = "lost" }]
/// [[step]]
/// id = "end"
/// end = "finished"
/// [[step]]
/// id = "lost"
/// end = "scrap"
/// [[rehearsal]]
/// title = "A split blank is lost"
/// answers = { face = "a split" }
/// arrives = "scrap"
/// "#;
/// let guide = Library::empty().link(&Source::new("look.toml", text)).guide.unwrap();
/// let outcome = rehearse(&guide, &guide.rehearsals()[0], &Arc::new(Data::shipped()));
/// assert!(outcome.holds, "{}", outcome.came);
/// ```
pub fn rehearse(guide: &Guide, rehearsal: &Rehearsal, data: &Arc<Data>) -> Outcome {
    let mut guide = guide.leaving_out(&rehearsal.leaves_out);
    for (path, value) in &rehearsal.numbers {
        // That the guide has the number was looked at when it was linked.
        let _ = guide.set_number(path, KitValue::Text(value.clone()));
    }
    let stage = Stage { rehearsal, said: replies(rehearsal), times: BTreeMap::new() };
    let (player, mut came) = stage.play(Player::new(&guide, data));
    // What was left out may be wanted from so early on that the walk picks up again before the step that notices.
    if matches!(came.came, Came::Round | Came::Stuck) && !rehearsal.leaves_out.is_empty() {
        came.came = lacking(&guide).unwrap_or(came.came);
    }
    let at = if let Came::Unmet(step, _) = came.came { step } else { player.here() };
    let (came, holds) = came.told(&guide, &player, rehearsal);
    let expected = cleaned(expected(&guide, rehearsal));
    Outcome { at, moves: player.moves, expected, came: cleaned(came), holds }
}

fn replies(rehearsal: &Rehearsal) -> BTreeMap<StepIdx, VecDeque<Reply>> {
    rehearsal.replies.iter().map(|(step, said)| (*step, said.iter().cloned().collect())).collect()
}

/// Returns the first step that `check` finds to be come to without what it needs.
fn lacking(guide: &Guide) -> Option<Came> {
    let findings = proofs(guide);
    let unmet = findings.iter().filter(|finding| matches!(finding.code, Code::NeedUnmet | Code::NeverGiven));
    let step = |finding: &Finding| Some((guide.step_of_id(finding.step.as_deref()?)?, finding.condition.clone()?));
    unmet.filter_map(step).min_by_key(|(step, _)| *step).map(|(step, need)| Came::Unmet(step, need))
}

/// How a rehearsal stopped.
enum Came {
    /// The walk is over, or where it was to arrive.
    There,
    /// A step was come to without what it needs.
    Unmet(StepIdx, String),
    /// Nothing that can be said leads on from here.
    Stuck,
    /// The walk comes to the same step again and again.
    Round,
}

struct Stage<'r> {
    rehearsal: &'r Rehearsal,
    said: BTreeMap<StepIdx, VecDeque<Reply>>,
    /// How often each step was come to.
    times: BTreeMap<StepIdx, usize>,
}

impl Stage<'_> {
    fn play<'g>(mut self, mut player: Player<'g>) -> (Player<'g>, Stopped) {
        loop {
            if let Some((step, need)) = unmet(&player) {
                return (player, Stopped { came: Came::Unmet(step, need), unsaid: self.unsaid() });
            }
            let here = player.here();
            let is_there =
                self.rehearsal.arrives.is_some_and(|arrives| arrived(arrives, &player)) && self.unsaid().is_none();
            if *player.phase() == Phase::Ended || is_there && self.rehearsal.finding.is_none() {
                return (player, Stopped { came: Came::There, unsaid: self.unsaid() });
            }
            let times = self.times.entry(here).or_default();
            *times += 1;
            let came = match *times > TIMES {
                true => Some(Came::Round),
                false => (!self.say(&mut player)).then_some(Came::Stuck),
            };
            if let Some(came) = came {
                return (player, Stopped { came, unsaid: self.unsaid() });
            }
        }
    }

    /// Returns a step at which something is still to be said.
    fn unsaid(&self) -> Option<StepIdx> {
        self.said.iter().find(|(_, said)| !said.is_empty()).map(|(step, _)| *step)
    }

    fn take(&mut self, step: StepIdx, fits: impl Fn(&Reply) -> bool) -> Option<Reply> {
        let said = self.said.get_mut(&step)?;
        said.front().is_some_and(fits).then(|| said.pop_front()).flatten()
    }

    /// Says the next thing; tells whether there is one.
    fn say(&mut self, player: &mut Player<'_>) -> bool {
        let here = player.here();
        if let Some(Reply::Trouble(lost)) = self.take(here, |reply| matches!(reply, Reply::Trouble(_))) {
            player.call_trouble(&lost);
            return true;
        }
        if self.rehearsal.leaves_out.contains(&here) {
            return player.leave(Leave::Skip);
        }
        match *player.phase() {
            Phase::Hold => {
                match self.take(here, |reply| matches!(reply, Reply::No(_))) {
                    Some(Reply::No(conditions)) => player.deny(&conditions),
                    _ if matches!(self.said.get(&here).and_then(VecDeque::front), Some(Reply::Skip)) => {
                        self.take(here, |_| true);
                        return player.leave(Leave::Skip);
                    }
                    _ => return player.get_to_work(),
                }
                true
            }
            Phase::Waiting(wait) => {
                let reply = self.take(wait, |reply| matches!(reply, Reply::Ready | Reply::NotReady));
                player.look(wait, reply != Some(Reply::NotReady));
                true
            }
            Phase::At | Phase::Open => self.answer(player),
            Phase::Ended => false,
        }
    }

    fn answer(&mut self, player: &mut Player<'_>) -> bool {
        let (guide, here) = (player.guide(), player.here());
        // A wait that runs meanwhile is answered at the step that waits for it.
        let meanwhile = matches!(&guide.step(here).kind, Kind::Wait(pause) if pause.meanwhile);
        let reply = self.take(here, |reply| !meanwhile || !matches!(reply, Reply::Ready | Reply::NotReady));
        match reply {
            Some(Reply::Answer(n)) => player.leave(Leave::Answer(n)),
            Some(Reply::Reading { said, value }) => player.leave(Leave::Reading { said, value }),
            Some(Reply::Verdict(verdict)) => player.leave(Leave::Verdict(verdict)),
            Some(Reply::Values(values)) => {
                player.give(&values);
                true
            }
            Some(Reply::Ready) => player.leave(Leave::Ready),
            Some(Reply::NotReady) => player.leave(Leave::NotReady),
            Some(Reply::Skip) => player.leave(Leave::Skip),
            Some(Reply::Done | Reply::No(_) | Reply::Trouble(_)) | None => match &guide.step(here).kind {
                Kind::Reckon { .. } => player.leave(player.verdict()),
                Kind::Gauge { .. } => match reading(guide, player.state(), here, &Label::Within) {
                    Some((said, value)) => player.leave(Leave::Reading { said, value }),
                    None => false,
                },
                _ => guide.goes_on(here).is_some_and(|way| player.leave_by(guide.way(way))),
            },
        }
    }
}

/// How a rehearsal stopped, and a step at which something was still to be said.
struct Stopped {
    came: Came,
    unsaid: Option<StepIdx>,
}

impl Stopped {
    /// Returns what it came to in words, and whether that is what it must come to.
    fn told(self, guide: &Guide, player: &Player<'_>, rehearsal: &Rehearsal) -> (String, bool) {
        let id = |step: StepIdx| &*guide.step(step).id;
        let here = player.here();
        match self.came {
            Came::Unmet(step, need) => {
                let is_there = !matches!(rehearsal.arrives, Some(Arrival::At(at)) if at != step);
                (
                    format!("need-unmet: `{}` is come to without `{need}`", id(step)),
                    rehearsal.finding.is_some() && is_there,
                )
            }
            Came::Stuck => (format!("nothing that can be said leads on from `{}`", id(here)), false),
            Came::Round => (format!("it comes to `{}` again and again", id(here)), false),
            Came::There => {
                let end = match guide.step(here).kind {
                    Kind::End(end) => format!("it ends at `{}`, {}", id(here), end_said(end)),
                    _ => format!("it arrives at `{}`", id(here)),
                };
                let is_there = match (rehearsal.arrives, &guide.step(here).kind) {
                    (Some(Arrival::End(wanted)), Kind::End(end)) => wanted == *end,
                    (Some(arrives), _) => arrived(arrives, player),
                    (None, _) => false,
                };
                match self.unsaid {
                    Some(step) if rehearsal.finding.is_none() => {
                        (format!("{end}, and what was to be said at `{}` was never asked for", id(step)), false)
                    }
                    _ => (end, is_there && rehearsal.finding.is_none()),
                }
            }
        }
    }
}

/// Tells whether a walk has just come to a step, or through it: a run is gone through to the first step in it.
fn arrived(arrives: Arrival, player: &Player<'_>) -> bool {
    let Arrival::At(step) = arrives else { return false };
    player.here() == step || player.gone_through().contains(&step)
}

fn expected(guide: &Guide, rehearsal: &Rehearsal) -> String {
    let at = match rehearsal.arrives {
        Some(Arrival::At(step)) => Some(format!("`{}`", guide.step(step).id)),
        Some(Arrival::End(end)) => Some(format!("an end, {}", end_said(end))),
        None => None,
    };
    match (rehearsal.finding, at) {
        (Some(code), Some(at)) => format!("{code} at {at}"),
        (Some(code), None) => code.to_string(),
        (None, Some(at)) => format!("it arrives at {at}"),
        (None, None) => "nothing".to_owned(),
    }
}

fn end_said(end: EndKind) -> &'static str {
    match end {
        EndKind::Finished => "finished",
        EndKind::Scrap => "scrap",
        EndKind::NotFixed => "not put right",
    }
}

/// Returns a step that has just been come to without what it needs, and the need.
fn unmet(player: &Player<'_>) -> Option<(StepIdx, String)> {
    let (guide, held) = (player.guide(), &player.state().held);
    player.gone_through().into_iter().find_map(|step| {
        let need = guide.step(step).needs.iter().find(|need| !held.contains(need.condition))?;
        Some((step, guide.name(need.condition).to_owned()))
    })
}
