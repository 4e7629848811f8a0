//! Which questions there are, given what was said: one pass gives both them and the build as far as it is known.

mod pressed;

use super::answers::Answers;
use super::build::{Build, Closes, End, Figure, Figures, Tube, Writes};
use super::question::{Asked, Beside, NOT_KNOWN, Question};
use super::style::{NOT_WHEN, Style, TUBES};
use crate::guide::is_shipped;
use crate::units::Length;

/// The questions that there are at present, and what is known by their answers.
#[derive(Debug, Clone)]
pub struct Interview {
    /// All questions that can be asked by now, in their order.
    pub questions: Vec<Question>,
    /// For each of them, what was said, where that still holds.
    pub said: Vec<Option<String>>,
    /// How the pen is built, as far as it is known.
    pub build: Build,
}

impl Interview {
    /// Derives questions and build from what was said.
    pub fn of(answers: &Answers) -> Interview {
        let mut interview = Interview { questions: Vec::new(), said: Vec::new(), build: Build::default() };
        interview.hold(answers);
        interview
    }

    /// Returns the first question that is not answered.
    pub fn next(&self) -> Option<&Question> {
        self.questions.iter().zip(&self.said).find(|(_, said)| said.is_none()).map(|(question, _)| question)
    }

    /// Returns the question of a key.
    pub fn question(&self, key: &str) -> Option<&Question> {
        self.questions.iter().find(|question| question.key == key)
    }

    /// Yields the questions that are answered, with what was said.
    pub fn answered(&self) -> impl Iterator<Item = (&Question, &str)> {
        self.questions.iter().zip(&self.said).filter_map(|(question, said)| Some((question, said.as_deref()?)))
    }

    /// Returns how many questions there will be if every proposal is taken.
    pub fn n_questions(answers: &Answers) -> usize {
        let mut answers = answers.clone();
        loop {
            let interview = Interview::of(&answers);
            let Some(question) = interview.next() else { return interview.questions.len() };
            answers.set(&question.key, question.any_answer());
        }
    }

    fn hold(&mut self, answers: &Answers) {
        let mut asking = Asking { answers, interview: self };
        let style = asking.style();
        let Some(style) = style else { return };
        asking.tubes(style);
        asking.parts(style);
        asking.words(style);
    }
}

/// The pass over the questions.
struct Asking<'a> {
    answers: &'a Answers,
    interview: &'a mut Interview,
}

