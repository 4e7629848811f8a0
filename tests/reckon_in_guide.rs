//! The sums in the shipped guide: where a walk comes to each of them, what it asks, and where its verdicts lead.

mod typing;

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};
use stepjig::finding::Source;
use stepjig::guide::{Guide, Kind, Library};
use stepjig::walk::{Phase, Scene, Walk, Wanted};
use typing::all_well;

fn shipped() -> Guide {
    Library::shipped().link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("shipped guides link")
}

fn linked(text: &str) -> Guide {
    let linked = Library::empty().link(&Source::new("small.toml", text));
    linked.guide.unwrap_or_else(|| panic!("{:?}", linked.findings.first()))
}

/// A step that a walk came to.
struct Met {
    id: String,
    /// The reckoning's name, at one.
    sum: Option<String>,
    scene: Scene,
    typed: String,
}

/// Plays a walk: the lines given for a step one after another, else what is typed when all goes well.
fn play(guide: &Guide, lines: &[(&str, &str)]) -> Vec<Met> {
    let mut now: Timestamp = "2026-11-25T08:00:00Z".parse().expect("a time");
    let mut walk = Walk::begin(guide, now);
    let mut left: Vec<(&str, &str)> = lines.to_vec();
    let mut met = Vec::new();
    while walk.state().phase != Phase::Ended {
        let scene = walk.scene(now);
        let step = guide.step(walk.state().here);
        let own = left.iter().position(|(id, _)| *id == scene.id).map(|at| left.remove(at).1.to_owned());
        let typed = own.unwrap_or_else(|| all_well(&scene));
        walk.answer(&typed, now).unwrap_or_else(|refusal| panic!("{}: {typed}: {refusal}", scene.id));
        let sum = matches!(step.kind, Kind::Reckon { .. }).then(|| step.text.clone());
        met.push(Met { id: scene.id.clone(), sum, scene, typed });
        now += SignedDuration::from_mins(3);
        assert!(met.len() < 2_000, "the walk does not end; at {}", met[met.len() - 1].id);
    }
    assert!(left.is_empty(), "the walk does not come to {left:?}");
    assert_eq!(
        guide.step(walk.state().here).kind,
        Kind::End(stepjig::guide::EndKind::Finished),
        "it is no finished pen: {lines:?}"
    );
    met
}

/// Returns the verdict at each sum that was left with one, by its step, and the step after it.
fn verdicts(met: &[Met]) -> Vec<(&str, &str, &str)> {
    met.iter()
        .zip(met.iter().skip(1))
        .filter(|(here, next)| here.scene.wanted == Wanted::Verdict && here.id != next.id)
        .map(|(here, next)| {
            let verdict = here.scene.sum.first().map_or("", |told| told.split(':').next().unwrap_or(""));
            (here.id.as_str(), verdict, next.id.as_str())
        })
        .collect()
}

/// What each of these sums is asked, one value after another, on the way that the answers lead.
const OTHER_WAYS: [&[(&str, &str)]; 4] = [
    &[("set-lathe/table", "2"), ("press-thread/figure-run", "at a slant"), ("clip-way", "worked out by the clock")],
    &[("try-body-parts/starts", "each does, but one feels tight")],
    &[("choose-blank/dry", "unchanged, but its home is drier")],
    &[("let-go-felt", "none in five tries"), ("clip-travel", "travel=5.2 mm")],
];

#[test]
fn the_main_way_comes_to_four_of_them_and_the_others_stand_where_they_are_wanted() {
    let guide = shipped();
    let sums = |lines: &[(&str, &str)]| -> BTreeMap<String, Vec<String>> {
        let mut sums: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for met in play(&guide, lines).into_iter().filter(|met| met.scene.wanted == Wanted::Verdict) {
            sums.entry(met.sum.unwrap_or_default()).or_default().push(met.id);
        }
        sums
    };
    let main = sums(&[]);
    let expected: [(&str, &[&str]); 4] = [
        ("blank-cut", &["choose-blank/cuts"]),
        ("open-time", &["glue-body/time", "glue-cap/time"]),
        ("tube-gap", &["measure-body/gap", "measure-cap/gap"]),
        ("wall", &["turn-body/near/wall", "turn-body/far/wall", "turn-cap/near/wall", "turn-cap/far/wall"]),
    ];
    let expected = expected.map(|(sum, ids)| (sum.to_owned(), ids.iter().map(|id| (*id).to_owned()).collect()));
    assert_eq!(main, BTreeMap::from(expected));
    let others: [&[(&str, &str)]; 4] = [
        &[("lathe-speed", "set-lathe/speed"), ("grain-match", "press-thread/grain"), ("thread-stop", "clip-sum")],
        &[("press-fit", "try-body-parts/fit")],
        &[("wood-move", "choose-blank/house")],
        &[("thread-stop", "clip-travel")],
    ];
    for (way, wanted) in OTHER_WAYS.iter().zip(others) {
        let met = sums(way);
        for (sum, id) in wanted {
            assert_eq!(met.get(*sum), Some(&vec![(*id).to_owned()]), "{way:?}");
        }
    }
}

