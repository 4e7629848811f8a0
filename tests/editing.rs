//! The editing loop as its users run it: `check --fix`, `check --watch`, `walk` of an unfinished guide, `compare`,
//! `schema`.

use std::io::{BufRead, BufReader};
use std::process::Stdio;

use home::Home;
use stepjig::check::check_file;
use stepjig::check::compare::{What, compare};
use stepjig::check::mend::mend;
use stepjig::finding::{Code, Source};
use stepjig::guide::{Guide, Library};

mod home;

/// A guide of a choir's raffle pen: comments everywhere, no error.
const PEAR: &str = r#"stepjig = 1   # the format

[guide]
id = "pear"   # the stem of the file
title = "A raffle pen of pear wood"
use-when = "The blank is from the windfall tree."
not-when = "The blank is bought."

[words]
"barrel.sanded" = "the barrel is sanded"   # by eye
"seat.clean" = "the seat is clean"
"nib.pressed" = "the nib is pressed"

# Sanding comes first.
[[step]]
id = "sand"
do = "Sand the barrel."   # along the grain
gives = ["barrel.sanded"]
then = "look"

[[step]]
id = "look"
ask = "Is the seat clean?"
needs = ["barrel.sanded"]
answers = [
  { say = "it is clean", gives = ["seat.clean"] },   # good
  { say = "there is glue on it", to = "sand" },
  { say = "cannot tell", to = "sand" },
]

[[step]]
id = "press-nib"
do = "Press the nib home."
needs = [
  "barrel.sanded",
  "seat.clean",   # or it sits askew
]
gives = ["nib.pressed"]
one-way = true
if-wrong = "If it tilts, stop."
caution = [{ level = "warning", hazard = "The ram pinches fingers", avoid = "Fingers out of the gap" }]

[[step]]
id = "glue-sets"
wait = "20 min"
ready = "a drop of the same glue on scrap is hard"
needs = ["nib.pressed"]
gives = ["glue.hard"]

[[step]]
id = "rim"
gauge = "Measure the rim."
unit = "mm"
limits = { min = "12 mm", max = "13 mm" }
needs = ["glue.hard"]
gives = ["rim.good"]
under = "lost"
over = "sand-rim"

[[step]]
id = "finish"
end = "finished"
needs = ["nib.pressed", "rim.good"]

[[step]]
id = "sand-rim"
do = "Sand the rim."
gives = ["glue.hard"]
then = "rim"

[[step]]
id = "lost"
end = "scrap"
"#;

fn pear() -> String {
    let words = "\"nib.pressed\" = \"the nib is pressed\"\n";
    PEAR.replace(words, &format!("{words}\"glue.hard\" = \"the glue is hard\"\n\"rim.good\" = \"the rim is good\"\n"))
}

fn mended(text: &str) -> String {
    let source = Source::new("pear.toml", text);
    let mended = mend(&Library::shipped(), &source);
    let again = mend(&Library::shipped(), &mended.source);
    assert_eq!((again.source.text(), again.changes.len()), (mended.source.text(), 0), "mending what is mended");
    mended.source.text().to_owned()
}

/// Each name misspelt by one letter in one place: mended, the file is what it was, byte for byte.
#[test]
fn a_misspelt_name_is_put_right_and_nothing_else_is_touched() {
    let pear = pear();
    assert_eq!(mended(&pear), pear, "what needs no mending is not touched");
    let rows = [
        ("then = \"look\"", "thn = \"look\""),
        ("then = \"look\"", "then = \"loook\""),
        ("to = \"sand\" },\n]", "to = \"sadn\" },\n]"),
        ("needs = [\n", "neds = [\n"),
        ("use-when", "use-wen"),
        ("over = \"sand-rim\"", "over = \"sand-rm\""),
        ("under = \"lost\"", "undr = \"lost\""),
        ("level = \"warning\"", "level = \"warnin\""),
        ("hazard =", "hazrd ="),
        ("ready =", "redy ="),
        ("limits =", "limts ="),
        ("answers =", "anwsers ="),
        ("end = \"finished\"", "end = \"finishd\""),
        ("[words]", "[wrds]"),
        ("needs = [\"glue.hard\"]", "needs = [\"glue.hrd\"]"),
        ("title =", "tilte ="),
        ("one-way =", "oneway ="),
    ];
    for (right, wrong) in rows {
        assert_eq!(pear.matches(right).count(), 1, "{right} stands in one place");
        assert_eq!(mended(&pear.replace(right, wrong)), pear, "{wrong}");
        let windows = pear.replace('\n', "\r\n");
        let (right, wrong) = (right.replace('\n', "\r\n"), wrong.replace('\n', "\r\n"));
        assert_eq!(mended(&windows.replace(&right, &wrong)), windows, "{wrong} with the line ends of another system");
    }
}

