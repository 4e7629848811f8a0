//! Drafting a guide at a terminal: questions by the screen, Tab, a dropped line, laid aside and taken up again.

use super::harness::{CTRL_C, CTRL_D, TAB, Terminal};
use super::home::Home;
use super::screens::compare_with_kept;

/// What is asked, and what is typed there.
type Talk = &'static [(&'static str, &'static str)];

const TALK: Talk = &[
    ("tubes [two]>", "one"),
    ("closes [twist]>", "?"),
    ("closes [twist]>", "click"),
    ("writes [ballpoint refill]>", "pencil"),
    ("outside [not known]>", "9.9"),
    ("outside [not known]>", "back 2"),
    ("closes [click]>", "twist"),
    ("outside [not known]>", "9.86 mm"),
    ("drill [not known]>", "10 mm"),
    ("length [not known]>", "62 mm"),
    ("tip-rim [not known]>", "11.2 mm"),
    ("clip-rim [not known]>", "12.4 mm"),
    ("parts [tip, mechanism]>", "park"),
];

#[test]
fn a_talk_at_80_by_24() {
    compare(80, 24);
}

#[test]
fn a_talk_at_40_columns() {
    compare(40, 20);
}

/// Goes through the talk and compares the screens, each as it stands when something is asked.
fn compare(columns: u16, rows: u16) {
    let home = Home::new(&format!("draft-talk-{columns}"));
    let mut terminal = Terminal::start(home.command(&["draft", "raffle"]), columns, rows);
    let mut screens: Vec<String> = Vec::new();
    for (prompt, typed) in TALK {
        let seen = screens.last().cloned().unwrap_or_default();
        terminal.wait_until(prompt, |terminal| terminal.cursor_row() == *prompt && terminal.screen() != seen);
        screens.push(terminal.screen());
        terminal.type_line(typed);
    }
    terminal.wait_for("`stepjig draft raffle` goes on.");
    assert_eq!(terminal.wait_for_end(), Some(1));
    screens.push(terminal.screen());
    for line in screens.iter().flat_map(|screen| screen.lines()) {
        assert!(line.chars().count() < usize::from(columns), "{line} reaches the edge");
    }
    compare_with_kept(&format!("draft-{columns}x{rows}"), &screens.join("\n~~~~~~~~\n"));
}

#[test]
fn tab_completes_a_choice_ctrl_c_drops_a_line_and_ctrl_d_keeps_all() {
    let home = Home::new("draft-keys");
    let mut terminal = home.terminal(&["draft", "raffle"]);
    terminal.wait_for_prompt("tubes [two]>");
    terminal.press(&format!("on{TAB}"));
    terminal.wait_for("tubes [two]> one");
    terminal.press(CTRL_C);
    terminal.wait_for("That line was dropped; what was said before is kept.");
    terminal.wait_for_prompt("tubes [two]>");
    terminal.type_line("one");
    terminal.wait_for_prompt("closes [twist]>");
    terminal.press(CTRL_D);
    terminal.wait_for("Laid aside with 1 answer.");
    assert_eq!(terminal.wait_for_end(), Some(1));
    let mut again = home.terminal(&["draft", "raffle"]);
    again.wait_for("Taken up again with 1 answer.");
    again.wait_for_prompt("closes [twist]>");
}

#[test]
fn what_is_typed_between_two_screens_is_the_next_line() {
    let home = Home::new("draft-pager");
    let mut terminal = home.terminal(&["draft", "raffle"]);
    terminal.wait_for_prompt("tubes [two]>");
    terminal.type_line("one");
    terminal.wait_for_prompt("closes [twist]>");
    terminal.type_line("show");
    terminal.wait_for_prompt("Enter for the rest, stop>");
    terminal.type_line("change tubes");
    terminal.wait_for_prompt("tubes [one]>");
}

/// All is answered, and the guide lies on the shelf: the answers take two screens, and who stops at the first is told
/// what Enter would do all the same.
#[test]
fn who_stops_at_the_answers_is_told_that_the_file_is_there() {
    let home = Home::new("draft-stop");
    home.run(&["draft"], &format!("one\ntwist\nballpoint\n{}", "\n".repeat(60)));
    let mut terminal = Terminal::start(home.command(&["draft", "twist-ballpoint-one-tube"]), 80, 12);
    terminal.wait_for_prompt("Enter for the rest, stop>");
    terminal.type_line("stop");
    terminal.wait_for("There is a file");
    terminal.wait_for("already: `over` writes over it and keeps it.");
    terminal.wait_for_prompt("write [yes]>");
}
