//! A guide kept with a job is the same guide when it is read again: the same steps, ways, words and findings.

use stepjig::check::proofs;
use stepjig::finding::Source;
use stepjig::finding::render::one_line;
use stepjig::guide::document::Shelf;
use stepjig::guide::{Condition, Guide, Kind, Label, Library, StepIdx, TroubleCall, write};

use super::mutants::{mutant, shipped};
use super::rig::times;
use crate::oracle::random::{self, Dice};
use crate::oracle::toml;

/// Everything that a guide is, by names alone: the numbers of conditions differ from one reading to the next.
#[derive(Debug, PartialEq)]
struct Known {
    titles: Vec<Option<String>>,
    steps: Vec<String>,
    ways: Vec<String>,
    words: Vec<(String, Option<String>)>,
    passing: Vec<String>,
    kit: Vec<(String, String)>,
    findings: Vec<String>,
}

fn names(guide: &Guide, conditions: impl IntoIterator<Item = Condition>) -> Vec<String> {
    let mut names: Vec<String> = conditions.into_iter().map(|condition| guide.name(condition).to_owned()).collect();
    names.sort_unstable();
    names.dedup();
    names
}

fn known(guide: &Guide) -> Known {
    let titles = [Some(guide.id()), Some(guide.title()), guide.edition(), guide.use_when(), guide.not_when()];
    let id = |idx: StepIdx| guide.step(idx).id.to_string();
    let steps = guide.steps().map(|(_, step)| {
        let kind = match &step.kind {
            Kind::Gauge { unit, min, max, sets, read } => {
                format!("gauge {unit} {min:?} {max:?} {sets:?} {}", guide.name(*read))
            }
            Kind::Return { run } => format!("return of {}", id(*run)),
            other => format!("{other:?}"),
        };
        let effects = [&step.needs, &step.gives, &step.spoils, &step.undoes]
            .map(|mentions| names(guide, mentions.iter().map(|mention| mention.condition)));
        let cautions: Vec<_> = step.cautions.iter().map(|c| (c.level, &c.hazard.value, &c.avoid.value)).collect();
        let rest = (&step.if_wrong, &step.why, &step.tell, &step.at, &step.parts, &step.stage, &step.clock);
        let flags = (step.one_way, step.optional, step.minutes);
        format!("{} {kind} {:?} {effects:?} {cautions:?} {rest:?} {flags:?} {:?}", step.id, step.text, step.trouble)
    });
    let ways = guide.ways().iter().map(|way| {
        let trouble: Option<&TroubleCall> = way.trouble.as_ref();
        // What a way that removes nothing spoils cannot be told from what it does not.
        let effects = [&way.gives, &way.removes, &way.undoes].map(|list| names(guide, list.iter().copied()));
        let label: &Label = &way.label;
        let to = way.to.map(id);
        format!("{} {label:?} {to:?} {trouble:?} {effects:?} {}", id(way.from), way.drops_passing)
    });
    let findings = proofs(guide).into_iter().map(|finding| {
        format!("{} {:?} {:?} {:?} {}", finding.code, finding.step, finding.condition, finding.walk, finding.message)
    });
    let mut findings: Vec<String> = findings.collect();
    findings.sort_unstable();
    let worded = |name: &String| guide.words(guide.condition(name).expect("it is named")).map(str::to_owned);
    Known {
        titles: titles.into_iter().map(|text| text.map(str::to_owned)).collect(),
        steps: steps.collect(),
        ways: ways.collect(),
        words: names(guide, guide.conditions()).into_iter().map(|name| (name.clone(), worded(&name))).collect(),
        passing: names(guide, guide.passing().iter()),
        kit: guide.kit().iter().map(|(path, value)| (path.clone(), format!("{value:?}"))).collect(),
        findings,
    }
}

