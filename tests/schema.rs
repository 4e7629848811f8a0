//! The schema for editors against the reader, with a validator that knows nothing of stepjig (the crate `boon`, JSON
//! Schema draft 2020-12): every shipped file is accepted, and what the reader refuses of its form the schema refuses too.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde_json::{Value, json};
use stepjig::finding::{Code, Source};
use stepjig::guide::keys::{self, Table};
use stepjig::guide::{Library, Limits, read, schema};

/// What the reader says of the form of a file, which a schema can say too.
const OF_FORM: [Code; 4] = [Code::UnknownKey, Code::WrongType, Code::MissingKey, Code::TwoKinds];
/// What it says of a value besides; where a schema can say it, it does.
const OF_VALUE: [Code; 4] = [Code::BadValue, Code::OneAnswer, Code::MissingWay, Code::DuplicateAnswer];

struct Schema {
    schemas: boon::Schemas,
    index: boon::SchemaIndex,
}

impl Schema {
    fn new() -> Schema {
        let mut compiler = boon::Compiler::new();
        compiler.set_default_draft(boon::Draft::V2020_12);
        compiler.add_resource("stepjig.schema.json", schema::schema()).expect("it is a schema");
        let mut schemas = boon::Schemas::new();
        let index = compiler.compile("stepjig.schema.json", &mut schemas).expect("it is sound");
        Schema { schemas, index }
    }

    fn accepts(&self, file: &Value) -> bool {
        self.schemas.validate(file, self.index).is_ok()
    }
}

fn shipped() -> Vec<Arc<Source>> {
    let library = Library::shipped();
    let guides = library.guide_ids().filter_map(|id| library.guide(id));
    let procedures = library.procedure_ids().filter_map(|id| library.procedure(id));
    let tables = library.trouble_ids().filter_map(|id| library.trouble(id));
    guides.chain(procedures).chain(tables).collect()
}

fn as_json(text: &str) -> Value {
    let table: toml::Table = toml::from_str(text).expect("it is TOML");
    serde_json::to_value(table).expect("it is JSON too")
}

/// Returns what the reader finds in a file of these values.
fn found(file: &Value) -> Vec<Code> {
    let text = toml::to_string(file).expect("it is TOML");
    let source = Source::new("g.toml", text);
    read(&source, &Limits::default()).1.iter().map(|finding| finding.code).collect()
}

/// Checks that the reader and the schema agree on the form of a file.
#[track_caller]
fn check_agreement(schema: &Schema, file: &Value, what: &str) -> bool {
    let codes = found(file);
    let (of_form, accepted) = (codes.iter().any(|code| OF_FORM.contains(code)), schema.accepts(file));
    assert!(!(of_form && accepted), "{what}: the reader says {codes:?} and the schema accepts it");
    let of_value = codes.iter().any(|code| OF_VALUE.contains(code));
    assert!(accepted || of_form || of_value, "{what}: the schema refuses it and the reader says {codes:?}");
    of_form
}

#[test]
fn every_shipped_file_is_accepted() {
    let schema = Schema::new();
    for source in shipped() {
        let file = as_json(source.text());
        if let Err(wrong) = schema.schemas.validate(&file, schema.index) {
            panic!("{}: {wrong:#}", source.name());
        }
    }
}

#[test]
fn a_guide_may_name_the_schema() {
    let text = "\"$schema\" = \"./stepjig.schema.json\"\nstepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\n\
                [[step]]\nid = \"end\"\nend = \"scrap\"\n";
    assert_eq!(found(&as_json(text)), []);
    assert!(Schema::new().accepts(&as_json(text)));
    assert_eq!(found(&as_json(&text.replace("\"./stepjig.schema.json\"", "1"))), [Code::WrongType]);
}

/// Where a value stands, with the kind of a table in place of its number, so that alike places are tried once.
fn kind_of(item: &Value) -> String {
    let table = item.as_object();
    let kinds = keys::STEP.kind_keys().chain(["table", "to"]);
    let named: Vec<&str> = kinds.filter(|kind| table.is_some_and(|table| table.contains_key(*kind))).collect();
    named.join("+")
}

/// Collects one pointer for every kind of place in a file.
fn places(value: &Value, pointer: &str, alike: &str, found: &mut BTreeMap<String, String>) {
    found.entry(alike.to_owned()).or_insert_with(|| pointer.to_owned());
    match value {
        Value::Object(table) => {
            for (key, value) in table {
                // Names that the file chooses are alike.
                let free = [
                    "/words",
                    "/kit",
                    "/with",
                    "/from",
                    "/verdicts",
                    "/clock",
                    "/chance",
                    "/cures",
                    "/loses",
                    "/again",
                ];
                let name = if free.iter().any(|free| alike.contains(free)) { "*" } else { key };
                let step = key.replace('~', "~0").replace('/', "~1");
                places(value, &format!("{pointer}/{step}"), &format!("{alike}/{name}"), found);
            }
        }
        Value::Array(items) => {
            for (n, item) in items.iter().enumerate() {
                places(item, &format!("{pointer}/{n}"), &format!("{alike}/[{}]", kind_of(item)), found);
            }
        }
        _ => {}
    }
}

