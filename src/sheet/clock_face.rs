//! A clock face in text, with letters where the marks are and a legend that names them.
//!
//! A character is about twice as tall as it is wide, so a face of 21 columns by 11 rows looks round. The legend stands
//! beside it while it fits there, so that a step of a guide keeps the rest of the screen.

use crate::units::ClockPosition;

/// The widest line, and how many of its columns the face takes, in columns and rows from its middle to its rim.
const WIDTH: usize = 38;
const RADIUS_COLUMNS: usize = 10;
const RADIUS_ROWS: usize = 5;
const FACE_COLUMNS: usize = 2 * RADIUS_COLUMNS + 1;
const FACE_ROWS: usize = 2 * RADIUS_ROWS + 1;
const GAP: usize = 2;

/// Where along its hand a mark goes, from the middle (0) to the rim (1): further in when the place is taken.
const REACHES: [f64; 3] = [0.8, 0.6, 0.4];

/// Returns a clock face as lines of at most 38 columns, without line ends or spaces at their ends.
///
/// Each mark is a word and where it points. On the face it is a letter (the first of its word that is free); the
/// legend has a line for each mark, in the order given: letter, word, hour and minute. Marks that share a place stand
/// one behind the other along the same hand, so each is seen; the legend tells what the drawing is too coarse for.
///
/// It takes 13 rows: the face with the legend beside it, and which way it is seen. A legend too long for that
/// (about six marks) stands below, and takes its rows there. With `ascii`, other characters of a word become `?`.
///
/// ```
/// use stepjig::sheet::clock_face;
///
/// let lines = clock_face::draw(&[("nib", "12:00".parse()?), ("clip", "4 o'clock".parse()?)], true);
/// assert!(lines.iter().any(|line| line.ends_with("N nib 12:00")));
/// assert!(lines.iter().any(|line| line.ends_with("C clip 4:00")));
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
pub fn draw(marks: &[(&str, ClockPosition)], ascii: bool) -> Vec<String> {
    let words: Vec<String> = marks.iter().map(|(word, _)| one_line(word, ascii)).collect();
    let letters = letters(&words);
    let mut face = Face::empty(if ascii { '.' } else { '·' });
    for (letter, (_, position)) in letters.iter().zip(marks) {
        face.mark(*letter, *position);
    }
    let entries: Vec<String> = (letters.iter().zip(&words).zip(marks))
        .map(|((letter, word), (_, position))| format!("{letter} {word} {}", position.figures()))
        .collect();
    let beside = legend(&entries, WIDTH - FACE_COLUMNS - GAP);
    let (beside, below) = match beside.len() {
        ..=FACE_ROWS => (beside, Vec::new()),
        _ => (Vec::new(), legend(&entries, WIDTH)),
    };
    let first_beside = (FACE_ROWS - beside.len()) / 2;
    let rows = face.cells.iter().enumerate().map(|(n, cells)| {
        let row: String = cells.iter().collect();
        let entry = n.checked_sub(first_beside).and_then(|n| beside.get(n)).map_or("", String::as_str);
        format!("{row}{:GAP$}{entry}", "").trim_end().to_owned()
    });
    let view = ["Seen with the capped pen's finial end", "towards you."].map(str::to_owned);
    rows.chain(view).chain(below).collect()
}

struct Face {
    cells: [[char; FACE_COLUMNS]; FACE_ROWS],
}

impl Face {
    /// Returns a face with its hours, and a cross in the middle.
    fn empty(tick: char) -> Face {
        let mut face = Face { cells: [[' '; FACE_COLUMNS]; FACE_ROWS] };
        face.cells[RADIUS_ROWS][RADIUS_COLUMNS] = '+';
        for hour in 0..12_u8 {
            let (row, column) = cell(f64::from(hour) * 30.0, 1.0);
            face.cells[row][column] = tick;
            if hour.is_multiple_of(3) {
                let numeral = if hour == 0 { "12".to_owned() } else { hour.to_string() };
                for (digit, cell) in numeral.chars().zip(&mut face.cells[row][column..]) {
                    *cell = digit;
                }
            }
        }
        face
    }

    /// Writes a letter at a position, or as near to it as there is room.
    fn mark(&mut self, letter: char, position: ClockPosition) {
        let along_the_hand = REACHES.map(|reach| cell(position.to_angle().degrees(), reach));
        let free = |&(row, column): &(usize, usize)| self.cells[row][column] == ' ';
        let place = along_the_hand.into_iter().find(free).or_else(|| {
            let wanted = along_the_hand[0];
            let inside = (1..FACE_ROWS - 1).flat_map(|row| (2..FACE_COLUMNS - 2).map(move |column| (row, column)));
            inside.filter(free).min_by_key(|&(row, column)| {
                // A row is about as high as two columns are wide.
                (2 * row.abs_diff(wanted.0)).pow(2) + column.abs_diff(wanted.1).pow(2)
            })
        });
        if let Some((row, column)) = place {
            self.cells[row][column] = letter;
        }
    }
}

