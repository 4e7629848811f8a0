//! A computed walk, played.

use std::collections::VecDeque;
use std::sync::Arc;

use super::Move;
use super::player::Player;
use crate::check::cover::Route;
use crate::check::rejoin::onward;
use crate::guide::{Guide, StepIdx, WayIdx};
use crate::reckon::Data;
use crate::walk::Phase;

/// A computed walk as it was played.
#[derive(Debug, Clone, PartialEq)]
pub struct Played {
    /// What was said, and what came of it.
    pub moves: Vec<Move>,
    /// Where the walk stood last.
    pub at: StepIdx,
    /// The way that could not be taken; none where the walk came to its end.
    pub stuck: Option<WayIdx>,
}

/// Plays a computed walk. Where it picks up again at a step behind it, it goes from there to where it left off on the
/// shortest way.
///
/// In a guide without errors a walk is stuck only at a gauge that takes no reading for one of its ways, or where a wait
/// that runs meanwhile gives what comes and goes, or is waited for where such a thing is needed: looking for its sign lets
/// that go, and where the way back undoes the wait the step is never come to with it.
pub fn play_route(guide: &Guide, route: &Route, data: &Arc<Data>) -> Played {
    let mut player = Player::new(guide, data);
    let stuck = route.ways.iter().copied().find(|way| !take(&mut player, *way));
    let end = route.ways.last().and_then(|way| guide.way(*way).to).unwrap_or(guide.first());
    let stuck = stuck.or_else(|| route.ways.last().copied().filter(|_| !arrive(&mut player, end)));
    let at = player.here();
    Played { moves: player.moves, at, stuck }
}

/// Takes a way, from wherever the walk is: from there its step is gone to on the shortest way. Tells whether it could.
fn take(player: &mut Player<'_>, wanted: WayIdx) -> bool {
    let guide = player.guide();
    let target = guide.way(wanted).from;
    for _ in 0..=4 * guide.len() {
        // What is decided at a step that stands has still to be said.
        if player.state().passed_over.contains(&target) && guide.ways_out(target).len() > 1 {
            player.again(target);
            continue;
        }
        if has_gone(player, wanted) {
            return true;
        }
        if player.get_to_work() {
            continue;
        }
        if *player.phase() == Phase::Ended {
            return false;
        }
        let here = player.here();
        let next = if here == target { Some(wanted) } else { towards(guide, here, target) };
        if !next.is_some_and(|next| player.leave_by(guide.way(next))) {
            return false;
        }
        if here == target {
            return true;
        }
    }
    false
}

/// Comes to the end of the walk, where a wait that is looked at there has not led back; tells whether it did.
fn arrive(player: &mut Player<'_>, end: StepIdx) -> bool {
    let guide = player.guide();
    for _ in 0..=4 * guide.len() {
        if *player.phase() == Phase::Ended {
            return player.here() == end;
        }
        if player.get_to_work() {
            continue;
        }
        if !towards(guide, player.here(), end).is_some_and(|next| player.leave_by(guide.way(next))) {
            return false;
        }
    }
    false
}

/// Tells whether the walk has gone a way by itself: where a procedure begins or returns, or where a step stood.
fn has_gone(player: &Player<'_>, way: WayIdx) -> bool {
    let guide = player.guide();
    let from = guide.way(way).from;
    if player.here() == from
        || guide.way(way).trouble.is_some()
        || onward(guide, from).is_none_or(|on| !std::ptr::eq(on, guide.way(way)))
    {
        return false;
    }
    player.gone_through().contains(&from) || player.state().passed_over.contains(&from)
}

/// Returns the first way of a shortest walk from one step to another.
fn towards(guide: &Guide, from: StepIdx, target: StepIdx) -> Option<WayIdx> {
    let mut by: Vec<Option<WayIdx>> = vec![None; guide.len()];
    let mut open = VecDeque::from([from]);
    while let Some(step) = open.pop_front() {
        for way in guide.ways_out_idx(step) {
            let Some(to) = guide.way(way).to.filter(|to| by[to.index()].is_none() && *to != from) else { continue };
            by[to.index()] = Some(way);
            if to == target {
                let mut way = way;
                while guide.way(way).from != from {
                    way = by[guide.way(way).from.index()]?;
                }
                return Some(way);
            }
            open.push_back(to);
        }
    }
    None
}
