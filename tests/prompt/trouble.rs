//! A fault table at the smallest terminal: whatever is asked or offered, it takes two screens at most.

use super::harness::Terminal;
use super::home::Home;

const FREE: &str = "Enter when the hands are free>";
const REST: &str = "Enter for the rest>";

#[test]
fn no_question_or_remedy_takes_more_than_two_screens() {
    let home = Home::new("two-screens");
    let tables = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/guides/trouble")).expect("tables");
    let mut names: Vec<String> =
        tables.map(|file| file.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned()).collect();
    names.sort();
    let asked: usize = names.iter().map(|name| asked_at(&home, name)).sum();
    assert!(asked > 100, "only {asked} things were asked");
}

/// Leaves out one thing after another until the table has nothing left; returns how many things were asked.
fn asked_at(home: &Home, table: &str) -> usize {
    let mut terminal = Terminal::start(home.command(&["trouble", table]), 40, 20);
    let (mut asked, mut turns) = (0, 0);
    let mut seen = String::new();
    loop {
        terminal.wait_until("a prompt", |terminal| {
            let row = terminal.cursor_row();
            (row.ends_with('>') || row.starts_with("$")) && terminal.screen() != seen
        });
        seen = terminal.screen();
        match terminal.cursor_row().as_str() {
            FREE => {
                turns = 0;
                terminal.type_line("on");
            }
            REST => {
                turns += 1;
                assert!(turns < 2, "{table}: a third screen:\n{seen}");
                terminal.type_line("on");
            }
            _ if terminal.said().contains("cannot do this here") => {
                (asked, turns) = (asked + 1, 0);
                terminal.type_line("cannot do this here");
            }
            // Beside a new blank and laying aside: the first remedy that is left.
            _ if terminal.rows().iter().any(|row| row.starts_with("  3  ")) => {
                turns = 0;
                terminal.type_line("3");
            }
            _ if terminal.said().contains("Which ") => terminal.type_line("1"),
            _ => return asked,
        }
    }
}
