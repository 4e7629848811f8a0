//! The commands of a walk: words that can be typed at any step.

use super::super::event::Event;
use super::super::state::Phase;
use super::super::{scene, tell};
use super::{Answer, Read, Reader, Refusal, judged, numbers, refuse};
use crate::guide::{Condition, Kind, Label, fold};
use crate::units::Length;

impl Reader<'_, '_> {
    pub(super) fn command(&self, typed: &str) -> Read {
        let (word, rest) = typed.split_once(char::is_whitespace).unwrap_or((typed, ""));
        let rest = rest.trim();
        Some(match word.to_lowercase().as_str() {
            "?" | "help" => Ok(Answer::Tell(tell::help(self.guide, self.state))),
            "why" => Ok(Answer::Tell(tell::why(self.guide, self.state))),
            "where" => Ok(Answer::Tell(tell::place(self.guide, self.state, rest == "all"))),
            "ahead" => Ok(Answer::Tell(tell::ahead(self.guide, self.state))),
            "note" if rest.is_empty() => refuse("a note wants words", "type `note`, a space, and what to remember"),
            "note" => Ok(Answer::Event(Event::Note { text: rest.to_owned(), at: self.now })),
            "park" => Ok(Answer::Event(Event::Parked { at: self.now })),
            "back" => self.back(rest),
            "trouble" => self.trouble(rest),
            "again" => self.again(rest),
            "correct" => self.correct(rest),
            "reckon" => self.reckon(rest),
            "quit" | "exit" | "leave" | "q" => {
                refuse("a walk is never lost by leaving it", "`park` lays the pen aside")
            }
            "undo" => refuse("there is no command `undo`", "did you mean `back`?"),
            _ => return None,
        })
    }

    fn back(&self, rest: &str) -> Result<Answer, Refusal> {
        if let Some(before) = &self.state.before_slip {
            let to = self.guide.step(before.here).id.to_string();
            return Ok(Answer::Event(Event::Back { to, held: None, still: Vec::new(), at: self.now }));
        }
        if self.state.trouble.is_some() {
            return refuse("what a remedy has done is not taken back", "go on from here, or `lay it aside`");
        }
        let Some(visit) = self.state.visits.last() else {
            return refuse("there is no step to go back to", "this is the first of this walk");
        };
        let to = self.guide.step(visit.step).id.to_string();
        let asked = if visit.one_way { tell::given_by(self.guide, self.state, visit.step) } else { Vec::new() };
        if asked.is_empty() {
            let held = visit.one_way.then(Vec::new);
            return Ok(Answer::Event(Event::Back { to, held, still: Vec::new(), at: self.now }));
        }
        let held = match self.chosen(rest, &asked) {
            Some(Chosen::All) => asked,
            Some(Chosen::Not(not)) => asked.into_iter().filter(|condition| !not.contains(condition)).collect(),
            None => {
                let told = tell::back_asks(self.guide, self.state, visit.step, &asked);
                return Ok(Answer::Ask { told, command: "back" });
            }
        };
        let held = Some(self.names(&held));
        Ok(Answer::Event(Event::Back { to, held, still: Vec::new(), at: self.now }))
    }

    fn trouble(&self, rest: &str) -> Result<Answer, Refusal> {
        if self.state.phase == Phase::Ended {
            return refuse("this walk is over", "begin a new one with `--from` and what is still true");
        }
        let holds = tell::holding(self.guide, self.state);
        match self.chosen(rest, &holds) {
            Some(Chosen::Not(lost)) => Ok(Answer::Event(Event::Trouble { lost: self.names(&lost), at: self.now })),
            Some(Chosen::All) => Ok(Answer::Event(Event::Trouble { lost: Vec::new(), at: self.now })),
            None if rest.is_empty() || rest == "more" => {
                let told = tell::trouble_asks(self.guide, self.state, &holds, rest == "more");
                Ok(Answer::Ask { told, command: "trouble" })
            }
            None => refuse(format!("`{rest}` names nothing in the list"), "type `trouble` to see it with its numbers"),
        }
    }

    /// Reads `yes`, or `no` and numbers of a list.
    fn chosen(&self, rest: &str, asked: &[Condition]) -> Option<Chosen> {
        let words = fold(rest);
        if words == "yes" {
            return Some(Chosen::All);
        }
        let not = words.strip_prefix("no ").unwrap_or(&words);
        numbers(not, asked).or_else(|| self.named(rest, asked)).map(Chosen::Not)
    }

