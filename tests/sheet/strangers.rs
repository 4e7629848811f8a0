//! Each sheet of a stranger's files: what they say stays text in every form.

use std::collections::BTreeSet;
use std::sync::Arc;

use stepjig::check::cover::cover;
use stepjig::finding::Source;
use stepjig::finding::plain_text::clean;
use stepjig::guide::document::Shelf;
use stepjig::guide::{Guide, Library, read};
use stepjig::reckon::Data;
use stepjig::sheet::lay_out::Fault;
use stepjig::sheet::{Sheet, Stamp, lay_out, markdown, text};
use stepjig::trouble::table::{Endings, Table};
use stepjig::walk::Event;
use stepjig::walk::rehearse::{Played, play_route};
use stepjig::walk::trouble::TroubleEvent;
use unicode_width::UnicodeWidthStr;

use super::read_back::{as_html, of_html, of_markdown, without_turns};
use super::record::{sheet_of, walked};

const GUIDE: &str = r#"
stepjig = 1
[guide]
id = "strange"
title = "T WORD"
care = "own"
[words]
"piece.cut" = "W WORD"
[kit.tube.body]
drill = "D WORD"
[[step]]
id = "read"
stage = "S WORD"
gauge = "G WORD"
unit = "mm"
limits = { min = "1 mm" }
under = "read"
parts = ["P WORD"]
[[step]]
id = "kind"
ask = "Q WORD?"
answers = [{ say = "A WORD" }, { say = "B WORD", to = "wait" }, { say = "lost", to = "lost" }]
[[step]]
id = "cut"
do = "C WORD"
gives = ["piece.cut"]
[[step]]
id = "wait"
wait = "1 h"
for = "F WORD"
ready = "R WORD"
gives = ["piece.cut"]
[[step]]
id = "press"
do = "O WORD"
needs = ["piece.cut"]
gives = ["piece.home"]
one-way = true
if-wrong = "I WORD"
[[step]]
id = "end"
end = "finished"
needs = ["piece.home"]
[[step]]
id = "lost"
end = "scrap"
"#;

const CARE: &str = r#"
stepjig = 1
[procedure]
id = "own"
title = "T WORD"
[[step]]
id = "a"
stage = "S WORD"
do = "D WORD"
tell = "E WORD"
caution = [{ level = "notice", hazard = "H WORD", avoid = "V WORD" }]
[[step]]
id = "b"
ask = "Q?"
answers = [{ say = "well", to = "return" }, { say = "A WORD", to = "c" }]
[[step]]
id = "c"
do = "C WORD"
[[step]]
id = "return"
end = "return"
"#;

const TABLE: &str = r#"
stepjig = 1
[trouble]
id = "stop"
title = "T WORD"
first = ["F WORD"]
lay-aside = "L WORD"
[start-over]
say = "S WORD"
minutes = 90
parts = ["P WORD"]
[[cause]]
id = "one"
say = "C WORD"
odds = 3
[[cause]]
id = "two"
say = "D WORD"
odds = 2
[[check]]
id = "look"
ask = "Q WORD?"
minutes = 1
caution = [{ level = "warning", hazard = "H WORD", avoid = "V WORD" }]
answers = [
  { say = "A WORD", chance = { one = 0.9, two = 0.1 } },
  { say = "B WORD", chance = { one = 0.1, two = 0.9 } },
]
[[remedy]]
id = "tap"
say = "R WORD"
do = "Tap it."
minutes = 20
cures = { one = 0.9 }
parts = ["U WORD"]
[[remedy]]
id = "pull"
say = "M WORD"
do = "Pull it."
minutes = 20
cures = { two = 0.9 }
"#;

/// What means something to a reader of some form, or is too long for a line.
const HOSTILE: [&str; 9] = [
    "<script>alert(1)</script>",
    "</p></div><h1>x",
    "[a](http://b.example)",
    "**x** _y_ `z` #h",
    "www.a.example a@b.example javascript:x",
    "\u{1b}[2J\u{1b}]8;;x\u{7}\u{202e}",
    "|a|b| - [x] 1. z ~~s~~",
    "&lt;b&gt; &amp; \u{0}",
    "Donaudampfschifffahrtselektrizitaetenhauptbetriebswerkbauunterbeamtengesellschaftsmitgliedsausweisnummernverzeichnis",
];

/// Returns a text of a file with another word in it.
fn with(text: &str, word: &str) -> String {
    let quoted = serde_json::Value::from(word.replace('{', "{{")).to_string();
    text.replace("WORD", quoted.trim_matches('"'))
}

fn guide(word: &str) -> Guide {
    let mut library = Library::empty();
    library.add(Shelf::Procedure, "own", Source::new("own.toml", with(CARE, word)));
    let linked = library.link(&Source::new("strange.toml", with(GUIDE, word)));
    linked.guide.unwrap_or_else(|| panic!("{:?}", linked.findings))
}

fn fault(word: &str) -> Fault {
    let source = Source::new("stop.toml", with(TABLE, word));
    let (document, findings) = read(&source, Library::empty().limits());
    assert!(findings.is_empty(), "{findings:?}");
    let document = document.expect("it can be read");
    let table = Table::alone(&document, &Endings::default()).expect("it can be asked");
    let steps = |remedy| Library::empty().link_remedy(&document, &table.words, remedy, &[], None).guide;
    let remedies = table.words.remedies.iter().map(steps).collect();
    Fault { document, table, remedies }
}

