//! Printed pages, measured: what stands where, in which size, and whether every jump names the right page.
//!
//! The pages are read back twice: from the page model, and, where it is installed, by `pdftotext -bbox` of Poppler, which
//! knows nothing of this project. Rules: NASA-CR-177605 (1992) and UK CAA CAP 676 (2006) for sizes and pitch.

use std::collections::HashMap;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

use stepjig::finding::Source;
use stepjig::guide::{Guide, Library};
use stepjig::reckon::Data;
use stepjig::sheet::drawing::Mark;
use stepjig::sheet::pages::{self, Pages, Paper, Reach};
use stepjig::sheet::{Sheet, Stamp, lay_out, pdf, text};

use super::read_back::words;

const MM: f32 = 72.0 / 25.4;

/// A word on a page: its left, right and lower edge, and its size where that is known.
#[derive(Debug, Clone)]
struct Word {
    left: f32,
    right: f32,
    size: f32,
    text: String,
}

/// The words of each page in the order they are read.
type Printed = Vec<Vec<Word>>;

fn stamp() -> Stamp {
    Stamp { date: Some("26 Nov 2026".to_owned()), job: Some("pear-1".to_owned()) }
}

fn shipped() -> Guide {
    Library::shipped().link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it is shipped")
}

/// Returns a guide of so many steps with long texts, jumps forward and back, holds, waits and readings.
fn long_guide(steps: usize) -> Guide {
    let mut file = String::from(
        "stepjig = 1\n[guide]\nid = \"raffle\"\ntitle = \"Six pens from a windfall pear tree, for the choir's raffle\"\n",
    );
    let long = "pear wood that lay in the wet grass since the storm and was sawn by two tenors and a bass ".repeat(6);
    for n in 0..steps {
        let stage =
            if n % 40 == 0 { format!("stage = \"Part {} of the windfall\"\n", n / 40 + 1) } else { String::new() };
        let kind = match n % 5 {
            0 => format!("do = \"Lay out {long}.\"\ngives = [\"done.n{n}\"]\n"),
            1 => format!(
                "ask = \"How does it look?\"\nanswers = [{{ say = \"well\" }}, {{ say = \"{long}\", to = \"s{}\" }}]\n",
                (n + 37).min(steps - 1)
            ),
            2 => format!(
                "gauge = \"Measure it.\"\nunit = \"mm\"\nlimits = {{ min = 1, max = 9 }}\nunder = \"s{}\"\nover = \"s{n}\"\n",
                n / 2
            ),
            3 => "wait = \"2 h\"\nready = \"it is dry\"\n".to_owned(),
            _ => format!("do = \"Press it home.\"\none-way = true\nneeds = [\"done.n{}\"]\n", n - 4),
        };
        file.push_str(&format!("[[step]]\nid = \"s{n}\"\n{stage}{kind}tell = \"{long}\"\n"));
    }
    file.push_str("[[step]]\nid = \"end\"\nend = \"finished\"\n");
    Library::shipped().link(&Source::new("raffle.toml", file)).guide.expect("it links")
}

/// Reads the pages back from the page model.
fn from_model(pages: &Pages) -> Printed {
    let of_page = |page: &pages::Page| {
        let marks = page.drawing.marks.iter().filter_map(|mark| match mark {
            Mark::Words { at, size, face, words } => Some((at, *size, *face, words)),
            _ => None,
        });
        let split = |(at, size, face, words): (&stepjig::sheet::drawing::Point, f32, _, &stepjig::sheet::Plain)| {
            let face: stepjig::sheet::font::Face = face;
            let mut found = Vec::new();
            let mut left = at.x;
            for text in words.as_str().split(' ') {
                let right = left + face.width(text, size);
                found.push(Word { left, right, size, text: text.to_owned() });
                left = right + face.width(" ", size);
            }
            found
        };
        marks.flat_map(split).collect()
    };
    pages.pages.iter().map(of_page).collect()
}

