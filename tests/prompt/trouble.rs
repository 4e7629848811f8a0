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

/// Glue that is said to be hard before its time is asked about, in a remedy as on the way.
#[test]
fn a_wait_in_a_remedy_that_is_over_early_is_asked_back() {
    let home = Home::new("early-in-a-remedy");
    let mut arguments = vec!["trouble", "tube-stuck", "--with", "tube=body", "push-out=not fixed"];
    for check in ["stroke", "glue-touch", "look-ahead", "leans", "play", "let-air-out"] {
        arguments.extend(["--without", check]);
    }
    let mut terminal = home.terminal(&arguments);
    for (prompt, typed) in [
        (FREE, "on"),
        ("number or words>", "do it"),
        ("number or words>", "less than a night"),
        ("Enter when done>", "done"),
        ("ready, or not ready>", "ready"),
    ] {
        terminal.wait_for_prompt(prompt);
        std::thread::sleep(std::time::Duration::from_millis(600));
        terminal.type_line(typed);
    }
    terminal.wait_for("early. Is the sign there? yes or no>");
    terminal.type_line("no");
    terminal.wait_for("Wait on.");
}
