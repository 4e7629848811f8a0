//! A shop's own figures are proved with its guides.

use super::home::Home;
use super::{json, out, plain, running};

#[test]
fn a_fault_in_a_shops_figures_is_a_finding() {
    let home = Home::new("check-figures");
    home.write("shop/data/practice.toml", "[wall]\nthin = \"1.2 mm\"\neggshell = \"thin\"\n");
    home.write("shop/data/drills.toml", "metric = '''\n10.2 10.2\n'''\n");
    let all = home.run(&["check", "--guides", "shop"], "");
    let said = running(&plain(&all.stdout));
    assert_eq!(all.status.code(), Some(1), "{said}");
    for part in [
        "shop/data/practice.toml:3:1",
        "`wall.eggshell`: `thin` is not a length",
        "practice.toml: 1 error, 0 warnings",
        "drills.toml: nothing found",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let one = home.run(&["check", "shop/data/practice.toml", "--format", "plain"], "");
    let line = plain(&one.stdout);
    assert!(line.starts_with("shop/data/practice.toml:3:1: error[bad-value]: `wall.eggshell`"), "{line}");
    assert_eq!((one.status.code(), line.lines().count()), (Some(1), 1), "{line}");
    home.write("shop/data/practice.toml", "[wall]\nthin = \"1.2 mm\"\n");
    let mended = json(&home.run(&["check", "shop/data/practice.toml", "--format", "json"], ""));
    let guide = &mended["guides"][0];
    assert_eq!((&guide["guide"], guide["findings"].as_array().map(Vec::len)), (&"practice.toml".into(), Some(0)));
    let strict = out(&home.run(&["check", "--guides", "shop", "--strict"], ""));
    assert!(strict.ends_with("drills.toml: nothing found\npractice.toml: nothing found\n"), "{strict}");
}
