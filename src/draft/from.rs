//! Reads an existing guide back into answers, as far as it can, and says what it could not take.
//!
//! Everything is read off the guide's own table, its kit numbers and its runs of shared procedures. What stands beside
//! `fill in` was never said, and is not taken for an answer.

use std::sync::Arc;

use super::answers::Answers;
use super::build::{Closes, Facing, Home, Past, Rod, Top, WayOut, Writes};
use super::interview::Interview;
use super::question::{NONE, NOT_KNOWN};
use super::style::Style;
use super::write::{FILL_IN, care, face, held, way_out, write};
use crate::finding::Source;
use crate::guide::Library;
use crate::guide::document::{Document, RawKind, RawStep, Shelf};

/// The most steps that are named as not taken.
const MOST_NAMED: usize = 8;

/// What was read of a guide.
#[derive(Debug, Clone, Default)]
pub struct ReadBack {
    /// The answers that would lead to it.
    pub answers: Answers,
    /// What of it no answer leads to, each in a few words.
    pub not_taken: Vec<String>,
}

/// Reads a guide back; `None` where it cannot be read as one.
pub fn from(library: &Library, source: &Arc<Source>) -> Option<ReadBack> {
    let (document, _) = crate::guide::read(source, library.limits());
    let document = document.filter(|document| document.shelf == Shelf::Guide)?;
    let mut reading = Reading { document: &document, answers: Answers::default() };
    reading.style();
    reading.figures();
    reading.parts();
    reading.by_hand();
    reading.texts();
    let not_taken = reading.not_taken();
    Some(ReadBack { answers: reading.answers, not_taken })
}

struct Reading<'d> {
    document: &'d Document,
    answers: Answers,
}

/// A run of a press, as far as the answers know it.
struct Press<'d> {
    part: &'d str,
    tube: &'d str,
    end: &'d str,
    home: Home,
    /// What it faces, where its procedure is made for that.
    faces: Option<Facing>,
    step: &'d RawStep,
}

impl<'d> Reading<'d> {
    /// Yields the runs of a procedure.
    fn runs(&self, procedure: &str) -> impl Iterator<Item = &'d RawStep> + use<'d> {
        let procedure = procedure.to_owned();
        self.document
            .steps
            .iter()
            .filter(move |step| matches!(&step.kind, RawKind::Run { name, .. } if name.value == procedure))
    }

    /// Returns a kit number as it is said.
    fn number(&self, path: &str) -> Option<String> {
        let (name, value) = self.document.kit.iter().find(|(name, _)| name.value == path)?;
        let line = self.document.source.text().get(name.span.start..).unwrap_or("").lines().next().unwrap_or("");
        Some(if line.contains(FILL_IN) { NOT_KNOWN.to_owned() } else { value.written() })
    }

