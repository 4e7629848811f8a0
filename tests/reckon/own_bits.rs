//! A shop's own bits and thresholds, laid over the shipped ones.

use stepjig::reckon::{Data, DataFile, Refusal};

use crate::helper::{shop_file, text, value, with};

fn shop(text: &str) -> Data {
    shop_file(DataFile::Drills, text)
}

fn bit(data: &Data, typed: &str) -> String {
    text(&with(data, "drill-for", typed).expect("it is worked out"), "bit")
}

#[test]
fn its_metric_bits_stand_in_for_the_steps() {
    let data = shop("metric = '''\n10.2 10.2\n11 11 mm\n'''\n");
    assert_eq!(bit(&data, "tube=10.1 mm; sets=metric"), "10.2 mm");
    assert_eq!(bit(&data, "tube=10.3 mm; sets=metric"), "11 mm", "10.5 mm is not in this shop");
    let outcome = with(&data, "drill-for", "tube=10.1 mm; sets=metric").expect("it is worked out");
    assert_eq!(outcome.sources[0], "sizes: the shop's own list");
}

#[test]
fn its_entry_replaces_one_of_the_same_name_and_a_new_one_adds() {
    let data = shop("letter = '''\n  Z 0.41\n\nZZ 10.45 mm\n'''\n");
    assert_eq!(bit(&data, "tube=10.36 mm; sets=letter"), "letter Z (10.414 mm)");
    assert_eq!(bit(&data, "tube=10.39 mm; sets=letter"), "letter ZZ (10.45 mm)");
    assert_eq!(bit(&data, "tube=10.0 mm; sets=letter"), "letter X (10.084 mm)", "the others stand");
}

#[test]
fn a_fault_in_its_file_is_told_with_file_and_entry() {
    let rows = [
        ("letter = \"Z 0.41 im\"", "1:11: `letter.Z`: `im` is not a unit of length: did you mean mm, cm or in?"),
        ("letter = \"Z 0,41\"", "1:11: `letter.Z`: `0,41` has no unit: 0.41 mm or 0.41 in? say which"),
        ("letter = \"Z\"", "1:11: `letter.Z`: a length is missing: write it like 25/64, .391 in or 9.92 mm"),
        ("letter = \"Z NaN\"", "1:11: `letter.Z`: a length must be a finite number"),
        ("metric = \"Z -1\"", "1:11: `metric.Z`: a length is never below zero: `-1 mm`: did you mean 1 mm?"),
        ("number = \"7 0\"", "1:11: `number.7`: a bit is wider than nothing"),
        (
            "leter = \"Z 0.41\"",
            "1:1: unknown field `leter`, expected one of `source`, `fraction`, `letter`, `number`, `metric`",
        ),
        ("letter = 5", "1:10: invalid type: integer `5`, expected a string"),
        ("\nletter = \n", "2:10: "),
    ];
    for (text, expected) in rows {
        let refusal = with(&shop(text), "drill-for", "tube=10 mm").expect_err("the file has a fault");
        assert!(matches!(refusal, Refusal::Table { .. }) && refusal.help().is_some(), "{refusal:?}");
        assert!(refusal.to_string().starts_with(&format!("shop/data/drills.toml:{expected}")), "{refusal}");
    }
}

#[test]
fn its_own_thresholds_are_used_and_said_to_be_its_own() {
    let own = "[drill-for]\nleast = \"0.2 mm\"\n[tube-gap]\ndrop = 25\n";
    let data = shop_file(DataFile::Practice, own);
    let outcome = with(&data, "drill-for", "tube=10.30 mm").expect("it is worked out");
    assert_eq!(text(&outcome, "bit"), "10.5 mm");
    assert_eq!(outcome.sources[1], "thresholds: the shop's own");
    let gap = with(&data, "tube-gap", "tube=9.7 mm; hole=9.9 mm; length=50 mm").expect("it is worked out");
    assert!((value(&gap, "drops") * 25.0 - value(&gap, "volume")).abs() < 1e-9);
}