/// Reads a PDF back with Poppler; none where that is not installed.
fn by_poppler(bytes: &[u8], name: &str) -> Option<Printed> {
    // Tests run side by side: each reading has a folder of its own.
    static READ: AtomicUsize = AtomicUsize::new(0);
    let nth = READ.fetch_add(1, Ordering::Relaxed);
    let folder = std::env::temp_dir().join(format!("stepjig-printed-{}-{nth}-{name}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let file = folder.join("sheet.pdf");
    std::fs::write(&file, bytes).expect("it is written");
    let read = Command::new("pdftotext").args(["-bbox"]).arg(&file).arg("-").output();
    let read = read.ok().map(|read| String::from_utf8(read.stdout).expect("it is UTF-8"));
    std::fs::remove_dir_all(&folder).expect("it goes again");
    let Some(read) = read else {
        eprintln!("pdftotext is not installed: only the page model was measured");
        return None;
    };
    let number = |line: &str, key: &str| -> f32 {
        let at = line.find(&format!("{key}=\"")).expect("it has its edges") + key.len() + 2;
        line[at..].split('"').next().and_then(|number| number.parse().ok()).expect("a number")
    };
    let plain = |text: &str| {
        let signs = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&apos;", "'"), ("&#39;", "'"), ("&amp;", "&")];
        signs.iter().fold(text.to_owned(), |text, (coded, sign)| text.replace(coded, sign))
    };
    let word = |line: &str| {
        let text = line.split_once('>')?.1.split_once("</word>")?.0;
        // The font's height from the top of its highest to the foot of its lowest sign, in ems.
        let size = (number(line, "yMax") - number(line, "yMin")) / 1.362;
        // Signs come from a font of other proportions.
        let size = if text.is_ascii() { size } else { f32::NAN };
        Some(Word { left: number(line, "xMin"), right: number(line, "xMax"), size, text: plain(text) })
    };
    let pages = read.split("<page ").skip(1);
    Some(pages.map(|page| page.lines().filter(|line| line.contains("<word ")).filter_map(word).collect()).collect())
}

/// Returns every sheet that is measured: both guides on both papers, for the hand and for the wall.
fn all() -> Vec<(String, Sheet, Pages)> {
    let mut all = Vec::new();
    for (name, guide) in [("shipped", shipped()), ("raffle", long_guide(300))] {
        let sheet = lay_out::checklist(&guide, &Data::shipped(), &stamp());
        for (paper, reach) in [(Paper::A4, Reach::Near), (Paper::Letter, Reach::Near), (Paper::A4, Reach::Far)] {
            let pages = pages::set(&sheet, paper, reach);
            all.push((format!("{name}-{paper:?}-{reach:?}"), sheet.clone(), pages));
        }
    }
    all
}

/// Does a check on pages as the model has them, and as Poppler reads them.
fn each(check: impl Fn(&str, &Sheet, &Pages, &Printed)) {
    for (name, sheet, pages) in all() {
        check(&format!("{name}, model"), &sheet, &pages, &from_model(&pages));
        let bytes = pdf::render(&sheet, &pages).expect("a PDF");
        if let Some(printed) = by_poppler(&bytes, &name) {
            assert_eq!(printed.len(), pages.pages.len(), "{name}");
            check(&format!("{name}, Poppler"), &sheet, &pages, &printed);
        }
    }
}

/// Returns the page of each step by its number in bold at the left, from 1: `12.` right of the box.
fn numbered(pages: &Pages, printed: &Printed) -> HashMap<usize, Vec<usize>> {
    let mut found: HashMap<usize, Vec<usize>> = HashMap::new();
    let column = pages.frame.left + pages.frame.words_at;
    for (n, page) in printed.iter().enumerate() {
        for word in page.iter().filter(|word| word.right <= column && word.left > pages.frame.left + 15.0) {
            if let Some(number) = word.text.strip_suffix('.').and_then(|number| number.parse().ok()) {
                found.entry(number).or_default().push(n + 1);
            }
        }
    }
    found
}

/// Returns a page's words, with no-break spaces as spaces.
fn said(page: &[Word]) -> String {
    page.iter().map(|word| word.text.replace('\u{a0}', " ")).collect::<Vec<_>>().join(" ")
}

#[test]
fn type_is_never_under_12_points_and_steps_are_in_14_or_18() {
    each(|name, _, pages, printed| {
        // The least number that is one: `min` passes over what is none.
        let smallest = printed.iter().flatten().map(|word| word.size).fold(f32::INFINITY, f32::min);
        assert!(smallest > 11.9, "{name}: {smallest}");
        let body = if pages.reach == Reach::Far { 18.0 } else { 14.0 };
        let of_body = printed.iter().flatten().filter(|word| (word.size - body).abs() < 0.3).count();
        assert!(of_body * 4 > printed.iter().flatten().count(), "{name}: {of_body} in the body's size");
    });
}

#[test]
fn nothing_stands_in_the_margins() {
    each(|name, _, pages, printed| {
        let (width, _) = pages.paper.size();
        for word in printed.iter().flatten() {
            assert!(word.left >= 20.0 * MM - 0.5, "{name}: {word:?}");
            assert!(word.right <= width - 12.0 * MM + 5.0, "{name}: {word:?}");
        }
    });
}

#[test]
fn every_page_says_what_it_is_a_page_of() {
    each(|name, sheet, _, printed| {
        for (n, page) in printed.iter().enumerate() {
            let said = said(page);
            let foot = format!("page {} of {}", n + 1, printed.len());
            for wanted in [&sheet.title.to_string(), "26 Nov 2026", "job pear-1", &foot] {
                assert!(said.contains(wanted), "{name}: `{wanted}` is not on page {}: {said}", n + 1);
            }
            let goes_on = format!("continued on page {}", n + 2);
            assert_eq!(said.contains(&goes_on), n + 1 < printed.len(), "{name}: page {}", n + 1);
        }
        let last = said(printed.last().expect("a page"));
        assert!(last.contains("End of the sheet."), "{name}: {last}");
    });
}

#[test]
fn every_jump_names_the_page_that_its_step_stands_on() {
    each(|name, _, pages, printed| {
        let at = numbered(pages, printed);
        let mut jumps = 0;
        for page in printed {
            let said = said(page);
            for jump in said.split("step ").skip(1) {
                let Some((step, page)) = jump.split_once(" (page ") else { continue };
                let (Ok(step), Some((page, _))) = (step.parse::<usize>(), page.split_once(')')) else { continue };
                assert_eq!(at.get(&step), Some(&vec![page.parse().unwrap()]), "{name}: step {step}");
                jumps += 1;
            }
        }
        assert!(jumps > 100, "{name}: {jumps} jumps");
    });
}

/// Each step's words, as the plain text has them, stand together on one page.
#[test]
fn no_step_is_split_and_each_stands_once() {
    each(|name, sheet, pages, printed| {
        let at = numbered(pages, printed);
        let shown = text::render(sheet);
        let joined: Vec<String> = printed
            .iter()
            .map(|page| {
                let said = said(page);
                let mut parts = said.split(" (page ");
                let first = parts.next().unwrap_or_default().to_owned();
                parts.fold(first, |so_far, part| so_far + part.split_once(')').map_or("", |(_, rest)| rest))
            })
            .map(|said| close(&said))
            .collect();
        let mut steps = 0;
        for (number, block) in steps_of(&shown) {
            let pages = at.get(&number).cloned().unwrap_or_default();
            assert_eq!(pages.len(), 1, "{name}: step {number} stands on {pages:?}");
            assert!(
                joined[pages[0] - 1].contains(&block),
                "{name}: step {number} is split: {block}\n{}",
                joined[pages[0] - 1]
            );
            steps += 1;
        }
        assert!(steps > 200, "{name}: {steps} steps");
    });
}

/// Returns the words without the spaces between them and without lines to write on, which each form has its own way with.
fn close(said: &str) -> String {
    said.split_whitespace().filter(|word| !word.contains("___")).collect()
}

/// Returns what each step of a text says from its action on, its number first.
fn steps_of(shown: &str) -> Vec<(usize, String)> {
    let mut steps = Vec::new();
    for block in shown.split("\n\n") {
        let Some(at) = block.find("[ ] ").filter(|at| *at == 0 || block[..*at].ends_with('\n')) else { continue };
        let mut lines = block[at..].lines();
        let first = lines.next().unwrap_or_default().trim_start_matches("[ ]").trim();
        let Some(number) = first.split('.').next().and_then(|number| number.parse().ok()) else { continue };
        let all = std::iter::once(first).chain(lines).collect::<Vec<_>>().join(" ");
        let all = words(&all).join(" ").replace('\u{a0}', " ").replace("[ ] ", "");
        steps.push((number, close(&all)));
    }
    steps
}

#[test]
fn lines_are_as_long_as_an_eye_follows_and_as_far_apart() {
    for (name, _, pages) in all() {
        let body = if pages.reach == Reach::Far { 18.0 } else { 14.0 };
        let mut full_lines = Vec::new();
        for page in &pages.pages {
            let lines: Vec<_> = page
                .drawing
                .marks
                .iter()
                .filter_map(|mark| match mark {
                    Mark::Words { at, size, words, .. } => Some((*at, *size, words.as_str().chars().count())),
                    _ => None,
                })
                .filter(|(_, size, _)| *size == body)
                .collect();
            assert!(lines.iter().all(|(_, _, characters)| *characters <= 66), "{name}");
            // Two lines of one paragraph stand at one left edge, the pitch apart.
            for pair in lines.windows(2) {
                let (above, below) = (pair[0].0, pair[1].0);
                let pitch = (below.y - above.y) / body;
                // Two answers one under the other are two lines with a box each: a box of 5.5 mm and its room apart.
                if (below.y - above.y - (5.5 * 72.0 / 25.4 + 5.0)).abs() < 0.01 {
                    continue;
                }
                if above.x == below.x && pitch > 0.5 && pitch < 1.5 && pair[0].2 > 40 {
                    assert!((1.25..=1.33).contains(&pitch), "{name}: {pitch}");
                    full_lines.push(pair[0].2);
                }
            }
        }
        full_lines.sort_unstable();
        let median = full_lines[full_lines.len() / 2];
        assert!((45..=66).contains(&median), "{name}: {median} characters on a usual line");
    }
}

#[test]
fn the_same_sheet_gives_the_same_bytes_and_all_its_fonts_are_in_it() {
    let sheet = lay_out::checklist(&shipped(), &Data::shipped(), &stamp());
    let pages = pages::set(&sheet, Paper::A4, Reach::Near);
    let (one, other) = (pdf::render(&sheet, &pages).unwrap(), pdf::render(&sheet, &pages).unwrap());
    assert_eq!(one, other);
    assert!(one.starts_with(b"%PDF-"));
}
