//! What a person typed, as an event or a question.
//!
//! Exact words win, then numbers, then unique beginnings, then commands; `:word` is always a command.

mod commands;
mod sums;

use jiff::{SignedDuration, Timestamp};

use super::event::{Event, Leave};
use super::state::{Phase, State};
use super::{Walk, tell};
use crate::check::flow::Flow;
use crate::finding::plain_text::cleaned;
use crate::guide::{Condition, Guide, Kind, Label, Picked, StepIdx, fold, pick};
use crate::reckon::Data;
use crate::units::{LengthUnit, Quantity, Unit};

/// What was typed, understood.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// Something happened; it is to be recorded.
    Event(Event),
    /// Something is to be told, paragraph by paragraph; nothing has happened.
    Tell(Vec<String>),
    /// A list is to be told, and what is said to it is wanted next: the same as typing the command and the answer.
    Ask {
        /// The list and what can be said to it.
        told: Vec<String>,
        /// The command that the answer belongs to.
        command: &'static str,
    },
    /// A reckoning is called by its name: [`Walk::reckon`](super::Walk::reckon) says what it comes to.
    Reckon(String),
}

impl Answer {
    /// Returns it with what is to be told cleaned; an event stays as it is recorded.
    pub(super) fn plain(self) -> Answer {
        let plain = |told: Vec<String>| told.into_iter().map(cleaned).collect();
        match self {
            Answer::Event(_) | Answer::Reckon(_) => self,
            Answer::Tell(told) => Answer::Tell(plain(told)),
            Answer::Ask { told, command } => Answer::Ask { told: plain(told), command },
        }
    }
}

/// What was typed cannot be taken here.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// What is wrong with it.
    pub message: String,
    /// What can be typed instead.
    pub help: Option<String>,
    /// What was probably meant, to be asked back once where a person types.
    pub meant: Option<String>,
}

impl Refusal {
    /// Returns it cleaned: it may name what was typed.
    pub(super) fn plain(self) -> Refusal {
        Refusal { message: cleaned(self.message), help: self.help.map(cleaned), meant: self.meant.map(cleaned) }
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)?;
        let stop = if self.message.ends_with('?') { "" } else { ";" };
        self.help.as_ref().map_or(Ok(()), |help| write!(f, "{stop} {help}"))
    }
}

impl std::error::Error for Refusal {}

fn refuse<T>(message: impl Into<String>, help: impl Into<String>) -> Result<T, Refusal> {
    Err(Refusal { message: message.into(), help: Some(help.into()), meant: None })
}

/// Reads what is typed at a walk.
pub(super) struct Reader<'r, 'g> {
    guide: &'g Guide,
    flow: &'r Flow<'g>,
    state: &'r State,
    data: &'r Data,
    /// The shop's unit for lengths that a reckoning is given without one.
    unit: Option<LengthUnit>,
    now: Timestamp,
}

type Read = Option<Result<Answer, Refusal>>;

impl<'r, 'g> Reader<'r, 'g> {
    pub(super) fn new(walk: &'r Walk<'g>, now: Timestamp) -> Reader<'r, 'g> {
        let Walk { guide, flow, state, data, unit } = walk;
        Reader { guide, flow, state, data, unit: *unit, now }
    }

    /// Reads one typed line.
    ///
    /// # Errors
    /// [`Refusal`] where it is no answer and no command here.
    pub(super) fn read(&self, typed: &str) -> Result<Answer, Refusal> {
        let typed = typed.trim();
        if typed.chars().count() > 4096 {
            return refuse("that is longer than a line may be", "keep a note under 4,000 characters");
        }
        if let Some(command) = typed.strip_prefix(':') {
            return self.command(command.trim()).unwrap_or_else(|| self.no_such_command(command.trim()));
        }
        if !typed.is_empty() && fold(typed).is_empty() {
            // A sign is no Enter: `?` asks for help, any other is a slip.
            return match typed {
                "?" => Ok(Answer::Tell(tell::help(self.guide, self.state))),
                _ => self.not_understood(typed),
            };
        }
        let answered = match &self.state.phase {
            Phase::Ended => {
                return self
                    .command(typed)
                    .unwrap_or_else(|| refuse("this walk is over", "`stepjig list` shows what is under way"));
            }
            Phase::Hold => self.hold(typed),
            Phase::Waiting(wait) => self.waiting(*wait, typed),
            Phase::At | Phase::Open => self.step(typed),
        };
        match answered {
            Some(answer) => answer,
            None => self.command(typed).unwrap_or_else(|| self.not_understood(typed)),
        }
    }

