//! Charts of the shipped guide, of made-up ones, of a stranger's and of a long one.

use stepjig::finding::Source;
use stepjig::finding::plain_text::clean;
use stepjig::guide::{Guide, Library};
use stepjig::sheet::chart::{self, Chart};
use stepjig::sheet::{dot, lay_out, svg};

use super::graph::{Graph, of_dot, of_graphviz, of_guide};
use super::measured::{self, joined};
use super::picture::{self, Picture};
use crate::oracle;

fn linked(text: String) -> Guide {
    let linked = Library::empty().link(&Source::new("g.toml", text));
    linked.guide.unwrap_or_else(|| panic!("{:?}", linked.findings.first()))
}

fn of_chart(chart: &Chart) -> Graph {
    let mut graph = Graph { nodes: chart.nodes.iter().map(|node| node.number).collect(), ..Graph::default() };
    chart.ways.iter().for_each(|way| graph.edge(way.from, way.step()));
    graph
}

fn of_picture(picture: &Picture) -> Graph {
    let mut graph = Graph { nodes: picture.boxes.keys().copied().collect(), ..Graph::default() };
    picture.ways.keys().map(|name| joined(name)).for_each(|(from, to)| graph.edge(from, to));
    graph
}

/// Checks that a guide's chart has this graph in every form, and returns the picture.
fn drawn(guide: &Guide, expected: &Graph, what: &str) -> Picture {
    let chart = lay_out::chart(guide);
    assert_eq!(&of_chart(&chart), expected, "{what}: the data");
    assert_eq!(&of_dot(&dot::render(&chart)), expected, "{what}: the DOT");
    let picture = picture::read(&svg::render(&chart::draw(&chart)));
    assert_eq!(&of_picture(&picture), expected, "{what}: the SVG");
    picture
}

#[test]
fn the_shipped_guides_are_drawn_whole_and_can_be_read() {
    let library = Library::shipped();
    for id in library.guide_ids() {
        let guide = library.link_id(id).and_then(|linked| linked.guide).expect("it links");
        let expected = of_guide(&guide);
        let picture = drawn(&guide, &expected, id);
        measured::all(&picture, id);
        let ratio = picture.width / picture.height;
        assert!((1.0..2.0).contains(&ratio), "{id} is {ratio} as wide as it is high");
        if let Some(read) = of_graphviz(&dot::render(&lay_out::chart(&guide))) {
            assert_eq!(read, expected, "{id}: as Graphviz reads it");
        }
    }
}

#[test]
fn each_word_of_a_step_and_of_a_way_stands_in_its_group() {
    let library = Library::shipped();
    let guide = library.link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links");
    let chart = lay_out::chart(&guide);
    let picture = picture::read(&svg::render(&chart::draw(&chart)));
    let close = |text: &str| text.split(' ').collect::<String>();
    let said = |group: &str| -> String {
        let words = picture.words.iter().filter(|words| words.group == group);
        words.map(|words| close(&words.said)).collect()
    };
    for node in &chart.nodes {
        let said = said(&format!("step-{}", node.number));
        assert!(said.starts_with(&format!("{}{}", node.number, close(node.words.as_str()))), "{said}");
        for table in &node.tables {
            assert!(said.contains(table.as_str()), "{said}");
        }
    }
    for way in &chart.ways {
        let said = said(&way.name);
        assert!(said.starts_with(&close(way.words.as_str())), "{}: {said} of {}", way.name, way.words);
    }
}

#[test]
fn the_main_path_runs_straight_down_in_each_column() {
    let library = Library::shipped();
    let guide = library.link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links");
    let chart = lay_out::chart(&guide);
    let picture = picture::read(&svg::render(&chart::draw(&chart)));
    let main: Vec<usize> = chart.nodes.iter().filter(|node| node.main).map(|node| node.number).collect();
    let finished = chart.nodes.iter().filter(|node| node.kind == chart::NodeKind::Finished);
    assert!(finished.clone().count() > 0 && main.len() > 150);
    assert_eq!(chart.nodes.iter().rfind(|node| node.main).map(|node| node.kind), Some(chart::NodeKind::Finished));
    let mut turns = 0;
    for pair in main.windows(2) {
        let [above, below] = [pair[0], pair[1]].map(|number| picture::around(&picture.boxes[&number]));
        if above.0 == below.0 {
            assert!(above.3 < below.1, "{pair:?} goes down");
            let line = &picture.ways[&format!("way-{}-{}-1", pair[0], pair[1])];
            assert!(line.len() == 1 && line[0].len() == 2, "{pair:?} is one straight line");
        } else {
            turns += 1;
        }
    }
    assert!((1..12).contains(&turns), "{turns} columns follow another");
}

