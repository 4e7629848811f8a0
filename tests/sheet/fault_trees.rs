//! A fault table on a page: the best policy's questions in its order, every jump to a row that there is.

use stepjig::check::flow::Flow;
use stepjig::guide::{Kind, Library, read};
use stepjig::sheet::lay_out::Fault;
use stepjig::sheet::{Block, BlockKind, Line, Role, Run, Sheet, Stamp, lay_out, text};
use stepjig::trouble::findings::Findings;
use stepjig::trouble::plan::{Budget, Next, compile, plan};
use stepjig::trouble::table::{Endings, Table};

use crate::home::Home;

/// Returns every shipped table with its remedies' steps, ready to be laid out.
fn faults() -> Vec<Fault> {
    let library = Library::shipped();
    let fault = |id: &str| {
        let document = read(&library.trouble(id).expect("it is there"), library.limits()).0.expect("it can be read");
        let with: Vec<_> =
            document.takes.iter().map(|taken| (taken.value.clone(), format!("kit.{}", taken.value))).collect();
        let raw = document.fault_table.as_deref().expect("it is a table").filled(&document.takes, &with, |_| None);
        let table = Table::new(&document, raw, None, &Endings::default()).expect("it can be asked");
        let words = &table.words;
        let steps = |remedy| Some(library.link_remedy(&document, words, remedy, &[], None).guide.expect("it links"));
        let remedies = words.remedies.iter().map(steps).collect();
        Fault { remedies, document, table }
    };
    library.trouble_ids().map(fault).collect()
}

fn tree(fault: &Fault) -> Sheet {
    let (title, id) = (&fault.table.title, &fault.table.id);
    lay_out::fault_trees(title, id, std::slice::from_ref(fault), None, &Stamp::default())
}

/// Returns a sheet of each shipped table.
pub fn trees() -> Vec<Sheet> {
    faults().iter().map(tree).collect()
}

/// Returns the numbers of a sheet's rows and steps in their order, and those that some line leads to.
fn numbers(sheet: &Sheet) -> (Vec<usize>, Vec<usize>) {
    let blocks: Vec<_> = sheet.sections.iter().flat_map(|section| &section.blocks).collect();
    let number = |block: &&Block| if let BlockKind::Step(number) = block.kind { Some(number) } else { None };
    let runs = blocks.iter().flat_map(|block| &block.lines).flat_map(|line| &line.runs);
    let led_to = runs.filter_map(|run| if let Run::Step(number) = run { Some(*number) } else { None });
    (blocks.iter().filter_map(number).collect(), led_to.collect())
}

/// A page of A4 holds 50 lines of 66 characters: the bound of the task, no source.
#[test]
fn each_shipped_table_begins_with_a_page_and_every_jump_leads_to_a_row_or_a_step() {
    for tree in trees() {
        let shown = text::render(&tree);
        let page = Sheet { sections: tree.sections[..1].to_vec(), ..tree.clone() };
        let page = text::render(&page);
        assert!(page.lines().count() <= 50, "{page}");
        assert!(page.contains("Or lay it aside:") && page.contains("Begin again") && page.contains("an estimate"));
        let (rows, led_to) = numbers(&tree);
        assert_eq!(rows, (1..=rows.len()).collect::<Vec<_>>(), "{shown}");
        assert!(!shown.contains("(-0)"), "no chance has a sign: {shown}");
        for number in &led_to {
            assert!(rows.contains(number), "{number}: {shown}");
        }
    }
}

