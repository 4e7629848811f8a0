//! What a person typed that is asked back once before it is taken: a slip of the keys, or a wait that is over early.

use jiff::{SignedDuration, Timestamp};

use crate::walk::{Answer, Event, Leave, Refusal, Walk, span_said};

/// What was read of a line.
pub(in crate::cli) type Read = Result<Answer, Refusal>;

/// A line that is asked back.
pub(in crate::cli) struct Doubt {
    /// What is asked: yes or no.
    pub(in crate::cli) question: String,
    meant: Option<String>,
    read: Read,
}

/// Returns what was read, or what is to be asked about it first.
pub(in crate::cli) fn doubted(walk: &Walk<'_>, read: Read) -> Result<Read, Box<Doubt>> {
    if let Some(early) = early(walk, &read) {
        let question = format!("It is {} early. Is the sign there? yes or no> ", span_said(early));
        return Err(Box::new(Doubt { question, meant: None, read }));
    }
    match &read {
        Err(Refusal { meant: Some(meant), .. }) => {
            Err(Box::new(Doubt { question: format!("{meant}? yes or no> "), meant: Some(meant.clone()), read }))
        }
        _ => Ok(read),
    }
}

impl Doubt {
    /// Returns what is taken, now that it was asked.
    pub(in crate::cli) fn settled(self, walk: &Walk<'_>, yes: bool) -> Read {
        match self.meant {
            Some(meant) if yes => walk.read(&meant, Timestamp::now()),
            None if !yes => Ok(Answer::Tell(vec!["Wait on.".to_owned()])),
            _ => self.read,
        }
    }
}

/// Returns how long before it is due a wait is said to be over, if that is a minute or more.
fn early(walk: &Walk<'_>, read: &Read) -> Option<SignedDuration> {
    let over = match read {
        Ok(Answer::Event(Event::Left { by, .. })) => *by == Leave::Ready,
        Ok(Answer::Event(Event::Looked { ready, .. })) => *ready,
        _ => false,
    };
    let early = walk.due()?.duration_since(Timestamp::now());
    (over && early >= SignedDuration::from_mins(1)).then_some(early)
}
