//! How a pen is built, as far as it is known: the answers in types.

use super::question::NOT_KNOWN;
use super::style::Style;
use crate::units::Length;

/// Declares choices with the words they are said in.
macro_rules! choices {
    ($(#[$doc:meta])* $name:ident { $($(#[$variant_doc:meta])* $variant:ident: $words:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $name {
            $($(#[$variant_doc])* $variant,)+
        }

        impl $name {
            /// All of them, in the order in which they are offered.
            pub const ALL: &'static [$name] = &[$($name::$variant),+];

            /// Returns the words it is said in.
            pub fn say(self) -> &'static str {
                match self {
                    $($name::$variant => $words,)+
                }
            }

            /// Returns the one that is said so.
            pub(super) fn of(words: &str) -> Option<$name> {
                $name::ALL.iter().copied().find(|choice| choice.say() == words)
            }
        }
    };
}

choices! {
    /// What closes a pen.
    Closes {
        /// A cap with a thread.
        ThreadedCap: "threaded cap",
        /// A cap that is pushed on.
        PushCap: "push cap",
        /// The rear half is turned.
        Twist: "twist",
        /// A knob is pressed.
        Click: "click",
    }
}

impl Closes {
    /// Tells whether it is a cap that comes off.
    pub fn is_cap(self) -> bool {
        matches!(self, Closes::ThreadedCap | Closes::PushCap)
    }
}

choices! {
    /// What writes.
    Writes {
        /// A fountain-pen nib.
        Nib: "nib",
        /// A rollerball refill.
        Rollerball: "rollerball",
        /// A ballpoint refill.
        Ballpoint: "ballpoint refill",
        /// A pencil's lead.
        Pencil: "pencil",
    }
}

choices! {
    /// When a part is home.
    Home {
        /// Its rim stops at the wood.
        Rim: "its rim meets the wood",
        /// Nothing stops it: it is pressed to a depth, tried as it goes.
        Depth: "at a depth, tried as it goes",
    }
}

choices! {
    /// What a part has to face.
    Facing {
        /// Nothing.
        Nothing: "nothing",
        /// The nib that it holds faces the mark.
        Nib: "the nib at the face mark",
        /// The grain of the cap runs on from the body's.
        Cap: "the cap's mark at the body's",
        /// The clip that it holds faces the mark.
        Clip: "the clip at the face mark",
    }
}

choices! {
    /// How a part comes out again that went in wrong.
    WayOut {
        /// Knocked out from the other end.
        Rod: "by a rod from the other end",
        /// Drawn by what screws into it.
        Drawn: "drawn by what screws into it",
        /// It does not come out once it is home.
        Stays: "not at all once it is home",
    }
}

choices! {
    /// Whether a rod still passes the parts that are in a piece already.
    Rod {
        /// It does.
        Passes: "yes, a thin one",
        /// It does not: what goes in now does not come out any more.
        Stopped: "no",
    }
}

choices! {
    /// What is pushed on a twist mechanism by hand, where no second tube is.
    Top {
        /// A part of the kit with a clip.
        WithClip: "a top part with its clip",
        /// A part of the kit without.
        Plain: "a top part without a clip",
        /// Nothing.
        Nothing: "nothing",
    }
}

/// What keeps a loose part in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Holder {
    /// What writes: it lies with the refill, or with the grip section.
    Writer,
    /// Both halves of a pen without a cap: it lies between them.
    Halves,
    /// A part that is pressed.
    Part(String),
}

/// A part that nothing presses: a spring, a sleeve, a ring that is slid on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loose {
    /// What it is called, in one word.
    pub name: String,
    /// What keeps it in its place.
    pub holder: Holder,
}

/// The parts that stand in a rod's way, and whether it passes them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Past {
    /// Their names, in the order in which they were pressed.
    pub parts: Vec<String>,
    /// Whether it passes.
    pub rod: Rod,
}

/// A number off the kit's sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Figure {
    /// As it was said.
    Known(String),
    /// The sheet does not give it; one that hangs together with the others stands in for it.
    Assumed(String),
}

impl Figure {
    /// Returns the figure that was said, or the one that stands in for it.
    pub(super) fn of(said: &str, else_mm: f64) -> Figure {
        match said == NOT_KNOWN {
            true => Figure::Assumed(format!("{else_mm} mm")),
            false => Figure::Known(said.to_owned()),
        }
    }

    /// Returns it in millimetres.
    pub(super) fn in_mm(&self) -> f64 {
        // What was said was read as a length before it was kept.
        Length::parse(self.written(), None).map_or(0.0, Length::in_mm)
    }

    /// Returns the length as it is written.
    pub fn written(&self) -> &str {
        match self {
            Figure::Known(length) | Figure::Assumed(length) => length,
        }
    }
}

