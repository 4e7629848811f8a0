//! What is usual for a kind of pen: the names of its pieces, its figures, its parts. All of it is only proposed.
//!
//! The figures are an invented set that hangs together; the order of pressing is common practice, no source.

use super::build::{Closes, End, Facing, Home, Tube, WayOut, Writes};

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

/// Where a part usually goes and what it takes.
pub(super) struct Usual {
    pub tube: &'static str,
    pub end: &'static str,
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
            (1, ..) => "tip, mechanism",
            (_, Closes::Twist, _) => "tip, mechanism, clip",
            (_, Closes::Click, _) => "tip, coupler, mechanism",
        }
    }

    /// Returns where a part of this name usually goes; any other goes where nothing is yet.
    pub fn usual(self, part: &str) -> Usual {
        let tubes = self.tubes();
        let (front, rear) = (&tubes[0], &tubes[tubes.len() - 1]);
        let at = |tube: &Tube, end: &End| (tube.name, end.name);
        let is_nib = self.writes == Writes::Nib;
        let is_mechanism = part.contains("mechanism");
        let (tube, end) = match part {
            "tail" => at(front, &front.far),
            "coupler" => at(front, &front.near),
            "thread" | "ring" => at(rear, &rear.near),
            "finial" | "clip" => at(rear, &rear.far),
            "tip" if self.n_tubes == 1 => at(front, &front.near),
            "tip" => at(front, &front.far),
            _ if is_mechanism && self.n_tubes == 2 && self.closes != Closes::Click => at(front, &front.near),
            _ => at(rear, &rear.far),
        };
        let home = if is_mechanism && self.closes != Closes::Click { Home::Depth } else { Home::Rim };
        let faces = match part {
            "coupler" if is_nib => Facing::Nib,
            "thread" | "ring" if self.n_tubes == 2 && self.closes.is_cap() => Facing::Cap,
            "finial" | "clip" => Facing::Clip,
            _ if is_mechanism && self.closes == Closes::Click => Facing::Clip,
            _ => Facing::Nothing,
        };
        let out = match part {
            "coupler" => WayOut::Drawn,
            _ => WayOut::Rod,
        };
        Usual { tube, end, home, faces, out }
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