    fn id(&self) -> String {
        self.guide.step(self.state.here).id.to_string()
    }

    fn left(&self, by: Leave) -> Read {
        self.left_at(by, self.now)
    }

    fn left_at(&self, by: Leave, at: Timestamp) -> Read {
        Some(Ok(Answer::Event(Event::Left { step: self.id(), by, at })))
    }

    fn hold(&self, typed: &str) -> Read {
        let needs = tell::hold_needs(self.guide, self.state);
        let words = fold(typed);
        if words == "yes" {
            return Some(Ok(Answer::Event(Event::Confirmed { step: self.id(), at: self.now })));
        }
        let help = "type `yes` when all of it is true, `no 2` when the second is not";
        if words.is_empty() || words == "done" {
            return Some(refuse("this cannot be taken back, so it wants a look first", help));
        }
        let rest = words.strip_prefix("no").filter(|rest| rest.is_empty() || rest.starts_with(' '))?.trim();
        let denied = if rest.is_empty() && needs.len() == 1 { Some(needs.clone()) } else { numbers(rest, &needs) };
        let mut denied = self.names(&denied.unwrap_or_default()).into_iter();
        let Some(condition) = denied.next() else {
            return Some(refuse(
                "which of them is not true?",
                format!("type `no` and its number, 1 to {}", needs.len()),
            ));
        };
        Some(Ok(Answer::Event(Event::Denied { step: self.id(), condition, also: denied.collect(), at: self.now })))
    }

    fn waiting(&self, wait: StepIdx, typed: &str) -> Read {
        let ready = match fold(typed).as_str() {
            "ready" | "yes" | "done" => true,
            "not ready" | "no" => false,
            "" => {
                let help = "look for the sign, then type `ready` or `not ready`; `park` lays the pen aside till then";
                return Some(refuse("this step rests on a wait", help));
            }
            _ => return None,
        };
        let wait = self.guide.step(wait).id.to_string();
        Some(Ok(Answer::Event(Event::Looked { wait, ready, at: self.now })))
    }

    fn step(&self, typed: &str) -> Read {
        let step = self.guide.step(self.state.here);
        let words = fold(typed);
        if step.optional && words == "skip" {
            return self.left(Leave::Skip);
        }
        match &step.kind {
            Kind::Do { .. } | Kind::Run => self.done(&words, typed, step.one_way),
            Kind::Ask => self.answer(typed, &words),
            Kind::Gauge { unit, min, max, .. } => {
                let limits = [min, max].into_iter().flatten();
                let below_zero = limits.clone().any(|limit| limit.trim_start().starts_with(['-', '−']));
                self.reading(unit, below_zero, typed)
            }
            Kind::Wait(pause) => match words.as_str() {
                _ if pause.meanwhile => self.done(&words, typed, false),
                "ready" | "yes" | "done" => self.left(Leave::Ready),
                "not ready" | "no" => Some(self.not_ready(pause.up_to)),
                "" => Some(refuse(
                    format!("waiting for the sign: {}", self.state.say(self.guide, &pause.ready)),
                    "type `ready` when it is there, `park` to come back later",
                )),
                _ => self.left_ago("done", typed, Leave::Ready).or_else(|| self.left_ago("ready", typed, Leave::Ready)),
            },
            Kind::Reckon { .. } => self.sum(typed, &words),
            Kind::Return { .. } | Kind::End(_) => None,
        }
    }

    fn done(&self, words: &str, typed: &str, wants_word: bool) -> Read {
        if words.is_empty() && wants_word {
            return Some(refuse(
                "this cannot be taken back",
                "type `done` when it is over, `trouble` when it went wrong",
            ));
        }
        if words.is_empty() || words == "done" {
            return self.left(Leave::Then);
        }
        self.left_ago("done", typed, Leave::Then)
    }

    /// Reads `done 10 min ago`.
    fn left_ago(&self, word: &str, typed: &str, by: Leave) -> Read {
        let rest = typed.strip_prefix(word).filter(|rest| rest.starts_with(' '))?;
        let ago = rest.trim().strip_suffix("ago")?;
        let Ok(ago) = ago.trim().parse::<crate::units::Span>() else {
            return Some(refuse("how long ago was it done?", format!("say it as `{word} 10 min ago`")));
        };
        let at = self.now.checked_sub(SignedDuration::from_secs(ago.seconds().round() as i64)).unwrap_or(self.now);
        if at < self.state.clock {
            let since = tell::span_said(self.now.duration_since(self.state.clock));
            let help = format!("that was {since} ago; without a time it counts from now");
            return Some(refuse("that is before the last mark of this walk", help));
        }
        self.left_at(by, at)
    }

