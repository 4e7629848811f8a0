//! A fault table on a page: the best policy's questions in its order, every jump to a row that there is.

use stepjig::guide::{Library, read};
use stepjig::sheet::{BlockKind, Role, Run, Sheet, Stamp, lay_out, text};
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Next, plan};
use stepjig::trouble::table::{Endings, Table};

use crate::home::Home;

/// Returns every shipped table, ready to be laid out.
fn tables() -> Vec<Table> {
    let library = Library::shipped();
    let table = |id: &str| {
        let document = read(&library.trouble(id).expect("it is there"), library.limits()).0.expect("it can be read");
        Table::alone(&document, &Endings::default()).expect("it can be asked")
    };
    library.trouble_ids().map(table).collect()
}

/// Returns a sheet of each shipped table.
pub fn trees() -> Vec<Sheet> {
    let tree =
        |table: &Table| lay_out::fault_trees(&table.title, &table.id, std::slice::from_ref(table), &Stamp::default());
    tables().iter().map(tree).collect()
}

/// A page of A4 holds 50 lines of 66 characters: the bound of the task, no source.
#[test]
fn each_shipped_table_fits_on_a_page_and_its_jumps_lead_to_rows_of_it() {
    for tree in trees() {
        let shown = text::render(&tree);
        assert!(shown.lines().count() <= 50, "{shown}");
        let blocks: Vec<_> = tree.sections.iter().flat_map(|section| &section.blocks).collect();
        let rows: Vec<usize> = blocks
            .iter()
            .filter_map(|block| if let BlockKind::Step(number) = block.kind { Some(number) } else { None })
            .collect();
        assert_eq!(rows, (1..=rows.len()).collect::<Vec<_>>(), "{shown}");
        assert!(!shown.contains("-0 lost"), "no chance has a sign: {shown}");
        assert!(rows.len() >= 4, "there is something to follow: {shown}");
        let mut led_to = vec![1];
        for run in blocks.iter().flat_map(|block| &block.lines).flat_map(|line| &line.runs) {
            if let Run::Step(number) = run {
                assert!(rows.contains(number), "{shown}");
                led_to.push(*number);
            }
        }
        let is_again = |number: &usize| shown.contains(&format!("{number}. Begin again"));
        for row in rows {
            assert!(led_to.contains(&row) || is_again(&row), "nothing leads to {row}: {shown}");
        }
        assert!(shown.contains("Or lay it aside:") && shown.contains("are estimates"), "{shown}");
    }
}

/// The first row is what the search finds best at once; the same search is held to published tables in
/// `tests/diagnosis`.
#[test]
fn the_first_row_is_the_best_next_thing_to_do() {
    for table in tables() {
        let best = plan(&table.problem, &Findings::none(), &Budget::default()).expect("nothing is found yet");
        let tree = lay_out::fault_trees("T", "t", std::slice::from_ref(&table), &Stamp::default());
        let rows = tree.sections[0].blocks.iter().filter(|block| matches!(block.kind, BlockKind::Step(_)));
        let first = rows.into_iter().next().expect("a row");
        let said = first.lines.iter().find(|line| line.role == Role::Action).expect("an action");
        let said = said.said(|run| if let Run::Words(words) = run { words.to_string() } else { String::new() });
        let Next::Do(action) = best.next else { panic!("{}: there is something to do", table.id) };
        let expected = match (table.check(action), table.remedy(action)) {
            (Some(check), _) => check.text.value.clone(),
            (_, Some(remedy)) => remedy.called()[1..].to_owned(),
            _ => panic!("an action is a check or a remedy"),
        };
        assert!(said.contains(&expected), "{}: {said} is not {expected}", table.id);
    }
}

#[test]
fn the_program_prints_a_table_by_its_id_and_all_tables_of_a_guide() {
    let home = Home::new("print-trees");
    let shown = home.run(&["print", "tube-stuck"], "");
    let shown = String::from_utf8(shown.stdout).expect("output is UTF-8");
    assert!(shown.contains("  1. How did the tube stop?") && shown.contains("[ ] Hands off the tube"), "{shown}");
    let page = home.run(&["print", "tube-stuck", "--sheet", "trouble", "--as", "html"], "");
    let page = String::from_utf8(page.stdout).expect("output is UTF-8");
    assert!(page.contains("<div class=\"step\" id=\"step-2\">") && page.contains("<a href=\"#step-2\">"), "{page}");
    let all = home.run(&["print", "two-tube-fountain", "--sheet", "trouble", "--as", "html"], "");
    let all = String::from_utf8(all.stdout).expect("output is UTF-8");
    assert!(all.matches("<section>").count() > 10, "a section for each table");
    for target in all.split("href=\"#").skip(1).filter_map(|rest| rest.split('"').next()) {
        assert_eq!(all.matches(&format!("id=\"{target}\"")).count(), 1, "{target}");
    }
    for (arguments, says) in [
        (vec!["print", "tube-stuck", "--sheet", "care"], "is a fault table, which has one sheet"),
        (vec!["print", "tube-stuck", "--kit", "x"], "leave `--kit` out"),
    ] {
        let failed = home.run(&arguments, "");
        assert_eq!(failed.status.code(), Some(2), "{arguments:?}");
        assert!(String::from_utf8_lossy(&failed.stderr).contains(says), "{}", String::from_utf8_lossy(&failed.stderr));
    }
}
