//! Labels: one for each piece of each pen, with its bit and an arrow to the band.

use stepjig::guide::Library;
use stepjig::guide::document::KitValue;
use stepjig::sheet::{BlockKind, Stamp, lay_out, text};

use super::read_back::as_html;

use crate::home::Home;

#[test]
fn each_piece_of_each_pen_has_one_with_number_piece_bit_and_arrow() {
    let mut guide = Library::shipped().link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links");
    let said = |guide: &_| text::render(&lay_out::labels(guide, 6, &Stamp::default())).replace('\u{a0}', " ");
    let shown = said(&guide);
    for pen in 1..=6 {
        for piece in ["body", "cap"] {
            assert_eq!(shown.matches(&format!("\nPen {pen}: {piece}\n")).count(), 1, "{shown}");
        }
    }
    assert_eq!(shown.matches("→ to the band →").count(), 12);
    assert_eq!(shown.matches("bit 12.5 mm").count(), 6);
    assert!(shown.contains("Your kit's sheet and the hole in scrap have the last\nword"), "{shown}");
    for path in ["kit.tube.body.drill", "kit.tube.cap.drill"] {
        assert!(guide.set_number(path, KitValue::Text("10.4 mm".into())));
    }
    let measured = said(&guide);
    assert_eq!(measured.matches("bit 10.4 mm").count(), 12);
    assert!(!measured.contains("the hole in scrap"), "measured numbers need no warning: {measured}");
}

#[test]
fn a_page_has_a_box_to_cut_out_for_each() {
    let guide = Library::shipped().link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links");
    let sheet = lay_out::labels(&guide, 2, &Stamp::default());
    let labels = sheet.sections[0].blocks.iter().filter(|block| block.kind == BlockKind::Label).count();
    assert_eq!((labels, as_html(&sheet).matches("<div class=\"label\">").count()), (4, 4));
}

#[test]
fn the_program_takes_one_to_99_pens_and_only_for_labels() {
    let home = Home::new("print-labels");
    let shown = home.run(&["print", "two-tube-fountain", "--sheet", "labels"], "");
    assert_eq!(String::from_utf8_lossy(&shown.stdout).matches("Pen 1: ").count(), 2);
    for (arguments, says) in [
        (vec!["--sheet", "labels", "--pens", "0"], "0 is not in 1..=99"),
        (vec!["--sheet", "labels", "--pens", "100"], "100 is not in 1..=99"),
        (vec!["--pens", "3"], "add `--sheet labels`"),
    ] {
        let failed = home.run(&[&["print", "two-tube-fountain"], arguments.as_slice()].concat(), "");
        assert_eq!(failed.status.code(), Some(2), "{arguments:?}");
        assert!(String::from_utf8_lossy(&failed.stderr).contains(says), "{}", String::from_utf8_lossy(&failed.stderr));
    }
}
