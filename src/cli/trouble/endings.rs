//! How a sitting over a table ends, and what is said then.

use super::asking::Asking;
use crate::trouble::consult::{Standing, in_100};
use crate::trouble::problem::Effect;
use crate::walk::minutes_said as minutes;

/// What is said where nothing that is listed fits.
pub(in crate::cli) const SAFE_STOP: [&str; 2] = [
    "Stop here: nothing more is done to the work until it is understood.",
    "Write it down by `note`: what was being done, what was seen and in which order, which glue, which bit, how warm. Then ask somebody who has made the kit; `park` lays the pen aside.",
];

/// How a table's sitting ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) enum Over {
    /// The pen is good.
    Fixed,
    /// The cause is known as well as it can be.
    Known,
    /// The blank is lost.
    Lost,
    /// A new blank is begun.
    NewBlank,
    /// It is laid aside.
    LaidAside,
    /// It is left for now without a word: the input has ended.
    Left,
    /// No cause that is listed explains what was seen.
    Unexplained,
    /// Something else went wrong inside a remedy.
    WentWrong,
    /// What was said last is taken back in the job.
    TakenBack,
}

impl Asking<'_, '_> {
    /// Says what there is to say on leaving.
    pub(super) fn parting(&mut self, over: Over) -> Over {
        if over != Over::LaidAside {
            return over;
        }
        let aside = self.consultation.table().words.lay_aside.as_ref().map(|aside| aside.value.clone());
        // A job says itself that it is laid aside.
        let mut told: Vec<String> = self.job.is_none().then(|| "Laid aside.".to_owned()).into_iter().collect();
        told.extend(aside);
        self.tell(&told);
        over
    }

    pub(super) fn ended(&mut self, effect: Effect) -> Over {
        let spent = minutes(self.consultation.spent());
        if effect == Effect::Fixed {
            self.tell(&[format!("It is put right, after about {spent} of work.")]);
            return Over::Fixed;
        }
        let table = self.consultation.table();
        let mut told = vec![format!("The blank is lost, after about {spent} of work. Begin again with a new one.")];
        told.extend(table.words.start_over.iter().filter_map(|over| Some(over.tell.as_ref()?.value.clone())));
        self.tell(&told);
        Over::Lost
    }

    pub(super) fn start_over(&mut self, standing: &Standing) -> Over {
        let table = self.consultation.table();
        let over = table.words.start_over.as_ref();
        let say = over.and_then(|over| over.say.as_ref()).map_or("with a new blank", |say| &say.value);
        let mut told = vec![format!("Begin again: {say}{}.", self.new_blank(standing))];
        told.extend(over.and_then(|over| over.tell.as_ref()).map(|tell| tell.value.clone()));
        let bites: Vec<String> = over.map_or(Vec::new(), |over| {
            let again = over.again.iter().filter(|again| again.number > 0.0);
            again
                .filter_map(|again| table.words.causes.iter().find(|cause| cause.id.value == again.cause.value))
                .map(|cause| cause.say.value.clone())
                .collect()
        });
        if !bites.is_empty() {
            told.push(format!("Look first, or the next blank meets it too: {}.", bites.join("; ")));
        }
        self.tell(&told);
        Over::NewBlank
    }

    pub(super) fn known(&mut self, standing: &Standing) -> Over {
        let table = self.consultation.table();
        let likeliest = table.words.causes.iter().zip(&standing.chances).max_by(|a, b| a.1.total_cmp(b.1));
        let told = likeliest.map_or(String::new(), |(cause, chance)| {
            format!("Likeliest, {} in 100: {}.", in_100(*chance), cause.say.value)
        });
        self.tell(&[told]);
        Over::Known
    }

    /// No cause of the table explains what was seen: a safe stop.
    pub(super) fn unexplained(&mut self) -> Over {
        self.tell(&["No cause that is listed explains all that was seen."]);
        self.tell(&SAFE_STOP);
        Over::Unexplained
    }
}
