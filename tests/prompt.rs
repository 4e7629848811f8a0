//! The prompt as a person meets it: the program in a terminal, keys pressed, the screen read.

#[path = "prompt/draft.rs"]
mod draft;
#[path = "prompt/harness.rs"]
mod harness;
mod home;
#[path = "prompt/reckon.rs"]
mod reckon;
#[path = "prompt/rehearse.rs"]
mod rehearse;
#[path = "prompt/screens.rs"]
mod screens;
#[path = "prompt/trouble.rs"]
mod trouble;
mod typing;

use std::time::{Duration, Instant};

use harness::{CTRL_C, CTRL_D, ENTER, TAB, Terminal, has_colour};
use home::Home;

const STEPS: &str = r#"
[[step]]
id = "bore"
gauge = "Measure the bore."
unit = "mm"
limits = { min = 9, max = 11 }
needs = ["kind.known"]
under = "lost"
over = "lost"
[[step]]
id = "glue"
do = "Push the tube home."
needs = ["tube.scuffed", "kind.known", "read.bore"]
gives = ["tube.glued"]
in-one-go = ["Glue on the tube.", "One stroke."]
one-way = true
if-wrong = "Stop and let it harden."
caution = [{ level = "warning", hazard = "Glue can bond skin in seconds.", avoid = "Shield down." }]
[[step]]
id = "end"
end = "finished"
needs = ["tube.glued"]
[[step]]
id = "lost"
end = "scrap"
"#;

const DONE: &str = "Enter when done> ";
const WORDS: &str = "number or words> ";
const READING: &str = "reading in mm> ";
const HOLD: &str = "yes, or no and a number> ";
const OPEN: &str = "type done when it is over> ";

/// Opens the small guide in a terminal, at its first step.
fn small(home: &Home) -> Terminal {
    home.small(STEPS);
    let mut terminal = home.terminal(&["walk", "small.toml", "--job", "a"]);
    terminal.wait_for("Scuff the tube.");
    terminal.wait_for_prompt(DONE);
    terminal
}

/// Types lines, each at the prompt it belongs to.
fn type_through(terminal: &mut Terminal, lines: &[(&str, &str)]) {
    for (prompt, line) in lines {
        terminal.wait_for_prompt(prompt);
        terminal.type_line(line);
    }
}

#[test]
fn the_first_prompt_says_how_to_leave() {
    let home = Home::new("leave");
    let mut walk = small(&home);
    assert!(walk.said().contains("`park` or Ctrl-D lays the pen aside"), "{}", walk.screen());
    walk.press(CTRL_D);
    assert_eq!(walk.wait_for_end(), Some(1));
    let mut verbs = home.terminal(&[]);
    verbs.wait_for("Ctrl-D leaves");
    verbs.wait_for_prompt("stepjig> ");
    verbs.press(CTRL_D);
    assert_eq!(verbs.wait_for_end(), Some(0));
}

/// Only an attempt in which the whole took less than half a second says something, so a busy machine tries again.
#[test]
fn an_enter_soon_after_a_screen_was_drawn_is_ignored() {
    for attempt in 0..20 {
        let home = Home::new(&format!("soon-{attempt}"));
        let mut walk = small(&home);
        let before_it_was_drawn = Instant::now();
        walk.type_line("done");
        walk.wait_for_prompt(WORDS);
        walk.press(ENTER);
        if Duration::from_millis(450) < before_it_was_drawn.elapsed() {
            continue;
        }
        // The line typed after it is read after it; had the Enter counted, a question would have been refused.
        walk.type_line("where");
        walk.wait_for("What holds now");
        walk.wait_for_prompt(WORDS);
        assert!(!walk.said().contains("a question wants an answer"), "{}", walk.screen());
        assert_eq!(walk.screen().matches(WORDS.trim_end()).count(), 2, "one prompt a line\n{}", walk.screen());
        return;
    }
    panic!("the machine is too busy to tell");
}

