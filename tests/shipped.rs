//! The shipped guides: all embedded, all clean.

use stepjig::check::check_file;
use stepjig::guide::Library;

#[test]
fn every_file_under_guides_is_embedded_under_its_stem() {
    let library = Library::shipped();
    let ids = |folder: &str| -> Vec<String> {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("guides").join(folder);
        let Ok(entries) = path.read_dir() else { return Vec::new() };
        let mut ids: Vec<String> = entries
            .filter_map(|entry| entry.ok()?.file_name().to_str()?.strip_suffix(".toml").map(str::to_owned))
            .collect();
        ids.sort();
        ids
    };
    assert_eq!(library.guide_ids().collect::<Vec<_>>(), ids("kits"));
    assert_eq!(library.procedure_ids().collect::<Vec<_>>(), ids("procedures"));
    assert_eq!(library.trouble_ids().collect::<Vec<_>>(), ids("trouble"));
}

#[test]
fn every_shipped_guide_is_clean_and_its_id_is_its_stem() {
    let library = Library::shipped();
    for id in library.guide_ids() {
        let checked = check_file(&library, &library.guide(id).expect("it is listed"));
        assert_eq!(checked.id, id);
        let found: Vec<String> = checked.findings.iter().map(stepjig::finding::render::one_line).collect();
        assert_eq!(found, Vec::<String>::new(), "{id}");
    }
}

#[test]
fn a_linked_guide_reads_back_to_the_same_file() {
    let library = Library::shipped();
    for id in library.guide_ids() {
        let guide = library.link_id(id).and_then(|linked| linked.guide).expect("shipped guides link");
        let text = stepjig::guide::write::linked(&guide);
        let again = Library::empty().link(&stepjig::finding::Source::new("guide.toml", text.clone()));
        let again = again.guide.unwrap_or_else(|| panic!("{:?}", again.findings.first()));
        assert!(stepjig::guide::write::linked(&again) == text, "{id} is written another way the second time");
        let ways = |guide: &stepjig::guide::Guide| -> Vec<_> {
            guide.ways().iter().map(|way| (way.from, way.label.clone(), way.to, way.drops_passing)).collect()
        };
        assert_eq!(ways(&again), ways(&guide));
    }
}
