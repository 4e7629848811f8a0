//! Asks what is true of a half-made pen, stage by stage, the latest first.

use crate::check::flow::Flow;
use crate::cli::failure::Failure;
use crate::cli::output::Output;
use crate::cli::prompt::{Lines, Typed, is_yes};
use crate::guide::{Condition, ConditionSet, Guide, fold};
use crate::walk::half_made::{Stage, given_in, held_at, held_when_finished, stages, with_what_they_rest_on};

/// Asks and returns the names of what holds.
pub(super) fn ask_what_holds(guide: &Guide, lines: &mut Lines, output: &mut Output) -> Result<Vec<String>, Failure> {
    let mut asking = Asking { guide, lines, output };
    let held = asking.held()?;
    let held = asking.confirmed(held)?;
    Ok(held.iter().map(|condition| guide.name(condition).to_owned()).collect())
}

struct Asking<'a> {
    guide: &'a Guide,
    lines: &'a mut Lines,
    output: &'a mut Output,
}

impl Asking<'_> {
    fn held(&mut self) -> Result<ConditionSet, Failure> {
        let flow = Flow::new(self.guide);
        let stages = stages(self.guide);
        if stages.is_empty() {
            let whole = Stage { title: String::new(), first: self.guide.first(), after: None };
            return self.within(&whole);
        }
        self.output.paragraph("How far is the pen? The latest stage first; a yes answers for all before it.");
        let mut n = stages.len();
        while let Some(stage) = n.checked_sub(1).map(|at| &stages[at]) {
            let question = format!("Is this stage done: {}?", stage.title);
            match self.choice(&question, &["yes", "no", "partly", "back"])? {
                "yes" => {
                    return Ok(match stage.after {
                        Some(after) => held_at(&flow, after),
                        None => held_when_finished(self.guide),
                    });
                }
                "partly" => {
                    let mut held = held_at(&flow, stage.first);
                    held.extend(self.within(stage)?.iter());
                    return Ok(held);
                }
                "back" => n = (n + 1).min(stages.len()),
                _ => n -= 1,
            }
        }
        Ok(ConditionSet::default())
    }

    /// Asks condition by condition inside a stage; a yes answers for all that the condition rests on.
    fn within(&mut self, stage: &Stage) -> Result<ConditionSet, Failure> {
        let given = given_in(self.guide, stage);
        // What held before each question, so that an answer can be taken back.
        let mut before: Vec<(usize, ConditionSet)> = Vec::new();
        let (mut n, mut held) = (0, ConditionSet::default());
        while let Some(condition) = given.get(n) {
            if held.contains(*condition) {
                n += 1;
                continue;
            }
            let question = format!("Is it so: {}?", self.guide.said(*condition));
            match self.choice(&question, &["yes", "no", "back"])? {
                "back" => {
                    (n, held) = before.pop().unwrap_or_default();
                    continue;
                }
                answer => {
                    before.push((n, held.clone()));
                    if answer == "yes" {
                        held.extend(with_what_they_rest_on(self.guide, &[*condition]).iter());
                    }
                }
            }
            n += 1;
        }
        Ok(held)
    }

    /// Lists what follows from the answers, for a last look; what is denied goes with all that was built on it.
    fn confirmed(&mut self, mut held: ConditionSet) -> Result<ConditionSet, Failure> {
        let told = |held: &ConditionSet, guide: &Guide| -> Vec<Condition> {
            held.iter().filter(|condition| !guide.name(*condition).starts_with("read.")).collect()
        };
        loop {
            let listed = told(&held, self.guide);
            if listed.is_empty() {
                self.output.paragraph("Then nothing is done yet: it begins at the first step.");
                return Ok(held);
            }
            self.output.paragraph("Then all of this is true:");
            for (n, condition) in listed.iter().enumerate() {
                self.output.paragraph(&format!("{:>3}  {}", n + 1, self.guide.said(*condition)));
            }
            let line = self.line("yes, or no and the numbers> ")?;
            let words = fold(&line);
            if is_yes(&line) {
                return Ok(held);
            }
            let numbers = words.strip_prefix("no").unwrap_or(&words).split_whitespace();
            let denied: Option<Vec<Condition>> =
                numbers.map(|n| n.parse::<usize>().ok().and_then(|n| listed.get(n.checked_sub(1)?)).copied()).collect();
            match denied {
                Some(denied) if !denied.is_empty() => {
                    for gone in self.guide.built_on(denied).iter() {
                        held.remove(gone);
                    }
                }
                _ => self.output.paragraph("Please type `yes`, or `no` and the numbers, such as `no 2 5`."),
            }
        }
    }

    fn choice<'w>(&mut self, question: &str, words: &[&'w str]) -> Result<&'w str, Failure> {
        loop {
            self.output.paragraph(question);
            let line = fold(&self.line(&format!("{}> ", words.join(", ")))?);
            let begun: Vec<&'w str> = words.iter().copied().filter(|word| word.starts_with(&line)).collect();
            match begun.as_slice() {
                [word] if !line.is_empty() => return Ok(word),
                _ => self.output.paragraph(&format!("Please type {}.", words.join(" or "))),
            }
        }
    }

    fn line(&mut self, prompt: &str) -> Result<String, Failure> {
        match self.lines.ask(prompt, Vec::new())? {
            Typed::Line(line) => Ok(line),
            Typed::Dropped | Typed::End => {
                let failure = Failure::usage("the questions were broken off, and no job was begun");
                Err(failure.help("begin again, or name what is done: `--from CONDITION… --built-on`"))
            }
        }
    }
}