fn events(guide: &Guide, word: &str) -> Vec<Event> {
    let mut events = walked(guide, &["2 mm", "1", "done", "no", "done", "yes"]);
    let at = events[0].at();
    let opened = TroubleEvent::Opened { table: "stop".into(), with: Vec::new(), title: format!("X {word}") };
    let found = TroubleEvent::Found {
        check: "look".into(),
        answer: format!("Z {word}"),
        removed: Vec::new(),
        given: Vec::new(),
        fixed: false,
    };
    let begun =
        TroubleEvent::StartedOver { undone: Vec::new(), borrowed: vec![(format!("N {word}"), format!("K {word}"))] };
    events.extend([opened, found, begun].map(|what| what.at(at)));
    events.push(Event::Note { text: format!("J {word}"), at });
    events
}

/// Returns every sheet with this word wherever a stranger can say one.
fn sheets(word: &str) -> Vec<(&'static str, Sheet)> {
    let (guide, stamp, data) = (guide(word), Stamp { date: None, job: Some(word.into()) }, Data::shipped());
    vec![
        ("parts", lay_out::parts(&guide, data.things().expect("they are shipped"), &stamp)),
        ("short", lay_out::short(&guide, &stamp)),
        ("labels", lay_out::labels(&guide, 1, &stamp)),
        ("care", lay_out::care(&guide, &stamp).expect("it has one")),
        ("trouble", lay_out::fault_trees(word, word, &[fault(word)], None, &stamp)),
        ("record", sheet_of(&guide, &events(&guide, word))),
        ("rehearsal", lay_out::rehearsal(&guide, &walks(&guide), &stamp)),
    ]
}

fn walks(guide: &Guide) -> Vec<Played> {
    let data = Arc::new(Data::shipped());
    cover(guide).routes.iter().map(|route| play_route(guide, route, &data)).collect()
}

fn tags(page: &str) -> BTreeSet<&str> {
    let tags = page.split('<').skip(1).map(|rest| rest.split_once('>').expect("a tag ends").0);
    // Steps differ where other rows have room.
    tags.filter(|tag| !tag.contains("step-")).collect()
}

/// Returns Markdown without what a backslash protects.
fn unprotected(list: &str) -> String {
    let mut chars = list.chars();
    let next = |chars: &mut std::str::Chars<'_>| match chars.next()? {
        '\\' => chars.next().map(|_| ' '),
        c => Some(c),
    };
    std::iter::from_fn(|| next(&mut chars)).collect()
}

fn close(text: &str) -> String {
    text.split_whitespace().collect()
}

fn check(name: &str) {
    let benign = sheets("zqzq").into_iter().find(|(known, _)| *known == name).expect("it is there").1;
    let (page, list) = (without_turns(&as_html(&benign)), of_markdown(&markdown::render(&benign)));
    let times = |shown: &str, word: &str| close(shown).matches(&close(&clean(word))).count();
    let expected = times(&of_html(&page), "zqzq");
    assert!(expected > 2 && times(&list, "zqzq") == expected, "{name}: {page}");
    for word in HOSTILE {
        let sheet = sheets(word).into_iter().find(|(known, _)| *known == name).expect("it is there").1;
        let (hostile, list, lines) = (without_turns(&as_html(&sheet)), markdown::render(&sheet), text::render(&sheet));
        assert!(tags(&hostile).is_subset(&tags(&page)), "{name}, {word:?}: {hostile}");
        let said = times(&of_html(&hostile), word);
        // Words that fill a page leave room for fewer rows of it.
        assert!(said == expected || sheet.close && 5 < said && said < expected, "{name}, {word:?}: {hostile}");
        assert_eq!(times(&of_markdown(&list), word), said, "{name}, {word:?}: {list}");
        for acts in ["www.", "http:", "a@b", "javascript:"] {
            assert!(!list.contains(acts), "{name}, {word:?} makes a link: {list}");
        }
        let unprotected = unprotected(&list);
        for acts in ["](", "<", "~", "_", "`", "**x", "|", "# x", "[a]"] {
            assert!(!unprotected.contains(acts), "{name}, {word:?} acts: {list}");
        }
        for shown in [&hostile, &list, &lines] {
            assert!(!shown.contains(|c: char| c.is_control() && c != '\n' || c == '\u{202e}'), "{name}, {word:?}");
        }
        for line in lines.lines() {
            assert!(line.width() <= if sheet.close { 66 } else { 80 }, "{name}: {line}");
        }
    }
}

#[test]
fn on_the_pick_list() {
    check("parts");
}

#[test]
fn on_the_short_form() {
    check("short");
}

#[test]
fn on_labels() {
    check("labels");
}

#[test]
fn on_the_care_card() {
    check("care");
}

#[test]
fn on_a_fault_tables_page() {
    check("trouble");
}

#[test]
fn on_the_record() {
    check("record");
}

#[test]
fn on_the_sheets_of_a_rehearsal() {
    check("rehearsal");
}