/// Checks that a guide is the same when it is written and read again, and is written the same then.
#[track_caller]
pub fn stays_itself(guide: &Guide, what: &str) {
    let text = write::linked(guide);
    let linked = Library::empty().link(&Source::new("kept.toml", &*text));
    let told: Vec<String> = linked.findings.iter().map(one_line).collect();
    let again = linked.guide.unwrap_or_else(|| panic!("{what}: {told:#?}\n{text}"));
    let (before, after) = (known(guide), known(&again));
    let lists = [
        (&before.steps, &after.steps),
        (&before.ways, &after.ways),
        (&before.findings, &after.findings),
        (&before.passing, &after.passing),
    ];
    for (before, after) in lists {
        for (before, after) in before.iter().zip(after) {
            assert_eq!(before, after, "{what}");
        }
        assert_eq!(before.len(), after.len(), "{what}");
    }
    assert_eq!(before, after, "{what}");
    assert_eq!(write::linked(&again), text, "{what}");
}

/// Makes a procedure of a guide's text, and a guide that runs it three times over, once as something to be skipped.
fn by_procedure(seed: u64) -> (Library, String) {
    let procedure = toml::render(&random::wild(seed))
        .replace("[guide]\nid = \"g\"", "[procedure]\nid = \"p\"\ntakes = [\"piece\"]")
        .replace("end = \"finished\"", "end = \"return\"")
        .replace("the piece", "the {piece}")
        .replace("the work is", "the {piece} is")
        .replace("\"c.c1\"", "\"{piece}.c1\"");
    let mut library = Library::empty();
    library.add(Shelf::Procedure, "p", Source::new("p.toml", procedure));
    let guide = "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"Made up\"\n[words]\n\"all\" = \"all is {{well}\"\n\
        [[step]]\nid = \"first\"\nrun = \"p\"\nwith = { piece = \"cap\" }\ngives = [\"all\"]\nspoils = [\"c.c0\"]\n\
        [[step]]\nid = \"each-{each}\"\nrun = \"p\"\neach = [\"body\", \"tail\"]\nwith = { piece = \"{each}\" }\n\
        optional = true\nundoes = [\"c.c2\"]\n\
        [[step]]\nid = \"all\"\nrun = \"p\"\neach = [\"one\", \"two\"]\nwith = { piece = \"rim\" }\nthen = \"end\"\n\
        [[step]]\nid = \"end\"\nend = \"finished\"\nneeds = [\"all\"]\n";
    (library, guide.to_owned())
}

#[test]
fn the_shipped_guide_stays_itself() {
    let library = Library::shipped();
    for id in library.guide_ids() {
        stays_itself(&library.link_id(id).and_then(|linked| linked.guide).expect("it links"), id);
    }
}

#[test]
fn made_up_guides_stay_themselves() {
    let mut kept = 0;
    for seed in 0..times(400) {
        let guide = if seed % 2 == 0 { random::wild(seed) } else { random::clean(seed) };
        let linked = Library::empty().link(&Source::new("g.toml", toml::render(&guide)));
        if let Some(guide) = linked.guide {
            stays_itself(&guide, &format!("seed {seed}"));
            kept += 1;
        }
    }
    assert!(kept > times(300), "only {kept} of them link");
}

#[test]
fn guides_that_run_made_up_procedures_stay_themselves() {
    let mut kept = 0;
    for seed in 0..times(150) {
        let (library, text) = by_procedure(seed);
        if let Some(guide) = library.link(&Source::new("g.toml", text)).guide {
            stays_itself(&guide, &format!("seed {seed}"));
            kept += 1;
        }
    }
    assert!(kept > times(80), "only {kept} of them link");
}

#[test]
fn mutants_that_link_stay_themselves() {
    let (library, files, mut dice) = (Library::shipped(), shipped(), Dice(6));
    let guide = files.iter().find(|file| !file.is_procedure).expect("a guide is shipped");
    let mut kept = 0;
    for n in 0..times(150) {
        let text = mutant(&mut dice, &guide.text, &guide.text);
        if let Some(guide) = library.link(&Source::new("g.toml", text)).guide {
            stays_itself(&guide, &format!("mutant {n}"));
            kept += 1;
        }
    }
    assert!(kept > 0, "none of them links");
}

