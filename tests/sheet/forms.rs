//! One sheet, three forms: the same words in the same order.

use stepjig::sheet::pages::{self, Paper, Reach};
use stepjig::sheet::{Sheet, html, markdown, text};

use super::fault_trees::trees;
use super::read_back::{of_html, of_markdown, words};
use super::record::recorded;
use super::steps::{all_sheets, guides, sheets};

fn as_html(sheet: &Sheet) -> String {
    html::render(sheet, &pages::set(sheet, Paper::A4, Reach::Near))
}

#[test]
fn text_markdown_and_html_carry_the_same_words_in_the_same_order() {
    let all = guides().iter().flat_map(all_sheets).chain(trees()).chain([recorded()]).collect::<Vec<_>>();
    assert!(all.len() > 25);
    {
        for sheet in all {
            let shown = text::render(&sheet);
            let shown = words(&shown);
            assert!(shown.len() > 20, "{}: there is a sheet", sheet.name);
            for (form, other) in
                [("html", of_html(&as_html(&sheet))), ("markdown", of_markdown(&markdown::render(&sheet)))]
            {
                let other = words(&other);
                let differs = shown.iter().zip(&other).position(|(a, b)| a != b);
                let near = |at: usize| (&shown[at..shown.len().min(at + 8)], &other[at..other.len().min(at + 8)]);
                assert_eq!(differs.map(near), None, "{} as {form}", sheet.name);
                assert_eq!(shown.len(), other.len(), "{} as {form}", sheet.name);
            }
        }
    }
}

#[test]
fn text_is_80_columns_wide_and_has_a_column_of_boxes() {
    for guide in guides() {
        for sheet in all_sheets(&guide) {
            for line in text::render(&sheet).lines() {
                assert!(unicode_width::UnicodeWidthStr::width(line) <= 80, "{line}");
                assert_eq!(line.trim_end_matches(' '), line);
            }
        }
    }
}

#[test]
fn a_page_asks_for_nothing_from_elsewhere_and_has_a_box_for_every_step() {
    for guide in guides() {
        let [checklist, parts] = sheets(&guide);
        assert!(!as_html(&parts).contains("<div class=\"hold\">"), "a list holds nothing back");
        let page = as_html(&checklist);
        for asks in ["<script", " src=", "@import", "url(h", "<link", "http:", "https:", "<form"] {
            assert!(!page.contains(asks), "{} has {asks}", guide.id());
        }
        assert_eq!(page.matches("url(").count(), page.matches("url(data:").count(), "its fonts are in it");
        assert!(page.contains("default-src 'none'"), "no script may run");
        let targets: Vec<&str> = page.split("href=\"#").skip(1).filter_map(|rest| rest.split('"').next()).collect();
        assert!(!targets.is_empty());
        for target in targets {
            assert_eq!(page.matches(&format!("id=\"{target}\"")).count(), 1, "{target}");
        }
        let holds = guide.steps().filter(|(_, step)| step.one_way && !step.needs.is_empty()).count();
        assert_eq!(page.matches("<div class=\"hold\">").count(), holds, "{}", guide.id());
        let boxes = page.matches("<p class=\"action\"><label><input type=\"checkbox\">").count();
        assert_eq!(boxes, page.matches("<div class=\"step\"").count());
    }
}
