//! `wood-move`: against the printed tables and the worked example of the Wood Handbook, and what must hold.

use crate::helper::{near, refused, said, shop_file, text, value, with, work_out, worked};
use proptest::prelude::*;
use stepjig::reckon::wood_move::{change, change_by_shrinkage, coefficient_of, equilibrium, shrinkage_of};
use stepjig::reckon::{Air, DataFile};
use stepjig::units::Length;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm).expect("it is a length")
}

fn air(fahrenheit: f64, percent: f64) -> Air {
    Air::new((fahrenheit - 32.0) / 1.8, percent).expect("it is in the table")
}

/// °F, relative humidity in percent, moisture content as printed: Wood Handbook (FPL-GTR-190, 2010), Table 4-2. After it
/// what the equation gives, computed apart from this code.
const TABLE: [(f64, f64, f64, f64); 30] = [
    (50.0, 20.0, 4.6, 4.600),
    (50.0, 30.0, 6.3, 6.305),
    (50.0, 40.0, 7.9, 7.874),
    (50.0, 50.0, 9.5, 9.466),
    (50.0, 60.0, 11.2, 11.244),
    (50.0, 70.0, 13.4, 13.426),
    (50.0, 80.0, 16.4, 16.382),
    (50.0, 90.0, 20.9, 20.894),
    (70.0, 20.0, 4.5, 4.492),
    (70.0, 30.0, 6.2, 6.170),
    (70.0, 40.0, 7.7, 7.699),
    (70.0, 50.0, 9.2, 9.242),
    (70.0, 60.0, 11.0, 10.965),
    (70.0, 70.0, 13.1, 13.088),
    (70.0, 80.0, 16.0, 15.989),
    (70.0, 90.0, 20.5, 20.479),
    (80.0, 30.0, 6.1, 6.061),
    (80.0, 50.0, 9.1, 9.080),
    (80.0, 60.0, 10.8, 10.771),
    (80.0, 70.0, 12.9, 12.859),
    (80.0, 80.0, 15.7, 15.724),
    (100.0, 20.0, 4.2, 4.183),
    (100.0, 40.0, 7.2, 7.226),
    (100.0, 50.0, 8.7, 8.678),
    (100.0, 60.0, 10.3, 10.300),
    (100.0, 80.0, 15.1, 15.093),
    (100.0, 90.0, 19.5, 19.478),
    (60.0, 40.0, 7.8, 7.804),
    (60.0, 60.0, 11.1, 11.125),
    (60.0, 80.0, 16.2, 16.211),
];

#[test]
fn moisture_is_as_the_handbooks_table_has_it() {
    for (fahrenheit, percent, printed, computed) in TABLE {
        let found = equilibrium(air(fahrenheit, percent));
        near(found, printed, 0.06, &format!("{fahrenheit} °F, {percent} %"));
        near(found, computed, 0.0006, &format!("{fahrenheit} °F, {percent} %"));
    }
}

#[test]
fn widths_change_as_the_handbook_works_them() {
    // A white fir board of 232 mm, 9.15 in, 8 to 11 %: 233.7 mm, 9.217 in (Wood Handbook, 2010, chapter 13; its tangential coefficient
    // 0.00245 is from memory, and gives the printed result).
    let fir = change(mm(232.0), 0.00245, 8.0, 11.0).expect("it is small");
    near(fir.in_mm(), 1.7, 0.05, "white fir");
    near(232.0 + fir.in_mm(), 233.7, 0.05, "white fir, wide in all");
    let inches = change(Length::from_inches(9.15).expect("it is a length"), 0.00245, 8.0, 11.0).expect("it is small");
    near(inches.in_inches(), 0.067, 0.0005, "white fir in inches");
    near(9.15 + inches.in_inches(), 9.217, 0.0005, "white fir, wide in all, in inches");
    // Computed by equation 13-2 with the coefficient of Table 13-5, hard maple.
    near(change(mm(20.0), 0.00353, 12.0, 6.0).expect("it is small").in_mm(), -0.4236, 0.0005, "hard maple");
    // Computed by equation 13-3 with the shrinkage of Table 4-3, black walnut, radial.
    near(change_by_shrinkage(mm(19.0), 5.5, 30.0, 7.0).expect("it is small").in_mm(), -0.8012, 0.001, "walnut");
}