/// What a made-up guide never has: braces that are braces, ids as long as they can grow, ways that give or spoil what
/// their step does already, fault tables.
#[test]
fn a_guide_of_edges_stays_itself() {
    let long = "x".repeat(100);
    let mut library = Library::empty();
    library.add(Shelf::Trouble, "stuck", Source::new("stuck.toml", ""));
    for n in 1..4 {
        let inside = match n {
            3 => "do = \"Wipe {{it}.\"\nparts = [\"{{\", \"{x}\"]\n".to_owned(),
            _ => format!("run = \"p{}\"\nwith = {{ x = \"{{{{a\" }}\n", n + 1),
        };
        let text = format!(
            "stepjig = 1\n[procedure]\nid = \"p{n}\"\ntitle = \"In {{{{braces}} {{x}}\"\ntakes = [\"x\"]\n\
            [[step]]\nid = \"{long}\"\nstage = \"{{{{x}} of {{x}}\"\n{inside}\n[[step]]\nid = \"back\"\nend = \"return\"\n"
        );
        library.add(Shelf::Procedure, format!("p{n}"), Source::new(format!("p{n}.toml"), text));
    }
    let text = format!(
        "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"{{\"\n[words]\n\"a\" = \"{{{{a}} is {{{{b\"\n[kit]\nfit = \"{{snug\"\n\
        [[step]]\nid = \"{long}\"\nrun = \"p1\"\nwith = {{ x = \"{{{{kit.fit}}\" }}\n\
        [[step]]\nid = \"a\"\ngauge = \"Measure {{kit.fit}} {{{{.\"\nunit = \"mm\"\nlimits = {{ min = \"9 mm\", max = 10 }}\n\
        gives = [\"a\", \"b\", \"c\"]\nspoils = [\"b\"]\nundoes = [\"c\"]\n\
        within = {{ spoils = [\"b\"], undoes = [\"c\"] }}\nunder = {{ to = \"a\", gives = [\"a\", \"b\"] }}\n\
        over = {{ trouble = {{ table = \"stuck\", with = {{ part = \"{{{{x\" }} }}, gives = [\"a\", \"read.a\"], spoils = [\"b\"] }}\n\
        [[step]]\nid = \"b\"\nask = \"Which?\"\nneeds = [\"a\"]\ngives = [\"b\", \"c\"]\n\
        answers = [{{ say = \"{{{{\", spoils = [\"b\"] }}, {{ say = \"this\", trouble = \"stuck\", gives = [\"c\"] }}]\n\
        [[step]]\nid = \"d\"\nwait = \"7 s\"\nready = \"it is {{{{so\"\nfor = \"{{{{it}}\"\nminutes = 0.1\n\
        [[step]]\nid = \"r\"\nreckon = \"wall\"\nfrom = {{ hole = \"{{{{x\", bushing = \"kit.fit\" }}\nverdicts = {{ \"thin\" = \"end\" }}\n\
        [[step]]\nid = \"end\"\nend = \"finished\"\nneeds = [\"a\"]\n"
    );
    let linked = library.link(&Source::new("g.toml", text));
    let told: Vec<String> = linked.findings.iter().map(one_line).collect();
    stays_itself(&linked.guide.unwrap_or_else(|| panic!("{told:#?}")), "edges");
}

/// What cannot be a name when the guide is read again is told when it is read first.
#[test]
fn a_value_that_makes_no_name_is_told() {
    let procedure = "stepjig = 1\n[procedure]\nid = \"p\"\ntitle = \"T\"\ntakes = [\"x\"]\n\
        [[step]]\nid = \"a\"\ndo = \"Wipe it.\"\ngives = [\"{x}.done\"]\n[[step]]\nid = \"back\"\nend = \"return\"\n";
    let mut library = Library::empty();
    library.add(Shelf::Procedure, "p", Source::new("p.toml", procedure));
    let runs = [
        ("with = { x = \"the cap\" }\n", "`the cap.done` is no name for a condition"),
        ("with = { x = \"cap\" }\neach = [\"one\", \"the other\"]\n", "`the other` is no id for a step"),
        ("id = \"a-{each}\"\nwith = { x = \"cap\" }\neach = [\"the other\"]\n", "`a-the other` is no id for a step"),
    ];
    for (run, said) in runs {
        let id = if run.starts_with("id") { "" } else { "id = \"a\"\n" };
        let text = format!(
            "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\n[[step]]\n{id}run = \"p\"\n{run}\
            [[step]]\nid = \"end\"\nend = \"finished\"\n"
        );
        let linked = library.link(&Source::new("g.toml", text));
        assert!(linked.guide.is_none(), "{run}");
        assert!(linked.findings.iter().any(|finding| finding.message == said), "{run}: {:?}", linked.findings);
    }
}
