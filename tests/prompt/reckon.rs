//! A reckoning at a terminal: what is missing is asked for, what was said is put right, the result comes by the screen.

use super::harness::{CTRL_C, CTRL_D, ENTER, TAB, Terminal};
use super::home::Home;
use super::screens::compare_with_kept;

/// Stands under a result.
const LEAVE: &str = "name=value, or Enter to leave>";

const REST: &str = "Enter for the rest>";

const WORDS: &str = "number or words>";

/// What is asked, and what is typed there.
type Talk = &'static [(&'static str, &'static str)];

/// The whole of a talk over a thread, and what is done about a stop that is off its mark.
const THREAD: Talk = &[
    ("touches>", "metal"),
    ("clip-over>", "1"),
    (WORDS, "1"),
    ("let-go>", "9 o'clock"),
    (WORDS, "1"),
    ("pitch>", "0.8 mm"),
    ("starts>", "3"),
    ("diameter>", "14 mm"),
    (REST, "on"),
    (LEAVE, "off=40"),
    (REST, "on"),
    (LEAVE, ""),
];

const WALL: Talk = &[("bushing>", "13.1 mm"), ("hole>", "25/64"), (LEAVE, "")];

#[test]
fn a_whole_talk_at_80_by_24() {
    compare("wall", WALL, 80, 24);
    compare("thread-stop", THREAD, 80, 24);
}

#[test]
fn a_whole_talk_at_40_columns() {
    compare("wall", WALL, 40, 20);
    compare("thread-stop", THREAD, 40, 20);
}

/// Goes through a talk and compares the screens, each as it stands when something is asked.
fn compare(name: &str, talk: Talk, columns: u16, rows: u16) {
    let home = Home::new(&format!("reckon-{name}-{columns}"));
    let mut terminal = Terminal::start(home.command(&["reckon", name]), columns, rows);
    let mut screens: Vec<String> = Vec::new();
    for (prompt, typed) in talk {
        // What was typed last may not be seen yet, so the screen before may still look like one that waits.
        let seen = screens.last().cloned().unwrap_or_default();
        let waits = |terminal: &Terminal| terminal.cursor_row() == *prompt && terminal.screen() != seen;
        let turn = |terminal: &Terminal| terminal.cursor_row() == REST && terminal.screen() != seen;
        terminal.wait_until(prompt, |terminal| waits(terminal) || turn(terminal));
        while terminal.cursor_row() != *prompt {
            // On a low terminal there are more pages.
            screens.push(terminal.screen());
            let seen = terminal.screen();
            terminal.type_line("on");
            let moved = |terminal: &Terminal| [prompt, REST].contains(&terminal.cursor_row().as_str());
            terminal.wait_until(prompt, |terminal| moved(terminal) && terminal.screen() != seen);
        }
        screens.push(terminal.screen());
        if !typed.is_empty() {
            terminal.type_line(typed);
        }
    }
    for line in screens.iter().flat_map(|screen| screen.lines()) {
        assert!(line.chars().count() < usize::from(columns), "{name}: {line} reaches the edge");
    }
    compare_with_kept(&format!("reckon-{name}-{columns}x{rows}"), &screens.join("\n~~~~~~~~\n"));
}

fn at(home: &Home, reckoning: &str) -> Terminal {
    home.terminal(&["reckon", reckoning])
}

/// Waits for a prompt and types a line there.
fn say(terminal: &mut Terminal, prompt: &str, line: &str) {
    terminal.wait_for_prompt(prompt);
    terminal.type_line(line);
}

/// Leaves by Enter, which does nothing soon after a screen was drawn.
fn leave(terminal: &mut Terminal) -> Option<i32> {
    terminal.wait_for_prompt(LEAVE);
    std::thread::sleep(std::time::Duration::from_millis(700));
    terminal.press(ENTER);
    terminal.wait_for_end()
}

#[test]
fn what_is_missing_is_asked_for_and_put_right_before_leaving() {
    let home = Home::new("reckon-right");
    let mut terminal = home.terminal(&["reckon", "wall", "hole=25/64in"]);
    say(&mut terminal, "bushing>", "13.1 mm");
    terminal.wait_for("wall 1.589 mm");
    say(&mut terminal, LEAVE, "hole=10.1 mm");
    terminal.wait_for("wall 1.5 mm");
    say(&mut terminal, LEAVE, "hole=10.6 mm bushing=12 mm");
    terminal.wait_for("wall 0.7 mm");
    terminal.wait_for("thin: the wall flexes");
    say(&mut terminal, LEAVE, "hole=");
    say(&mut terminal, "hole>", "bushing=13 mm");
    terminal.wait_for("`bushing` is 13 mm now.");
    say(&mut terminal, "hole>", "10 mm");
    terminal.wait_for("(13 mm − 10 mm) / 2 = 1.5 mm");
    say(&mut terminal, LEAVE, "what");
    terminal.wait_for("Said: bushing=13 mm, hole=10 mm.");
    assert_eq!(leave(&mut terminal), Some(0));
    assert!(terminal.settings_are_as_before());
}

