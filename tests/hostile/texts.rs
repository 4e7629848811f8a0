//! Characters that act on a terminal or hide text, in every text of a guide: none is ever shown.

use jiff::SignedDuration;
use stepjig::finding::Source;
use stepjig::guide::document::Shelf;
use stepjig::guide::{Guide, Library};
use stepjig::walk::{Phase, Walk};

use super::rig::{checked, forbidden, harmless, morning, shown, tells};
use super::round_trip::stays_itself;
use crate::typing::all_well;

/// A guide with every text there is. What stands between « and » is a place for hostile text, one after another.
const GUIDE: &str = r#"stepjig = 1
[guide]
id = "«g»"
title = "«G»"
edition = "«1»"
use-when = "«Trying.»"
not-when = "«Turning.»"
passing = ["«jaw.warm»"]
[words]
"«cap.glued»" = "«the cap is glued»"
"jaw.warm" = "«the jaw is warm»"
[kit]
"«drill»" = 1
fit = "«snug»"
bore = "«9.9 mm»"
across = "10 mm"
[kit.tube.body]
"«girth»" = "«10 mm»"
drill = "11 mm"
[[step]]
id = "«a»"
stage = "«Begin»"
do = "«Wipe {kit.fit}.»"
in-one-go = ["«Wipe {kit.bore}.»", "«Look.»"]
gives = ["«cap.glued»"]
spoils = ["«cap.wet»"]
undoes = ["«cap.cut»"]
caution = [{ level = "«warning»", hazard = "«Dust harms lungs.»", avoid = "«Wear a mask.»" }]
if-wrong = "«Stop {kit.fit}.»"
why = "«Grease keeps glue off.»"
tell = "«A note.»"
at = "«bench»"
parts = ["«rag»", "«{kit.fit} rag»"]
clock = { "«nib»" = "«12:00»", clip = "4:00" }
minutes = 2
trouble = ["«stuck»"]
then = "«b»"
[[step]]
id = "b"
ask = "«Which {kit.fit} is it?»"
needs = ["«cap.glued»"]
answers = [{ say = "«red»", to = "«c»", gives = ["«cap.seen»"] }, { say = "«blue {kit.fit}»" }]
[[step]]
id = "c"
gauge = "«Measure {kit.bore}.»"
unit = "«mm»"
limits = { min = "«9 mm»", max = "«{kit.across}»" }
sets = "«kit.bore»"
under = { to = "a", undoes = ["«cap.glued»"] }
over = { trouble = { table = "«stuck»", with = { "«piece»" = "«cap»" } } }
[[step]]
id = "c2"
gauge = "Measure {kit.bore} and {read.c}, {kit.fit}."
unit = "mm"
limits = {}
[[step]]
id = "d"
reckon = "«wall»"
from = { "«hole»" = "«kit.across»" }
verdicts = { "«thin»" = { to = "«e»" }, none = "a" }
[[step]]
id = "e"
wait = "«20 min»"
for = "«the glue»"
ready = "«it is hard»"
meanwhile = true
gives = ["glue.hard"]
[[step]]
id = "e2"
wait = "20 min"
for = "«the lacquer»"
ready = "«it is dry»"
up-to = "«30 min»"
not-ready = "«e2»"
gives = ["lacquer.dry"]
[[step]]
id = "f-{each}"
run = "«p»"
with = { "«piece»" = "«cap»", size = "«kit.tube.body»" }
each = ["«one»", "two"]
needs = ["«glue.hard»"]
tell = "«It is run.»"
[[step]]
id = "press"
do = "«Press it.»"
one-way = true
needs = ["«cap.glued»", "«cap.one»"]
if-wrong = "«Stop.»"
optional = true
[[step]]
id = "end"
end = "«finished»"
needs = ["cap.glued"]
"#;

/// The procedure that the guide runs.
const PROCEDURE: &str = r#"stepjig = 1
[procedure]
id = "«p»"
title = "«Try {piece} {each}»"
takes = ["«piece»", "size"]
passing = ["«{piece}.warm»"]
[words]
"«{piece}.{each}»" = "«{each} of {piece} is done»"
[[step]]
id = "«try-{piece}»"
do = "«Try {piece} {each} at {size.drill}.»"
gives = ["«{piece}.{each}»"]
stage = "«{piece} {each}»"
why = "«For {each}.»"
[[step]]
id = "back"
end = "«return»"
"#;