/// Returns the comments of a text in their order.
fn comments(text: &str) -> Vec<&str> {
    text.lines().filter_map(|line| Some(&line[line.find('#')?..])).collect()
}

/// Every key at the beginning of a line, and every name in quotes, with two of its letters changed round: what is
/// mended is what it was, byte for byte; what is not is left as it was written. No comment is touched, and mending again
/// changes nothing.
#[test]
fn two_letters_changed_round_anywhere_are_mended_or_left() {
    let pear = pear();
    let (mut n_mended, mut n_left) = (0, Vec::new());
    let mut starts: Vec<(usize, usize)> = Vec::new();
    let mut at = 0;
    for line in pear.split_inclusive('\n') {
        let key = line.bytes().take_while(|b| b.is_ascii_alphanumeric() || *b == b'-').count();
        if key > 3 && line[key..].starts_with(" =") {
            starts.push((at, at + key));
        }
        for to in ["then = \"", "to = \"", "under = \"", "over = \""] {
            if let Some(from) = line.find(to).map(|from| at + from + to.len()) {
                starts.push((from, from + pear[from..].find('"').expect("it is closed")));
            }
        }
        at += line.len();
    }
    for (from, to) in starts {
        let middle = from + (to - from) / 2;
        let (a, b) = (&pear[middle - 1..middle], &pear[middle..=middle]);
        if a == b {
            continue;
        }
        let wrong = format!("{}{b}{a}{}", &pear[..middle - 1], &pear[middle + 1..]);
        let now = mended(&wrong);
        assert_eq!(comments(&now), comments(&pear), "{}", &pear[from..to]);
        match now == pear {
            true => n_mended += 1,
            false => {
                let name = format!("{}{b}{a}{}", &pear[from..middle - 1], &pear[middle + 1..to]);
                assert!(now.contains(&name), "`{name}` was made into something else:\n{now}");
                n_left.push(name);
            }
        }
    }
    assert!(n_mended > 4 * n_left.len() && n_mended >= 27, "{n_mended} mended, left: {n_left:?}");
}

#[test]
fn conditions_without_words_get_some_at_the_end_of_the_table() {
    let text = mended(PEAR);
    let words = "\"nib.pressed\" = \"the nib is pressed\"\n\"glue.hard\" = \"the glue is hard\"\n\"rim.good\" = \"the rim is good\"\n";
    assert_eq!(text, PEAR.replace("\"nib.pressed\" = \"the nib is pressed\"\n", words));
}

#[test]
fn an_idle_step_gives_what_the_next_one_way_step_needs() {
    let idle = "[[step]]\nid = \"wipe\"   # with a dry cloth\ndo = \"Wipe the seat.\"\n\n";
    let before = pear().replace("[[step]]\nid = \"press-nib\"", &format!("{idle}[[step]]\nid = \"press-nib\""));
    let text = mended(&before);
    assert!(text.contains("id = \"wipe\"   # with a dry cloth\ngives = [\"wipe.done\"]\n"), "{text}");
    assert!(text.contains("  \"seat.clean\", \"wipe.done\",   # or it sits askew\n"), "{text}");
    let checked = check_file(&Library::empty(), &Source::new("pear.toml", text));
    let left: Vec<Code> = checked.findings.iter().map(|finding| finding.code).collect();
    assert!(checked.is_sound() && !left.contains(&Code::IdleStep) && !left.contains(&Code::Unworded), "{left:?}");
}