#[test]
fn a_decimal_comma_is_asked_back_once() {
    let home = Home::new("reckon-comma");
    let mut terminal = at(&home, "wall");
    say(&mut terminal, "bushing>", "13,1 mm");
    say(&mut terminal, "13.1 mm? yes or no>", "no");
    terminal.wait_for("`13,1 mm` has a decimal comma");
    say(&mut terminal, "bushing>", "13,1 mm");
    say(&mut terminal, "13.1 mm? yes or no>", "yes");
    say(&mut terminal, "hole>", "10.1 mm");
    terminal.wait_for("wall 1.5 mm");
}

#[test]
fn what_cannot_be_read_is_told_and_asked_again_and_ctrl_d_leaves_with_1() {
    let home = Home::new("reckon-again");
    let mut terminal = at(&home, "wall");
    say(&mut terminal, "bushing>", "13.1");
    terminal.wait_for("`13.1` has no unit: 13.1 mm or 13.1 in? say which; give it as `bushing=13.1mm`.");
    say(&mut terminal, "bushing>", "?");
    terminal.wait_for("Write it like 25/64, .391 in or 9.92 mm.");
    say(&mut terminal, "bushing>", "500 mm");
    terminal.wait_for("it goes from 3 mm to 60 mm");
    assert!(!terminal.said().contains("?."), "{}", terminal.screen());
    terminal.wait_for_prompt("bushing>");
    terminal.press("13.1");
    terminal.wait_until("what was typed", |terminal| terminal.cursor_row().ends_with("> 13.1"));
    terminal.press(CTRL_C);
    terminal.wait_for("That line was dropped. Ctrl-D leaves.");
    terminal.wait_for_prompt("bushing>");
    terminal.press(CTRL_D);
    assert_eq!(terminal.wait_for_end(), Some(1));
    assert!(terminal.settings_are_as_before());
}

#[test]
fn the_shops_unit_is_taken_at_the_prompt_too() {
    let home = Home::new("reckon-shop");
    home.write(".stepjig.toml", "unit = \"mm\"\n");
    let mut terminal = at(&home, "wall");
    say(&mut terminal, "bushing>", "13.1");
    say(&mut terminal, "hole>", "10.1");
    terminal.wait_for("wall 1.5 mm");
    say(&mut terminal, LEAVE, "hole=9.1");
    terminal.wait_for("wall 2 mm");
}

#[test]
fn the_way_without_a_sum_is_offered_and_ends_well() {
    let home = Home::new("reckon-without");
    let mut terminal = at(&home, "thread-stop");
    say(&mut terminal, "touches>", "wood");
    say(&mut terminal, "clip-over>", "nib");
    terminal.wait_for("turn the cap back from tight until the threads let go, and read where the cap's mark stands");
    terminal.wait_for("by turns counted from first catch: an eighth of a turn wrong is 45°");
    say(&mut terminal, WORDS, "without");
    assert_eq!(terminal.wait_for_end(), Some(0));
    let told =
        "close it, open it until the threads let go, mark the cap where the nib's top is, and set the clip there";
    assert!(terminal.said().contains(told), "{}", terminal.screen());
}

#[test]
fn what_a_way_needs_is_asked_for_and_what_it_does_not_need_can_be_left_out() {
    let home = Home::new("reckon-ways");
    let mut terminal = at(&home, "thread-stop");
    terminal.enter_until("clip-over>");
    terminal.enter_until(WORDS);
    say(&mut terminal, WORDS, "2");
    say(&mut terminal, "travel>", "3 mm");
    // Without the lead the travel tells nothing, so it cannot be left out.
    terminal.wait_for("What is known of the thread?");
    terminal.wait_for("2 how far one full turn moves the cap number or words>");
    say(&mut terminal, WORDS, "2");
    say(&mut terminal, "lead>", "2.4 mm");
    terminal.enter_until("stop-angle 90°");
}

#[test]
fn a_refusal_of_the_sum_is_put_right_where_it_arose() {
    let home = Home::new("reckon-refusal");
    let mut terminal = at(&home, "cure");
    say(&mut terminal, WORDS, "1");
    say(&mut terminal, "glue>", "epoxi");
    terminal.wait_for("`epoxi` is not listed");
    say(&mut terminal, "glue>", "epoxy");
    say(&mut terminal, "rated>", "24 h");
    say(&mut terminal, "temperature>", "10 C");
    terminal.wait_for("time 2 days");
    drop(terminal);
    let mut terminal = home.terminal(&["reckon", "wood-move", "width=9 mm", "from=8%"]);
    terminal.enter_until(WORDS);
    say(&mut terminal, WORDS, "1");
    say(&mut terminal, "wood>", "cocobolo");
    terminal.wait_for("no published movement figure for cocobolo");
    say(&mut terminal, LEAVE, "tangential=0.002 radial=0.001");
    say(&mut terminal, "to>", "6%");
    terminal.wait_for("tangential −0.036 mm");
}