/// A guide with a key that is not known in each of its tables.
const UNKNOWN: &str = r#"stepjig = 1
"«kitt»" = 1
[guide]
id = "g"
title = "G"
"«titel»" = 1
[[step]]
id = "a"
do = "Wipe it."
"«tel»" = "A note."
caution = [{ level = "«warming»", hazard = "h", avoid = "a", "«avoyd»" = 1 }]
then = { "«too»" = "b" }
trouble = [{ table = "«no-table»", "«wit»" = 1 }, "«nowhere»"]
[[step]]
id = "b"
ask = "Which?"
answers = [{ say = "red", "«sey»" = 1 }, { say = "«red»" }, { say = "«back»" }]
[[step]]
id = "c"
gauge = "Measure {«kit.bore»}, {«read.c»}."
unit = "«millimetre»"
limits = { "«mix»" = 1, min = "«9 miles»" }
sets = "«no-kit»"
clock = { nib = "«13:00»" }
[[step]]
id = "d"
reckon = "«walls»"
[[step]]
id = "e"
wait = "«20 minuts»"
ready = "it is hard"
[[step]]
id = "f"
run = "«q»"
[[step]]
id = "f2"
run = "p"
with = { "«peace»" = "x", size = "«kit.tube.bodi»" }
[[step]]
id = "f2"
"«don»" = "Wipe {«x»}."
[[step]]
id = "end"
end = "«finish»"
"#;

/// How hostile text is put in the place of a text: alone, behind it, or into the middle of it. Where little is put into
/// a text it is nearly the same still, so that it is asked whether that was meant.
#[derive(Debug, Clone, Copy)]
enum Put {
    Alone,
    Behind,
    Amid,
}

/// Returns a template with hostile text in this place, and its own text in every other; none where there is no such
/// place.
fn with(template: &str, place: usize, put: Put, hostile: &str) -> Option<String> {
    let (mut text, mut at, mut rest) = (String::new(), 0, template);
    while let Some((before, after)) = rest.split_once('«') {
        let (usual, after) = after.split_once('»').expect("a place is closed");
        text.push_str(before);
        let middle = usual.len() / 2;
        match put {
            _ if at != place => text.push_str(usual),
            Put::Alone => text.push_str(hostile),
            Put::Behind => text.extend([usual, hostile]),
            Put::Amid => text.extend([&usual[..middle], hostile, &usual[middle..]]),
        }
        (at, rest) = (at + 1, after);
    }
    (place < at).then(|| text + rest)
}

fn usual(template: &str) -> String {
    template.replace(['«', '»'], "")
}

/// Returns what is put into the texts: all the characters at once and the worst of them alone, as TOML's escapes and
/// as they are.
fn hostile_texts() -> Vec<(Put, String)> {
    let escaped = |c: &char| match u32::from(*c) {
        short @ ..=0xffff => format!("\\u{short:04X}"),
        long => format!("\\U{long:08X}"),
    };
    let all = forbidden();
    // What TOML does not allow in a string as it is makes a file that cannot be read: that is told, too.
    let is_allowed = |c: &&char| **c == '\t' || !c.is_ascii_control();
    let mut texts = vec![
        (Put::Alone, all.iter().map(escaped).collect()),
        (Put::Behind, all.iter().map(escaped).collect()),
        (Put::Alone, all.iter().filter(is_allowed).collect()),
        (Put::Behind, all.iter().filter(is_allowed).collect()),
    ];
    for worst in ['\u{1b}', '\0', '\r', '\u{9b}', '\u{7f}', '\u{202e}', '\u{2028}', '\u{feff}', '\u{e0041}'] {
        texts.push((Put::Behind, escaped(&worst)));
        texts.push((Put::Amid, escaped(&worst)));
        texts.push((Put::Amid, worst.to_string()));
    }
    texts
}

fn library(procedure: &str) -> Library {
    let mut library = Library::empty();
    library.add(Shelf::Procedure, "p", Source::new("p\u{1b}[2J.toml", procedure));
    library.add(Shelf::Procedure, "q\u{202e}", Source::new("q.toml", procedure));
    library.add(Shelf::Trouble, "stuck", Source::new("stuck.toml", ""));
    library.add(Shelf::Trouble, "nowher\u{1b}", Source::new("nowhere.toml", ""));
    library
}