#[test]
fn an_enter_that_is_meant_counts() {
    let home = Home::new("meant");
    let mut walk = small(&home);
    walk.enter_until("Which end does the tube take?");
    assert_eq!(home.journal("a").len(), 2);
}

/// Both lines lie in the terminal before the first is read, as keys do that were pressed by an elbow.
#[test]
fn keys_typed_before_a_screen_was_drawn_are_ignored() {
    let home = Home::new("before");
    let mut walk = small(&home);
    walk.press(&format!("done{ENTER}the band end{ENTER}"));
    walk.wait_for_prompt(WORDS);
    walk.type_line("where");
    walk.wait_for("What holds now");
    walk.wait_for("step 2, 2 of");
    assert_eq!(home.journal("a").len(), 2, "begun, and one step left: {:#?}", home.journal("a"));
}

#[test]
fn tab_completes_what_can_be_typed_here() {
    let home = Home::new("tab");
    let mut walk = small(&home);
    walk.press(&format!("whe{TAB}{ENTER}"));
    walk.wait_for("step 1, 1 of");
    walk.wait_for("Nothing lasting holds yet");
    walk.wait_for_prompt(DONE);
    walk.type_line("done");
    walk.wait_for_prompt(WORDS);
    walk.press(&format!("The T{TAB}"));
    walk.wait_until("the answer's words", |walk| walk.cursor_row().ends_with("> the tail end"));
    walk.press(ENTER);
    walk.wait_for_prompt(READING);
    walk.press(&format!("a{TAB}{TAB}"));
    walk.wait_for("ahead");
    assert!(!walk.said().contains("a reading in mm"), "a number cannot be completed\n{}", walk.screen());
}

#[test]
fn ctrl_c_drops_the_line_and_loses_nothing() {
    let home = Home::new("ctrl-c");
    let mut walk = small(&home);
    walk.type_line("done");
    walk.wait_for_prompt(WORDS);
    walk.press("the band");
    walk.wait_until("what was typed", |walk| walk.cursor_row().contains("> the band"));
    walk.press(CTRL_C);
    walk.wait_for("Nothing was lost");
    walk.wait_for_prompt(WORDS);
    assert_eq!(home.journal("a").len(), 2);
    walk.type_line("2");
    walk.wait_for("Measure the bore.");
    assert_eq!(home.journal("a").len(), 3);
}

#[test]
fn ctrl_d_lays_aside_and_the_next_start_goes_on() {
    let home = Home::new("ctrl-d");
    let mut walk = small(&home);
    type_through(&mut walk, &[(DONE, "done"), (WORDS, "1")]);
    walk.wait_for_prompt(READING);
    walk.press(CTRL_D);
    walk.wait_for("stepjig walk --job a");
    assert_eq!(walk.wait_for_end(), Some(1));
    let mut again = home.terminal(&["walk", "--job", "a"]);
    again.wait_for_prompt(READING);
    let said = again.said();
    for wanted in ["Going on with a.", "Last done: Which end does the tube take?", "Time away:", "Measure the bore."] {
        assert!(said.contains(wanted), "{wanted}\n{}", again.screen());
    }
    type_through(&mut again, &[(READING, "10 mm"), (HOLD, "yes"), (OPEN, "done")]);
    again.wait_for("A small guide: finished");
    assert_eq!(again.wait_for_end(), Some(0));
}

#[test]
fn the_terminal_is_left_as_it_was_found() {
    let home = Home::new("settings");
    let mut parked = small(&home);
    parked.type_line("park");
    assert_eq!(parked.wait_for_end(), Some(1));
    assert!(parked.settings_are_as_before());
    let mut finished = home.terminal(&["walk", "--job", "a"]);
    type_through(&mut finished, &[(DONE, "done"), (WORDS, "1"), (READING, "10"), (HOLD, "yes"), (OPEN, "done")]);
    assert_eq!(finished.wait_for_end(), Some(0));
    assert!(finished.settings_are_as_before());
    let mut dropped = home.terminal(&["walk", "small.toml"]);
    dropped.wait_for_prompt(DONE);
    dropped.press(CTRL_C);
    dropped.wait_for("Nothing was lost");
    dropped.wait_for_prompt(DONE);
    dropped.press(CTRL_D);
    assert_eq!(dropped.wait_for_end(), Some(1));
    assert!(dropped.settings_are_as_before());
}