    /// Reads the name of a listed condition, or words that only one of them is said with.
    fn named(&self, rest: &str, asked: &[Condition]) -> Option<Vec<Condition>> {
        let words = fold(rest);
        let by_name = asked.iter().find(|condition| self.guide.name(**condition) == rest);
        let mut said = asked.iter().filter(|condition| fold(&self.guide.said(**condition)).contains(&words));
        let by_words = said.next().filter(|_| !words.is_empty() && said.next().is_none());
        by_name.or(by_words).map(|condition| vec![*condition])
    }

    fn again(&self, rest: &str) -> Result<Answer, Refusal> {
        let passed = &self.state.passed_over;
        let step = match rest.parse::<usize>() {
            Ok(n) => n.checked_sub(1).and_then(|n| passed.get(n)).copied(),
            Err(_) if rest.is_empty() => passed.last().copied(),
            Err(_) => passed.iter().copied().find(|step| &*self.guide.step(*step).id == rest),
        };
        let Some(step) = step else {
            return refuse("no step was passed over just now", "`again` does once more a step shown as done already");
        };
        // Passing over had no effect, so what held then holds now, unless a wait has come between.
        if !self.flow.ready_for(&self.state.held)[step.index()] {
            return refuse("that step cannot be done again from here", "use `back`");
        }
        Ok(Answer::Event(Event::Again { step: self.guide.step(step).id.to_string(), at: self.now }))
    }

    /// Reads `correct kit.tube.body.outside 10.3 mm`; alone it lists the numbers.
    fn correct(&self, rest: &str) -> Result<Answer, Refusal> {
        let Some((path, value)) = rest.split_once(char::is_whitespace).filter(|_| self.state.phase != Phase::Ended)
        else {
            return Ok(Answer::Tell(tell::numbers(self.guide, self.state)));
        };
        let Some(now) = self.state.written(self.guide, path) else {
            let help = crate::finding::did_you_mean(path, self.guide.kit().keys().map(String::as_str))
                .unwrap_or_else(|| "`correct` alone lists the numbers".into());
            return refuse(format!("there is no number `{path}`"), help);
        };
        let value = match (Length::parse(&now, None), Length::parse(value, None)) {
            (Ok(_), Ok(length)) => length.exact(),
            (Ok(_), Err(wrong)) => {
                let meant = wrong.comma_reading().map(|reading| format!("correct {path} {reading}"));
                return Err(Refusal { message: wrong.to_string(), help: wrong.help(), meant });
            }
            (Err(_), _) if now.parse::<f64>().is_ok() && value.trim().parse::<f64>().is_err() => {
                return refuse(
                    format!("`{}` is no number", value.trim()),
                    format!("`{path}` is {now} now; type digits"),
                );
            }
            (Err(_), _) => value.trim().to_owned(),
        };
        if let Some(beyond) = self.beyond_its_gauge(path, &value) {
            return refuse(beyond, "measure it again; nothing was changed");
        }
        Ok(Answer::Event(Event::Number { path: path.to_owned(), value, at: self.now }))
    }

    /// Says how a kit number lies beyond the limits of a gauge that reads it, where it does.
    fn beyond_its_gauge(&self, path: &str, value: &str) -> Option<String> {
        let gauges = self
            .guide
            .steps()
            .filter(|(_, step)| matches!(&step.kind, Kind::Gauge { sets: Some(sets), .. } if sets == path));
        let mut beyond = gauges.filter_map(|(idx, _)| {
            let read = scene::limit_value(self.guide, self.state, scene::unit_of(self.guide, idx)?, value)?;
            let label = judged(self.guide, self.state, idx, read);
            (label != Label::Within).then(|| scene::beyond(self.guide, self.state, idx, value, &label))
        });
        beyond.next().map(|said| said.trim_end_matches('.').to_owned())
    }

    pub(super) fn no_such_command(&self, typed: &str) -> Result<Answer, Refusal> {
        let commands =
            ["ahead", "again", "back", "correct", "help", "note", "park", "reckon", "trouble", "where", "why"];
        let help =
            crate::finding::did_you_mean(typed, commands).unwrap_or_else(|| "`?` shows what can be typed".into());
        refuse(format!("there is no command `{typed}`"), help)
    }
}

/// What was chosen of a list.
enum Chosen {
    All,
    Not(Vec<Condition>),
}
