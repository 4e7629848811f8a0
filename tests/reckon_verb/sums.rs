//! Sums through the shell, each against something outside the project.

use serde_json::Value as Json;

use super::home::Home;
use super::{json, reckon};

/// Names of outputs, each with its value and how far off it may be.
type Expected = &'static [(&'static str, f64, f64)];

/// "Computed" is worked from the definitions, by hand or apart from this code.
const ROWS: [(&str, Expected, &str, &str); 18] = [
    (
        "thread-stop pitch=1.0mm starts=3 turns=1.25 diameter=14mm",
        &[("stop-angle", 90.0, 1e-9), ("clip-exact", 90.0, 1e-9), ("slip", 6.0, 1e-9), ("slip-arc", 0.733, 5e-4)],
        "",
        "computed: lead 3.00 mm; 1.25 turns; 360° × 0.05 / 3; π × 14 × 6 / 360",
    ),
    ("thread-stop let-go=9:00", &[("stop-angle", 90.0, 1e-9)], "", "computed: 360° − 270°"),
    (
        "thread-stop pitch=0.8mm starts=3 turns=1.6",
        &[("stop-angle", 216.0, 1e-9), ("clip-exact", 216.0, 1e-9), ("ways", 3.0, 0.0), ("apart", 120.0, 1e-12)],
        "",
        "computed: 0.6 turns, 7:12 on the clock",
    ),
    (
        "thread-stop pitch=0.8mm starts=3 turns=1.6 off=40",
        &[
            ("other-start", 0.0, 0.0),
            ("rest", 40.0, 1e-9),
            ("stop-change", 0.267, 5e-4),
            ("shim", 0.267, 5e-4),
            ("clip-exact", 176.0, 1e-9),
        ],
        "",
        "computed: 2.4 mm × 40 / 360; 216° − 40°, 5:52 on the clock",
    ),
    (
        "thread-stop pitch=0.8mm starts=3 turns=1.6 off=130",
        &[("other-start", 1.0, 0.0), ("rest", 10.0, 1e-9)],
        "",
        "computed: 130° − 120°",
    ),
    (
        "grain-match kerf=2.0mm squared-off=3.0mm band=2.5mm slant=20 cap=13mm",
        &[("removed", 5.0, 1e-9), ("drift", 0.910, 5e-4), ("turn", 8.02, 5e-3)],
        "turn-cap",
        "computed: 2.5 × tan 20°; 0.910 / 6.5 in degrees",
    ),
    (
        "grain-match kerf=1.2mm squared-off=1.6mm band=4.0mm slant=10 cap=13mm",
        &[("drift", -0.212, 5e-4), ("even", 1.2, 1e-9)],
        "runs-on",
        "computed: −1.2 × tan 10°",
    ),
    (
        "blank-cut blank=130mm pieces=52mm,40mm allowance=1.5mm kerf=2mm",
        &[("needed", 100.0, 1e-9), ("slack", 30.0, 1e-9), ("cut-1", 55.0, 1e-9), ("cut-2", 43.0, 1e-9)],
        "fits",
        "computed: 55 + 43 + 2",
    ),
    (
        "drill-for tube=10.30mm",
        &[("bit", 10.490, 5e-4), ("clearance", 0.190, 5e-4)],
        "found",
        "letter Z, 0.413 in, in two open drill tables that agree",
    ),
    (
        "drill-for tube=10.30mm sets=fraction least=0.01mm",
        &[("bit", 10.31875, 1e-9), ("clearance", 0.019, 5e-4)],
        "found",
        "13/32 in, exact: why the letter is taken",
    ),
    (
        "tube-gap hole=25/64 in tube=9.70mm length=52mm",
        &[("gap", 0.111, 5e-4), ("volume", 177.8, 0.05)],
        "easy",
        "computed: (9.921875 − 9.70) / 2; π/4 × (9.921875² − 9.70²) × 52",
    ),
    ("wall bushing=13.1mm hole=25/64 in", &[("wall", 1.5890625, 1e-9)], "sound", "computed: (13.1 − 9.921875) / 2"),
    ("wall bushing=10.02mm hole=10mm", &[("wall", 0.01, 1e-9)], "eggshell", "computed: half of what they differ by"),
    (
        "press-fit part=9.01mm tube-in=9mm tube-out=9.5mm wood-out=12mm strength=3.9MPa e=1GPa doubt=0mm",
        &[("interference", 0.01, 1e-9), ("wood-hoop", 0.93613, 5e-5), ("use", 0.24003, 5e-5)],
        "snug",
        "thick cylinders in three layers, by closed form and by finite elements apart from this code",
    ),
    (
        "wood-move wood=black cherry width=100mm from=12% to=8%",
        &[("tangential", -0.992, 1e-9), ("radial", -0.504, 1e-9)],
        "will-move",
        "Wood Handbook (FPL-GTR-190, 2010), Table 13-5 and equation 13-2: 100 × 0.00248 × 4, 100 × 0.00126 × 4",
    ),
    (
        "cure glue=epoxy rated=24h temperature=10C",
        &[("time", 2880.0, 1e-9), ("soonest", 2160.0, 1e-9), ("latest", 3600.0, 1e-9)],
        "",
        "twice as fast for every 10 °C: common practice; 1440 min × 2, × 1.5, × 2.5",
    ),
    ("open-time seat=6s open=30s temperature=30C vapour=no", &[("margin", 2.5, 1e-9)], "tight", "computed: 15 / 6"),
    (
        "lathe-speed diameter=1/2in speed=400",
        &[("surface", 15.96, 5e-3), ("surface-ft", 52.36, 5e-3)],
        "slow",
        "S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology, example 22.1",
    ),
];

#[test]
fn sums_come_to_what_their_sources_have() {
    let home = Home::new("reckon-sums");
    for (line, expected, verdict, source) in ROWS {
        let all = json(&reckon(&home, line, &["--format", "json"]));
        for (name, value, within) in expected {
            let found = all["outputs"][name]["value"].as_f64().unwrap_or(f64::NAN);
            assert!((found - value).abs() <= *within, "{line}: {name} is {found}, not {value} ({source})");
        }
        assert_eq!(all["verdict"].as_str().unwrap_or(""), verdict, "{line} ({source})");
    }
}

#[test]
fn clocks_and_bits_are_told_in_words() {
    let home = Home::new("reckon-words");
    let rows = [
        ("thread-stop pitch=1.0mm starts=3 turns=1.25", "clip-exact", "3 o'clock"),
        ("thread-stop pitch=0.8mm starts=3 turns=1.6", "clip-exact", "7:12"),
        ("thread-stop pitch=0.8mm starts=3 turns=1.6 off=40", "clip-exact", "5:52"),
        ("drill-for tube=10.30mm", "bit", "letter Z (10.49 mm)"),
    ];
    for (line, name, text) in rows {
        let all = json(&reckon(&home, line, &["--format", "json"]));
        assert_eq!(all["outputs"][name]["text"], Json::from(text), "{line}");
    }
    let kits_own = "tube-gap hole=10mm tube=10.30mm length=52mm drill=10.5mm";
    let say = json(&reckon(&home, kits_own, &["--format", "json"]))["say"].to_string();
    assert!(say.contains("The bit of 10.5 mm clears 0.2 mm: use it."), "{say}");
}