/// Returns lines that are refused, or told of, with hostile text in them.
fn hostile_lines() -> Vec<String> {
    const WORDS: [&str; 14] = [
        "zz",
        ":zz",
        "correct kit.zz",
        "correct kit.bore",
        "correct kit.fit",
        "trouble",
        "again",
        "note",
        "back",
        "done",
        "no",
        "9,9",
        "9.9 m",
        "re",
    ];
    let signs = ["\u{1b}[2J", "\u{9b}", "\u{202e}\u{e0041}"];
    let lines = |word: &str, sign: &str| [format!("{word}{sign}"), format!("{word} 3{sign} mm")];
    signs.iter().flat_map(|sign| WORDS.iter().flat_map(move |word| lines(word, sign))).collect()
}

/// Walks a guide while these lines are typed, and looks at everything that is shown.
fn walk(guide: &Guide, lines: &[String], what: &str) {
    let mut now = morning();
    let mut walk = Walk::begin(guide, now);
    for n in 0..40 {
        tells(&walk, now, lines, what);
        if walk.state().phase == Phase::Ended {
            break;
        }
        if n == 1 {
            for line in ["correct kit.fit loose\u{1b}[2J", "note \u{9b}2J"] {
                walk.answer(line, now).unwrap_or_else(|refusal| panic!("{what}: {refusal}"));
            }
        }
        // The wait that runs meanwhile was not over at first, and a question is answered by its second answer.
        let line = match n {
            2 => "2".to_owned(),
            _ => all_well(&walk.scene(now)),
        };
        let _ = walk.answer(&line, now);
        now += SignedDuration::from_mins(7);
    }
}

/// Checks a template with hostile text in each of its places; returns how many of them could be walked.
fn each_place(template: &str, what: &str, library_and_guide: impl Fn(&str) -> (Library, String)) -> usize {
    let mut walked = 0;
    for (put, hostile) in hostile_texts() {
        let places = (0..).map_while(|place| with(template, place, put, &hostile));
        for (place, text) in places.enumerate() {
            let what = format!("{what} {place}, {put:?} {}", hostile.chars().take(12).collect::<String>());
            let what = what.escape_debug().to_string();
            let (library, guide) = library_and_guide(&text);
            let checked = checked(&library, &Source::new("g\u{1b}]0;\u{7}.toml", guide), &what);
            shown(&checked.findings, &what);
            if let Some(guide) = &checked.guide {
                walk(guide, &[], &what);
                stays_itself(guide, &what);
                walked += 1;
            }
        }
    }
    walked
}

#[test]
fn the_templates_are_guides() {
    let checked = checked(&library(&usual(PROCEDURE)), &Source::new("g.toml", usual(GUIDE)), "the template");
    let told: Vec<String> = checked.findings.iter().map(stepjig::finding::render::one_line).collect();
    let guide = checked.guide.unwrap_or_else(|| panic!("{told:#?}"));
    walk(&guide, &hostile_lines(), "the template");
    let (mut walk, mut now) = (Walk::begin(&guide, morning()), morning());
    while walk.state().phase != Phase::Ended {
        now += SignedDuration::from_mins(40);
        let scene = walk.scene(now);
        walk.answer(&all_well(&scene), now).unwrap_or_else(|refusal| panic!("{}: {refusal}", scene.id));
    }
    assert_eq!(&*guide.step(walk.state().here).id, "end");
}

#[test]
fn no_text_of_a_guide_acts_on_a_terminal() {
    let walked = each_place(GUIDE, "guide", |guide| (library(&usual(PROCEDURE)), guide.to_owned()));
    assert!(walked > 900, "only {walked} were walked");
}

#[test]
fn no_text_of_a_procedure_acts_on_a_terminal() {
    let walked = each_place(PROCEDURE, "procedure", |procedure| (library(procedure), usual(GUIDE)));
    assert!(walked > 120, "only {walked} were walked");
}

#[test]
fn no_unknown_word_acts_on_a_terminal() {
    each_place(UNKNOWN, "unknown", |guide| (library(&usual(PROCEDURE)), guide.to_owned()));
}

#[test]
fn every_character_is_made_visible() {
    for c in forbidden() {
        let text = format!("a{c}b");
        let plain = stepjig::finding::plain_text::clean(&text);
        harmless("clean", &plain);
        assert!(plain.len() > 2 && plain.starts_with('a') && plain.ends_with('b'), "{plain}");
        harmless("clean_line", &stepjig::finding::plain_text::clean_line(&text));
    }
    for c in ['\n', 'é', 'ß', '½', '·', '\u{a0}', '\u{200d}', '👩', '\u{301}'] {
        assert_eq!(stepjig::finding::plain_text::clean(&c.to_string()), c.to_string());
    }
}