#[test]
fn no_sum_refuses_the_shipped_kits_numbers() {
    let guide = shipped();
    for way in OTHER_WAYS.iter().copied().chain([&[][..]]) {
        for met in play(&guide, way).iter().filter(|met| met.sum.is_some()) {
            let told = met.scene.sum.join("\n");
            let asks = matches!(met.scene.wanted, Wanted::Value { .. });
            let shows = met.scene.wanted == Wanted::Verdict && told.contains("Sum: ");
            let is_first = |told: &str| told.starts_with("Wanted: ") || told.starts_with("With ");
            assert!(shows || asks && is_first(&told), "{}: {told}", met.id);
        }
    }
    let bad = ["will bind", "too wide", "short", "will grab", "tight", "eggshell", "none"];
    for (id, verdict, _) in verdicts(&play(&guide, &[])) {
        assert!(!bad.contains(&verdict), "{id}: {verdict}");
    }
}

/// What a gauge has read is not asked by a sum, and no sum asks for a value twice.
#[test]
fn what_is_asked_is_asked_once() {
    let guide = shipped();
    let asked = |lines: &[(&str, &str)]| -> Vec<(String, String)> {
        let met = play(&guide, lines).into_iter();
        met.filter_map(|met| match met.scene.wanted {
            Wanted::Value { name, .. } if !met.typed.contains('=') => Some((met.id, name)),
            _ => None,
        })
        .collect()
    };
    let pairs = |pairs: &[(&str, &str)]| -> Vec<(String, String)> {
        pairs.iter().map(|(id, name)| ((*id).to_owned(), (*name).to_owned())).collect()
    };
    let main = [("glue-body/time", "vapour"), ("glue-cap/time", "vapour")];
    assert_eq!(asked(&[]), pairs(&main));
    let others: [&[(&str, &str)]; 4] = [
        &[
            ("set-lathe/speed", "diameter"),
            ("set-lathe/speed", "speed"),
            ("press-thread/grain", "squared-off"),
            ("press-thread/grain", "band"),
            ("press-thread/grain", "slant"),
        ],
        &[
            ("try-body-parts/fit", "part"),
            ("try-body-parts/fit", "tube-in"),
            ("try-body-parts/fit", "wood-out"),
            ("try-body-parts/fit", "wood"),
            ("try-body-parts/fit", "e"),
        ],
        &[("choose-blank/house", "wood"), ("choose-blank/house", "from"), ("choose-blank/house", "to")],
        &[],
    ];
    for (way, expected) in OTHER_WAYS.iter().zip(others) {
        let mut asked = asked(way);
        asked.retain(|asked| !pairs(&main).contains(asked));
        assert_eq!(asked, pairs(expected), "{way:?}");
    }
}

