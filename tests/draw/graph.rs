//! What must be on a chart, from the guide alone, and what is in the text of its DOT.

use std::collections::BTreeMap;
use std::process::{Command, Stdio};

use stepjig::guide::{Guide, Kind, Label, StepIdx};

/// A graph as counts: the steps, and how many ways join two of them; a fault table is none.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Graph {
    pub nodes: Vec<usize>,
    pub edges: BTreeMap<(usize, Option<usize>), usize>,
}

impl Graph {
    pub fn edge(&mut self, from: usize, to: Option<usize>) {
        *self.edges.entry((from, to)).or_default() += 1;
    }
}

/// Returns what a guide is, each procedure's beginning and return passed through.
pub fn of_guide(guide: &Guide) -> Graph {
    let mut graph = Graph::default();
    let mut numbers = BTreeMap::new();
    for (idx, step) in guide.steps() {
        if !matches!(step.kind, Kind::Run | Kind::Return { .. }) {
            numbers.insert(idx, numbers.len() + 1);
        }
    }
    graph.nodes = numbers.values().copied().collect();
    let through = |mut idx: StepIdx| loop {
        match numbers.get(&idx) {
            Some(number) => return *number,
            None => {
                let ways = guide.ways_out(idx).iter();
                idx = ways.filter(|way| way.label == Label::Then).find_map(|way| way.to).expect("it goes on");
            }
        }
    };
    for (idx, _) in guide.steps() {
        for way in guide.ways_out(idx) {
            let is_silent = !numbers.contains_key(&idx) && way.label == Label::Then;
            if !is_silent {
                graph.edge(through(idx), way.to.filter(|_| way.trouble.is_none()).map(through));
            }
        }
    }
    graph
}

/// Returns the graph that the lines of a DOT text say.
pub fn of_dot(dot: &str) -> Graph {
    let mut graph = Graph::default();
    for line in dot.lines().map(str::trim).filter(|line| line.starts_with('"')) {
        let (name, rest) = line[1..].split_once('"').expect("a name ends");
        let number = |name: &str| name.strip_prefix("step-").map(|number| number.parse().expect("a number"));
        match (number(name), rest.strip_prefix(" -> \"")) {
            (Some(from), Some(to)) => graph.edge(from, number(to.split('"').next().expect("a name ends"))),
            (Some(number), None) => graph.nodes.push(number),
            (None, Some(_)) => panic!("{line} leaves no step"),
            (None, None) => assert!(name.starts_with("trouble-"), "{line}"),
        }
    }
    graph.nodes.sort_unstable();
    graph
}

/// Returns the graph that Graphviz reads in a DOT text; none where it is not installed.
pub fn of_graphviz(dot: &str) -> Option<Graph> {
    let mut command = Command::new("dot");
    command.args(["-Tjson0", "-Gnslimit=1", "-Gsplines=false"]);
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = match command.spawn() {
        Ok(child) => child,
        Err(_) => {
            eprintln!("Graphviz is not here: its reading of the DOT is not tried");
            return None;
        }
    };
    let mut stdin = child.stdin.take().expect("a pipe");
    let text = dot.to_owned();
    let writer = std::thread::spawn(move || std::io::Write::write_all(&mut stdin, text.as_bytes()));
    let output = child.wait_with_output().expect("it ends");
    writer.join().expect("it is written").expect("it is read");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    assert_eq!(String::from_utf8_lossy(&output.stderr), "", "Graphviz has nothing to say against it");
    let read: serde_json::Value = serde_json::from_slice(&output.stdout).expect("it writes JSON");
    let mut graph = Graph::default();
    let empty = Vec::new();
    let list = |name: &str| read[name].as_array().unwrap_or(&empty).clone();
    let mut numbers = BTreeMap::new();
    for object in list("objects") {
        let name = object["name"].as_str().expect("a name");
        if let Some(number) = name.strip_prefix("step-") {
            let number = number.parse().expect("a number");
            numbers.insert(object["_gvid"].as_u64().expect("an id"), number);
            graph.nodes.push(number);
        } else {
            assert!(name.starts_with("cluster-") || name.starts_with("trouble-"), "{name}");
        }
    }
    for edge in list("edges") {
        let end = |name: &str| numbers.get(&edge[name].as_u64().expect("an id")).copied();
        graph.edge(end("tail").expect("an edge leaves a step"), end("head"));
    }
    graph.nodes.sort_unstable();
    Some(graph)
}
