//! The house in order: layers, sizes, what may stand where. A rule that nobody checks is a wish.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The modules in the order of their layers: each uses only those before it.
///
/// `draft` stands after `check`: what it writes is a guide's text, which it never walks; that `check` finds nothing in it
/// is for its tests to say.
const LAYERS: [&str; 13] = [
    "units", "finding", "reckon", "guide", "trouble", "check", "draft", "walk", "bench", "sheet", "cli", "lib", "main",
];

/// Files that are longer than [`MOST_LINES`], each with the reason.
const LONG: &[(&str, &str)] = &[("tests/journal.rs", "every kind of damage is done to one and the same journal")];

/// The most lines of code in a file: neither blank nor comment nor fixture, tests at its end not counted.
const MOST_LINES: usize = 400;

/// What may stand at the top of the repository.
const AT_THE_TOP: [&str; 8] =
    ["Cargo.toml", "Cargo.lock", "README.md", "DEVELOPERS.md", "LICENSE", "src", "guides", "tests"];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: impl AsRef<Path>) -> String {
    let path = root().join(path);
    fs::read_to_string(&path).unwrap_or_else(|wrong| panic!("{}: {wrong}", path.display()))
}

/// Returns all files below a folder that end so, relative to the root, sorted.
fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![root().join(folder)];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).unwrap_or_else(|wrong| panic!("{}: {wrong}", folder.display())) {
            let path = entry.expect("a folder can be listed").path();
            if path.is_dir() {
                open.push(path);
            } else if path.to_string_lossy().ends_with(ending) {
                found.push(path.strip_prefix(root()).expect("it is below the root").to_owned());
            }
        }
    }
    found.sort();
    found
}