/// Returns the row and column a part of the way along the hand that is turned clockwise from 12.
fn cell(degrees: f64, reach: f64) -> (usize, usize) {
    let (right, up) = degrees.to_radians().sin_cos();
    // Rounding the distance from the middle, not the cell, keeps the face symmetrical. The small addition makes 2.5
    // that came out as 2.4999999 round as it should.
    let steps = |part: f64, radius: usize| {
        let distance = part.abs() * reach * radius as f64;
        ((distance + 1e-9).round() as isize) * if part < 0.0 { -1 } else { 1 }
    };
    let row = RADIUS_ROWS.saturating_add_signed(-steps(up, RADIUS_ROWS));
    (row, RADIUS_COLUMNS.saturating_add_signed(steps(right, RADIUS_COLUMNS)))
}

/// Returns a letter for each word that no other has: one of its own if it can be.
fn letters(words: &[String]) -> Vec<char> {
    let mut taken = Vec::new();
    for word in words {
        let own = word.chars().filter(char::is_ascii_alphabetic).map(|c| c.to_ascii_uppercase());
        let letter = own.chain('A'..='Z').chain('a'..='z').find(|letter| !taken.contains(letter));
        taken.push(letter.unwrap_or('*'));
    }
    taken
}

/// Returns the entries one below the other, wrapped with a hanging indent.
fn legend(entries: &[String], width: usize) -> Vec<String> {
    entries.iter().flat_map(|entry| wrapped(entry, width)).collect()
}

fn wrapped(entry: &str, width: usize) -> Vec<String> {
    const INDENT: &str = "  ";
    let mut lines = vec![String::new()];
    for word in entry.split(' ').filter(|word| !word.is_empty()) {
        let line = lines.last_mut().expect("a line was pushed");
        if columns(line) + 1 + columns(word) <= width {
            if !line.trim().is_empty() {
                line.push(' ');
            }
            line.push_str(word);
            continue;
        }
        lines.push(INDENT.to_owned());
        for c in word.chars() {
            let line = lines.last_mut().expect("a line was pushed");
            if width < columns(line) + column_count(c) {
                lines.push(format!("{INDENT}{c}"));
            } else {
                line.push(c);
            }
        }
    }
    lines
}

/// Returns the most columns a text may take.
fn columns(text: &str) -> usize {
    text.chars().map(column_count).sum()
}

/// Other scripts have characters two columns wide; taking all of them for such only wraps a line early.
fn column_count(c: char) -> usize {
    if c.is_ascii() { 1 } else { 2 }
}

/// Returns a word without line ends and control characters.
fn one_line(word: &str, ascii: bool) -> String {
    let plain = |c: char| match c {
        c if c.is_whitespace() || c.is_control() => ' ',
        c if ascii && !c.is_ascii() => '?',
        c => c,
    };
    word.chars().map(plain).collect()
}

#[cfg(test)]
mod tests {
    use super::{FACE_COLUMNS, FACE_ROWS, RADIUS_COLUMNS, RADIUS_ROWS, WIDTH, draw};
    use crate::units::ClockPosition;

    fn drawn(marks: &[(&str, &str)], ascii: bool) -> Vec<String> {
        let marks: Vec<_> = marks.iter().map(|(word, at)| (*word, at.parse().expect("it is a position"))).collect();
        draw(&marks, ascii)
    }

    /// Compares whole drawings; the expected one starts after its first line end.
    fn check(marks: &[(&str, &str)], ascii: bool, expected: &str) {
        let drawn = drawn(marks, ascii).join("\n");
        assert_eq!(drawn, expected.trim_matches('\n'), "\n{drawn}");
    }

    #[test]
    fn marks_stand_at_their_places_and_are_named_beside() {
        check(
            &[("nib", "12:00"), ("clip", "4 o'clock"), ("best figure", "7:12")],
            false,
            "
          12
     ·    N    ·
 ·                 ·
                       N nib 12:00
                       C clip 4:00
9         +         3  B best figure
                         7:12
                 C
 ·   B             ·
     ·         ·
          6
Seen with the capped pen's finial end
towards you.",
        );
    }

    #[test]
    fn marks_in_one_place_stand_one_behind_the_other() {
        check(
            &[("nib", "12:00"), ("nick", "12:00"), ("grain", "12:00"), ("clip", "3:00"), ("crack", "3:00")],
            true,
            "
          12
     .    N    .
 .        I        .
          G            N nib 12:00
                       I nick 12:00
9         +     R C 3  G grain 12:00
                       C clip 3:00
                       R crack 3:00
 .                 .
     .         .
          6
Seen with the capped pen's finial end
towards you.",
        );
    }