#[test]
fn made_up_guides_are_drawn_whole_and_can_be_read() {
    for seed in 0..150 {
        let model = oracle::random::clean(seed);
        let mut expected = Graph { nodes: (1..=model.steps.len()).collect(), ..Graph::default() };
        for (n, step) in model.steps.iter().enumerate() {
            for exit in model.exits(step) {
                expected.edge(n + 1, Some(model.place(&exit.to) + 1));
            }
        }
        let guide = linked(oracle::toml::render(&model));
        let what = format!("seed {seed}");
        let picture = drawn(&guide, &expected, &what);
        measured::all(&picture, &what);
        let asked = (seed % 10 == 0).then(|| dot::render(&lay_out::chart(&guide)));
        if let Some(read) = asked.and_then(|dot| of_graphviz(&dot)) {
            assert_eq!(read, expected, "{what}: as Graphviz reads it");
        }
    }
}

/// Texts that mean something to a reader of SVG or of DOT, act on a terminal, or are hard to set.
const HOSTILE: [&str; 14] = [
    "<script>alert(1)</script>",
    "</text></g></svg>",
    "&lt;&amp;&#x3c;",
    "\"]; evil -> evil; //",
    "\\\"; evil [",
    "\\N \\G \\l \\",
    "<b>html</b>",
    "\u{1b}[2J\u{202e}",
    "a \u{7f} b",
    "]]><!--",
    "漢字かな交じり文がここにあるので折り返されるかどうかを見る長い文であるはずだ",
    "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft",
    "-----------------------------------------------------------------------------",
    "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
];

#[test]
fn what_a_stranger_writes_stays_text_and_in_its_box() {
    for (n, text) in HOSTILE.into_iter().enumerate() {
        let quoted = serde_json::to_string(text).expect("a string").replace('\u{7f}', "\\u007f");
        let toml = format!(
            "stepjig = 1\n[guide]\nid = \"g\"\ntitle = {quoted}\n\
             [[step]]\nid = \"a\"\nstage = {quoted}\nask = {quoted}\n\
             answers = [{{ say = {quoted} }}, {{ say = \"no\", to = \"c\" }}, {{ say = \"once more\", to = \"a\" }}]\n\
             [[step]]\nid = \"b\"\nstage = \"Next\"\ndo = {quoted}\n\
             [[step]]\nid = \"c\"\nend = \"finished\"\n"
        );
        let guide = linked(toml);
        let expected = of_guide(&guide);
        let picture = drawn(&guide, &expected, text);
        measured::all(&picture, text);
        let plain: String = clean(text).split_whitespace().collect();
        let said = |group: &str| -> String {
            let words = picture.words.iter().filter(|words| words.group == group);
            words.flat_map(|words| words.said.split_whitespace()).collect()
        };
        for (group, before) in [("step-2", "2"), ("way-1-2-1", ""), ("panel-1", "")] {
            assert_eq!(said(group), format!("{before}{plain}"), "{text} in {group}");
        }
        let dot = dot::render(&lay_out::chart(&guide));
        assert!(!dot.contains(['\u{1b}', '\u{202e}', '\u{7f}']), "{dot}");
        if let Some(read) = of_graphviz(&dot) {
            assert_eq!(read, expected, "hostile text {n}: as Graphviz reads it");
        }
    }
}

/// Returns a guide of so many steps in one stage, with jumps on and back and a step that many lead to.
fn long(steps: usize) -> Guide {
    let mut text = String::from("stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"A long guide\"\n");
    for n in 0..steps {
        let (back, on) = (n.saturating_sub(n % 7), (n + 1 + n % 40).min(steps));
        text += &format!(
            "[[step]]\nid = \"s{n}\"\nask = \"Which of these do you see at place {n}?\"\nanswers = [{{ say = \"good\" }}, \
             {{ say = \"too low\", to = \"s{back}\" }}, {{ say = \"on\", to = \"s{on}\" }}, {{ say = \"cracked\", to = \"lost\" }}]\n"
        );
    }
    text += &format!("[[step]]\nid = \"s{steps}\"\nend = \"finished\"\n[[step]]\nid = \"lost\"\nend = \"scrap\"\n");
    linked(text)
}

