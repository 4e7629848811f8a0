//! `rehearse`: the walks that take every branch of a guide, and the guide's own tests.

use std::sync::Arc;

use super::check::counted;
use super::failure::Failure;
use super::on_paper::{OnPaper, today};
use super::output::Output;
use super::settings::Settings;
use super::{Format, Outcome, shelf};
use crate::check::cover::{Cover, cover};
use crate::finding::plain_text::clean_line;
use crate::guide::{Guide, StepIdx, WayIdx};
use crate::reckon::Data;
use crate::sheet::{Stamp, lay_out};
use crate::walk::rehearse::{self, Branch, Coverage, Played, branch_said, coverage, play_route};

mod report;

/// How many steps with branches that no rehearsal takes are listed for people.
const LISTED: usize = 12;

/// How many of the ways that lie on different walks are named for people.
const NAMED: usize = 8;

const MORE: &str = "\
Examples:
  What it takes to try every branch, and whether the guide's own rehearsals hold:
    stepjig rehearse two-tube-fountain
  The walks on paper, to be gone through at a table:
    stepjig rehearse two-tube-fountain -o walks.pdf

A guide's own rehearsals stand at its end:
    [[rehearsal]]
    title = \"A blank that splits at the drill is lost\"
    numbers = { \"kit.tube.body.drill\" = \"10.6 mm\" }
    answers = { drilled = [\"cannot tell\", \"it split\"] }
    arrives = \"scrap\"
`answers` says at a step what would be typed there: an answer's words, a reading with its unit, a verdict or values of \
a sum, `ready`, `not ready`, `skip`, `no CONDITION` at a hold, `trouble CONDITION`. A list is for the 1st, 2nd, 3rd \
time. At any other step all is well. `arrives` is `finished`, `scrap` or a step. With `leaves-out = [\"STEP\"]` a step \
is passed by though it must not be, and `finding = \"need-unmet\"` says that a later step must notice.

--format json: {\"stepjig\": 1, \"guide\", \"walks\": {\"number\", \"bound\", \"smallest\", \"apart\": [BRANCH], \
\"sheets\": [{\"end\", \"stuck\", \"moves\": [{\"step\", \"said\", \"to\", \"picked-up\"}]}]}, \"rehearsals\": \
[{\"title\", \"line\", \"holds\", \"step\", \"expected\", \"came\"}], \"coverage\": {\"branches\", \"taken\", \
\"open\": [BRANCH]}}; a BRANCH is {\"step\", \"way\"}.

Exit codes: 1 where a rehearsal of the guide does not hold.";

/// Arguments of `rehearse`.
#[derive(Debug, clap::Args)]
#[command(after_help = MORE)]
pub(super) struct RehearseArguments {
    /// The guide: an id, a path, or `-`
    guide: String,
    #[command(flatten)]
    on: OnPaper,
    /// For reading, one branch or rehearsal a line, or for other programs
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

/// What is known of a guide when it has been rehearsed.
struct Rehearsed<'g> {
    /// As the guide was named.
    named: &'g str,
    guide: &'g Guide,
    cover: Cover,
    walks: Vec<Played>,
    written: Vec<rehearse::Outcome>,
    coverage: Coverage,
}

/// Rehearses a guide.
pub(super) fn run(arguments: &RehearseArguments, settings: &Settings, output: &mut Output) -> Outcome {
    arguments.on.may_be_written()?;
    let guide = shelf::sound(settings, &arguments.guide)?;
    let data = Arc::new(shelf::data(settings)?);
    let rehearsed = Rehearsed::new(&arguments.guide, &guide, &data);
    if arguments.on.is_wanted() {
        if arguments.format != Format::Text {
            let failure = Failure::usage("`--format` is for the summary, `--as` and `-o` are for the sheets");
            return Err(failure.help("leave one of them out"));
        }
        let stamp = Stamp { date: Some(today()), job: None };
        return arguments.on.put(&lay_out::rehearsal(&guide, &rehearsed.walks, &stamp), settings, output);
    }
    match arguments.format {
        Format::Json => {
            let report = report::Report::new(&rehearsed);
            output.line(&serde_json::to_string(&report).map_err(|wrong| Failure::usage(wrong.to_string()))?);
        }
        Format::Plain => rehearsed.records(output),
        Format::Text => rehearsed.tell(output),
    }
    Ok(u8::from(rehearsed.written.iter().any(|outcome| !outcome.holds)))
}

impl<'g> Rehearsed<'g> {
    fn new(named: &'g str, guide: &'g Guide, data: &Arc<Data>) -> Rehearsed<'g> {
        let cover = cover(guide);
        let walks = cover.routes.iter().map(|route| play_route(guide, route, data)).collect();
        let written: Vec<rehearse::Outcome> =
            guide.rehearsals().iter().map(|rehearsal| rehearse::rehearse(guide, rehearsal, data)).collect();
        let coverage = coverage(guide, &written);
        Rehearsed { named, guide, cover, walks, written, coverage }
    }

    fn id(&self, step: StepIdx) -> String {
        clean_line(&self.guide.step(step).id)
    }

    fn branch(&self, way: WayIdx) -> (String, String) {
        let way = self.guide.way(way);
        (self.id(way.from), clean_line(&branch_said(&way.label)))
    }

    /// Writes one record a line: each walk, each rehearsal, each branch that no rehearsal takes.
    fn records(&self, output: &mut Output) {
        for walk in &self.walks {
            let stuck = if walk.stuck.is_some() { "stuck" } else { "walk" };
            output.line(&format!("{stuck}: {} moves, to {}", walk.moves.len(), self.id(walk.at)));
        }
        for (rehearsal, outcome) in self.guide.rehearsals().iter().zip(&self.written) {
            let holds = if outcome.holds { "holds" } else { "fails" };
            output.line(&format!("{holds}: {}", clean_line(&rehearsal.title)));
        }
        for Branch { way, .. } in &self.coverage.open {
            let (step, said) = self.branch(*way);
            output.line(&format!("open: {step}: {said}"));
        }
    }

    fn tell(&self, output: &mut Output) {
        self.tell_walks(output);
        self.tell_written(output);
        self.tell_coverage(output);
        output.line("");
        let named = clean_line(self.named);
        output.paragraph(&format!(
            "The walks on paper: `stepjig rehearse {named} -o walks.pdf`, or `--as text`, `markdown`, `html`."
        ));
    }

    fn tell_walks(&self, output: &mut Output) {
        let (number, bound) = (self.cover.routes.len(), self.cover.bound());
        let id = clean_line(self.guide.id());
        output.paragraph(&format!(
            "{id}: {} through the {} steps take{} every branch there is.",
            counted(number, "walk"),
            self.guide.len(),
            if number == 1 { "s" } else { "" }
        ));
        let moves: Vec<usize> = self.walks.iter().map(|walk| walk.moves.len()).collect();
        if let (Some(least), Some(most)) = (moves.iter().min(), moves.iter().max()) {
            let all: usize = moves.iter().sum();
            output.paragraph(&format!("The shortest has {least} moves, the longest {most}, all together {all}."));
        }
        match self.cover.is_smallest() {
            true if number > 1 => {
                let named = self.cover.witness.iter().take(NAMED).map(|way| {
                    let (step, said) = self.branch(*way);
                    format!("{step} “{said}”")
                });
                let named: Vec<String> = named.collect();
                let more = number.saturating_sub(NAMED);
                let more = if more > 0 { format!(", and {more} more") } else { String::new() };
                output.paragraph(&format!(
                    "Fewer will not do: no walk takes two of these {number}: {}{more}.",
                    named.join(", ")
                ));
            }
            true => {}
            false => {
                output.paragraph(&format!("It is not proved that fewer will not do; at least {bound} are wanted."))
            }
        }
        for (n, walk) in self.walks.iter().enumerate().filter(|(_, walk)| walk.stuck.is_some()) {
            let at = self.id(walk.at);
            output.paragraph(&format!("Walk {} cannot be gone to its end: it is stuck at `{at}`.", n + 1));
        }
    }

    fn tell_written(&self, output: &mut Output) {
        output.line("");
        let holding = self.written.iter().filter(|outcome| outcome.holds).count();
        output.paragraph(&match (self.written.len(), holding) {
            (0, _) => {
                "The guide has no rehearsals of its own; `stepjig rehearse --help` says how to write one.".to_owned()
            }
            (all, holding) if all == holding => {
                format!("{} written in the guide: all hold.", counted(all, "rehearsal"))
            }
            (all, holding) => format!("{} written in the guide: {holding} hold.", counted(all, "rehearsal")),
        });
        for (rehearsal, outcome) in self.guide.rehearsals().iter().zip(&self.written) {
            let title = clean_line(&rehearsal.title);
            if outcome.holds {
                output.paragraph(&format!("  holds  {title}"));
                continue;
            }
            output.paragraph(&format!("  fails  {title}"));
            output.paragraph(&format!("    {}, at `{}`", rehearsal.place, self.id(outcome.at)));
            output.paragraph(&format!("    must be: {}", outcome.expected));
            output.paragraph(&format!("    came:    {}", outcome.came));
        }
    }

    fn tell_coverage(&self, output: &mut Output) {
        let Coverage { all, open } = &self.coverage;
        if *all == 0 {
            return;
        }
        output.line("");
        let taken = all - open.len();
        output.paragraph(&format!("The guide's own rehearsals take {taken} of its {all} branches."));
        if open.is_empty() {
            return;
        }
        output.paragraph("None of them takes:");
        let steps: Vec<&[Branch]> = open.chunk_by(|a, b| a.step == b.step).collect();
        for branches in steps.iter().take(LISTED) {
            let said: Vec<String> = branches.iter().map(|branch| format!("“{}”", self.branch(branch.way).1)).collect();
            output.paragraph(&format!("  {}: {}", self.id(branches[0].step), said.join(", ")));
        }
        if steps.len() > LISTED {
            let more = steps.len() - LISTED;
            output.paragraph(&format!("  and at {}; `--format plain` lists all.", counted(more, "more step")));
        }
    }
}
