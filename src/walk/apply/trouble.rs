//! What a fault table's events do to the work.

use super::super::event::Event;
use super::super::trouble::{Trouble, TroubleEvent};
use super::Fold;
use crate::guide::Condition;

impl Fold<'_, '_> {
    /// Does to the work what a fault table's event says.
    pub(super) fn in_trouble(&mut self, what: &TroubleEvent) {
        if let TroubleEvent::Opened { table, with, title } = what {
            let here = self.guide.step(self.state.here);
            let spoiled: Vec<Condition> = here.spoils.iter().map(|mention| mention.condition).collect();
            let undone: Vec<Condition> = here.undoes.iter().map(|mention| mention.condition).collect();
            let gone = spoiled.into_iter().filter(|condition| self.state.held.remove(*condition)).collect();
            self.removed(&gone);
            self.undo(undone);
            self.drop_passing();
            self.state.trouble = Some(Trouble {
                table: table.clone(),
                with: with.clone(),
                title: title.clone(),
                found: Vec::new(),
                left_out: Vec::new(),
                remedy: None,
            });
            return;
        }
        let Some(mut trouble) = self.state.trouble.take() else { return };
        let mut ended = None;
        match what {
            TroubleEvent::Opened { .. } | TroubleEvent::Confirmed { .. } => {}
            TroubleEvent::Found { check, answer, removed, given, fixed } => {
                trouble.found.push((check.clone(), answer.clone()));
                self.changed(removed, given);
                ended = fixed.then_some("it is put right");
            }
            TroubleEvent::LeftOut { action } => trouble.left_out.push(action.clone()),
            TroubleEvent::RemedyBegun { remedy, undone, borrowed } => {
                self.changed(undone, &[]);
                self.state.record.borrowed.extend(borrowed.iter().cloned());
                trouble.remedy = Some((remedy.clone(), Vec::new()));
            }
            TroubleEvent::InRemedy(event) => {
                if let Some((_, events)) = &mut trouble.remedy {
                    events.push(Event::clone(event));
                }
            }
            TroubleEvent::RemedyEnded { remedy, outcome, removed, given } => {
                trouble.remedy = None;
                trouble.found.push((remedy.clone(), outcome.clone()));
                self.changed(removed, if outcome == "fixed" { given } else { &[] });
                ended = (outcome == "fixed").then_some("it is put right");
            }
            TroubleEvent::StartedOver { undone, borrowed } => {
                self.changed(undone, &[]);
                self.state.record.borrowed.extend(borrowed.iter().cloned());
                ended = Some("with a new blank");
            }
            TroubleEvent::Closed => ended = Some("after the trouble"),
        }
        let Some(why) = ended else {
            self.state.trouble = Some(trouble);
            return;
        };
        let title = if trouble.title.is_empty() { &trouble.table } else { &trouble.title };
        let said = |(action, shown): &(String, String)| match shown.as_str() {
            // A remedy's outcome says nothing without the remedy.
            "fixed" | "not fixed" | "lost" => format!("{}: {shown}", action.replace('-', " ")),
            _ => shown.clone(),
        };
        let found: Vec<String> = trouble.found.iter().map(said).chain([why.to_owned()]).collect();
        self.state.record.troubles.push(format!("{title}: {}", found.join("; ")));
        self.rejoin(why);
    }

    /// Removes conditions with all that was built on them, and gives others.
    fn changed(&mut self, removed: &[String], given: &[String]) {
        let removed = self.conditions(removed);
        self.undo(removed);
        let given = self.conditions(given);
        self.state.given.retain(|known| !given.contains(known));
        self.state.given.extend(&given);
        self.state.held.extend(given);
    }
}