/// The numbers of a tube.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figures {
    /// Its outside.
    pub outside: Figure,
    /// Its bit.
    pub drill: Figure,
    /// Its length.
    pub length: Figure,
}

/// A brass tube, and the piece of wood round it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tube {
    /// What it is called: `body`, `cap`, `lower`, `upper`, `barrel`.
    pub name: &'static str,
    /// Its numbers, once they are all said.
    pub figures: Option<Figures>,
    /// The end that meets the other piece, or that the hand is nearer to.
    pub near: End,
    /// The other end.
    pub far: End,
}

/// An end of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct End {
    /// What it is called, after the part that stands there.
    pub name: &'static str,
    /// How wide that part's rim is, once it is said.
    pub across: Option<Figure>,
}

/// A part that is pressed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// What it is called, in one word.
    pub name: String,
    /// The piece that it goes into.
    pub tube: &'static str,
    /// The end that it goes into.
    pub end: &'static str,
    /// When it is home.
    pub home: Home,
    /// What it has to face.
    pub faces: Facing,
    /// How it comes out again.
    pub out: WayOut,
    /// What is in its piece by then, where a rod would have to pass it.
    pub past: Option<Past>,
    /// How far it stands out when it is home, where nothing stops it.
    pub proud: Option<Figure>,
}

/// How a pen is built, as far as it is known.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Build {
    /// Its tubes, once it is known how many there are, what closes the pen and what writes.
    pub tubes: Vec<Tube>,
    /// What closes it.
    pub closes: Option<Closes>,
    /// What writes.
    pub writes: Option<Writes>,
    /// The parts of which all is known, in the order in which they are pressed.
    pub parts: Vec<Part>,
    /// Whether all of the parts are known.
    pub has_all_parts: bool,
    /// The loose parts of which all is known.
    pub loose: Vec<Loose>,
    /// What is pushed on the mechanism, where that is asked.
    pub top: Option<Top>,
    /// The guide's title.
    pub title: Option<String>,
    /// When to use it.
    pub use_when: Option<String>,
    /// When not to.
    pub not_when: Option<String>,
    /// Its id, which is the file's stem.
    pub id: Option<String>,
}

impl Build {
    /// Returns what kind of pen it is, once that is known.
    pub(super) fn style(&self) -> Option<Style> {
        let n_tubes = self.tubes.len();
        Some(Style { n_tubes, closes: self.closes?, writes: self.writes? }).filter(|_| n_tubes > 0)
    }

    /// Tells whether every figure of tubes and rims is known.
    pub(super) fn is_measured(&self) -> bool {
        let is_known = |tube: &Tube| tube.figures.is_some() && tube.near.across.is_some() && tube.far.across.is_some();
        !self.tubes.is_empty() && self.tubes.iter().all(is_known)
    }

    /// Tells whether all is known that a whole guide takes.
    pub(super) fn is_whole(&self) -> bool {
        self.is_measured() && self.has_all_parts
    }

    /// Tells whether a part is the coupler that holds a nib, with the tail pressed before it.
    pub(super) fn is_nib_coupler(&self, part: &Part) -> bool {
        let before = self.parts.iter().take_while(|other| *other != part);
        part.faces == Facing::Nib
            && (part.name.as_str(), part.end, part.home) == ("coupler", "nib", Home::Rim)
            && before.into_iter().any(|other| other.name == "tail")
    }

    /// Tells whether a part is the thread part of a cap that a rod still knocks out from the other end.
    pub(super) fn is_cap_thread(&self, part: &Part) -> bool {
        let mut before = self.parts.iter().take_while(|other| *other != part);
        self.closes == Some(Closes::ThreadedCap)
            && before.all(|other| other.tube != part.tube)
            && part.faces == Facing::Cap
            && part.out == WayOut::Rod
            && (part.name.as_str(), part.tube, part.end, part.home) == ("thread", "cap", "band", Home::Rim)
    }

    /// Tells whether one of the parts is the thread part of a cap.
    pub(super) fn has_cap_thread(&self) -> bool {
        self.parts.iter().any(|part| self.is_cap_thread(part))
    }

    /// Returns the mechanism that is pressed by its tip, on which something is pushed by hand.
    pub(super) fn mechanism(&self) -> Option<&Part> {
        let by_tip = |part: &&Part| part.name == "mechanism" && part.home == Home::Depth;
        self.parts.iter().find(by_tip).filter(|_| self.closes == Some(Closes::Twist))
    }

    /// Yields the loose parts that a holder keeps.
    pub(super) fn held_by<'b>(&'b self, holder: &'b Holder) -> impl Iterator<Item = &'b Loose> {
        self.loose.iter().filter(move |loose| loose.holder == *holder)
    }

    /// Tells whether a part is a clip with its finial.
    pub(super) fn is_clip(&self, part: &Part) -> bool {
        part.faces == Facing::Clip && part.name == "clip" && part.home == Home::Rim
    }
}
