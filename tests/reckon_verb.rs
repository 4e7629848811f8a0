//! `stepjig reckon` as its users run it: what goes where, what is refused, and the shop's own unit and figures.

#[path = "reckon_verb/checked.rs"]
mod checked;
mod home;
#[path = "reckon_verb/shown.rs"]
mod shown;
#[path = "reckon_verb/sums.rs"]
mod sums;

use std::process::Output;

use home::Home;
use serde_json::Value as Json;

/// What is enough for each reckoning to come to a result.
const LINES: [&str; 11] = [
    "blank-cut blank=130mm pieces=52mm,40mm allowance=1.5mm kerf=2mm",
    "cure glue=epoxy rated=24h temperature=15C",
    "drill-for tube=10.30mm",
    "grain-match kerf=2mm squared-off=3mm band=2.5mm slant=20 cap=13mm lean=clockwise",
    "lathe-speed diameter=20mm speed=2000",
    "open-time seat=6s open=90s temperature=26C vapour=no",
    "press-fit part=9.01mm tube-in=9mm tube-out=9.5mm wood-out=12mm wood=black cherry e=1GPa",
    "thread-stop pitch=0.8mm starts=3 turns=1.6 off=40 diameter=14mm",
    "tube-gap tube=9.70mm hole=25/64 in length=52mm",
    "wall bushing=13.1mm hole=25/64 in",
    "wood-move wood=black cherry width=12mm from=20C/65% to=21C/30%",
];

/// Runs a line of words, `wall bushing=13.1mm`, with more flags.
fn reckon(home: &Home, line: &str, flags: &[&str]) -> Output {
    let words: Vec<&str> = ["reckon"].into_iter().chain(line.split(' ')).chain(flags.iter().copied()).collect();
    home.run(&words, "")
}

fn out(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(0), "{}", plain(&output.stderr));
    assert!(output.stderr.is_empty(), "{}", plain(&output.stderr));
    plain(&output.stdout)
}