#[test]
fn a_bad_verdict_leads_to_what_a_turner_would_do() {
    let guide = shipped();
    // Each: what is typed, the sum, its verdict, the step after it; and what puts it right, so that the pen is finished.
    type Row<'t> = (&'t [(&'t str, &'t str)], (&'t str, &'t str, &'t str));
    let rows: [Row<'_>; 19] = [
        (&[("measure-body/bit", "10.36 mm")], ("measure-body/gap", "will bind", "measure-body/bit")),
        (&[("measure-cap/bit", "13.5 mm")], ("measure-cap/gap", "too wide", "measure-cap/bit")),
        (&[("choose-blank/blank-length", "100 mm")], ("choose-blank/cuts", "short", "choose-blank/other-blank")),
        (
            &[
                ("drill-body/scrap-fit", "needs force"),
                ("drill-body/next-bit", "11.5 mm"),
                ("drill-body/next-bit", "10.6 mm"),
            ],
            ("drill-body/next-gap", "too wide", "drill-body/next-bit"),
        ),
        (
            &[("drill-body/scrap-fit", "drops through"), ("drill-body/scrap-gap", "10.7 mm")],
            ("drill-body/scrap-gap", "roomy", "drill-body/thick-glue"),
        ),
        (
            &[("drill-body/scrap-fit", "drops through"), ("drill-body/scrap-gap", "drops")],
            ("drill-body/scrap-gap", "easy", "drill-body/write-bit"),
        ),
        (
            &[
                ("drill-cap/scrap-fit", "drops through"),
                ("drill-cap/scrap-gap", "13 mm"),
                ("drill-cap/next-bit", "12.5 mm"),
            ],
            ("drill-cap/scrap-gap", "too wide", "drill-cap/next-bit"),
        ),
        (
            &[("glue-body/dry-run", "25 s"), ("glue-body/grabs", "a slower glue")],
            ("glue-body/time", "will grab", "glue-body/grabs"),
        ),
        (
            &[("glue-body/dry-run", "25 s"), ("glue-body/grabs", "a quicker push")],
            ("glue-body/time", "enough", "glue-body/mark-stick"),
        ),
        (
            &[("glue-cap/time", "yes"), ("glue-cap/grabs", "the room aired, the parts wiped")],
            ("glue-cap/time", "will grab", "glue-cap/grabs"),
        ),
        (&[("glue-cap/dry-run", "12 s")], ("glue-cap/time", "tight", "glue-cap/mark-stick")),
        // A hole as wide as the bushing: what is wrong is asked, and a right reading goes on.
        (
            &[("turn-body/far/rim", "10.5 mm"), ("turn-body/far/no-wood", "the reading, or the part")],
            ("turn-body/far/wall", "none", "turn-body/far/no-wood"),
        ),
        (
            &[
                ("turn-body/far/rim", "10.5 mm"),
                ("turn-body/far/no-wood", "neither, so the end stays thicker"),
                ("turn-body/far/thicker", "12.5 mm"),
            ],
            ("turn-body/far/wall", "sound", "turn-body/far/turn"),
        ),
        (
            &[
                ("turn-cap/near/rim", "13.2 mm"),
                ("turn-cap/near/thin-end", "left thicker than its part"),
                ("turn-cap/near/thicker", "14.5 mm"),
            ],
            ("turn-cap/near/wall", "eggshell", "turn-cap/near/thin-end"),
        ),
        (
            &[("set-lathe/table", "2"), ("set-lathe/speed", "28 mm"), ("set-lathe/speed", "5000")],
            ("set-lathe/speed", "too fast", "set-lathe/slow-step"),
        ),
        (
            &[
                ("press-thread/figure-run", "at a slant"),
                ("press-thread/grain", "4 mm"),
                ("press-thread/grain", "2.5 mm"),
                ("press-thread/grain", "20 deg"),
            ],
            ("press-thread/grain", "turn cap", "press-thread/turn-mark"),
        ),
        (
            &[
                ("try-cap-parts/starts", "each does, but one feels tight"),
                ("try-cap-parts/fit", "11.75 mm"),
                ("try-cap-parts/fit", "11.6 mm"),
                ("try-cap-parts/fit", "14.4 mm"),
            ],
            ("try-cap-parts/fit", "will split", "try-cap-parts/ease"),
        ),
        (
            &[
                ("try-cap-parts/starts", "each does, but one feels tight"),
                ("try-cap-parts/fit", "11.5 mm"),
                ("try-cap-parts/fit", "11.6 mm"),
                ("try-cap-parts/fit", "14.4 mm"),
            ],
            ("try-cap-parts/fit", "loose", "try-cap-parts/ease"),
        ),
        (
            &[
                ("choose-blank/dry", "unchanged, but its home is drier"),
                ("choose-blank/house", "black cherry"),
                ("choose-blank/house", "20C/65%"),
                ("choose-blank/house", "21C/30%"),
            ],
            ("choose-blank/house", "dry it first", "choose-blank/weigh"),
        ),
    ];
    for (lines, expected) in rows {
        let met = play(&guide, lines);
        let found = verdicts(&met);
        assert!(found.contains(&expected), "{lines:?}: {found:?}");
    }
}

/// What a one-way step does rests on the sum before it, so that no way round it is left.
#[test]
fn the_one_way_steps_need_what_the_sums_give() {
    let guide = shipped();
    let needs = |id: &str| -> Vec<&str> {
        let step = guide.step(guide.step_of_id(id).unwrap_or_else(|| panic!("no step `{id}`")));
        assert!(step.one_way, "{id}");
        step.needs.iter().map(|need| guide.name(need.condition)).collect()
    };
    for (step, need) in [
        ("saw-cap/saw", "blank.cuts-known"),
        ("drill-body/drill", "body.gap-known"),
        ("glue-body/seat", "body.time-known"),
        ("turn-cap/near/turn", "cap.band-wall-known"),
        ("press-thread/press", "cap.figure-known"),
    ] {
        assert!(needs(step).contains(&need), "{step} without {need}: {:?}", needs(step));
    }
}

#[test]
fn a_sum_can_be_left_out_and_the_walk_goes_on() {
    let guide = shipped();
    for (way, sum) in [
        (
            &[("press-thread/figure-run", "at a slant"), ("press-thread/grain", "done")][..],
            ("press-thread/grain", "press-thread/line-up-cap"),
        ),
        (&[("set-lathe/table", "2"), ("set-lathe/speed", "done")], ("set-lathe/speed", "turn-body/mount")),
        (&[("glue-body/time", "done")], ("glue-body/time", "glue-body/mark-stick")),
    ] {
        let met = play(&guide, way);
        let pairs = met.iter().zip(met.iter().skip(1));
        let followed = pairs.filter(|(here, _)| here.id == sum.0).map(|(_, next)| next.id.as_str()).next_back();
        assert_eq!(followed, Some(sum.1), "{way:?}");
    }
}

const LIST: &str = r#"
stepjig = 1
[guide]
id = "list"
title = "A list of numbers"
[kit.tube.body]
length = "54 mm"
[[step]]
id = "cap"
gauge = "Measure the cap's tube."
unit = "mm"
limits = {}
[[step]]
id = "saw"
gauge = "Measure the saw's cut."
unit = "mm"
limits = {}
sets = "kit.saw"
[[step]]
id = "cuts"
reckon = "blank-cut"
from = { blank = "140 mm", pieces = "{read.cap}, {kit.tube.body.length}, 12 mm", allowance = "1.5 mm", kerf = "{kit.saw}" }
[[step]]
id = "end"
end = "finished"
"#;

/// By hand: 46 + 3, 54 + 3 and 12 + 3 are 49, 57 and 15, with two cuts of 2 that is 125, and 140 − 125 = 15.
#[test]
fn an_input_may_be_a_list_with_numbers_in_it() {
    let guide = linked(LIST);
    let again = linked(&stepjig::guide::write::linked(&guide));
    for guide in [guide, again] {
        let cuts = guide.step(guide.step_of_id("cuts").expect("it is there"));
        assert!(cuts.needs.iter().any(|need| guide.name(need.condition) == "read.cap"), "a reading is a need");
        let met = {
            let now = Timestamp::UNIX_EPOCH;
            let mut walk = Walk::begin(&guide, now);
            for line in ["46 mm", "2 mm"] {
                walk.answer(line, now).expect("it is what is wanted");
            }
            walk.scene(now)
        };
        let told = met.sum.join("\n").replace('\u{a0}', " ");
        assert_eq!(met.wanted, Wanted::Verdict, "{told}");
        assert!(told.contains("cut 1 49 mm; cut 2 57 mm; cut 3 15 mm; needed 125 mm; slack 15 mm"), "{told}");
    }
}

/// A list of which one number is not known yet is asked for as a whole.
#[test]
fn a_list_with_an_unknown_number_is_asked_for() {
    let guide = linked(
        &LIST.replace("{kit.tube.body.length}", "{kit.saw}").replace("id = \"saw\"", "id = \"saw\"\noptional = true"),
    );
    let now = Timestamp::UNIX_EPOCH;
    let mut walk = Walk::begin(&guide, now);
    for line in ["46 mm", "skip"] {
        walk.answer(line, now).expect("it is what is wanted");
    }
    let wanted = walk.scene(now).wanted;
    assert!(matches!(&wanted, Wanted::Value { name, .. } if name == "pieces"), "{wanted:?}");
}
