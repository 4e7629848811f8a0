//! The questions about parts: which are pressed, where and how each comes out again, which lie loose between them.

use super::{Asking, choices};
use crate::draft::build::{Facing, Figure, Holder, Home, Loose, Part, Past, Rod, Top, WayOut, Writes};
use crate::draft::question::{Asked, NONE, NOT_KNOWN, Question};
use crate::draft::style::{Place, Style};

impl Asking<'_> {
    /// Asks for the parts that are pressed, then for those that nothing presses.
    pub(super) fn parts(&mut self, style: Style) {
        let names = self.ask(
            "parts",
            "Which parts are pressed in, in which order?",
            "Names of one word, in the sheet's order, separated by commas: what the press pushes, not what screws in or \
             is slid on. Where a part fills an end for good, the other end comes first.",
            Asked::Parts,
            style.parts(),
        );
        let Some(names) = names else { return };
        let mut before = Vec::new();
        let mut parts: Vec<Option<Part>> = Vec::new();
        for name in names.split(", ") {
            parts.push(self.part(style, name, &mut before));
        }
        let has_all = parts.iter().all(Option::is_some);
        // A part that is known only after one that is not waits for it: the order is the order of pressing.
        self.interview.build.parts = parts.into_iter().map_while(|part| part).collect();
        let pressed: Vec<String> = names.split(", ").map(str::to_owned).collect();
        let has_all_loose = self.loose(style, pressed);
        let has_top = self.top(style);
        self.interview.build.has_all_parts = has_all && has_all_loose && has_top;
    }

    fn part(&mut self, style: Style, name: &str, before: &mut Vec<(String, Place)>) -> Option<Part> {
        let tubes = style.tubes();
        let usual = style.usual(name, before);
        let said_so = |(tube, end): Place| format!("the {tube}'s {end} end");
        let ends: Vec<Place> =
            tubes.iter().flat_map(|tube| [(tube.name, tube.near.name), (tube.name, tube.far.name)]).collect();
        let into = self.put(Question {
            key: format!("part.{name}.into"),
            asks: format!("Which end is the {name} pressed into?"),
            help: "An end is called after the part that stands there.".to_owned(),
            asked: choices(ends.iter().copied().map(said_so)),
            proposal: usual.place.map(said_so),
            beside: None,
        });
        let home = self.ask(
            format!("part.{name}.home"),
            format!("When is the {name} home?"),
            "Most parts stop when their rim meets the wood. A mechanism is pressed a little at a time and tried: too deep \
             cannot be taken back.",
            choices(Home::ALL.iter().map(|choice| choice.say())),
            usual.home.say(),
        );
        let home = home.as_deref().and_then(Home::of);
        let proud = match home {
            Some(Home::Depth) => self.ask(
                format!("part.{name}.proud"),
                format!("How far does the {name} stand out of the wood when it is right?"),
                "The sheet says it, often in a drawing. `not known`: the refill's point decides.",
                Asked::Length(1.0, 60.0),
                NOT_KNOWN,
            ),
            _ => None,
        };
        let faces = self.ask(
            format!("part.{name}.faces"),
            format!("What must face what when the {name} is pressed?"),
            "The wood's best face has a mark on tape. A clip, a nib or a cap's grain is set by it before the press, never \
             after.",
            choices(facings(style).map(|choice| choice.say())),
            usual.faces.say(),
        );
        let out = self.ask(
            format!("part.{name}.out"),
            format!("How does the {name} come out again if it goes in wrong?"),
            "Look through the tube: a rod needs an open way from the other end at that moment. A tube that is closed at \
             one end lets none through.",
            choices(WayOut::ALL.iter().map(|choice| choice.say())),
            usual.out.say(),
        );
        let out = out.as_deref().and_then(WayOut::of);
        let place = into.and_then(|into| ends.into_iter().find(|place| said_so(*place) == into));
        let in_the_way: Vec<String> = before
            .iter()
            .filter(|(_, taken)| place.is_some_and(|place| place.0 == taken.0))
            .map(|(name, _)| name.clone())
            .collect();
        before.extend(place.map(|place| (name.to_owned(), place)));
        let (tube, end) = place?;
        let is_stopped = out == Some(WayOut::Rod) && !in_the_way.is_empty();
        let past = if is_stopped { Some(self.past(name, tube, in_the_way)?) } else { None };
        Some(Part {
            name: name.to_owned(),
            tube,
            end,
            proud: match home? {
                Home::Depth => Some(Figure::of(&proud?, 20.0)),
                Home::Rim => None,
            },
            home: home?,
            faces: faces.as_deref().and_then(Facing::of)?,
            out: out?,
            past,
        })
    }

    /// Asks whether a rod still passes what is in the piece by then.
    fn past(&mut self, name: &str, tube: &str, parts: Vec<String>) -> Option<Past> {
        let (those, is) = (parts.join(" and "), if parts.len() == 1 { "is" } else { "are" });
        let rod = self.ask(
            format!("part.{name}.rod"),
            format!("By then {those} {is} in the {tube}. Does a rod still pass, to knock the {name} out?"),
            format!(
                "Look through the kit's own {those}. If none passes, the {name} cannot come out any more once it is \
                 home, and the guide says so before the press."
            ),
            choices(Rod::ALL.iter().map(|choice| choice.say())),
            Rod::Passes.say(),
        );
        Some(Past { parts, rod: Rod::of(&rod?)? })
    }

    /// Asks for the loose parts; tells whether all is known of them.
    fn loose(&mut self, style: Style, pressed: Vec<String>) -> bool {
        let asked = Asked::Loose(pressed.clone());
        // What is usually loose may be pressed in this kit.
        let usual = Some(style.loose()).filter(|name| pressed.iter().all(|part| part != name)).unwrap_or(NONE);
        let names = self.ask(
            "loose",
            "Which small parts does nothing press: a spring, a sleeve, a ring or band that is slid on, a clip that a part holds down?",
            "What goes in with the refill or a mechanism, or lies under a part or between two and is held by them. They \
             are the ones that get lost, or are found on the bench when the pen is whole.",
            asked,
            usual,
        );
        let Some(names) = names else { return false };
        if names == NONE {
            return true;
        }
        let has_halves = style.n_tubes == 2 && !style.closes.is_cap();
        let mut holders = vec![(style.writer().to_owned(), Holder::Writer)];
        holders.extend(has_halves.then(|| ("the two halves".to_owned(), Holder::Halves)));
        holders.extend(pressed.into_iter().map(|part| (format!("the {part}"), Holder::Part(part))));
        let mut has_all = true;
        for name in names.split(", ") {
            let of_a_joint = has_halves && name.split('-').any(|word| matches!(word, "band" | "ring"));
            let of_what_writes = name.split('-').any(|word| word == "spring");
            let usual = match (of_a_joint, of_what_writes) {
                (true, _) => Some("the two halves"),
                (_, true) => Some(style.writer()),
                _ => None,
            };
            let held_by = self.put(Question {
                key: format!("part.{name}.held-by"),
                asks: format!("What holds the {name} in its place?"),
                help: "What it lies with, or what is pressed or pushed home over it and keeps it there.".to_owned(),
                asked: choices(holders.iter().map(|(said, _)| said.as_str())),
                proposal: usual.map(str::to_owned),
                beside: None,
            });
            let holder = held_by.and_then(|held_by| holders.iter().find(|(said, _)| *said == held_by));
            has_all &= holder.is_some();
            let loose = holder.map(|(_, holder)| Loose { name: name.to_owned(), holder: holder.clone() });
            self.interview.build.loose.extend(loose);
        }
        has_all
    }

    /// Asks what is pushed on the mechanism of a pen with one tube; tells whether that is known, or not to be asked.
    fn top(&mut self, style: Style) -> bool {
        if style.n_tubes == 2 || self.interview.build.mechanism().is_none() {
            return true;
        }
        let has_clip = self.interview.build.parts.iter().any(|part| part.name == "clip");
        let offered = Top::ALL.iter().copied().filter(|top| !(has_clip && *top == Top::WithClip));
        let said = self.ask(
            "top",
            "What is pushed on the mechanism by hand, and turns it?",
            "In many kits with one tube a metal part sits on the mechanism, with the clip on it, and comes off for a new \
             refill.",
            choices(offered.map(Top::say)),
            if has_clip { Top::Nothing.say() } else { Top::WithClip.say() },
        );
        self.interview.build.top = said.as_deref().and_then(Top::of);
        self.interview.build.top.is_some()
    }
}

/// Yields what may have to face what in a pen of this kind.
fn facings(style: Style) -> impl Iterator<Item = Facing> {
    Facing::ALL.iter().copied().filter(move |facing| match facing {
        Facing::Nib => style.writes == Writes::Nib,
        Facing::Cap => style.n_tubes == 2 && style.closes.is_cap(),
        Facing::Nothing | Facing::Clip => true,
    })
}