/// Returns what it says where it refuses: on standard error alone, with exit code 2.
fn refused(output: &Output) -> String {
    let said = plain(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{}{said}", plain(&output.stdout));
    assert!(output.stdout.is_empty() && !said.contains("panicked"), "{said}");
    said
}

fn plain(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8").replace('\u{a0}', " ")
}

/// Returns text without its line ends, to look for sentences that are wrapped.
fn running(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn json(output: &Output) -> Json {
    serde_json::from_str(&out(output)).expect("it is JSON")
}

#[test]
fn the_answer_comes_first_and_then_numbers_working_and_sources() {
    let home = Home::new("reckon-text");
    assert_eq!(
        out(&reckon(&home, "wall bushing=13.1mm hole=25/64 in", &[])),
        "sound: the wall stands turning and sanding.
There is wood enough, if the hole runs true.

  wall  1.589 mm

wall = (bushing − hole) / 2 = (13.1 mm − 9.922 mm) / 2 = 1.589 mm

Sources: two circles on one axis: plain geometry; thresholds: common
    practice, no source.
"
    );
    let cure = out(&reckon(&home, "cure glue=epoxy rated=24h temperature=10C", &[]));
    assert!(cure.starts_with("About 2 days, an estimate"), "without a verdict it is what to do: {cure}");
    assert!(cure.contains("Not given, so as usual: rated-at=20 C."), "{cure}");
}

#[test]
fn the_clock_face_is_drawn_where_there_is_one_and_ascii_is_seven_bit() {
    let home = Home::new("reckon-face");
    for line in LINES {
        let text = out(&reckon(&home, line, &[]));
        let has_face = line.starts_with("thread-stop") || line.starts_with("grain-match");
        assert_eq!(text.contains("Seen with the capped pen's finial end"), has_face, "{text}");
        let ascii = out(&reckon(&home, line, &["--ascii"]));
        assert!(ascii.is_ascii(), "{ascii}");
        let questions = |text: &str| text.matches('?').count();
        assert_eq!(questions(&ascii), questions(&text), "a sign without a spelling: {ascii}");
    }
}

#[test]
fn json_has_what_was_given_and_what_it_comes_to() {
    let home = Home::new("reckon-json");
    for line in LINES {
        let output = reckon(&home, line, &["--format", "json"]);
        let all = json(&output);
        let keys: Vec<&String> = all.as_object().expect("an object").keys().collect();
        let expected = ["inputs", "name", "outputs", "say", "sources", "stepjig", "verdict", "working"];
        assert_eq!(keys, expected, "{line}");
        assert_eq!((&all["stepjig"], all["name"].as_str()), (&Json::from(1), line.split(' ').next()));
        assert!(all["sources"].as_array().is_some_and(|sources| sources.iter().all(Json::is_string)));
        for output in all["outputs"].as_object().expect("an object").values() {
            assert!(output["value"].is_number() || output["value"].is_null(), "{line}: {output}");
            assert!(output["unit"].is_string() && output["text"].is_string(), "{line}: {output}");
        }
    }
    let wall = json(&reckon(&home, "wall bushing=13.1mm hole=25/64 in", &["--format", "json"]));
    assert_eq!(wall["inputs"]["hole"], serde_json::json!({"value": 9.921875, "unit": "mm", "text": "25/64 in"}));
    assert_eq!(wall["verdict"], "sound");
    let raw = reckon(&home, "wall bushing=13.1mm hole=25/64 in", &["--format", "json"]).stdout;
    assert!(String::from_utf8_lossy(&raw).contains("1.589\u{a0}mm"), "the space before a unit does not break");
}

#[test]
fn what_was_given_is_in_json_in_the_units_of_results() {
    let home = Home::new("reckon-given");
    let inputs = |line: &str| json(&reckon(&home, line, &["--format", "json"]))["inputs"].clone();
    let number = |value: &Json| (value["value"].as_f64().expect("a number"), value["unit"].as_str().map(str::to_owned));
    let is = |value: f64, unit: &str| (value, Some(unit.to_owned()));
    let thread = inputs("thread-stop pitch=1/32in starts=3 turns=1.25 nib=3:00 hand=left");
    assert_eq!(number(&thread["pitch"]), is(25.4 / 32.0, "mm"));
    assert_eq!(number(&thread["turns"]), is(450.0, "deg"));
    assert_eq!(number(&thread["nib"]), is(90.0, "deg"));
    assert_eq!(number(&thread["starts"]), is(3.0, ""));
    assert_eq!(thread["hand"], "left");
    let cure = inputs("cure glue=epoxy rated=24h temperature=50F");
    assert_eq!(number(&cure["rated"]), is(1440.0, "min"));
    assert!((number(&cure["temperature"]).0 - 10.0).abs() < 1e-9, "50 °F is 10 °C: {cure}");
    assert_eq!(cure["glue"], "epoxy");
    let press = inputs("press-fit part=9.01mm tube-in=9mm tube-out=9.5mm wood-out=12mm strength=4MPa e=1.2GPa");
    assert_eq!(number(&press["e"]), is(1200.0, "MPa"));
    let pieces = inputs("blank-cut blank=130mm pieces=52mm,40mm allowance=1mm kerf=2mm")["pieces"].clone();
    assert_eq!(pieces.as_array().map(Vec::len), Some(2), "{pieces}");
    let air = inputs("wood-move wood=black cherry width=12mm from=20C/65% to=8%");
    assert_eq!((number(&air["from"][0]), number(&air["from"][1])), (is(20.0, "C"), is(65.0, "%")));
    assert_eq!(number(&air["to"]), is(8.0, "%"));
    let surface = inputs("lathe-speed diameter=20mm surface=60m/min");
    assert_eq!(number(&surface["surface"]), is(60.0, "m/min"));
    let by_feel = inputs("tube-gap tube=9.7mm hole=drops length=52mm");
    assert_eq!(by_feel["hole"], "drops");
    assert_eq!(inputs("wall bushing=13mm hole=x")["hole"], "letter X");
    assert_eq!(inputs("drill-for tube=9mm sets=letter")["sets"], serde_json::json!(["letter"]));
}

#[test]
fn what_cannot_be_had_is_null_and_says_why() {
    let home = Home::new("reckon-null");
    let stop = json(&reckon(&home, "thread-stop let-go=9:00", &["--format", "json"]));
    assert_eq!(stop["outputs"]["slip"]["value"], Json::Null);
    assert_eq!(stop["outputs"]["slip"]["text"], "it takes the lead, lead=2.4 mm, or pitch=0.8 mm starts=3");
    assert_eq!(stop["verdict"], Json::Null, "it has no verdicts");
    let lines = out(&reckon(&home, "thread-stop let-go=9:00", &["--format", "plain"]));
    assert!(lines.contains("stop-angle\t90\tdeg\n") && lines.contains("slip\t\tdeg\n"), "{lines}");
    let text = out(&reckon(&home, "thread-stop let-go=9:00", &[]));
    assert!(text.contains("none: it takes the lead, lead=2.4"), "{text}");
}

#[test]
fn plain_is_one_number_a_line() {
    let home = Home::new("reckon-plain");
    for line in LINES {
        let lines = out(&reckon(&home, line, &["--format", "plain"]));
        let all = json(&reckon(&home, line, &["--format", "json"]));
        assert_eq!(lines.lines().count(), all["outputs"].as_object().expect("an object").len(), "{lines}");
        for row in lines.lines() {
            let parts: Vec<&str> = row.split('\t').collect();
            let [name, value, unit] = parts[..] else { panic!("{row}") };
            let output = &all["outputs"][name];
            assert_eq!((value.parse().ok(), Some(unit)), (output["value"].as_f64(), output["unit"].as_str()), "{row}");
        }
    }
}

#[test]
fn all_are_listed_and_each_says_what_it_asks_for() {
    let home = Home::new("reckon-list");
    let names: Vec<&str> = LINES.iter().filter_map(|line| line.split(' ').next()).collect();
    let listed = out(&home.run(&["reckon"], ""));
    assert!(names.iter().all(|name| listed.contains(&format!("  {name} "))), "{listed}");
    let rows = out(&home.run(&["reckon", "--format", "plain"], ""));
    assert_eq!(rows.lines().filter_map(|row| row.split('\t').next()).collect::<Vec<_>>(), names);
    let all = json(&home.run(&["reckon", "--format", "json"], ""));
    assert_eq!(all["reckonings"].as_array().map(Vec::len), Some(11));
    for name in names {
        let text = out(&reckon(&home, name, &["--inputs"]));
        let rows = out(&reckon(&home, name, &["--inputs", "--format", "plain"]));
        let all = json(&reckon(&home, name, &["--inputs", "--format", "json"]));
        let inputs = all["inputs"].as_array().expect("a list");
        assert_eq!(rows.lines().count(), inputs.len(), "{rows}");
        for (row, input) in rows.lines().zip(inputs) {
            let of = |key: &str| input[key].as_str().unwrap_or("").to_owned();
            assert_eq!(row, ["name", "meaning", "usual", "range"].map(of).join("\t"));
            assert!(text.contains(&format!("  {} ", of("name"))), "{text}");
        }
    }
    let stop = running(&out(&reckon(&home, "thread-stop", &["--inputs"])));
    assert!(stop.contains("the next thread start may take it; 0 deg to 90 deg; usually 10 deg"), "{stop}");
}

#[test]
fn all_that_is_wrong_is_told_at_once_each_with_what_to_do() {
    let home = Home::new("reckon-wrong");
    let said = refused(&reckon(&home, "wall bushing=13.1 hole=9,92mm bushing=1mm depth=3mm", &[]));
    let expected = "\
error: `bushing`: `13.1` has no unit
  help: 13.1 mm or 13.1 in? say which; give it as `bushing=13.1mm`
error: `hole`: `9,92mm` has a decimal comma
  help: 9.92 mm? write a point; give it as `hole=9.92mm`
error: `bushing`: `1mm` is out of range, it goes from 3 mm to 60 mm
  help: are the units mixed up? did you mean 1 in? give it as `bushing=1in`
error: `depth` is nothing that it asks for
  help: it asks for: bushing, hole
";
    assert_eq!(said, expected);
    let rows = [
        ("wal hole=3mm", "there is no reckoning `wal`\n  help: did you mean `wall`?"),
        ("sums", "there is no reckoning `sums`\n  help: `stepjig reckon` lists them"),
        (
            "wall 13.1mm 9.92mm",
            "`13.1mm` has no name before it\n  help: write each as name=value: bushing=13.1mm hole=9.92mm?",
        ),
        ("wall hole=9mm", "`bushing` is missing\n  help: give it as bushing=…: the bushing's diameter"),
        ("wall hole=9mm", "`stepjig reckon wall --inputs` shows all that it asks for"),
        ("wall hole=9mm hole=9mm", "`hole` is given twice\n  help: give it once"),
        ("thread-stop let-go=9:00 turns=2", "`turns`: `let-go` says the same, and says it better"),
        ("thread-stop let-go=9:00 lead=2.5mm pitch=1mm", "`lead`: 2.5 mm is 2.500 × the pitch of 1 mm"),
        ("wood-move wood=cocobolo width=9mm from=8% to=9%", "there is no published movement figure for cocobolo"),
        ("cure glue=epoxi rated=1h", "`glue`: `epoxi` is not listed\n  help: one of: epoxy"),
    ];
    for (line, expected) in rows {
        let said = refused(&reckon(&home, line, &[]));
        assert!(said.contains(expected), "{line}: {said}");
    }
    for flags in [&["--no-input"][..], &["--format", "json"], &["--format", "plain"]] {
        assert!(refused(&reckon(&home, "wall", flags)).contains("`bushing` is missing"));
    }
}

/// Every value of every reckoning, through the shell: refused in words that act on no terminal, and never a panic.
#[test]
fn hostile_values_are_refused_in_words() {
    let home = Home::new("reckon-hostile");
    let long = "9".repeat(100_000);
    for line in LINES {
        let name = line.split(' ').next().expect("a name");
        let names = out(&reckon(&home, name, &["--inputs", "--format", "plain"]));
        let names: Vec<&str> = names.lines().filter_map(|row| row.split('\t').next()).collect();
        for bad in ["1e308", "NaN", "-1 kg", "\u{1b}[2J\u{7}", "=", "½½🦀", &long] {
            let values: Vec<String> = names.iter().map(|name| format!("{name}={bad}")).collect();
            let words: Vec<&str> = ["reckon", name].into_iter().chain(values.iter().map(String::as_str)).collect();
            let said = refused(&home.run(&words, ""));
            assert!(said.starts_with("error: ") && said.contains("\n  help: "), "{name} {bad}: {said}");
            assert!(said.chars().all(|c| !c.is_control() || c == '\n'), "{name} {bad}: {said:?}");
            assert!(said.lines().count() <= 3 * names.len() && said.len() < 600 * names.len(), "{said}");
        }
    }
    for words in [&["reckon", "\u{1b}[2J"][..], &["reckon", "wall", &long], &["reckon", "wall", "\u{1b}[2J"]] {
        let said = refused(&home.run(words, ""));
        assert!(!said.contains('\u{1b}') && said.len() < 1_000, "{said:?}");
    }
}

#[test]
fn a_bare_number_takes_the_shops_unit() {
    let home = Home::new("reckon-unit");
    home.write(".stepjig.toml", "unit = \"mm\"\n");
    let wall = |home: &Home, line: &str| json(&reckon(home, line, &["--format", "json"]))["outputs"]["wall"].clone();
    assert_eq!(wall(&home, "wall bushing=13 hole=10")["value"], 1.5);
    assert_eq!(wall(&home, "wall bushing=13 hole=1/4in")["value"], 3.325, "its own unit goes before the shop's");
    home.write(".stepjig.toml", "unit = \"in\"\n");
    let inches = wall(&home, "wall bushing=.5 hole=3/8")["value"].as_f64();
    assert!(inches.is_some_and(|mm| (mm - 1.5875).abs() < 1e-9), "1/16 in: {inches:?}");
    let config = out(&home.run(&["config", "--show"], ""));
    assert!(config.contains("unit = in  (.stepjig.toml)"), "{config}");
    home.write(".stepjig.toml", "unit = \"cm\"\n");
    let said = refused(&reckon(&home, "wall bushing=13 hole=10", &[]));
    assert!(said.contains(".stepjig.toml: unit is `cm`\n  help: write `mm` or `in`"), "{said}");
    home.write(".stepjig.toml", "");
    assert!(out(&home.run(&["config"], "")).contains("unit = none  (built in)"));
}

#[test]
fn a_shops_own_figures_lie_over_the_shipped_ones() {
    let home = Home::new("reckon-data");
    let data = ".local/share/stepjig/guides/data";
    home.write(&format!("{data}/practice.toml"), "[wall]\nthin = \"2 mm\"\n");
    home.write(&format!("{data}/drills.toml"), "metric = '''\n10.45 10.45\n'''\n");
    let text = out(&reckon(&home, "wall bushing=13mm hole=10mm", &[]));
    assert!(text.starts_with("thin: ") && running(&text).contains("thresholds: the shop's own"), "{text}");
    let bits = out(&reckon(&home, "drill-for tube=10.30mm", &[]));
    assert!(bits.contains("10.45 mm") && bits.contains("sizes: the shop's own list"), "{bits}");
    let listed = out(&home.run(&["list"], ""));
    assert!(listed.contains("practice.toml") && listed.contains("drills.toml"), "{listed}");
    let rows = out(&home.run(&["list", "--format", "plain"], ""));
    assert_eq!(rows.lines().filter(|row| row.starts_with("data\t")).count(), 2, "{rows}");
    let named = json(&home.run(&["list", "--format", "json"], ""));
    assert_eq!(named["data"][0]["name"], "drills.toml");
    // A folder that is named goes before the usual one.
    home.write("other/data/practice.toml", "[wall]\nthin = \"4 mm\"\neggshell = \"3 mm\"\n");
    let text = out(&reckon(&home, "wall bushing=13mm hole=10.5mm --guides other", &[]));
    assert!(text.starts_with("eggshell: "), "{text}");
}

#[test]
fn a_fault_in_a_shops_figures_is_told_with_its_place() {
    let home = Home::new("reckon-faults");
    let (wall, line) = ("shop/data/practice.toml", "wall bushing=13mm hole=10mm --guides shop");
    let rows = [
        (wall, "[wall]\nthin = \"thick\"\n", "shop/data/practice.toml:2:1: `wall.thin`: `thick` is not a length"),
        (
            wall,
            "[wall]\nthing = \"1 mm\"\n",
            "`wall.thing` is no usual value of a reckoning: did you mean `wall.thin`?",
        ),
        (wall, "[wall]\n\nthin = \n", "shop/data/practice.toml:3:"),
        ("shop/data/woods.toml", "", "woods.toml is no file of figures\n  help: did you mean `wood.toml`?"),
    ];
    for (file, text, expected) in rows {
        let _ = std::fs::remove_dir_all(home.0.join("shop"));
        home.write(file, text);
        let said = refused(&reckon(&home, line, &[]));
        assert!(said.contains(expected), "{text}: {said}");
    }
    let _ = std::fs::remove_dir_all(home.0.join("shop"));
    home.write(wall, "");
    std::fs::write(home.0.join(wall), [b'#', 0xff]).expect("a file");
    assert!(refused(&reckon(&home, line, &[])).contains("practice.toml:1: this is not UTF-8 text"));
    std::fs::write(home.0.join(wall), vec![b'#'; 2 << 20]).expect("a file");
    assert!(refused(&reckon(&home, line, &[])).contains("longer than 1 MiB"));
    assert!(refused(&reckon(&home, "wall --guides none", &[])).contains("there is no folder none"));
    // What a figure is not needed for does not fail for it.
    std::fs::write(home.0.join(wall), "").expect("a file");
    home.write("shop/data/speeds.toml", "[lathe\n");
    assert!(out(&reckon(&home, line, &[])).starts_with("sound"));
    assert!(refused(&reckon(&home, "lathe-speed diameter=20mm speed=900 --guides shop", &[])).contains("speeds.toml"));
}

/// A link out of the folder is not followed: figures from elsewhere would come in unseen.
#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_not_followed() {
    let home = Home::new("reckon-link");
    home.write("shop/data/.keep", "");
    home.write("elsewhere.toml", "[wall]\nthin = \"2 mm\"\n");
    std::os::unix::fs::symlink(home.0.join("elsewhere.toml"), home.0.join("shop/data/practice.toml")).expect("a link");
    assert!(out(&reckon(&home, "wall bushing=13mm hole=10mm --guides shop", &[])).starts_with("sound"));
}