/// A key that is meant is there already, or both of two are misspelt alike: what would break the file is not done.
#[test]
fn a_fix_that_would_do_harm_is_not_made() {
    for (right, wrong) in [
        ("then = \"look\"", "then = \"look\"\nthn = \"press-nib\""),
        ("then = \"look\"", "thn = \"look\"\nthenn = \"look\""),
    ] {
        let text = mended(&pear().replace(right, wrong));
        assert!(text.parse::<toml::Table>().is_ok(), "{text}");
    }
}

fn guide(text: &str) -> Guide {
    let checked = check_file(&Library::shipped(), &Source::new("pear.toml", text));
    checked.guide.unwrap_or_else(|| panic!("{:?}", checked.findings))
}

#[test]
fn a_guide_does_not_differ_from_itself() {
    assert_eq!(compare(&guide(&pear()), &guide(&pear())), []);
    let shipped = Library::shipped();
    for id in shipped.guide_ids() {
        let linked = || shipped.link_id(id).and_then(|linked| linked.guide).expect("it links");
        assert_eq!(compare(&linked(), &linked()), [], "{id}");
    }
}

/// One edit of a guide, and what is told of it: kind, step, and words in what is said.
#[test]
fn every_edit_is_told() {
    let pear = pear();
    let rows = [
        (
            "do = \"Sand the barrel.\"",
            "do = \"Sand the barrel.\"\none-way = true",
            What::BecameOneWay,
            "sand",
            "cannot be taken back",
        ),
        ("one-way = true", "one-way = false", What::NoLongerOneWay, "press-nib", "can be taken back"),
        ("  \"seat.clean\",   # or it sits askew\n", "", What::NeedGone, "press-nib", "the seat is clean"),
        (
            "needs = [\"glue.hard\"]",
            "needs = [\"glue.hard\", \"seat.clean\"]",
            What::NeedCame,
            "rim",
            "the seat is clean",
        ),
        (
            "caution = [{ level = \"warning\", hazard = \"The ram pinches fingers\", avoid = \"Fingers out of the gap\" }]",
            "",
            What::CautionGone,
            "press-nib",
            "pinches",
        ),
        ("\"20 min\"", "\"15 min\"", What::WaitShorter, "glue-sets", "15 min"),
        ("\"20 min\"", "\"1 h\"", What::WaitLonger, "glue-sets", "60 min"),
        ("max = \"13 mm\"", "max = \"14 mm\"", What::Limits, "rim", "14 mm"),
        ("to = \"sand\" },\n]", "to = \"lost\" },\n]", What::Ways, "look", "`lost`"),
        ("\"cannot tell\"", "\"not sure\"", What::Ways, "look", "not sure"),
        ("Press the nib home.", "Press the nib home by hand.", What::Text, "press-nib", "by hand"),
        ("If it tilts, stop.", "If it tilts, halt.", What::Other, "press-nib", "halt"),
        ("ready = \"a drop", "ready = \"the drop", What::Text, "glue-sets", "the drop"),
        ("gives = [\"rim.good\"]", "gives = [\"rim.good\", \"seat.clean\"]", What::Effects, "rim", "the seat is clean"),
        ("the seat is clean\"", "the seat is bright\"", What::Words, "", "bright"),
        ("A raffle pen", "The raffle pen", What::Opening, "", "The raffle pen"),
    ];
    for (old, new, what, step, said) in rows {
        assert_eq!(pear.matches(old).count(), 1, "{old} stands in one place");
        let found = compare(&guide(&pear), &guide(&pear.replace(old, new)));
        let is_it = |step_of: &Option<String>| step_of.as_deref().unwrap_or("") == step;
        let told = found.iter().any(|one| one.what == what && is_it(&one.step) && one.said.contains(said));
        assert!(told, "{new}: {found:?}");
        assert!(found.windows(2).all(|two| two[0].what <= two[1].what), "what can hurt comes first: {found:?}");
    }
    let renamed = pear.replace("\"look\"", "\"look-close\"");
    let found = compare(&guide(&pear), &guide(&renamed));
    assert_eq!(found.iter().map(|one| one.what).collect::<Vec<_>>(), [What::Renamed], "{found:?}");
    let came = pear
        .replace("[[step]]\nid = \"lost\"", "[[step]]\nid = \"gone\"\nend = \"scrap\"\n\n[[step]]\nid = \"lost\"")
        .replace("under = \"lost\"", "under = \"gone\"");
    let found = compare(&guide(&pear), &guide(&came));
    assert!(found.iter().any(|one| one.what == What::Came && one.step.as_deref() == Some("gone")), "{found:?}");
    let found = compare(&guide(&came), &guide(&pear));
    assert!(found.iter().any(|one| one.what == What::Went && one.step.as_deref() == Some("gone")), "{found:?}");
}