/// The layer of a file under `src`: its folder, or its own name.
fn layer(path: &Path) -> String {
    let below = path.strip_prefix("src").expect("it is under src");
    let first = below.components().next().expect("it has a name").as_os_str().to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

fn rank(layer: &str) -> usize {
    LAYERS.iter().position(|known| *known == layer).unwrap_or_else(|| panic!("`{layer}` is in no layer"))
}

/// Returns the text without comments; what stands in strings is left.
fn code(text: &str) -> String {
    let line = |line: &str| if line.trim_start().starts_with("//") { String::new() } else { line.to_owned() };
    text.lines().map(line).collect::<Vec<_>>().join("\n")
}

/// Returns the modules of this crate that a text uses: `crate::x` and `use crate::{x, y::z}`.
fn used(text: &str) -> BTreeSet<String> {
    let mut used = BTreeSet::new();
    for (at, path) in text.match_indices("crate::") {
        let rest = &text[at + path.len()..];
        let names = match rest.strip_prefix('{') {
            Some(group) => at_depth_0(&group[..closing(group)]),
            None => vec![rest],
        };
        let module = |name: &str| -> String {
            name.trim_start().chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect()
        };
        // A name with a capital is not a module, and neither is a macro's `$crate`.
        used.extend(names.into_iter().map(module).filter(|name| name.starts_with(|c: char| c.is_ascii_lowercase())));
    }
    used
}

/// Returns where the brace is closed that was opened before the text.
fn closing(text: &str) -> usize {
    let mut open = 1;
    let closes = |c: char| {
        open += i32::from(c == '{') - i32::from(c == '}');
        open == 0
    };
    text.find(closes).expect("a brace that is opened is closed")
}

fn at_depth_0(group: &str) -> Vec<&str> {
    let mut open = 0;
    let splits = |c: char| {
        open += i32::from(c == '{') - i32::from(c == '}');
        c == ',' && open == 0
    };
    group.split(splits).collect()
}

#[test]
fn a_module_uses_only_those_before_it() {
    let mut wrong = Vec::new();
    for path in files("src", ".rs") {
        let own = layer(&path);
        for module in used(&code(&read(&path))) {
            // What the crate's root offers, such as a macro, belongs to no layer.
            if !LAYERS.contains(&module.as_str()) {
                wrong.push(format!("{} uses `crate::{module}`, which is in no layer", path.display()));
            } else if rank(&own) < rank(&module) {
                wrong.push(format!("{} uses `crate::{module}`, which comes after `{own}`", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn units_stand_alone_and_reckonings_know_only_them_and_how_faults_are_told() {
    for (layer, may_use) in [("units", vec!["units"]), ("reckon", vec!["units", "finding", "reckon"])] {
        for path in files(&format!("src/{layer}"), ".rs") {
            let mut others = used(&code(&read(&path)));
            others.retain(|module| !may_use.contains(&module.as_str()));
            assert_eq!(others, BTreeSet::new(), "{}", path.display());
        }
    }
}

#[test]
fn uses_are_found_in_every_form() {
    let text = "use crate::finding::{Code, guide};\nuse crate::{check, walk::{cli, x}, Top};\nlet a = crate::units::B;";
    let expected = ["check", "finding", "units", "walk"].map(str::to_owned);
    assert_eq!(used(text), BTreeSet::from(expected));
}

#[test]
fn every_layer_that_there_is_is_named_in_the_crate_and_in_the_map() {
    let (crate_root, map) = (read("src/lib.rs"), read("DEVELOPERS.md"));
    for entry in fs::read_dir(root().join("src")).expect("there is a src") {
        let name = entry.expect("it can be listed").file_name().to_string_lossy().into_owned();
        if ["lib.rs", "main.rs"].contains(&name.as_str()) {
            continue;
        }
        let module = name.trim_end_matches(".rs");
        rank(module);
        assert!(crate_root.contains(&format!("pub mod {module};")), "{module} is no module of the crate");
        assert!(map.contains(&format!("`src/{module}/`")), "{module} is not in the map of DEVELOPERS.md");
    }
}

/// Returns the code without what stands in raw strings of several lines: that is data.
fn without_fixtures(code: &str) -> String {
    let mut parts = code.split("r#\"");
    let first = parts.next().unwrap_or("").to_owned();
    parts.fold(first, |kept, part| kept + part.split_once("\"#").map_or("", |(_, after)| after))
}

#[test]
fn no_file_is_too_long_to_be_read_in_one_go() {
    let mut wrong = Vec::new();
    for path in files("src", ".rs").into_iter().chain(files("tests", ".rs")) {
        let text = read(&path);
        let own = text.split("\n#[cfg(test)]\nmod ").next().unwrap_or(&text);
        let lines = without_fixtures(&code(own)).lines().filter(|line| !line.trim().is_empty()).count();
        let name = path.to_string_lossy().into_owned();
        let is_listed = LONG.iter().any(|(file, _)| *file == name);
        if lines > MOST_LINES && !is_listed {
            wrong.push(format!("{name} has {lines} lines of code; split it, or list it with the reason"));
        }
        if lines <= MOST_LINES && is_listed {
            wrong.push(format!("{name} has {lines} lines of code and need not be listed"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_the_front_prints_and_knows_clock_files_and_environment() {
    const FOR_THE_FRONT: [&str; 14] = [
        "println!",
        "print!",
        "eprint!",
        "dbg!",
        "std::env",
        "std::fs",
        "std::io",
        "std::process",
        "std::net",
        "Timestamp::now",
        "Zoned::now",
        "SystemTime",
        "Instant::now",
        "fs::",
    ];
    let mut wrong = Vec::new();
    for path in files("src", ".rs").into_iter().filter(|path| !["cli", "main"].contains(&layer(path).as_str())) {
        let text = code(&read(&path));
        let found = FOR_THE_FRONT.iter().filter(|word| has_word(&text, word));
        wrong.extend(found.map(|word| format!("{} has `{word}`", path.display())));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Tells whether a text has a word that does not go on to the left: `fs::`, not `Dfs::`.
fn has_word(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| !text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_'))
}

#[test]
fn nothing_is_unsafe() {
    assert!(read("Cargo.toml").contains("unsafe_code = \"deny\""));
    for path in files("src", ".rs").into_iter().chain(files("tests", ".rs")) {
        let lifted = ["allow(unsafe", "expect(unsafe", "unsafe {"];
        let text = code(&read(&path));
        let found: Vec<_> = lifted.iter().filter(|word| text.contains(**word) && !path.ends_with("tidy.rs")).collect();
        assert!(found.is_empty(), "{} has {found:?}", path.display());
    }
}

#[test]
fn every_guide_file_is_embedded() {
    let (shipped, figures) = (read("src/guide/shipped.rs"), read("src/reckon/data/mod.rs"));
    for path in files("guides", "") {
        if path == Path::new("guides/WRITING.md") {
            assert!(read("src/cli/draft.rs").contains("guides/WRITING.md\")"), "the page on writing is not embedded");
            continue;
        }
        let mut parts = path.components().skip(1).map(|part| part.as_os_str().to_string_lossy());
        let (folder, file) = (parts.next().expect("a shelf"), parts.next().expect("a file"));
        let stem = file.strip_suffix(".toml").unwrap_or_else(|| panic!("{} is no guide", path.display()));
        assert_eq!(parts.next(), None, "{} lies too deep", path.display());
        if folder == "data" {
            assert!(figures.contains(&format!("guides/data/{file}\")")), "{} is not embedded", path.display());
            continue;
        }
        let shelf = shipped.split(&format!("\"{folder}\":")).nth(1).unwrap_or_else(|| panic!("no shelf {folder}"));
        let shelf = shelf.split(';').next().unwrap_or("");
        assert!(shelf.contains(&format!("\"{stem}\"")), "{} is not listed in shipped.rs", path.display());
    }
}

/// Returns the program's verbs, as its own help lists them.
fn verbs() -> BTreeSet<String> {
    let help = std::process::Command::new(env!("CARGO_BIN_EXE_stepjig")).arg("--help").output().expect("it starts");
    let help = String::from_utf8(help.stdout).expect("help is text");
    let verbs = help.split("Commands:").nth(1).expect("it lists commands").split("\n\n").next().unwrap_or("");
    verbs.lines().filter_map(|line| line.split_whitespace().next()).map(str::to_owned).collect()
}

#[test]
fn the_verbs_in_the_readme_are_those_of_the_program() {
    let (readme, verbs) = (read("README.md"), verbs());
    assert!(verbs.contains("walk") && verbs.contains("check"), "{verbs:?}");
    let after = |line: &str| {
        let rest = line.split_once("stepjig ").or_else(|| line.split_once("--release -- "))?.1;
        rest.split([' ', '`']).next().map(str::to_owned)
    };
    let commands = readme.split("```").skip(1).step_by(2).flat_map(str::lines);
    let inline = readme.split("```").step_by(2).flat_map(|text| text.split('`').skip(1).step_by(2));
    let named: BTreeSet<String> = commands
        .chain(inline)
        .filter(|line| line.starts_with("stepjig ") || line.contains("--release -- "))
        .filter_map(after)
        .filter(|word| word.starts_with(|c: char| c.is_ascii_lowercase()))
        .collect();
    let unknown: Vec<_> = named.difference(&verbs).collect();
    assert!(unknown.is_empty(), "the README names {unknown:?}, the program knows {verbs:?}");
    let untold: Vec<_> = verbs.difference(&named).filter(|verb| *verb != "help").collect();
    assert!(untold.is_empty(), "the README does not tell of {untold:?}");
}

#[test]
fn the_version_is_in_the_changelog_of_the_crates_docs() {
    let changes = read("src/lib.rs");
    let changes = changes.split("//! # Changes").nth(1).expect("the crate's docs end with the changes");
    let latest = changes.lines().find_map(|line| line.strip_prefix("//! ## ")).expect("a version");
    assert_eq!(latest.split(' ').next(), Some(env!("CARGO_PKG_VERSION")), "the latest change comes first");
}

#[test]
fn nothing_else_stands_at_the_top() {
    for entry in fs::read_dir(root()).expect("the root can be listed") {
        let name = entry.expect("it can be listed").file_name().to_string_lossy().into_owned();
        let allowed = AT_THE_TOP.contains(&name.as_str()) || name.starts_with('.') || name == "target";
        assert!(allowed, "`{name}` does not belong at the top");
    }
}
