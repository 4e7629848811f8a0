//! A shop's own glues, laid over the shipped ones.

use stepjig::reckon::{Data, DataFile, Hardening};

use crate::helper::{shop_file, value, with};

const SLOW: &str = "sign = \"it is dry\"\nsource = \"the tin\"\n";

fn shop(text: &str) -> Data {
    shop_file(DataFile::Adhesives, text)
}

#[test]
fn its_glue_is_added_or_replaces_one_of_the_same_name() {
    let own = format!("[glue.\"slow mix\"]\nalso = [\"sm\"]\nfactor = 1.5\nband = [1.4, 1.6]\n{SLOW}");
    for name in ["slow mix", "SM"] {
        let outcome = with(&shop(&own), "cure", &format!("glue={name}; rated=1 h; temperature=30 C"));
        let outcome = outcome.expect("it is worked out");
        assert!((value(&outcome, "time") - 40.0).abs() < 1e-9, "60 / 1.5");
        assert_eq!(outcome.sources, ["the tin (the shop's own)"]);
    }
    let replaced = shop(&format!("[glue.epoxy]\nfactor = 2.5\nband = [2.5, 2.5]\n{SLOW}"));
    let outcome = with(&replaced, "cure", "glue=epoxy; rated=1 h; temperature=30 C").expect("it is worked out");
    assert!((value(&outcome, "time") - 24.0).abs() < 1e-9, "60 / 2.5");
    assert!(with(&replaced, "cure", "glue=polyurethane; rated=1 h; temperature=30 C").is_ok(), "the others stand");
}

#[test]
fn a_fault_in_its_file_is_told_with_file_and_entry() {
    let takes = "it takes `factor` and `band`, or `good`, `slow-under`, `shock-over` and `fills`";
    let rows = [
        ("factor = 2", takes),
        ("factor = 2\nband = [1.5, 2.5]\ngood = [40, 70]", takes),
        ("factor = 3\nband = [1.5, 2.5]", "`factor` lies in its `band`, and that between 1 and 5"),
        ("factor = nan\nband = [1.5, 2.5]", "`factor` lies in its `band`, and that between 1 and 5"),
        (
            "factor = 2\nband = [1.5, 2.5]\ncold = \"10 mm\"",
            "`cold`: `mm` is a unit of length, and a temperature is wanted",
        ),
        (
            "good = [40, 70]\nslow-under = 50\nshock-over = 80\nfills = \"1 mm\"",
            "`slow-under`, `good` and `shock-over` go up",
        ),
        ("good = [40, 70]\nslow-under = 30\nshock-over = 80\nfills = \"1\"", "`fills`: `1` has no unit"),
        ("colour = \"red\"", "unknown field `colour`"),
    ];
    for (text, expected) in rows {
        let data = shop(&format!("[glue.mine]\n{text}\n{SLOW}"));
        let refusal = with(&data, "cure", "glue=epoxy").expect_err("the file has a fault");
        let said = refusal.to_string();
        assert!(said.starts_with(&format!("shop/data/adhesives.toml:1:7: `glue.mine`: {expected}")), "{said}");
    }
}

#[test]
fn the_shipped_glues_are_the_three_chemistries() {
    let data = Data::shipped();
    let glues = data.glues().expect("it reads");
    let names: Vec<&str> = glues.all().iter().map(|glue| glue.name.as_str()).collect();
    assert_eq!(names, ["cyanoacrylate", "epoxy", "polyurethane"]);
    let by_warmth = |name| matches!(glues.named(name).expect("it is listed").hardening, Hardening::Warmth { .. });
    assert_eq!(names.into_iter().map(by_warmth).collect::<Vec<_>>(), [false, true, true]);
}