/// Every text of a step that a person reads, with a word more; every number, changed: `compare` tells it.
#[test]
fn a_change_of_any_text_or_number_is_told() {
    let pear = pear();
    let (old, steps) = (guide(&pear), pear.find("[[step]]").expect("a step"));
    let quotes: Vec<usize> = pear.match_indices('"').map(|(at, _)| at).collect();
    let mut told = 0;
    for quoted in quotes.chunks(2).filter(|quoted| quoted[0] > steps) {
        let (from, to) = (quoted[0] + 1, quoted[1]);
        let said = &pear[from..to];
        let changed = match said {
            _ if !said.contains(' ') => continue,
            _ if said.starts_with(|c: char| c.is_ascii_digit()) => format!("1{said}"),
            _ if said.ends_with(['.', '?']) => format!("{} now{}", &said[..said.len() - 1], &said[said.len() - 1..]),
            _ => format!("{said} now"),
        };
        let checked = check_file(
            &Library::shipped(),
            &Source::new("pear.toml", format!("{}{changed}{}", &pear[..from], &pear[to..])),
        );
        // A lower limit over the upper one is a fault, and no edition to compare.
        let Some(new) = checked.guide.filter(|_| checked.findings.iter().all(|f| f.code != Code::BadValue)) else {
            continue;
        };
        assert!(!compare(&old, &new).is_empty(), "`{said}` became `{changed}`, and nothing is told");
        told += 1;
    }
    assert!(told >= 14, "{told}");
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8")
}

#[test]
fn fix_writes_whole_or_only_shows_and_leaves_what_is_shipped() {
    let home = Home::new("fix");
    let wrong = pear().replace("then = \"look\"", "thn = \"look\"");
    home.write("pear.toml", &wrong);
    let file = || std::fs::read_to_string(home.0.join("pear.toml")).expect("it is there");
    let shown = home.run(&["check", "--fix", "--dry-run", "pear.toml"], "");
    assert_eq!(file(), wrong);
    let told = text(&shown.stdout);
    assert!(
        told.contains("- thn = \"look\"") && told.contains("+ then = \"look\"") && told.contains("Nothing was written"),
        "{told}"
    );
    let done = home.run(&["check", "--fix", "pear.toml"], "");
    assert_eq!((done.status.code(), file()), (Some(0), pear()), "{}", text(&done.stdout));
    assert!(text(&done.stdout).contains("mended unknown-key: `thn` becomes `then`"), "{}", text(&done.stdout));
    let shipped = home.run(&["check", "--fix", "two-tube-fountain"], "");
    assert_eq!(shipped.status.code(), Some(2));
    assert!(text(&shipped.stderr).contains("comes with stepjig"), "{}", text(&shipped.stderr));
}

