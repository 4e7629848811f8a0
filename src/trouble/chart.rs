//! A table's policy from the start as the text of a guide: a graph that can be checked, drawn and printed.

use std::fmt::Write;

use super::plan::{Next, Node, Policy, To};
use super::table::Table;

/// Returns the policy of a table as a guide.
///
/// Each node is a step `nN`, the first `n0`: a check is its question, a remedy is one action and the question what came
/// of it. A good pen is the end `fixed`, which needs `pen.good`; a new blank and a lost one are ends as well. Each
/// step tells the expected minutes from there.
pub fn guide(table: &Table, policy: &Policy) -> String {
    let mut text = String::from("stepjig = 1\n[guide]\n");
    key(&mut text, "id", &table.id);
    key(&mut text, "title", &table.title);
    text.push_str("use-when = \"It has gone wrong like this.\"\nnot-when = \"Something else has gone wrong.\"\n");
    text.push_str("[words]\n\"pen.good\" = \"the pen is good\"\n");
    for (n, node) in policy.nodes.iter().enumerate() {
        let tell = format!("About {:.0} min from here, on average.", node.minutes);
        match node.next {
            Next::Do(action) => step(&mut text, table, (n, node), action, &tell),
            Next::StartOver => end(&mut text, &format!("n{n}"), "scrap", &tell),
            Next::Stop => end(&mut text, &format!("n{n}"), "scrap", "The cause is known as well as it can be."),
        }
    }
    let leads = |to: fn(&To) -> bool| policy.nodes.iter().flat_map(|node| &node.ways).any(|way| to(&way.to));
    if leads(|to| matches!(to, To::Fixed)) {
        end(&mut text, "fixed", "finished", "It is put right.");
        text.push_str("needs = [\"pen.good\"]\n");
    }
    if leads(|to| matches!(to, To::Lost { .. })) {
        end(&mut text, "lost", "scrap", "The blank is lost: begin again with a new one.");
    }
    text
}

fn step(text: &mut String, table: &Table, (n, node): (usize, &Node), action: usize, tell: &str) {
    let known = &table.problem.actions()[action];
    // What can only show one thing here is done for what it does, not for what it tells.
    let asks = if node.ways.len() > 1 { "ask" } else { "do" };
    text.push_str("[[step]]\n");
    key(text, "id", &format!("n{n}"));
    match (table.check(action), table.remedy(action)) {
        (Some(check), _) => key(text, asks, &check.text.value),
        (None, remedy) => {
            let say = remedy.and_then(|remedy| remedy.say.as_ref()).map_or(known.id(), |say| &say.value);
            key(text, "do", &format!("{say}."));
        }
    }
    key(text, "tell", tell);
    let _ = writeln!(text, "minutes = {}", known.minutes());
    if table.check(action).is_none() {
        text.push_str("[[step]]\n");
        key(text, "id", &format!("n{n}-outcome"));
        key(text, asks, "What came of it?");
    }
    if let [way] = node.ways.as_slice() {
        let _ = writeln!(text, "then = {{ {} }}", leading(&way.to));
        return;
    }
    text.push_str("answers = [\n");
    for way in &node.ways {
        let label = known.outcomes()[way.outcome].label();
        let label = if ["fixed", "lost"].contains(&label) { format!("it is {label}") } else { label.to_owned() };
        let _ = writeln!(text, "  {{ say = {}, {} }},", quoted(&label), leading(&way.to));
    }
    text.push_str("]\n");
}

/// Returns the keys of a way that leads there.
fn leading(to: &To) -> String {
    match to {
        To::Node(n) => format!("to = \"n{n}\""),
        To::Fixed => "to = \"fixed\", gives = [\"pen.good\"]".to_owned(),
        To::Lost { .. } => "to = \"lost\"".to_owned(),
    }
}

fn end(text: &mut String, id: &str, end: &str, tell: &str) {
    text.push_str("[[step]]\n");
    key(text, "id", id);
    key(text, "end", end);
    key(text, "tell", tell);
}

fn key(text: &mut String, key: &str, value: &str) {
    let _ = writeln!(text, "{key} = {}", quoted(value));
}

/// Quotes words; a brace in them is a brace.
fn quoted(words: &str) -> String {
    toml::Value::from(words.replace('{', "{{")).to_string()
}
