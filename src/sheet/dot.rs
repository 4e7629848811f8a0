//! A chart as DOT, the language of Graphviz: a cluster for each band, a node for each step, an edge for each way.

use std::fmt::Write;

use super::chart::{Chart, Node, NodeKind, To};

/// Returns a chart in DOT.
///
/// The node of a step is `step-N`. A fault table that a way leads to is a node of its own, `trouble-NAME`. Each edge has
/// its way's name as `id`.
pub fn render(chart: &Chart) -> String {
    let mut out = String::from("digraph guide {\n");
    let _ = writeln!(out, "  label={}; labelloc=t; rankdir=TB; newrank=true;", quoted(chart.title.as_str()));
    out.push_str("  node [fontname=\"Noto Sans\", fontsize=10]; edge [fontname=\"Noto Sans\", fontsize=9];\n");
    let here = |node: &&Node| !node.elsewhere;
    for (n, band) in chart.bands.iter().enumerate() {
        let mut nodes = chart.nodes.iter().filter(here).filter(|node| node.band == n).peekable();
        if nodes.peek().is_none() {
            continue;
        }
        let _ = writeln!(out, "  subgraph \"cluster-{}\" {{", n + 1);
        let _ = writeln!(out, "    label={}; style=filled; color=\"#eeeeee\";", quoted(band.title.as_str()));
        nodes.for_each(|node| show(&mut out, node));
        out.push_str("  }\n");
    }
    chart.nodes.iter().filter(|node| node.elsewhere).for_each(|node| show(&mut out, node));
    let mut tables: Vec<&str> = chart.ways.iter().filter_map(|way| table(&way.to)).collect();
    tables.sort_unstable();
    tables.dedup();
    for table in tables {
        let name = quoted(&format!("trouble-{table}"));
        let _ = writeln!(out, "  {name} [label={}, shape=triangle];", quoted(table));
    }
    for way in &chart.ways {
        let to = match &way.to {
            To::Step(number) => format!("step-{number}"),
            To::Table(table) => format!("trouble-{table}"),
        };
        let style = if way.is_back() { ", style=dashed" } else { "" };
        let (to, words, name) = (quoted(&to), quoted(way.words.as_str()), quoted(&way.name));
        let _ = writeln!(out, "  \"step-{}\" -> {to} [label={words}, id={name}{style}];", way.from);
    }
    out.push_str("}\n");
    out
}

fn table(to: &To) -> Option<&str> {
    match to {
        To::Table(table) => Some(table.as_str()),
        To::Step(_) => None,
    }
}

fn show(out: &mut String, node: &Node) {
    let shape = match node.kind {
        NodeKind::Action => "box",
        NodeKind::Question => "hexagon",
        NodeKind::Reading => "parallelogram",
        NodeKind::Sum => "component",
        NodeKind::Wait => "octagon",
        NodeKind::Finished => "ellipse",
        NodeKind::Stopped => "doublecircle",
    };
    let mut words = format!("{} {}", node.number, node.words);
    if node.hold {
        words.insert_str(0, "HOLD ");
    }
    for table in &node.tables {
        let _ = write!(words, " (trouble: {table})");
    }
    let look = match (node.elsewhere, node.one_way) {
        (true, _) => ", style=dotted",
        (false, true) => ", style=\"filled,bold\", fillcolor=white, peripheries=2",
        (false, false) => ", style=filled, fillcolor=white",
    };
    let label = lines(&words);
    let _ = writeln!(out, "    \"step-{}\" [label={label}, shape={shape}{look}];", node.number);
}

/// Returns words in quotes, with line ends where about 34 characters are full.
fn lines(words: &str) -> String {
    let (mut line, mut all) = (String::new(), Vec::new());
    for word in words.split(' ') {
        if !line.is_empty() && line.chars().count() + word.chars().count() >= 34 {
            all.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    all.push(line);
    format!("\"{}\"", all.iter().map(|line| escaped(line)).collect::<Vec<_>>().join("\\n"))
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", escaped(text))
}

/// Returns a text that Graphviz shows as it is: a backslash or a quotation mark ends nothing, and an `&` begins no
/// character's name.
fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\").replace('"', "\\\"").replace('&', "&amp;")
}