/// The same through what is typed: the species table, the choice of equation, Fahrenheit.
#[test]
fn what_is_typed_comes_to_the_same() {
    let maple = worked("wood-move", &[("wood", "hard maple"), ("width", "20 mm"), ("from", "12 %"), ("to", "6 %")]);
    near(value(&maple, "tangential"), -0.4236, 0.0005, "tangential");
    near(value(&maple, "strain"), 0.4236 / 20.0, 1e-6, "strain");
    let walnut = worked("wood-move", &[("wood", "black walnut"), ("width", "19 mm"), ("from", "30 %"), ("to", "7 %")]);
    near(value(&walnut, "radial"), -0.8012, 0.001, "radial");
    // Computed: moisture of Table 4-2, 11.0 and 6.2 %; Table 13-5, American beech, 0.00431.
    let beech = [("wood", "beech-american"), ("width", "18 mm"), ("from", "70F/60%"), ("to", "70F/30%")];
    let beech = worked("wood-move", &beech);
    near(value(&beech, "tangential"), -0.3724, 0.01, "tangential");
    near(value(&beech, "moisture-from"), 11.0, 0.06, "moisture-from");
    near(value(&beech, "moisture-to"), 6.2, 0.06, "moisture-to");
    let round = value(&beech, "tangential") - value(&beech, "radial");
    near(value(&beech, "out-of-round"), round, 1e-12, "out-of-round");
}

/// Of Table 4-3 (tangential shrinkage) and Table 13-5 (tangential coefficient): species that stand in both, ungrouped.
#[test]
fn shrinkage_and_coefficient_are_the_same_data() {
    let rows = [
        ("black cherry", 7.1, 0.00248),
        ("black walnut", 7.8, 0.00274),
        ("American beech", 11.9, 0.00431),
        ("red alder", 7.3, 0.00256),
        ("basswood", 9.3, 0.00330),
        ("persimmon", 11.2, 0.00403),
        ("paper birch", 8.6, 0.00304),
    ];
    for (wood, shrinkage, coefficient) in rows {
        near(coefficient_of(shrinkage), coefficient, 0.000_006, wood);
        near(shrinkage_of(coefficient), shrinkage, 0.02, wood);
    }
}

#[test]
fn each_question_has_its_own_answer() {
    let base = [("wood", "black cherry"), ("width", "12 mm")];
    let rows = [
        ("barrel", "20C/65%", "21C/30%", "will-move", "it may crack"),
        ("barrel", "20 %", "8 %", "dry-it-first", "Dry it before you glue the tube in"),
        ("barrel", "21C/40%", "21C/42%", "settled", "no more than the wood bears"),
        ("barrel", "21C/30%", "20C/65%", "will-move", "it will not crack"),
        ("bore", "20C/65%", "21C/30%", "will-move", "may bind"),
        ("bore", "21C/30%", "20C/65%", "will-move", "it will not bind"),
        ("blank", "20C/65%", "21C/30%", "dry-it-first", "Not yet"),
        ("blank", "21C/40%", "21C/42%", "settled", "dry enough to drill"),
    ];
    for (question, from, to, verdict, part) in rows {
        let typed = [&base[..], &[("question", question), ("from", from), ("to", to)]].concat();
        let outcome = worked("wood-move", &typed);
        assert_eq!(outcome.verdict, Some(verdict), "{typed:?}");
        assert!(outcome.say.contains(part) && outcome.say.contains("An estimate"), "{typed:?}: {}", outcome.say);
    }
}

