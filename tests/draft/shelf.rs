//! Drafts under way are listed, and each has one writer at a time.

use std::io::Write;
use std::time::{Duration, Instant};

use super::home::{Home, piped};
use super::verb::{enters, kept, said};

#[test]
fn a_draft_that_is_open_is_refused_to_another_and_free_again_however_that_ended() {
    let home = Home::new("draft-open-twice");
    let mut first = piped(home.command(&["draft", "raffle"])).spawn().expect("it starts");
    let stdin = first.stdin.as_mut().expect("a pipe");
    stdin.write_all(b"two\n").and_then(|()| stdin.flush()).expect("it is read");
    let begun = Instant::now();
    while !kept(&home, "raffle").exists() {
        assert!(begun.elapsed().as_secs() < 60, "the first answer is never kept");
        std::thread::sleep(Duration::from_millis(10));
    }
    let second = home.run(&["draft", "raffle"], "one\n");
    assert_eq!(second.status.code(), Some(2), "{}", said(&second));
    let told = format!("the draft raffle is open in another stepjig (pid {})", first.id());
    assert!(said(&second).contains(&told) && said(&second).contains("`park` first"), "{}", said(&second));
    let text = std::fs::read_to_string(kept(&home, "raffle")).expect("it is kept");
    assert!(text.contains("tubes = \"two\""), "nothing of it was written over: {text}");
    // Another draft is no matter of that one's.
    let other = home.run(&["draft", "other"], "one\n");
    assert_eq!(other.status.code(), Some(1), "{}", said(&other));
    let list = home.run(&["list"], "");
    assert!(said(&list).contains("raffle 1 answer of 33, open in another stepjig"), "{}", said(&list));

    first.kill().expect("it can be killed");
    first.wait().expect("it ends");
    let again = home.run(&["draft", "raffle"], "");
    assert!(said(&again).contains("Taken up again with 1 answer."), "{}", said(&again));
}

#[test]
fn drafts_under_way_are_listed_with_how_far_they_are() {
    let home = Home::new("draft-list");
    assert!(!said(&home.run(&["list"], "")).contains("Drafts"));
    home.run(&["draft", "raffle"], "two\ntwist\n");
    home.run(&["draft", "whole"], &format!("one\ntwist\nballpoint\n{}", enters(60)));
    home.write(".local/share/stepjig/drafts/damaged.toml", "stepjig = 1\n[draft]\ntubes = ");
    home.write(".local/share/stepjig/drafts/no draft.toml", "");
    let text = said(&home.run(&["list"], ""));
    let drafts = text.split("Drafts: ").nth(1).unwrap_or_default();
    for told in ["damaged cannot be read: line 3", "raffle 2 answers of ", "whole all is answered"] {
        assert!(drafts.contains(told), "{told}: {text}");
    }
    assert!(!text.contains("no draft") && !text.contains("open in another"), "{text}");
    let json = home.run(&["list", "--format", "json"], "");
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).expect("it is JSON");
    assert_eq!(json["drafts"].as_array().map(Vec::len), Some(3));
    assert_eq!(json["drafts"][1]["name"], "raffle");
    let plain = home.run(&["list", "--format", "plain"], "");
    let plain = String::from_utf8_lossy(&plain.stdout).into_owned();
    assert_eq!(plain.lines().filter(|line| line.starts_with("draft\t")).count(), 3, "{plain}");
}