#[test]
fn colour_follows_the_flag_then_the_variables() {
    let home = Home::new("colour");
    home.small(STEPS);
    type Case = (&'static [&'static str], &'static [(&'static str, &'static str)], bool);
    let cases: &[Case] = &[
        (&[], &[], true),
        (&[], &[("NO_COLOR", "1")], false),
        (&[], &[("NO_COLOR", "")], true),
        (&["--color", "always"], &[("NO_COLOR", "1")], true),
        (&["--color", "never"], &[("CLICOLOR_FORCE", "1")], false),
        (&["--color", "auto"], &[], true),
        (&[], &[("TERM", "dumb")], false),
    ];
    for (n, (flags, variables, expected)) in cases.iter().enumerate() {
        // Each a pen of its own: an unfinished one would be offered to go on with.
        let job = format!("case-{n}");
        let arguments: Vec<&str> = ["walk", "small.toml", "--job", &job].iter().chain(*flags).copied().collect();
        let mut command = home.command(&arguments);
        command.envs(variables.iter().copied());
        let mut walk = Terminal::start(command, 80, 24);
        walk.wait_for("Scuff the tube.");
        walk.wait_for_prompt(DONE);
        assert_eq!(has_colour(walk.raw()), *expected, "{flags:?} {variables:?}");
    }
}

#[test]
fn nothing_but_colour_is_lost_without_colour() {
    let home = Home::new("same");
    home.small(STEPS);
    let screens = ["always", "never"].map(|when| {
        let mut walk = home.terminal(&["walk", "small.toml", "--job", when, "--color", when]);
        type_through(&mut walk, &[(DONE, "done"), (WORDS, "1"), (READING, "10")]);
        walk.wait_for_prompt(HOLD);
        walk.screen()
    });
    assert_eq!(screens[0], screens[1]);
}

#[test]
fn a_dumb_terminal_is_read_line_by_line_and_gets_no_escapes() {
    let home = Home::new("dumb");
    home.small(STEPS);
    let mut command = home.command(&["walk", "small.toml", "--job", "a"]);
    command.env("TERM", "dumb");
    let mut walk = Terminal::start(command, 80, 24);
    walk.wait_for("Ctrl-D lays the pen aside");
    type_through(&mut walk, &[(DONE, "done"), (WORDS, "1"), (READING, "10"), (HOLD, "yes"), (OPEN, "done")]);
    assert_eq!(walk.wait_for_end(), Some(0));
    assert!(!walk.raw().contains(&0x1b) && !walk.raw().contains(&7), "{}", walk.screen());
    assert!(walk.settings_are_as_before());
}

#[test]
fn a_decimal_comma_is_asked_back_once() {
    let home = Home::new("comma");
    let mut walk = small(&home);
    type_through(&mut walk, &[(DONE, "done"), (WORDS, "1"), (READING, "9,92 mm")]);
    walk.wait_for_prompt("9.92 mm? yes or no> ");
    walk.type_line("no");
    walk.wait_for_prompt(READING);
    assert!(walk.said().contains("comma"), "{}", walk.screen());
    walk.type_line("9,92 mm");
    walk.wait_for_prompt("9.92 mm? yes or no> ");
    walk.type_line("yes");
    walk.wait_for_prompt(HOLD);
    let journal = home.journal("a");
    assert!(journal.last().is_some_and(|line| line.contains("9.92")), "{journal:#?}");
}