    fn tube_names(&self) -> Vec<&'d str> {
        let mut names: Vec<&str> = Vec::new();
        for (path, _) in &self.document.kit {
            if let Some(name) = path.value.strip_prefix("kit.tube.").and_then(|rest| rest.split('.').next())
                && !names.contains(&name)
            {
                names.push(name);
            }
        }
        names
    }

    /// Reads how many tubes there are, what closes the pen, what writes.
    fn style(&mut self) {
        // A draft that has not come to its blank may still have a second tube to come.
        let has_all = self.runs("choose-blank").next().is_some();
        let tubes = match self.tube_names().as_slice() {
            ["barrel"] => Some("one"),
            [_] if has_all => Some("one"),
            [_, _] => Some("two"),
            _ => None,
        };
        if let Some(tubes) = tubes {
            self.answers.set("tubes", tubes.to_owned());
        }
        let words = self.document.title.to_lowercase();
        let by_look = self.runs("last-look").next().and_then(|step| with(step, "held"));
        let closes = Closes::ALL.iter().copied().find(|closes| by_look == Some(held(*closes)));
        let titled = || {
            [
                ("thread", Closes::ThreadedCap),
                ("push", Closes::PushCap),
                ("twist", Closes::Twist),
                ("click", Closes::Click),
            ]
            .into_iter()
            .find(|(word, _)| words.contains(word))
            .map(|(_, closes)| closes)
        };
        if let Some(closes) = closes.or_else(titled) {
            self.answers.set("closes", closes.say().to_owned());
        }
        let cared = self.document.care.as_ref().map(|care| care.name.value.as_str());
        if let Some(writes) = Writes::ALL.iter().find(|writes| cared == Some(care(**writes))) {
            self.answers.set("writes", writes.say().to_owned());
        }
    }

    fn figures(&mut self) {
        let Some(style) = self.known_style() else { return };
        let own = self.tube_names();
        for (n, tube) in style.tubes().into_iter().enumerate() {
            let key = tube.name;
            let name = own.iter().copied().find(|name| *name == tube.name).or(own.get(n).copied()).unwrap_or(tube.name);
            for what in ["outside", "drill", "length"] {
                if let Some(said) = self.number(&format!("kit.tube.{name}.{what}")) {
                    self.answers.set(&format!("{key}.{what}"), said);
                }
            }
            let turned = self.runs("turn-piece").find(|step| last(with(step, "tube")) == Some(name));
            for (side, end) in [("near", tube.near.name), ("far", tube.far.name)] {
                let rim = turned.and_then(|step| last(with(step, side))).unwrap_or(end);
                let is_asked_once = n == 1 && side == "near" && style.tubes()[0].near.name == end;
                if let Some(said) = self.number(&format!("kit.rim.{rim}.across")).filter(|_| !is_asked_once) {
                    self.answers.set(&format!("{key}.{end}-rim"), said);
                }
            }
        }
    }

    fn known_style(&self) -> Option<Style> {
        let n_tubes = if self.answers.get("tubes")? == "one" { 1 } else { 2 };
        let closes = Closes::of(self.answers.get("closes")?)?;
        Some(Style { n_tubes, closes, writes: Writes::of(self.answers.get("writes")?)? })
    }

    /// Returns the presses in the order of the file.
    fn presses(&self) -> Vec<Press<'d>> {
        let press = |step: &'d RawStep| {
            let RawKind::Run { name, .. } = &step.kind else { return None };
            let (part, tube, end, home, faces) = match name.value.as_str() {
                "press-part" => (with(step, "part")?, "tube", with(step, "mouth")?, Home::Rim, None),
                "press-to-depth" => (with(step, "part")?, "tube", with(step, "mouth")?, Home::Depth, None),
                "press-clip" => ("clip", "tube", with(step, "mouth")?, Home::Rim, Some(Facing::Clip)),
                "press-nib-coupler" => ("coupler", "tube", "nib", Home::Rim, Some(Facing::Nib)),
                "press-cap-thread" => ("thread", "cap", "band", Home::Rim, Some(Facing::Cap)),
                _ => return None,
            };
            Some(Press { part, tube: last(with(step, tube))?, end, home, faces, step })
        };
        self.document.steps.iter().filter_map(press).collect()
    }

    fn parts(&mut self) {
        let Some(style) = self.known_style() else { return };
        let presses = self.presses();
        // A guide that ends before the last press does not say which parts are still to come.
        if presses.is_empty() || self.runs("last-look").next().is_none() {
            return;
        }
        let ways = self.runs("ready-press").next().and_then(|step| with(step, "ways")).unwrap_or("");
        let names: Vec<&str> = presses.iter().map(|press| press.part).collect();
        self.answers.set("parts", names.join(", "));
        for (n, press) in presses.iter().enumerate() {
            let key = |what: &str| format!("part.{}.{what}", press.part);
            self.answers.set(&key("into"), format!("the {}'s {} end", press.tube, press.end));
            self.answers.set(&key("home"), press.home.say().to_owned());
            let line_up = self.runs("turn-to-face").find(|step| with(step, "part") == Some(press.part));
            let lined = line_up.and_then(|step| {
                let said = (with(step, "face")?, with(step, "to")?);
                Facing::ALL.iter().copied().find(|facing| face(*facing) == Some(said))
            });
            self.answers.set(&key("faces"), press.faces.or(lined).unwrap_or(Facing::Nothing).say().to_owned());
            let ends = style.tubes().into_iter().find(|tube| tube.name == press.tube);
            let other =
                ends.map_or("other", |tube| if tube.near.name == press.end { tube.far.name } else { tube.near.name });
            let parts: Vec<String> = presses[..n]
                .iter()
                .filter(|there| there.tube == press.tube)
                .map(|there| there.part.to_owned())
                .collect();
            let says = |out: WayOut, past: Option<&Past>| {
                let said = way_out(out, past, other);
                with(press.step, "out") == Some(said.as_str()) || ways.contains(&format!("The {}: {said}.", press.part))
            };
            let past = |rod: &Rod| Past { parts: parts.clone(), rod: *rod };
            let rod = Rod::ALL.iter().find(|rod| !parts.is_empty() && says(WayOut::Rod, Some(&past(rod))));
            let out = WayOut::ALL.iter().find(|out| (**out != WayOut::Rod || parts.is_empty()) && says(**out, None));
            if let Some(out) = rod.map(|_| &WayOut::Rod).or(out) {
                self.answers.set(&key("out"), out.say().to_owned());
            }
            if let Some(rod) = rod {
                self.answers.set(&key("rod"), rod.say().to_owned());
            }
            if let Some(said) = with(press.step, "stop").and_then(|stop| self.number(&format!("{stop}.mark"))) {
                self.answers.set(&key("proud"), said);
            }
        }
    }

    /// Reads the parts that nothing presses, and what is pushed on a mechanism.
    fn by_hand(&mut self) {
        let Some(style) = self.known_style().filter(|_| self.answers.get("parts").is_some()) else { return };
        let boxed = self.runs("box-loose").next().and_then(|step| with(step, "parts"));
        self.answers.set("loose", boxed.unwrap_or(NONE).to_owned());
        for step in self.runs("put-loose") {
            if let (Some(part), Some(place)) = (with(step, "part"), with(step, "place")) {
                let is_at_joint = place.ends_with(" end");
                let held_by = if is_at_joint { "the two halves" } else { place.trim_end_matches(" part") };
                self.answers.set(&format!("part.{part}.held-by"), held_by.to_owned());
            }
        }
        let is_on_top = self.runs("push-on-mechanism").any(|step| with(step, "one") == Some("top"));
        let has_clip = self.runs("press-clip").next().is_none() && self.runs("mark-clip").next().is_some();
        if style.n_tubes == 1 && Interview::of(&self.answers).question("top").is_some() {
            let top = match (is_on_top, has_clip) {
                (true, true) => Top::WithClip,
                (true, false) => Top::Plain,
                _ => Top::Nothing,
            };
            self.answers.set("top", top.say().to_owned());
        }
    }

    fn texts(&mut self) {
        let text = self.document.source.text();
        let is_assumed = |key: &str| {
            let line = text.lines().find(|line| line.strip_prefix(key).is_some_and(|rest| rest.starts_with(" = ")));
            line.is_some_and(|line| line.contains(&format!("\"   {FILL_IN}")))
        };
        let document = self.document;
        let mut take = |key: &str, in_file: &str, said: Option<&str>| {
            if let Some(said) = said.filter(|_| !is_assumed(in_file)) {
                self.answers.set(key, said.to_owned());
            }
        };
        take("title", "title", Some(&document.title));
        take("use-when", "use-when", document.use_when.as_ref().map(|text| text.value.as_str()));
        take("not-when", "not-when", document.not_when.as_ref().map(|text| text.value.as_str()));
        take("name", "id", Some(&document.id.value));
    }

    /// Forgets what no question takes, and returns what of the guide no answer leads to.
    fn not_taken(&mut self) -> Vec<String> {
        let interview = Interview::of(&self.answers);
        let mut not_taken: Vec<String> = Vec::new();
        for (key, asks) in
            [("tubes", "how many tubes it has"), ("closes", "what closes the pen"), ("writes", "what writes")]
        {
            if self.answers.get(key).is_none() {
                not_taken.push(asks.to_owned());
            }
        }
        let holds = |key: &str| interview.answered().any(|(question, _)| question.key == key);
        let lost: Vec<String> = self.answers.iter().map(|(key, _)| key.to_owned()).filter(|key| !holds(key)).collect();
        for key in &lost {
            not_taken.push(format!("what it says of {key}"));
            self.answers.forget(key);
        }
        // As it would have been kept: `66.0 mm` of a file is `66 mm` of an answer.
        let kept: Vec<(String, String)> =
            interview.answered().map(|(question, said)| (question.key.clone(), said.to_owned())).collect();
        kept.into_iter().for_each(|(key, said)| self.answers.set(&key, said));
        let again = Source::new("draft.toml", write(&Interview::of(&self.answers).build));
        let (again, _) = crate::guide::read(&again, &crate::guide::Limits::default());
        let ids: Vec<String> =
            again.map_or_else(Vec::new, |again| again.steps.into_iter().map(|step| step.id.value).collect());
        let own: Vec<&str> = self
            .document
            .steps
            .iter()
            .map(|step| step.id.value.as_str())
            .filter(|id| !ids.iter().any(|known| known == id))
            .collect();
        not_taken.extend(own.iter().take(MOST_NAMED).map(|id| format!("the step {id}")));
        if own.len() > MOST_NAMED {
            not_taken.push(format!("{} steps more", own.len() - MOST_NAMED));
        }
        not_taken
    }
}

/// Returns what a run gives a parameter.
fn with<'d>(step: &'d RawStep, parameter: &str) -> Option<&'d str> {
    let RawKind::Run { with, .. } = &step.kind else { return None };
    with.iter().find(|(name, _)| name.value == parameter).map(|(_, value)| value.value.as_str())
}

/// Returns the last part of a kit path.
fn last(path: Option<&str>) -> Option<&str> {
    path?.rsplit('.').next()
}
