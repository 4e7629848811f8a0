//! Whole screens of the shipped guide, kept as text files in `tests/screens/` and compared to the letter.
//!
//! `SNAPSHOTS=overwrite cargo test --test prompt` writes them anew; read each of them before keeping it.

use std::path::PathBuf;

use jiff::Timestamp;
use snapbox::Data;
use snapbox::data::DataFormat;
use stepjig::guide::{Guide, Library};
use stepjig::walk::{Event, Scene, Walk, Wanted};

use super::harness::Terminal;
use super::home::Home;
use super::typing::all_well;

const GUIDE: &str = "two-tube-fountain";

/// What stands under a page that is not the last.
const TURN: &str = "Enter for the rest>";

/// Where a screen is: the step before which the walk is piped, and then typed; the step; whether it is under way.
struct Place {
    name: &'static str,
    typed_from: &'static str,
    step: &'static str,
    under_way: bool,
}

const PLACES: [Place; 8] = [
    Place { name: "first-step", typed_from: "read-kit/read-sheet", step: "read-kit/read-sheet", under_way: false },
    Place { name: "gauge", typed_from: "read-kit/zero-caliper", step: "measure-body/outside", under_way: false },
    Place { name: "sum-shown", typed_from: "choose-blank/blank-length", step: "choose-blank/cuts", under_way: false },
    Place { name: "saw-hold", typed_from: "mark-body/write", step: "saw-cap/saw", under_way: false },
    Place { name: "sum-asks", typed_from: "glue-body/scuff", step: "glue-body/time", under_way: false },
    Place { name: "glue-hold", typed_from: "glue-body/gloves", step: "glue-body/seat", under_way: false },
    Place { name: "glue-under-way", typed_from: "glue-body/gloves", step: "glue-body/seat", under_way: true },
    Place { name: "clock-question", typed_from: "find-stop/try-cap", step: "find-stop/grain-stop", under_way: false },
];

#[test]
fn telling_screens_at_80_by_24() {
    for place in &PLACES {
        compare(place, 80, 24);
    }
}

#[test]
fn telling_screens_at_40_by_20() {
    for place in &PLACES {
        compare(place, 40, 20);
    }
}

/// Compares the pages of a place with the file; a page to be turned is followed by the next.
fn compare(place: &Place, columns: u16, rows: u16) {
    let name = format!("{}-{columns}x{rows}", place.name);
    let pages = pages(place, columns, rows);
    for page in &pages {
        for line in page.lines() {
            assert!(line.chars().count() < usize::from(columns), "{name}: {line} reaches the edge");
        }
    }
    let running = |page: &String| page.split_whitespace().collect::<Vec<_>>().join(" ").replace(" ! ", " ");
    let scene = scene(place);
    let with_step: Vec<String> = pages.iter().map(running).filter(|page| page.contains(&scene.title)).collect();
    assert_eq!(with_step.last(), pages.last().map(running).as_ref(), "{name}: the page that stays has the step");
    for (_, text) in &scene.cautions {
        assert!(with_step.iter().all(|page| page.contains(text)), "{name}: the step's page lacks `{text}`");
    }
    if place.under_way {
        assert_eq!(pages.len(), 1, "{name}: nothing may want a key while hands are busy");
    }
    compare_with_kept(&name, &pages.join("\n~~~~ Enter ~~~~\n"));
}

/// Compares what was shown with the file of that name.
pub fn compare_with_kept(name: &str, shown: &str) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/screens").join(format!("{name}.txt"));
    snapbox::assert_data_eq!(shown, Data::read_from(&path, Some(DataFormat::Text)).raw());
}