#[test]
fn what_is_not_known_is_said_and_never_guessed() {
    let typed = |wood| [("wood", wood), ("width", "12 mm"), ("from", "12 %"), ("to", "8 %")];
    let cocobolo = refused("wood-move", &typed("cocobolo"));
    assert!(
        cocobolo.starts_with(
            "there is no published movement figure for cocobolo: give what you measured, such as tangential="
        ),
        "{cocobolo}"
    );
    let pear = refused("wood-move", &typed("pear"));
    assert!(
        pear.starts_with(
            "`wood`: `pear` is not listed: give its change for each percent of moisture, such as tangential="
        ),
        "{pear}"
    );
    let cherry = refused("wood-move", &typed("cherry"));
    assert!(cherry.contains("one of: cherry-black;"), "{cherry}");
    let walnut = refused("wood-move", &typed("walnutt"));
    assert!(walnut.contains("one of: walnut-black;"), "{walnut}");
    // Teak has a tangential figure only.
    let teak = worked("wood-move", &typed("teak"));
    near(value(&teak, "tangential"), 12.0 * 0.00186 * -4.0, 1e-9, "tangential");
    for name in ["radial", "out-of-round"] {
        assert_eq!(teak.output(name).and_then(|output| output.value), None, "{name}");
    }
    let own = [("tangential", "0.003"), ("radial", "0.0015"), ("width", "10 mm"), ("from", "12 %"), ("to", "8 %")];
    let own = worked("wood-move", &own);
    near(value(&own, "tangential"), -0.12, 1e-9, "tangential");
    near(value(&own, "radial"), -0.06, 1e-9, "radial");
    assert_eq!(text(&own, "strain"), "1.20 % of tension");
}

/// How many woods of the table have what: 44 in all, one of them without any figure.
#[test]
fn every_listed_wood_is_found_by_its_name() {
    let text = include_str!("../../guides/data/wood.toml");
    let file: toml::Table = toml::from_str(text).expect("it is TOML");
    let woods = file["wood"].as_table().expect("woods are a table");
    assert_eq!(woods.len(), 44);
    let sources = file["sources"].as_table().expect("sources are a table");
    let mut moving = 0;
    for (key, wood) in woods {
        let figures = ["moves", "shrinks", "strength"].iter().filter(|figure| wood.get(**figure).is_some()).count();
        let from = wood.get("from").and_then(toml::Value::as_array).cloned().unwrap_or_default();
        assert_eq!(from.len(), figures, "{key} names a source for each figure");
        assert!(from.iter().all(|key| sources.contains_key(key.as_str().expect("a key is a text"))), "{key}");
        for name in [key.as_str(), wood["name"].as_str().expect("it has a name")] {
            let typed = [("wood", name), ("width", "12 mm"), ("from", "12 %"), ("to", "8 %")];
            match work_out("wood-move", &typed) {
                Ok(outcome) => {
                    moving += 1;
                    assert!(value(&outcome, "tangential") < 0.0, "{name}");
                }
                Err(refusal) => assert_eq!((name, said(&refusal).contains("no published")), ("cocobolo", true)),
            }
        }
    }
    assert_eq!(moving, 2 * 43);
}

#[test]
fn a_shops_own_table_is_laid_over_by_name() {
    let own = r#"
        [wood]
        walnut-black = { name = "black walnut", moves = [0.003], from = ["measured, May 2026"] }
        pear = { name = "pear", moves = [0.0032, 0.0015] }
    "#;
    let data = shop_file(DataFile::Wood, own);
    let typed = |wood| [("wood", wood), ("width", "10 mm"), ("from", "12 %"), ("to", "8 %")];
    let worked = |wood| with(&data, "wood-move", &typed(wood)).expect("it is listed");
    near(value(&worked("black walnut"), "tangential"), -0.12, 1e-9, "the shop's walnut");
    assert_eq!(worked("black walnut").output("radial").and_then(|radial| radial.value), None, "nothing shines through");
    near(value(&worked("pear"), "radial"), -0.06, 1e-9, "the shop's pear");
    near(value(&worked("black cherry"), "radial"), 10.0 * 0.00126 * -4.0, 1e-9, "the shipped cherry");
}

