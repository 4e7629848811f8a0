//! `rehearse` on a terminal: its screen, and how it is completed at the prompt of verbs.

use super::harness::{CTRL_D, TAB, Terminal};
use super::home::{GLUE, Home};
use super::screens::compare_with_kept;

const REHEARSALS: &str = r#"
[[rehearsal]]
title = "The band end, straight through"
answers = { kind = "the band end" }
arrives = "finished"
[[rehearsal]]
title = "Nobody can tell, and the pen is made all the same"
answers = { kind = "cannot tell" }
arrives = "finished"
"#;

fn with_rehearsals() -> String {
    format!("{GLUE}{REHEARSALS}")
}

#[test]
fn the_summary_at_80_by_30() {
    let home = Home::new("rehearse-screen");
    let mut terminal = Terminal::start(home.command(&["rehearse", home.small(&with_rehearsals())]), 80, 30);
    assert_eq!(terminal.wait_for_end(), Some(1));
    for line in terminal.screen().lines() {
        assert!(line.chars().count() < 80, "{line} reaches the edge");
    }
    compare_with_kept("rehearse-80x30", &terminal.screen());
}

#[test]
fn the_verb_and_its_guide_are_completed() {
    let home = Home::new("rehearse-tab");
    let mut terminal = home.terminal(&[]);
    terminal.wait_for_prompt("stepjig>");
    terminal.press(&format!("rehearse two-tube-f{TAB}"));
    terminal.wait_for("stepjig> rehearse two-tube-fountain");
    terminal.type_line("");
    terminal.wait_for("`stepjig rehearse two-tube-fountain -o walks.pdf`");
    terminal.wait_for_prompt("stepjig>");
    terminal.press(CTRL_D);
    assert_eq!(terminal.wait_for_end(), Some(0));
}