#[test]
fn a_guide_of_two_thousand_steps_is_drawn_whole() {
    let guide = long(2_000);
    let picture = drawn(&guide, &of_guide(&guide), "a long guide");
    assert_eq!(picture.boxes.len(), 2_002);
    let small = long(120);
    measured::all(&drawn(&small, &of_guide(&small), "a guide of one long stage"), "a guide of one long stage");
}

#[test]
fn a_stage_alone_has_its_steps_and_every_way_in_and_out() {
    let library = Library::shipped();
    let guide = library.link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links");
    let (whole, chart) = (of_guide(&guide), lay_out::chart(&guide));
    let stages: Vec<&str> = chart.stages().collect();
    assert!(stages.len() > 20 && stages.contains(&"Press clip and finial"));
    let mut numbers = Vec::new();
    for stage in stages {
        let part = chart.part(stage).expect("there is such a stage");
        let picture = picture::read(&svg::render(&chart::draw(&part)));
        measured::all(&picture, stage);
        let own: Vec<usize> = picture.boxes.keys().copied().collect();
        let joins = |(from, to): &(usize, Option<usize>)| own.contains(from) || to.is_some_and(|to| own.contains(&to));
        let mut expected = Graph { nodes: own.clone(), ..Graph::default() };
        expected.edges = whole.edges.iter().filter(|(ends, _)| joins(ends)).map(|(ends, n)| (*ends, *n)).collect();
        assert_eq!(of_picture(&picture), expected, "{stage}");
        assert_eq!(of_dot(&dot::render(&part)).edges, expected.edges, "{stage}");
        numbers.extend(own);
    }
    numbers.sort_unstable();
    assert_eq!(numbers, whole.nodes, "the stages together are the guide");
    assert!(chart.part("Press clip").is_none());
}

#[test]
fn each_measure_sees_its_fault() {
    let library = Library::shipped();
    let guide = library.link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links");
    let part = lay_out::chart(&guide).part("Press clip and finial").expect("there is such a stage");
    let picture = || picture::read(&svg::render(&chart::draw(&part)));
    measured::all(&picture(), "as it is");
    let number = *picture().boxes.keys().next().expect("a box");
    let other = *picture().boxes.keys().nth(1).expect("another");
    type Fault<'f> = Box<dyn Fn(&mut Picture) + 'f>;
    let faults: [(&str, Fault); 9] = [
        ("is off a sheet", Box::new(|picture| picture.width /= 2.0)),
        ("overlap", Box::new(|picture| drop(picture.boxes.insert(other, picture.boxes[&number].clone())))),
        ("is small", Box::new(|picture| picture.words[20].size = 8.9)),
        ("lies on Words", Box::new(|picture| picture.words.push(picture.words[20].clone()))),
        (
            "reaches out of its box",
            Box::new(|picture| {
                let own = picture.words.iter_mut().find(|words| words.group == format!("step-{number}"));
                own.expect("it has words").top -= 60.0;
            }),
        ),
        (
            "lies on the box of",
            Box::new(|picture| {
                let own = picture.words.iter_mut().find(|words| words.group == format!("step-{number}"));
                own.expect("it has words").group = "panel-1".to_owned();
            }),
        ),
        (
            "does not leave its step",
            Box::new(|picture| {
                let way = picture.ways.iter_mut().find(|(name, _)| joined(name).0 == number).expect("a way");
                way.1[0][0].0 += 1.0;
            }),
        ),
        (
            "runs through",
            Box::new(|picture| {
                let (left, top, right, foot) = picture::around(&picture.boxes[&number]);
                let middle = (top + foot) / 2.0;
                let line = vec![(left - 20.0, middle), (right + 20.0, middle)];
                picture.ways.insert("way-900-901-1".to_owned(), vec![line]);
            }),
        ),
        (
            "run on one another",
            Box::new(|picture| {
                let pairs = picture.ways.iter().filter(|(_, lines)| lines[0].len() == 4);
                let line = pairs.map(|(_, lines)| lines[0].clone()).next().expect("a lane");
                picture.ways.insert("way-900-901-1".to_owned(), vec![line[1..3].to_vec()]);
            }),
        ),
    ];
    for (says, fault) in faults {
        let mut picture = picture();
        fault(&mut picture);
        let failed = std::panic::catch_unwind(|| measured::all(&picture, "with a fault")).expect_err(says);
        let said = failed.downcast_ref::<String>().expect("it says what is wrong");
        assert!(said.contains(says), "{said} is not: {says}");
    }
}