/// Nothing of the policy is cut: each question's row is led to, and each remedy of the policy is told how.
#[test]
fn every_row_is_led_to_and_every_remedy_of_the_tree_has_its_steps_on_the_sheet() {
    for fault in faults() {
        let sheet = tree(&fault);
        let shown = text::render(&sheet);
        let (_, led_to) = numbers(&sheet);
        let tree = sheet.sections.iter().take_while(|section| !section.title.as_str().starts_with("How: "));
        for block in tree.flat_map(|section| &section.blocks) {
            let BlockKind::Step(number) = block.kind else { continue };
            assert!(number == 1 || led_to.contains(&number), "nothing leads to {number}: {shown}");
        }
        let policy =
            compile(&fault.table.problem, &Findings::none(), &Budget::default(), 100_000).expect("it is small");
        for node in &policy.nodes {
            let Next::Do(action) = node.next else { continue };
            let Some(remedy) = fault.table.remedy(action) else { continue };
            let title = &remedy.called()[1..];
            let flat = shown.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(flat.contains(title), "{title}: {shown}");
            if let Some(guide) = &fault.remedies[action - fault.table.words.checks.len()] {
                assert!(flat.contains(&format!("End of: {}", remedy.called())), "{}: {shown}", remedy.called());
                for (_, step) in guide.steps().filter(|(_, step)| matches!(step.kind, Kind::Ask)) {
                    assert!(flat.contains(step.text.split('{').next().unwrap_or_default()), "{}: {shown}", step.text);
                }
            }
        }
    }
}

/// On the path of the shipped guide a tube that stuck at the step that seats it goes on at a step of the checklist from
/// which everything holds again: the rule of `rejoin`, computed here from the definitions by the walk itself.
#[test]
fn a_guide_says_where_its_checklist_goes_on() {
    let library = Library::shipped();
    let guide = library.link(&library.guide("two-tube-fountain").expect("it is shipped")).guide.expect("it links");
    let all = faults();
    let sheet = lay_out::fault_trees(guide.title(), guide.id(), &all, Some(&guide), &Stamp::default());
    let flat = text::render(&sheet).split_whitespace().collect::<Vec<_>>().join(" ");
    let pairs: Vec<(usize, usize)> = flat
        .split("from ")
        .filter_map(|rest| {
            let (from, rest) = rest.split_once(" on at ")?;
            let to = rest.split(|c: char| !c.is_ascii_digit()).next()?;
            Some((from.rsplit(", ").next()?.parse().ok()?, to.parse().ok()?))
        })
        .collect();
    assert!(pairs.len() > 5, "{pairs:?}");
    let flow = Flow::new(&guide);
    for (from, to) in pairs {
        let step = |number| guide.steps().find(|(idx, _)| guide.number(*idx) == Some(number)).expect("it is there").0;
        assert!(to <= from, "it goes back, never past what went wrong");
        assert!(
            flow.live_at(step(to)).iter().all(|need| !guide.is_passing(need)),
            "{to} needs nothing that has passed"
        );
    }
}

/// The first row is what the search finds best at once; the same search is held to published tables in
/// `tests/diagnosis`.
#[test]
fn the_first_row_is_the_best_next_thing_to_do() {
    for fault in faults() {
        let best = plan(&fault.table.problem, &Findings::none(), &Budget::default()).expect("nothing is found yet");
        let sheet = tree(&fault);
        let blocks: Vec<_> = sheet.sections.iter().flat_map(|section| &section.blocks).collect();
        let row = |number| blocks.iter().find(|block| block.kind == BlockKind::Step(number)).expect("a row");
        let action =
            |number: usize| row(number).lines.iter().find(|line| line.role == Role::Action).expect("an action");
        let words =
            |line: &Line| line.said(|run| if let Run::Words(words) = run { words.to_string() } else { String::new() });
        let Next::Do(next) = best.next else { panic!("{}: there is something to do", fault.table.id) };
        // A remedy is led to, a question asked.
        let (said, expected) = match (fault.table.check(next), fault.table.remedy(next)) {
            (Some(check), _) => (words(action(1)), check.text.value.clone()),
            (_, Some(remedy)) => {
                let led_to = action(1).runs.iter().find_map(|run| if let Run::Step(n) = run { Some(*n) } else { None });
                (words(action(led_to.expect("it leads on"))), remedy.called()[1..].to_owned())
            }
            _ => panic!("an action is a check or a remedy"),
        };
        assert!(said.contains(&expected), "{}: {said} is not {expected}", fault.table.id);
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
    assert!(page.contains("<div class=\"step\" id=\"step-2\">") && page.contains("<a href=\"#step-2\""), "{page}");
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