/// Returns a file with only the step that a pointer leads into, or its first, and the pointer into that.
///
/// Reading looks at each step by itself; a whole guide would be read thousands of times.
fn cut(file: &Value, pointer: &str) -> (Value, String) {
    let mut file = file.clone();
    let Some(steps) = file.get_mut("step").and_then(Value::as_array_mut) else { return (file, pointer.to_owned()) };
    let inside = pointer.strip_prefix("/step/").map(|rest| rest.split_once('/').unwrap_or((rest, "")));
    let (n, rest) = inside.map_or((0, None), |(n, rest)| (n.parse().expect("a number"), Some(rest)));
    *steps = vec![steps.swap_remove(n)];
    let rest = rest.map(|rest| format!("/step/0/{rest}").trim_end_matches('/').to_owned());
    (file, rest.unwrap_or_else(|| pointer.to_owned()))
}

/// Every kind of place in the shipped files: its key dropped, misspelt, and given each other type.
#[test]
fn reader_and_schema_agree_on_mutated_files() {
    let schema = Schema::new();
    let (mut tried, mut refused) = (0, 0);
    let mut known: BTreeMap<String, (usize, String)> = BTreeMap::new();
    let files: Vec<Value> = shipped().iter().map(|source| as_json(source.text())).collect();
    for (n, file) in files.iter().enumerate() {
        let mut of_file = BTreeMap::new();
        places(file, "", "", &mut of_file);
        // One file of each kind tells of each place; smaller files are tried first.
        for (alike, pointer) in of_file {
            let opening = ["guide", "procedure", "trouble"].into_iter().find(|key| file.get(key).is_some());
            let alike = format!("{}{alike}", opening.expect("it opens with a table"));
            let smaller = |(other, _): &(usize, String)| files[*other].to_string().len() > file.to_string().len();
            if known.get(&alike).is_none_or(smaller) {
                known.insert(alike, (n, pointer));
            }
        }
    }
    for (alike, (n, pointer)) in known.iter().filter(|(_, (_, pointer))| !pointer.is_empty()) {
        let (whole, pointer) = &cut(&files[*n], pointer);
        let mut look = |file: Value, what: &str| {
            tried += 1;
            refused += usize::from(check_agreement(&schema, &file, &format!("{alike} {what}")));
        };
        for other in
            [json!(1), json!("x"), json!(true), json!(1.5), json!([]), json!({}), json!(["x"]), json!([1]), json!([{}])]
        {
            let mut file = whole.clone();
            *file.pointer_mut(pointer).expect("it is there") = other.clone();
            look(file, &format!("= {other}"));
        }
        let (above, key) = pointer.rsplit_once('/').expect("it lies in something");
        let mut file = whole.clone();
        if let Some(table) = file.pointer_mut(above).and_then(Value::as_object_mut) {
            let Some(value) = table.remove(&key.replace("~1", "/").replace("~0", "~")) else { continue };
            look(file.clone(), "dropped");
            let table = file.pointer_mut(above).and_then(Value::as_object_mut).expect("it is there");
            table.insert(format!("{key}x"), value);
            look(file, "misspelt");
        }
    }
    assert!(tried > 2_000 && refused > 1_000, "{tried} tried, {refused} refused");
}

fn tables() -> [&'static Table; 18] {
    [
        &keys::FILE,
        &keys::GUIDE,
        &keys::PROCEDURE,
        &keys::TROUBLE,
        &keys::STEP,
        &keys::WAY,
        &keys::ANSWER,
        &keys::CAUTION,
        &keys::LIMITS,
        &keys::TROUBLE_REF,
        &keys::START_OVER,
        &keys::CAUSE,
        &keys::CHECK,
        &keys::OUTCOME,
        &keys::BAND,
        &keys::REMEDY,
        &keys::REHEARSAL,
        &keys::VERIFIED,
    ]
}

/// A key of one table put into every table of the shipped files: known to the reader where it is known to the schema.
#[test]
fn reader_and_schema_know_the_same_keys() {
    let schema = Schema::new();
    let mut all: BTreeMap<&str, ()> = BTreeMap::new();
    for table in tables() {
        let of_kinds = table.kinds.iter().flat_map(|kind| std::iter::once(&kind.key).chain(kind.fields));
        all.extend(table.fields.iter().chain(of_kinds).map(|field| (field.key, ())));
    }
    // What the program writes into a guide that is kept with a job is nothing to write by hand.
    all.extend(["measured", "of", "skip-to", "thing"].map(|key| (key, ())));
    let mut known = BTreeMap::new();
    let files: Vec<Value> = shipped().iter().map(|source| as_json(source.text())).collect();
    for (n, file) in files.iter().enumerate() {
        let mut of_file = BTreeMap::new();
        places(file, "", "", &mut of_file);
        for (alike, pointer) in of_file {
            let opening = if file.get("guide").is_some() { "guide" } else { "other" };
            let small = file.to_string().len() < 20_000 || opening == "guide";
            if small && file.pointer(&pointer).is_some_and(Value::is_object) && !alike.contains('*') {
                known.entry(format!("{opening}{alike}")).or_insert((n, pointer));
            }
        }
    }
    let (mut tried, mut refused) = (0, 0);
    for (alike, (n, pointer)) in &known {
        let (whole, pointer) = &cut(&files[*n], pointer);
        for key in all.keys() {
            let mut file = whole.clone();
            let table = file.pointer_mut(pointer).and_then(Value::as_object_mut).expect("it is a table");
            if table.contains_key(*key) {
                continue;
            }
            table.insert((*key).to_owned(), json!("x"));
            tried += 1;
            refused += usize::from(check_agreement(&schema, &file, &format!("{alike} with {key}")));
        }
    }
    assert!(tried > refused && refused > 1_000, "{tried} tried, {refused} refused");
}
