//! What is usual for a kind of pen: the names of its pieces, its figures, its parts. All of it is only proposed.
//!
//! The figures are an invented set that hangs together; the order of pressing is common practice, no source.

use super::build::{Closes, End, Facing, Home, Tube, WayOut, Writes};
use super::question::NONE;

/// A kind of pen.
#[derive(Debug, Clone, Copy)]
pub(super) struct Style {
    /// How many tubes it has, 1 or 2.
    pub n_tubes: usize,
    /// What closes it.
    pub closes: Closes,
    /// What writes.
    pub writes: Writes,
}

/// The names that a piece of wood has, by which kind of pen it is.
pub(super) const TUBES: [&str; 5] = ["body", "cap", "lower", "upper", "barrel"];

/// The names that their ends have, after the part that stands there.
pub(super) const ENDS: [&str; 7] = ["nib", "grip", "tail", "band", "finial", "tip", "clip"];

/// A piece and one of its ends.
pub(super) type Place = (&'static str, &'static str);

/// Where a part usually goes and what it takes.
pub(super) struct Usual {
    /// Where its name and what is still free tell it.
    pub place: Option<Place>,
    pub home: Home,
    pub faces: Facing,
    pub out: WayOut,
}

impl Style {
    /// Returns its tubes with no numbers yet.
    pub fn tubes(self) -> Vec<Tube> {
        let tube = |name, near, far| Tube {
            name,
            figures: None,
            near: End { name: near, across: None },
            far: End { name: far, across: None },
        };
        let front = if self.writes == Writes::Nib { "nib" } else { "grip" };
        match (self.n_tubes, self.closes.is_cap()) {
            (1, true) => vec![tube("barrel", front, "tail")],
            (1, false) => vec![tube("barrel", "tip", "clip")],
            (_, true) => vec![tube("body", front, "tail"), tube("cap", "band", "finial")],
            (_, false) => vec![tube("lower", "band", "tip"), tube("upper", "band", "clip")],
        }
    }

    /// Returns a tube's usual outside, bit and length in mm.
    pub fn figures(self, tube: &str) -> (f64, f64, f64) {
        match tube {
            "body" => (10.34, 10.5, 54.0),
            "cap" => (12.34, 12.5, 46.0),
            "barrel" if self.closes.is_cap() => (10.34, 10.5, 60.0),
            "barrel" => (9.34, 9.5, 60.0),
            // The 7 mm of the trade is the bit's size.
            _ => (6.85, 7.0, 53.0),
        }
    }

    /// Returns how wide the rim at an end usually is, in mm: wider than the tube's bit, so that wood is left.
    pub fn across(self, end: &str, drill: f64) -> f64 {
        let wall = match end {
            "band" => 2.7,
            "finial" | "clip" => 2.0,
            _ => 2.2,
        };
        // To a tenth, as a caliper is read.
        ((drill + wall) * 10.0).round() / 10.0
    }

