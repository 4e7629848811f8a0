//! What reckonings there are, and what one asks for.

use serde_json::json;

use crate::cli::Format;
use crate::cli::output::Output;
use crate::cli::page::Page;
use crate::reckon::{ALL, Data, Reckoning, Refusal};

/// Lists all reckonings, each with what it answers.
pub(super) fn all(format: Format, output: &mut Output) {
    match format {
        Format::Json => {
            let row = |reckoning: &&Reckoning| json!({"name": reckoning.name, "answers": reckoning.answers});
            let rows: Vec<_> = ALL.iter().map(row).collect();
            output.line(&json!({"stepjig": 1, "reckonings": rows}).to_string());
        }
        Format::Plain => {
            ALL.iter().for_each(|reckoning| output.line(&format!("{}\t{}", reckoning.name, reckoning.answers)));
        }
        Format::Text => {
            let mut page = Page::default();
            page.named(&ALL.map(|reckoning| (reckoning.name, reckoning.answers.to_owned())));
            page.space();
            page.say("`stepjig reckon wall bushing=13.1mm hole=25/64in` works one out; at a terminal it asks for what is not given. `stepjig reckon wall --inputs` shows what one asks for.");
            output.line(&page.lines().join("\n"));
        }
    }
}

/// Lists what a reckoning asks for.
pub(super) fn inputs(reckoning: &Reckoning, data: &Data, format: Format, output: &mut Output) -> Result<(), Refusal> {
    let row = |input: &'static crate::reckon::Input| Ok((input, input.usual(data)?));
    let rows = reckoning.inputs.iter().map(row).collect::<Result<Vec<_>, Refusal>>()?;
    match format {
        Format::Json => {
            let inputs = rows.iter().map(|(input, usual)| {
                json!({"name": input.name, "meaning": input.meaning, "usual": usual, "range": input.kind.range()})
            });
            let verdicts = reckoning.verdicts.iter().map(|(verdict, meaning)| json!([verdict, meaning]));
            let (inputs, verdicts): (Vec<_>, Vec<_>) = (inputs.collect(), verdicts.collect());
            let (name, answers) = (reckoning.name, reckoning.answers);
            let all = json!({"stepjig": 1, "name": name, "answers": answers, "inputs": inputs, "verdicts": verdicts});
            output.line(&all.to_string());
        }
        Format::Plain => rows.iter().for_each(|(input, usual)| {
            let usual = usual.as_deref().unwrap_or("");
            output.line(&format!("{}\t{}\t{usual}\t{}", input.name, input.meaning, input.kind.range()));
        }),
        Format::Text => {
            let mut page = Page::default();
            page.say(&format!("{}: {}.", reckoning.name, reckoning.answers));
            page.space();
            let told = rows.iter().map(|(input, usual)| {
                let usual = usual.as_ref().map(|usual| format!("; usually {usual}")).unwrap_or_default();
                (input.name, format!("{}; {}{usual}", input.meaning, input.kind.range()))
            });
            page.named(&told.collect::<Vec<_>>());
            if !reckoning.verdicts.is_empty() {
                page.space();
                page.say("What it may come to:");
                let verdicts = reckoning.verdicts.iter().map(|(verdict, meaning)| (*verdict, (*meaning).to_owned()));
                page.named(&verdicts.collect::<Vec<_>>());
            }
            output.line(&page.lines().join("\n"));
        }
    }
    Ok(())
}