    fn answer(&self, typed: &str, words: &str) -> Read {
        let answers = tell::answers(self.guide, self.state, self.state.here);
        if words.is_empty() {
            return Some(refuse(
                "a question wants an answer",
                format!("type its number, 1 to {}, or its words", answers.len()),
            ));
        }
        match pick(typed, &answers, answers.len()) {
            Picked::One(n) => self.left(Leave::Answer(n)),
            Picked::None => None,
            Picked::Several(several) => {
                let several: Vec<String> = several.iter().map(|n| format!("`{}`", answers[*n])).collect();
                Some(refuse("more than one answer begins like that", format!("say which: {}", several.join(" or "))))
            }
        }
    }

    fn reading(&self, unit: &str, below_zero: bool, typed: &str) -> Read {
        let unit: Unit = unit.parse().ok()?;
        let known = super::scene::known(self.guide, self.state);
        let typed = match &known {
            Some(known) if fold(typed) == "same" => known,
            _ => typed,
        };
        if typed.is_empty() {
            let what = match unit {
                Unit::Clock => "type a clock position, such as `4 o'clock` or `2:30`".to_owned(),
                _ => format!("type what the instrument shows, in {}", unit.label()),
            };
            return Some(refuse("a reading wants a number", what));
        }
        // The prompt names the unit, so a bare number is in it; below zero only where a limit is.
        let bare = unit.length_unit();
        let parse = if below_zero { Quantity::parse_signed } else { Quantity::parse };
        match parse(typed, unit, bare) {
            Ok(quantity) => self.left(Leave::Reading { said: quantity.exact(), value: quantity.value() }),
            Err(wrong) => {
                let numeric = typed.trim_start_matches(['-', '+', '.']).starts_with(|c: char| c.is_ascii_digit());
                let meant = wrong.comma_reading().map(str::to_owned);
                numeric.then(|| Err(Refusal { message: wrong.to_string(), help: wrong.help(), meant }))
            }
        }
    }

    fn not_ready(&self, up_to: Option<f64>) -> Result<Answer, Refusal> {
        let waited = self.state.wait_start.map_or(0, |start| self.now.duration_since(start).as_secs());
        if let Some(up_to) = up_to
            && (waited as f64) < up_to * 60.0
        {
            let left = SignedDuration::from_secs((up_to * 60.0) as i64 - waited);
            return Ok(Answer::Tell(vec![format!("Wait on: it may take up to {} more.", tell::span_said(left))]));
        }
        let leads = self.guide.ways_out(self.state.here).iter().any(|way| way.label == Label::NotReady);
        match leads {
            true => Ok(Answer::Event(Event::Left { step: self.id(), by: Leave::NotReady, at: self.now })),
            false => Ok(Answer::Tell(vec!["Wait on, and look again for the sign.".to_owned()])),
        }
    }

    fn names(&self, conditions: &[Condition]) -> Vec<String> {
        conditions.iter().map(|condition| self.guide.name(*condition).to_owned()).collect()
    }

    fn not_understood(&self, typed: &str) -> Result<Answer, Refusal> {
        let typed = crate::finding::plain_text::clean_line(typed);
        let words = tell::can_type(self.guide, self.state);
        // A letter or two are near to everything.
        let near =
            (typed.chars().count() > 2).then(|| crate::finding::did_you_mean(&typed, words.iter().map(String::as_str)));
        let help = near.flatten().unwrap_or_else(|| format!("here: {}; `?` tells more", words.join(" · ")));
        refuse(format!("`{typed}` is nothing that can be said here"), help)
    }
}

/// Reads numbers of a list, from 1; none where one of them is no number of it.
fn numbers(words: &str, listed: &[Condition]) -> Option<Vec<Condition>> {
    let named = |number: &str| number.parse::<usize>().ok().and_then(|n| listed.get(n.checked_sub(1)?)).copied();
    let chosen: Option<Vec<Condition>> = words.split_whitespace().map(named).collect();
    chosen.filter(|chosen| !chosen.is_empty())
}

/// Returns the way that a reading takes: the limits are read with the numbers as they are now.
pub(super) fn judged(guide: &Guide, state: &State, gauge: StepIdx, value: f64) -> Label {
    let Kind::Gauge { unit, min, max, .. } = &guide.step(gauge).kind else { return Label::Then };
    let limit = |limit: &Option<String>| super::scene::limit_value(guide, state, unit, limit.as_deref()?);
    match (limit(min), limit(max)) {
        (Some(min), _) if value < min => Label::Under,
        (_, Some(max)) if value > max => Label::Over,
        _ => Label::Within,
    }
}