    /// Returns the names of the parts that are usually pressed, in order.
    pub fn parts(self) -> &'static str {
        match (self.n_tubes, self.closes, self.writes) {
            (1, Closes::ThreadedCap | Closes::PushCap, _) => "tail, coupler",
            (_, Closes::ThreadedCap, _) => "tail, coupler, thread, clip",
            (_, Closes::PushCap, _) => "tail, coupler, ring, clip",
            (1, Closes::Twist, _) => "tip, mechanism",
            (1, Closes::Click, Writes::Pencil) => "tip, clip",
            (1, Closes::Click, _) => "coupler, mechanism, clip",
            (_, Closes::Twist, _) => "tip, mechanism, clip",
            (_, Closes::Click, _) => "tip, coupler, mechanism",
        }
    }

    /// Returns the names of the loose parts that such a kit usually has: common practice, no source.
    pub fn loose(self) -> &'static str {
        match (self.closes, self.writes) {
            (_, Writes::Rollerball) | (Closes::Click, Writes::Ballpoint) => "spring",
            (Closes::Twist, _) if self.n_tubes == 2 => "band",
            _ => NONE,
        }
    }

    /// Returns what a spring and the like lies with, where no part that is pressed holds it.
    pub fn writer(self) -> &'static str {
        match self.writes {
            Writes::Nib => "the grip section",
            Writes::Rollerball | Writes::Ballpoint => "the refill",
            Writes::Pencil => "the lead's own mechanism",
        }
    }

    /// Returns where a part of this name usually goes, given where the parts before it are.
    ///
    /// Its name tells, and what is still free; where neither does, no place is named.
    pub fn usual(self, part: &str, before: &[(String, Place)]) -> Usual {
        let tubes = self.tubes();
        let (front, rear) = (&tubes[0], &tubes[tubes.len() - 1]);
        let at = |tube: &Tube, end: &End| Some((tube.name, end.name));
        let is = |words: &[&str]| part.split('-').any(|word| words.contains(&word));
        let (has_cap, has_two) = (self.closes.is_cap(), self.n_tubes == 2);
        let is_mechanism = is(&["mechanism"]);
        let is_click_in_two = has_two && self.closes == Closes::Click;
        let by_name = match () {
            () if has_cap && is(&["tail"]) => at(front, &front.far),
            () if is(&["tip"]) && has_two => at(front, &front.far),
            () if is(&["tip"]) => at(front, &front.near),
            () if is(&["coupler"]) => at(front, &front.near),
            () if has_cap && !has_two => None,
            () if is(&["clip", "finial"]) => at(rear, &rear.far),
            () if is(&["thread", "ring", "band"]) => at(rear, &rear.near).filter(|_| has_cap),
            () if is_mechanism && has_two && self.closes == Closes::Twist => at(front, &front.near),
            () if is_mechanism => at(rear, &rear.far),
            () => None,
        };
        let ends: Vec<Place> =
            tubes.iter().flat_map(|tube| [(tube.name, tube.near.name), (tube.name, tube.far.name)]).collect();
        let who = |place: Place| before.iter().find(|(_, taken)| *taken == place).map(|(name, _)| name.as_str());
        // A clip may go over a mechanism into the same end; anything else goes where nothing is yet.
        let is_over = |there: &str| is(&["clip", "finial"]) && there.contains("mechanism");
        let free: Vec<Place> = ends.into_iter().filter(|place| who(*place).is_none()).collect();
        let only_one = || free.as_slice().first().copied().filter(|_| free.len() == 1);
        let place = by_name.filter(|place| who(*place).is_none_or(is_over)).or_else(only_one);
        let is_by_name = place.is_some() && place == by_name;
        let faces = match () {
            () if part == "coupler" && self.writes == Writes::Nib => Facing::Nib,
            () if is(&["thread"]) && has_two && self.closes == Closes::ThreadedCap => Facing::Cap,
            () if is(&["clip"]) || is(&["finial"]) && is_by_name => Facing::Clip,
            // In a click pen with two tubes the clip sits on it, and the tip shows only when the halves are joined.
            () if is_mechanism && is_click_in_two => Facing::Clip,
            () => Facing::Nothing,
        };
        let home = if is_mechanism && !is_click_in_two { Home::Depth } else { Home::Rim };
        let out = if is(&["coupler"]) && has_cap { WayOut::Drawn } else { WayOut::Rod };
        Usual { place, home, faces, out }
    }

    /// Returns a title by the pen's build.
    pub fn title(self) -> String {
        let closes = match self.closes {
            Closes::ThreadedCap => "Threaded-cap",
            Closes::PushCap => "Push-cap",
            Closes::Twist => "Twist",
            Closes::Click => "Click",
        };
        let writes = match self.writes {
            Writes::Nib => "fountain pen",
            Writes::Rollerball => "rollerball",
            Writes::Ballpoint => "ballpoint",
            Writes::Pencil => "pencil",
        };
        format!("{closes} {writes}, {}", if self.n_tubes == 1 { "one tube" } else { "two tubes" })
    }

    /// Returns when a guide for such a pen is to be used.
    pub fn use_when(self) -> String {
        let tubes = if self.n_tubes == 1 { "one brass tube" } else { "two brass tubes" };
        let writes = match self.writes {
            Writes::Nib => "a fountain nib in a grip section",
            Writes::Rollerball => "a rollerball refill",
            Writes::Ballpoint => "a ballpoint refill",
            Writes::Pencil => "a pencil mechanism",
        };
        let closes = match self.closes {
            Closes::ThreadedCap => "a cap that screws on",
            Closes::PushCap => "a cap that is pushed on",
            Closes::Twist => "a twist that brings the point out",
            Closes::Click => "a knob that brings the point out",
        };
        format!("The kit has {tubes}, {writes}, {closes}; the blank is wood.")
    }
}

/// When such a guide is not to be used.
pub(super) const NOT_WHEN: &str = "The blank is acrylic or another plastic: alcohol crazes it and heat softens it.";