/// Drives the program to a place; returns the screens it shows there.
fn pages(place: &Place, columns: u16, rows: u16) -> Vec<String> {
    let guide = shipped();
    let home = Home::new(&format!("{}-{columns}x{rows}", place.name));
    let mut follower = Follower::new(&guide);
    let piped = follower.go_to(place.typed_from, false);
    let begin = ["walk", GUIDE, "--job", "a"];
    if !piped.is_empty() {
        let lines: String = piped.iter().map(|(_, line)| format!("{line}\n")).collect();
        home.run(&begin, &lines);
        follower.lay_aside_and_resume();
    }
    let arguments: &[&str] = if piped.is_empty() { &begin } else { &["walk", "--job", "a"] };
    let mut terminal = Terminal::start(home.command(arguments), columns, rows);
    for (scene, line) in follower.go_to(place.step, place.under_way) {
        turn_pages(&mut terminal, &scene);
        terminal.type_line(&line);
    }
    turn_pages(&mut terminal, &follower.scene())
}

/// Waits for a scene and turns its pages; returns them.
fn turn_pages(terminal: &mut Terminal, scene: &Scene) -> Vec<String> {
    let mut pages: Vec<String> = Vec::new();
    let prompt = prompt(&scene.wanted);
    loop {
        let seen = pages.last().cloned().unwrap_or_default();
        // What was typed last may not be seen yet, so the screen before may still look like one that waits.
        let is_this = |terminal: &Terminal| {
            let said = terminal.said();
            let row = terminal.cursor_row();
            let begins = [format!("step {} of", scene.n), scene.title.chars().take(20).collect()];
            row == TURN
                || row.starts_with(&prompt) && row.ends_with('>') && begins.iter().any(|text| said.contains(text))
        };
        terminal.wait_until(&scene.id, |terminal| terminal.screen() != seen && is_this(terminal));
        pages.push(terminal.screen());
        if terminal.cursor_row() != TURN {
            return pages;
        }
        terminal.type_line("on");
    }
}

fn prompt(wanted: &Wanted) -> String {
    let words = match wanted {
        Wanted::Done => "Enter when done",
        Wanted::DoneWord => "type done",
        Wanted::Hold => "yes, or no",
        Wanted::Answer(_) => "number or words",
        Wanted::Reading { .. } => "reading in",
        Wanted::Sign => "ready, or not ready",
        Wanted::Verdict => "Enter to go on",
        Wanted::Value { name, .. } => return name.replace('-', " "),
        Wanted::Nothing => unreachable!("no such step is on the way"),
    };
    words.to_owned()
}

fn shipped() -> Guide {
    Library::shipped().link_id(GUIDE).and_then(|linked| linked.guide).expect("shipped guides link")
}

fn scene(place: &Place) -> Scene {
    let guide = shipped();
    let mut follower = Follower::new(&guide);
    follower.go_to(place.step, place.under_way);
    follower.scene()
}

/// The same walk in the library, which says what to type and what will be shown.
struct Follower<'g> {
    walk: Walk<'g>,
}

impl<'g> Follower<'g> {
    fn new(guide: &'g Guide) -> Follower<'g> {
        Follower { walk: Walk::begin(guide, Timestamp::now()) }
    }

    fn scene(&self) -> Scene {
        self.walk.scene(Timestamp::now())
    }

    /// Goes on to a step as when all goes well; returns what is typed at each scene on the way.
    fn go_to(&mut self, step: &str, under_way: bool) -> Vec<(Scene, String)> {
        let mut typed = Vec::new();
        loop {
            let scene = self.scene();
            if scene.id == step && (!under_way || scene.wanted == Wanted::DoneWord) {
                return typed;
            }
            assert!(
                typed.len() < 1_000 && scene.wanted != Wanted::Nothing,
                "the walk never comes to {step}; it is at {} {:?}",
                scene.id,
                scene.wanted
            );
            let line = all_well(&scene);
            let taken = self.walk.answer(&line, Timestamp::now());
            assert!(taken.is_ok_and(|events| events.len() == 1), "{}: {line}", scene.id);
            typed.push((scene, line));
        }
    }

    fn lay_aside_and_resume(&mut self) {
        let at = Timestamp::now();
        self.walk.take(&Event::Parked { at });
        self.walk.take(&Event::Resumed { at });
    }
}