#[test]
fn a_walk_goes_on_over_warnings_and_is_refused_with_the_errors() {
    let home = Home::new("unfinished");
    home.write("pear.toml", PEAR);
    let walked = home.run(&["walk", "pear.toml"], "");
    assert!(
        text(&walked.stderr).contains("warnings; `stepjig check pear.toml` shows them"),
        "{}",
        text(&walked.stderr)
    );
    assert!(text(&walked.stdout).contains("Sand the barrel"), "{}", text(&walked.stdout));
    home.write("pear.toml", &PEAR.replace("\"look\"\n\n", "\"loook\"\n\n").replace("over =", "ovr ="));
    let refused = home.run(&["walk", "pear.toml"], "");
    assert_eq!((refused.status.code(), text(&refused.stdout)), (Some(2), String::new()));
    let told = text(&refused.stderr);
    assert!(told.contains("`ovr`") && told.contains("loook"), "{told}");
}

#[test]
fn a_saved_file_is_checked_again_also_when_it_is_replaced() {
    let home = Home::new("watch");
    home.write("pear.toml", &pear());
    let mut child = home.command(&["check", "--watch", "pear.toml"]).stdout(Stdio::piped()).spawn().expect("it starts");
    let mut lines = BufReader::new(child.stdout.take().expect("a pipe")).lines().map_while(Result::ok);
    let mut wait_for = |what: &str| {
        let found = lines.by_ref().find(|line| line.contains(what));
        assert!(found.is_some(), "`{what}` never came");
    };
    wait_for("Watching");
    home.write("pear.toml", &pear().replace("then = \"look\"", "then = \"nowhere-at-all\""));
    wait_for("new: ");
    wait_for("pear.toml: 0 gone, ");
    std::fs::remove_file(home.0.join("pear.toml")).expect("it is there");
    home.write("new.toml", &pear());
    std::fs::rename(home.0.join("new.toml"), home.0.join("pear.toml")).expect("it is renamed");
    wait_for("gone: ");
    wait_for("pear.toml: 1 gone, 0 new, left: 0 errors");
    let id = nix::unistd::Pid::from_raw(child.id() as i32);
    nix::sys::signal::kill(id, nix::sys::signal::Signal::SIGINT).expect("it runs");
    assert_eq!(child.wait().expect("it ends").code(), Some(0));
}

#[test]
fn compare_tells_a_new_edition_and_the_jobs_it_touches() {
    let home = Home::new("compare");
    home.write("pear.toml", &pear());
    home.write(
        "new/pear.toml",
        &pear().replace("\"20 min\"", "\"15 min\"").replace("Sand the barrel.", "Sand the barrel well."),
    );
    home.run(&["walk", "pear.toml", "--job", "raffle-1"], "done\n");
    let told = home.run(&["compare", "pear.toml", "new/pear.toml"], "");
    assert_eq!(told.status.code(), Some(0), "{}", text(&told.stderr));
    let shown = text(&told.stdout);
    assert!(shown.starts_with("Shorter waits\nglue-sets: the wait was: 20 min; is: 15 min"), "{shown}");
    assert!(shown.contains("The pen `raffle-1` stands at look"), "{shown}");
    let json = home.run(&["compare", "raffle-1", "new/pear.toml", "--format", "json"], "");
    let report: serde_json::Value = serde_json::from_slice(&json.stdout).expect("it is JSON");
    assert_eq!(report["differences"][0]["kind"], "wait-shorter");
    assert_eq!(
        (&report["jobs"][0]["ahead"][0], &report["jobs"][0]["behind"][0]),
        (&"glue-sets".into(), &"sand".into())
    );
    let same = home.run(&["compare", "pear.toml", "pear.toml"], "");
    assert!(text(&same.stdout).starts_with("Nothing differs."), "{}", text(&same.stdout));
}

#[test]
fn the_schema_goes_into_a_file_and_over_none_unasked() {
    let home = Home::new("schema");
    let written = home.run(&["schema", "-o", "stepjig.schema.json"], "");
    assert_eq!(written.status.code(), Some(0), "{}", text(&written.stderr));
    let file = std::fs::read_to_string(home.0.join("stepjig.schema.json")).expect("it is written");
    let schema: serde_json::Value = serde_json::from_str(&file).expect("it is JSON");
    assert_eq!(schema, stepjig::guide::schema::schema());
    assert_eq!(home.run(&["schema", "-o", "stepjig.schema.json"], "").status.code(), Some(2));
}