impl Asking<'_> {
    /// Puts a question on the list; returns what was said to it, if that still holds.
    fn ask(
        &mut self,
        key: impl Into<String>,
        asks: impl Into<String>,
        help: impl Into<String>,
        asked: Asked,
        proposal: impl Into<String>,
    ) -> Option<String> {
        let (key, asks, help, proposal) = (key.into(), asks.into(), help.into(), Some(proposal.into()));
        self.put(Question { key, asks, help, asked, proposal, beside: None })
    }

    /// Puts a question that is made already on the list.
    fn put(&mut self, question: Question) -> Option<String> {
        let said = self.answers.get(&question.key).and_then(|said| question.read(said).ok());
        self.interview.questions.push(question);
        self.interview.said.push(said.clone());
        said
    }

    fn style(&mut self) -> Option<Style> {
        let tubes = self.ask(
            "tubes",
            "How many brass tubes does the kit have?",
            "Each tube is glued into a piece of wood of its own. Look into the bag, or at the sheet's list of parts.",
            Asked::Choice(vec!["one".to_owned(), "two".to_owned()]),
            "two",
        );
        let closes = self.ask(
            "closes",
            "What closes the pen, or hides its point?",
            "A cap that screws on, a cap that is pushed on, a half that is turned, a knob that clicks.",
            choices(Closes::ALL.iter().map(|choice| choice.say())),
            Closes::Twist.say(),
        );
        let writes = self.ask(
            "writes",
            "What writes?",
            "A fountain nib, a rollerball refill, a ballpoint refill, or a pencil's lead.",
            choices(Writes::ALL.iter().map(|choice| choice.say())),
            match closes.as_deref().and_then(Closes::of) {
                Some(Closes::ThreadedCap) => Writes::Rollerball.say(),
                Some(Closes::PushCap) => Writes::Nib.say(),
                _ => Writes::Ballpoint.say(),
            },
        );
        let closes = closes.as_deref().and_then(Closes::of);
        let writes = writes.as_deref().and_then(Writes::of);
        self.interview.build.closes = closes;
        self.interview.build.writes = writes;
        let n_tubes = if tubes? == "one" { 1 } else { 2 };
        Some(Style { n_tubes, closes: closes?, writes: writes? })
    }

    fn tubes(&mut self, style: Style) {
        for tube in style.tubes() {
            let tube = self.tube(style, tube);
            self.interview.build.tubes.push(tube);
        }
    }

    /// Returns what was said of a piece by the name that it has in another kind of pen: it is not lost by going back.
    fn said_else(&self, tube: &str, what: &str) -> Option<String> {
        let is_rear = |tube: &str| tube == "cap" || tube == "upper";
        let same_piece = TUBES.into_iter().filter(|other| *other != tube && is_rear(other) == is_rear(tube));
        let said = |other: &str| self.answers.get(&format!("{other}.{what}")).map(str::to_owned);
        same_piece.into_iter().find_map(said)
    }

    fn tube(&mut self, style: Style, tube: Tube) -> Tube {
        let name = tube.name;
        let from_sheet =
            "It stands on the kit's sheet. `not known`: a figure stands in for it until the tube is measured.";
        let mut length = |what: &str, asks: String, least: f64, most: f64, beside: Option<Beside>| {
            let mut question = Question {
                key: format!("{name}.{what}"),
                asks,
                help: from_sheet.to_owned(),
                asked: Asked::Length(least, most),
                proposal: None,
                beside,
            };
            let said = self.said_else(name, what).and_then(|said| question.read(&said).ok());
            question.proposal = Some(said.unwrap_or_else(|| NOT_KNOWN.to_owned()));
            self.put(question)
        };
        let (outside_mm, drill_mm, length_mm) = style.figures(name);
        let outside = length("outside", format!("How wide is the {name} tube on its outside?"), 6.0, 16.0, None);
        let beside = outside.clone().map(Beside::Outside);
        let drill = length("drill", format!("Which bit is the {name} piece drilled with?"), 6.0, 17.0, beside);
        let long = length("length", format!("How long is the {name} tube?"), 20.0, 90.0, None);
        // A bit that holds binds the outside when that is said anew; one that does not is asked for again itself.
        if let Some(question) =
            self.interview.questions.iter_mut().find(|question| question.key == format!("{name}.outside"))
        {
            question.beside = drill.clone().map(Beside::Bit);
        }
        // Where one of the two is known, the other stands in at the usual clearance from it.
        let clearance = drill_mm - outside_mm;
        let known =
            |said: &Option<String>| said.as_deref().and_then(|said| Length::parse(said, None).ok()).map(Length::in_mm);
        let to_a_hundredth = |mm: f64| (mm * 100.0).round() / 100.0;
        let outside_mm = known(&drill).map_or(outside_mm, |drill| to_a_hundredth(drill - clearance));
        let drill_mm = known(&outside).map_or(drill_mm, |outside| to_a_hundredth(outside + clearance));
        let figures = (|| {
            Some(Figures {
                outside: Figure::of(&outside?, outside_mm),
                drill: Figure::of(drill.as_deref()?, drill_mm),
                length: Figure::of(&long?, length_mm),
            })
        })();
        let drill_mm = drill.as_deref().map_or(drill_mm, |drill| Figure::of(drill, drill_mm).in_mm());
        // Where both pieces meet at one band its rim is asked for once.
        let shared = self.interview.build.tubes.iter().find(|other| other.near.name == tube.near.name);
        let near = match shared.map(|other| other.near.clone()) {
            Some(near) => near,
            None => self.rim(style, name, tube.near, drill_mm),
        };
        let far = self.rim(style, name, tube.far, drill_mm);
        Tube { name, figures, near, far }
    }

    fn rim(&mut self, style: Style, tube: &str, end: End, drill_mm: f64) -> End {
        let across = self.ask(
            format!("{tube}.{}-rim", end.name),
            format!("How wide is the part at the {tube}'s {} end?", end.name),
            "Across the rim that the wood is turned down to. `not known`: the part is measured at the lathe.",
            Asked::Length(6.0, 25.0),
            NOT_KNOWN,
        );
        End { across: across.map(|said| Figure::of(&said, style.across(end.name, drill_mm))), ..end }
    }

    fn words(&mut self, style: Style) {
        let title = self.ask(
            "title",
            "What is this kind of kit called, by its build?",
            "Its geometry, not its maker's name: the guide is for every kit that is built so.",
            Asked::Text(80),
            style.title(),
        );
        let use_when = self.ask(
            "use-when",
            "When is this guide the right one?",
            "What the kit has, so that a person with a bag in the hand can tell.",
            Asked::Text(300),
            style.use_when(),
        );
        let not_when = self.ask(
            "not-when",
            "When is it the wrong one?",
            "What would go wrong with it: another kit that looks alike, another material.",
            Asked::Text(300),
            NOT_WHEN,
        );
        let file_name = file_name(title.as_deref().unwrap_or(&style.title()));
        let id = self.ask(
            "name",
            "What is the guide's file to be called?",
            "The name that `stepjig walk` takes.",
            Asked::Name,
            file_name,
        );
        let build = &mut self.interview.build;
        (build.title, build.use_when, build.not_when, build.id) = (title, use_when, not_when, id);
    }
}

fn choices<S: Into<String>>(words: impl IntoIterator<Item = S>) -> Asked {
    Asked::Choice(words.into_iter().map(Into::into).collect())
}

/// Returns a file's name for a title.
pub(super) fn file_name(title: &str) -> String {
    let small: String = title
        .to_lowercase()
        .chars()
        .map(|c| if c.is_ascii_lowercase() || c.is_ascii_digit() { c } else { ' ' })
        .collect();
    let words: Vec<&str> = small.split_whitespace().collect();
    let mut name = words.join("-");
    name.truncate(60);
    let name = name.trim_matches('-');
    match name.starts_with(|c: char| c.is_ascii_lowercase()) {
        true if is_shipped(name) => format!("my-{name}"),
        true => name.to_owned(),
        false => "my-guide".to_owned(),
    }
}