    #[test]
    fn a_legend_too_long_for_the_side_stands_below() {
        let four_at_three = ["the nib's slit", "the clip's outer end", "the grain of the cap", "the grain of the body"];
        let marks = four_at_three.map(|word| (word, "3:00"));
        check(
            &[&marks[..], &[("the finest of the whole of the figure", "9:05")]].concat(),
            false,
            "
          12
     ·         ·
 ·                 ·


9 F       +   E HGT 3


 ·                 ·
     ·         ·
          6
Seen with the capped pen's finial end
towards you.
T the nib's slit 3:00
H the clip's outer end 3:00
E the grain of the cap 3:00
G the grain of the body 3:00
F the finest of the whole of the
  figure 9:05",
        );
    }

    #[test]
    fn without_marks_it_is_a_clock() {
        let lines = drawn(&[], false);
        assert_eq!(lines.len(), 13);
        assert_eq!(lines[..3], ["          12", "     ·         ·", " ·                 ·"]);
        assert_eq!(lines[5], "9         +         3");
    }

    /// Returns the letters on the face itself, without its numerals, ticks and middle.
    fn letters_on_the_face(lines: &[String]) -> Vec<char> {
        let on_the_face = lines[..FACE_ROWS].iter().flat_map(|line| line.chars().take(FACE_COLUMNS));
        on_the_face.filter(char::is_ascii_alphabetic).collect()
    }

    #[test]
    fn every_mark_is_seen_wherever_they_are() {
        for minute in (0..720).step_by(7) {
            for together in 1..=12 {
                let marks: Vec<_> =
                    (0..together).map(|_| ("mark", format!("{}:{:02}", minute / 60, minute % 60))).collect();
                let marks: Vec<_> = marks.iter().map(|(word, at)| (*word, at.as_str())).collect();
                let lines = drawn(&marks, false);
                let mut letters = letters_on_the_face(&lines);
                letters.sort_unstable();
                letters.dedup();
                assert_eq!(letters.len(), together, "{together} at {minute}:\n{}", lines.join("\n"));
                assert!(lines.iter().all(|line| line.chars().count() <= WIDTH), "{}", lines.join("\n"));
                assert!(lines.iter().all(|line| !line.ends_with(' ')), "{}", lines.join("\n"));
            }
        }
    }

    #[test]
    fn a_mark_stands_in_the_direction_it_points() {
        for minute in 0..720_u32 {
            let position = ClockPosition::from_minutes(f64::from(minute)).expect("it is a position");
            let lines = draw(&[("nib", position)], false);
            let found = lines.iter().take(FACE_ROWS).enumerate().find_map(|(row, line)| {
                let column = line.chars().take(FACE_COLUMNS).position(|c| c == 'N')?;
                Some((row as f64, column as f64))
            });
            let (row, column) = found.expect("the mark is on the face");
            let (right, up) = ((column - RADIUS_COLUMNS as f64) / 2.0, RADIUS_ROWS as f64 - row);
            let seen = right.atan2(up).to_degrees();
            let off = (seen - position.to_angle().degrees() + 540.0).rem_euclid(360.0) - 180.0;
            // Half a row at 0.8 of 5 rows out is 7 degrees; rounding both ways adds half a column.
            assert!(off.abs() <= 9.0, "{off} degrees off at {minute}:\n{}", lines.join("\n"));
        }
    }

    #[test]
    fn words_keep_to_their_lines_and_to_ascii_if_asked() {
        let marks = [
            ("größte\nFigur\u{1b}[31m", "12:00"),
            ("", "6:00"),
            ("donaudampfschifffahrtsmarke", "9:00"),
            ("木目", "3:00"),
        ];
        for line in drawn(&marks, true) {
            assert!(line.is_ascii() && !line.contains(|c: char| c.is_control()), "{line:?}");
        }
        for line in drawn(&marks, false) {
            assert!(
                super::columns(&line.replace('·', ".")) <= WIDTH && !line.contains(|c: char| c.is_control()),
                "{line:?}"
            );
        }
        let letters = letters_on_the_face(&drawn(&marks, false));
        assert_eq!(letters, ['G', 'D', 'B', 'A']);
    }

    #[test]
    fn each_mark_has_its_own_letter() {
        let many = vec![("nib", "12:00"); 60];
        let lines = drawn(&many, false);
        let legend: Vec<char> = lines[13..].iter().filter_map(|line| line.chars().next()).collect();
        let (own, shared) = legend.split_at(52);
        let distinct: std::collections::BTreeSet<_> = own.iter().collect();
        assert_eq!((distinct.len(), shared.iter().all(|letter| *letter == '*'), shared.len()), (52, true, 8));
    }
}