#[test]
fn a_hold_shows_needs_moves_and_what_to_do_when_it_goes_wrong_and_the_step_wants_the_word() {
    let home = Home::new("hold");
    let mut walk = small(&home);
    type_through(&mut walk, &[(DONE, "done"), (WORDS, "1"), (READING, "10")]);
    walk.wait_for_prompt(HOLD);
    let shown = [
        "WARNING: Glue can bond skin in seconds. Shield down.",
        "1 the tube is scuffed",
        "2 the kind is known",
        "· Glue on the tube.",
        "· One stroke.",
        "If it goes wrong: Stop and let it harden.",
    ];
    for text in shown {
        assert!(walk.said().contains(text), "{text}\n{}", walk.screen());
    }
    walk.enter_until("it wants a look first");
    walk.wait_for_prompt(HOLD);
    walk.type_line("yes");
    walk.wait_for_prompt(OPEN);
    walk.enter_until("type `done` when it is over, `trouble` when it went wrong");
    walk.wait_for_prompt(OPEN);
    let n = home.journal("a").len();
    walk.type_line("done");
    walk.wait_for("finished");
    assert_eq!(walk.wait_for_end(), Some(0));
    assert_eq!(home.journal("a").len(), n + 1);
}

/// Whatever size a terminal claims to have, a walk begins, answers and parks.
#[test]
fn no_size_of_terminal_makes_it_panic() {
    let sizes =
        [(0, 0), (0, 24), (80, 0), (1, 1), (2, 3), (10, 5), (39, 9), (40, 10), (300, 4), (1000, 1000), (65_535, 1)];
    for (columns, rows) in sizes {
        let home = Home::new(&format!("size-{columns}x{rows}"));
        home.small(STEPS);
        let mut walk = Terminal::start(home.command(&["walk", "small.toml", "--job", "a"]), columns, rows);
        for line in ["?", "done", "1", "10", "yes"] {
            answer_at_any_size(&mut walk, line);
        }
        walk.press(CTRL_D);
        assert_eq!(walk.wait_for_end(), Some(1), "{columns}x{rows}\n{}", walk.screen());
        let raw = String::from_utf8_lossy(walk.raw()).into_owned();
        assert!(!raw.contains("panicked"), "{columns}x{rows}\n{raw}");
    }
}

/// The screen of a tiny terminal says nothing, so the bytes do: nothing but moves of the cursor follows a prompt.
fn at_a_prompt(walk: &Terminal) -> bool {
    let raw = String::from_utf8_lossy(walk.raw()).into_owned();
    let Some(at) = raw.rfind("> ") else { return false };
    let mut after = raw[at + 2..].split('\u{1b}');
    let moves = |part: &str| part.trim_end().trim_start_matches(|c: char| !c.is_ascii_alphabetic()).len() == 1;
    after.next().is_some_and(|text| text.trim().is_empty()) && after.all(moves)
}

fn answer_at_any_size(walk: &mut Terminal, line: &str) {
    loop {
        walk.wait_until(&format!("a prompt for {line}: {:?}", String::from_utf8_lossy(walk.raw())), at_a_prompt);
        let raw = String::from_utf8_lossy(walk.raw()).into_owned();
        let turns = raw.rfind("Enter for the rest> ").is_some_and(|at| raw.rfind("> ") == Some(at + 18));
        let before = walk.raw().len();
        walk.type_line(if turns { "on" } else { line });
        walk.wait_until("an answer", |walk| {
            String::from_utf8_lossy(&walk.raw()[before..]).contains('\n') && at_a_prompt(walk)
        });
        if !turns {
            return;
        }
    }
}

/// Laid aside on a page that is not the last: Ctrl-D means the same on every page.
#[test]
fn ctrl_d_lays_aside_on_any_page() {
    let home = Home::new("pages");
    home.small(STEPS);
    let mut walk = Terminal::start(home.command(&["walk", "small.toml", "--job", "a"]), 40, 12);
    type_through(&mut walk, &[(DONE, "done"), (WORDS, "1"), (READING, "10")]);
    walk.wait_for_prompt("Enter for the rest> ");
    walk.press(CTRL_D);
    walk.wait_for("Laid aside.");
    assert_eq!(walk.wait_for_end(), Some(1));
    assert!(home.journal("a").last().is_some_and(|line| line.contains("parked")), "{:#?}", home.journal("a"));
}