#[test]
fn a_fault_in_a_shops_table_is_told_with_file_and_entry() {
    let rows = [
        ("[wood]\npear = { name = \"pear\", moves = [0.3] }", "2:1: `pear`: `moves`: 0.3 is out of range"),
        ("[wood]\npear = { name = \"pear\", moves = [0.003, 0.002, 0.001] }", "2:1: `pear`: `moves`: it has 3 figures"),
        ("[wood]\npear = { name = \"pear\", strength = \"4\" }", "2:1: `pear`: `strength`: `4` has no unit"),
        ("[wood]\npear = { name = \"pear\", nu = 0.7 }", "2:1: `pear`: `nu`: 0.7 is out of range"),
        ("[wood]\npear = { name = \"pear\", colour = 1 }", "2:1: `pear`: unknown field `colour`"),
        ("[wood]\npear = { moves = [0.003] }", "2:1: `pear`: missing field `name`"),
        ("[wood\n", "1:6: unclosed table"),
    ];
    for (own, expected) in rows {
        let data = shop_file(DataFile::Wood, own);
        let typed = [("wood", "pear"), ("width", "10 mm"), ("from", "12 %"), ("to", "8 %")];
        let refusal = with(&data, "wood-move", &typed).expect_err("the table has a fault");
        let said = said(&refusal);
        assert!(said.starts_with(&format!("shop/data/wood.toml:{expected}")), "{said}");
    }
}

#[test]
fn air_and_moisture_are_read_or_refused_with_the_likely_slip() {
    let read = |from: &'static str| {
        work_out("wood-move", &[("wood", "apple"), ("width", "9 mm"), ("from", from), ("to", "8%")])
    };
    for from in ["20C/65%", "20 °C / 65 %", "65%/20C", "68F/65%", "12 %", "12"] {
        let outcome = read(from).unwrap_or_else(|refusal| panic!("{from}: {refusal}"));
        near(value(&outcome, "moisture-from"), 12.0, 0.1, from);
    }
    let rows = [
        ("70/40%", "`from`: `70` has no unit: 70 C or 70 F? say which"),
        ("20C/100%", "`from`: `100%` is out of range, it goes from over 0 % to under 100 %"),
        ("20C/0%", "`from`: `0%` is out of range, it goes from over 0 % to under 100 %"),
        ("150C/40%", "`from`: `150C` is out of range, it goes from 30 °F to 210 °F"),
        (
            "65%",
            "`from`: `65%` is out of range, it goes from 0 % to 30 %: wood wetter than that does not move: is it the",
        ),
        ("20C", "`from`: `C` is a unit of temperature, and a percentage is wanted"),
        ("20C/65mm", "`from`: `mm` is a unit of length, and a percentage is wanted"),
        ("/", "`from`: a temperature is missing"),
    ];
    for (from, expected) in rows {
        let said = said(&read(from).map_or_else(|refusal| refusal, |outcome| panic!("{from}: {outcome:?}")));
        assert!(said.starts_with(expected), "{from}: {said}");
    }
}

proptest! {
    #[test]
    fn damper_air_makes_damper_wood(fahrenheit in 30.0..=200.0_f64, percent in 1.0..98.0_f64, more in 0.1..1.0_f64) {
        prop_assert!(equilibrium(air(fahrenheit, percent)) < equilibrium(air(fahrenheit, percent + more)));
    }

    #[test]
    fn there_and_back_is_no_change(width in 2.0..50.0_f64, c in 0.0005..0.005_f64, from in 0.0..30.0_f64, to in 0.0..30.0_f64) {
        let s = shrinkage_of(c);
        let there = mm(width + change_by_shrinkage(mm(width), s, from, to).expect("it is small").in_mm());
        let back = there.in_mm() + change_by_shrinkage(there, s, to, from).expect("it is small").in_mm();
        prop_assert!((back - width).abs() < 1e-9, "by 13-3: {back}");
        let (there, back) = (change(mm(width), c, from, to), change(mm(width), c, to, from));
        prop_assert_eq!(there.expect("it is small").in_mm(), -back.expect("it is small").in_mm());
        prop_assert!((coefficient_of(s) - c).abs() < 1e-12);
    }

    #[test]
    fn both_equations_agree_about_the_middle(width in 2.0..50.0_f64, c in 0.0005..0.005_f64, to in 6.0..14.0_f64) {
        let linear = change(mm(width), c, 10.0, to).expect("it is small").in_mm();
        let other = change_by_shrinkage(mm(width), shrinkage_of(c), 10.0, to).expect("it is small").in_mm();
        prop_assert!((linear - other).abs() < 1e-9);
    }
}