#[test]
fn a_line_that_says_all_asks_nothing_and_no_input_refuses() {
    let home = Home::new("reckon-all");
    let mut terminal = home.terminal(&["reckon", "thread-stop", "let-go=9:00"]);
    assert_eq!(terminal.wait_for_end(), Some(0));
    terminal.wait_for("Sources:");
    let mut terminal = home.terminal(&["reckon", "wall", "--no-input"]);
    assert_eq!(terminal.wait_for_end(), Some(2));
    terminal.wait_for("`bushing` is missing");
}

/// At the lowest terminal it takes two screens, and the first says what to do.
#[test]
fn a_fit_is_two_screens_at_40_by_20_and_the_answer_comes_first() {
    let home = Home::new("reckon-fit");
    let mut terminal = Terminal::start(home.command(&["reckon", "press-fit"]), 40, 20);
    let talk = [
        ("part>", "9.03 mm"),
        ("tube-in>", "9 mm"),
        ("tube-out>", "9.5 mm"),
        ("wood-out>", "12 mm"),
        (WORDS, "1"),
        ("wood>", "black cherry"),
        ("e>", "1GPa"),
        ("part-material>", "steel"),
        ("length>", "6 mm"),
    ];
    for (prompt, line) in talk {
        say(&mut terminal, prompt, line);
    }
    terminal.wait_for_prompt(REST);
    let first = terminal.screen().replace('\u{a0}', " ");
    assert!(first.contains("will split:") && first.contains("Does it start 1 mm by hand?"), "{first}");
    say(&mut terminal, REST, "on");
    terminal.wait_for_prompt(LEAVE);
    assert!(terminal.said().contains("no source."), "{}", terminal.screen());
}

#[test]
fn woods_glues_and_bits_are_completed() {
    let home = Home::new("reckon-tab");
    let mut terminal = home.terminal(&["reckon", "wood-move", "question=bore", "width=9 mm", "from=8%", "to=6%"]);
    say(&mut terminal, WORDS, "1");
    terminal.wait_for_prompt("wood>");
    terminal.press(&format!("black ch{TAB}{ENTER}"));
    terminal.wait_for("black cherry: Wood Handbook");
    let mut terminal = at(&home, "cure");
    say(&mut terminal, WORDS, "1");
    terminal.wait_for_prompt("glue>");
    terminal.press(&format!("polyu{TAB}{ENTER}"));
    terminal.wait_for_prompt("rated>");
    let mut terminal = home.terminal(&["reckon", "wall", "bushing=13 mm"]);
    terminal.wait_for_prompt("hole>");
    terminal.press(&format!("letter x{TAB}{ENTER}"));
    terminal.wait_for("wall 1.458 mm");
}

/// Every reckoning comes to a result by what its prompt asks, each question answered with an example or by Enter.
#[test]
fn every_reckoning_is_led_to_a_result() {
    let home = Home::new("reckon-every");
    home.write(".stepjig.toml", "unit = \"mm\"\n");
    let talks: [(&str, &[(&str, &str)]); 7] = [
        ("blank-cut", &[("blank>", "130"), ("pieces>", "52 mm, 40 mm"), ("allowance>", "1.5"), ("kerf>", "2")]),
        ("drill-for", &[("tube>", "10.3")]),
        ("grain-match", &[("kerf>", "2"), ("squared-off>", "3"), ("band>", "2.5"), ("slant>", "20"), ("cap>", "13")]),
        ("lathe-speed", &[("diameter>", "20"), (WORDS, "2"), ("surface>", "60 m/min")]),
        ("open-time", &[("seat>", "6"), ("open>", "90"), ("temperature>", "20"), ("vapour>", "2")]),
        (
            "press-fit",
            &[
                ("part>", "9.01"),
                ("tube-in>", "9"),
                ("tube-out>", "9.5"),
                ("wood-out>", "12"),
                (WORDS, "1"),
                ("wood>", "not sure"),
                ("e>", "1GPa"),
            ],
        ),
        ("tube-gap", &[("tube>", "9.7"), (WORDS, "1"), ("hole>", "drops"), ("length>", "52")]),
    ];
    for (name, talk) in talks {
        let mut terminal = at(&home, name);
        for (prompt, line) in talk {
            say(&mut terminal, prompt, line);
        }
        // What is asked besides is passed over.
        terminal.enter_until("Sources:");
    }
}