/// However often a glove hits Enter, a step that is under way stands whole on a low terminal.
#[test]
fn nothing_takes_a_step_under_way_off_the_screen() {
    let home = Home::new("under-way");
    home.small(STEPS);
    let mut walk = Terminal::start(home.command(&["walk", "small.toml", "--job", "a"]), 40, 14);
    type_through(&mut walk, &[(DONE, "done"), (WORDS, "1"), (READING, "10")]);
    walk.wait_for_prompt("Enter for the rest> ");
    walk.type_line("on");
    walk.wait_for_prompt(HOLD);
    walk.type_line("yes");
    for slip in ["dome", "nothing", "dnoe"] {
        walk.wait_for_prompt(OPEN);
        walk.type_line(slip);
        walk.wait_for(&format!("`{slip}` is nothing that can be said here"));
    }
    walk.wait_for_prompt(OPEN);
    walk.press(CTRL_C);
    walk.wait_for("Nothing was lost");
    walk.enter_until("this cannot be taken back");
    walk.wait_for_prompt(OPEN);
    for text in ["Push the tube home.", "! WARNING: Glue can bond skin in", "· One stroke.", "Stop and let it harden."]
    {
        assert!(walk.said().contains(text), "{text}\n{}", walk.screen());
    }
    assert!(!walk.said().contains("`dome`"), "what was said before goes first\n{}", walk.screen());
}

/// What is told at length stands alone, and then the step is drawn again; what is short stands under the step.
#[test]
fn what_is_told_leaves_the_step_on_the_screen() {
    let home = Home::new("told");
    home.small(STEPS);
    let mut walk = Terminal::start(home.command(&["walk", "small.toml", "--job", "a"]), 40, 12);
    for slip in ["dome", "donne", "dpne", "doen", "dune", "doon", "odne"] {
        walk.wait_for_prompt(DONE);
        walk.type_line(slip);
        walk.wait_for(&format!("`{slip}` is nothing that can be said here"));
        walk.wait_for_prompt(DONE);
        assert!(walk.said().contains("Scuff the tube."), "{}", walk.screen());
    }
    walk.type_line("?");
    walk.wait_for_prompt("Enter for the rest> ");
    walk.type_line("where");
    walk.wait_for("Enter first, then `where` can be said.");
    walk.wait_for_prompt("Enter for the rest> ");
    while !walk.said().contains("Enter to go on>") {
        walk.wait_for_prompt("Enter for the rest> ");
        walk.enter_until("Enter to go on>");
    }
    walk.enter_until("Scuff the tube.");
    walk.wait_for_prompt(DONE);
}

#[test]
fn a_pen_that_is_not_finished_is_offered_to_go_on_with() {
    let home = Home::new("offer");
    let mut first = small(&home);
    type_through(&mut first, &[(DONE, "done"), (WORDS, "park")]);
    assert_eq!(first.wait_for_end(), Some(1));
    let mut again = home.terminal(&["walk", "small.toml"]);
    again.wait_for_prompt("go on with it? yes or no> ");
    again.type_line("yes");
    again.wait_for_prompt(WORDS);
    assert_eq!(home.journal("a").iter().filter(|line| line.contains("resumed")).count(), 1);
}

#[test]
fn an_answer_that_ends_the_pen_can_be_taken_back_at_once() {
    let home = Home::new("slip");
    let mut walk = small(&home);
    type_through(&mut walk, &[(DONE, "done"), (WORDS, "cannot tell")]);
    walk.wait_for_prompt("back, or Enter> ");
    walk.type_line("back");
    walk.wait_for_prompt(WORDS);
    walk.press(CTRL_D);
    assert_eq!(walk.wait_for_end(), Some(1));
}
