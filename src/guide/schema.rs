//! The format as a JSON Schema (draft 2020-12), for editors that complete and check while a guide is typed.
//!
//! It is written from the field tables that the reader works from, [`keys`]. What it cannot say: whether a name leads
//! to anything, which table opens the file where there are two, how long a text may be in bytes, how deep the kit's
//! tables may lie, a date, which JSON has not, and all that `check` proves. A guide as it is kept with a job
//! (`linked = true`) is stepjig's own, and nothing is said of it.

use serde_json::{Map, Value, json};

use super::keys::{self, Field, Kind, Presence, Shape, Table};

/// Returns the schema of guide, procedure and fault table files.
///
/// ```
/// let schema = stepjig::guide::schema::schema();
/// assert_eq!(schema["properties"]["stepjig"]["const"], 1);
/// ```
pub fn schema() -> Value {
    let mut tables = Map::new();
    let file = table(&keys::FILE, &mut tables);
    tables.insert(keys::FILE.name.to_owned(), file);
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A stepjig file",
        "description": keys::FILE.about,
        "type": "object",
        // Beside the rules of each kind, so that an editor that does not follow conditions still completes.
        "properties": tables[keys::FILE.name]["properties"],
        "if": { "properties": { "linked": { "const": true } }, "required": ["linked"] },
        "then": {},
        "else": { "$ref": reference(&keys::FILE) },
        "$defs": tables,
    })
}

fn reference(of: &Table) -> String {
    format!("#/$defs/{}", of.name)
}

/// Returns the rules of a table; those of the tables inside it go to the others.
fn table(of: &'static Table, tables: &mut Map<String, Value>) -> Value {
    let mut properties = Map::new();
    let of_kinds = of.kinds.iter().flat_map(|kind| std::iter::once(&kind.key).chain(kind.fields));
    for field in of.fields.iter().chain(of_kinds) {
        properties.insert(field.key.to_owned(), property(field, tables));
    }
    let mut rules = json!({
        "description": of.about,
        "type": "object",
        "properties": properties,
        "required": required(of.fields),
        "additionalProperties": false,
    });
    if !of.kinds.is_empty() {
        rules["anyOf"] = of.kind_keys().map(|kind| json!({ "required": [kind] })).collect();
        rules["allOf"] = of.kinds.iter().map(|kind| of_kind(of, kind)).collect();
    }
    for (_, keys) in keys::ONE_OF.iter().filter(|(table, _)| std::ptr::eq(*table, of)) {
        rules["anyOf"] = keys.iter().map(|key| json!({ "required": [key] })).collect();
    }
    for (_, key, other) in keys::ONLY_WITH.iter().filter(|(table, ..)| std::ptr::eq(*table, of)) {
        rules["dependentRequired"] = json!({ *key: [other] });
    }
    rules
}

/// Returns what holds for a table with the key of one kind: its other keys, and no key of another kind.
fn of_kind(of: &Table, kind: &Kind) -> Value {
    let name = kind.key.key;
    let mut keys: Vec<&str> = of.fields_of(name).map(|field| field.key).collect();
    keys.push(name);
    json!({
        "if": { "required": [name] },
        "then": { "required": required(kind.fields), "propertyNames": { "enum": keys } },
    })
}

fn required(fields: &[Field]) -> Vec<&'static str> {
    fields.iter().filter(|field| field.presence == Presence::Wanted).map(|field| field.key).collect()
}

fn property(field: &Field, tables: &mut Map<String, Value>) -> Value {
    let mut rules = shape(field.shape, tables);
    rules["description"] = field.about.into();
    rules
}

fn shape(shape: Shape, tables: &mut Map<String, Value>) -> Value {
    let text = json!({ "type": "string", "pattern": "\\S" });
    let number_or_text = json!({ "anyOf": [text, { "type": "number" }] });
    let by_name = |of: Value| json!({ "type": "object", "additionalProperties": of });
    match shape {
        Shape::Version => json!({ "const": 1 }),
        Shape::Text => text,
        Shape::StepId => json!({ "type": "string", "pattern": "^[A-Za-z0-9_.{}/-]{1,100}$" }),
        Shape::OneOf(words) => json!({ "enum": words }),
        Shape::Date => json!({ "type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$" }),
        Shape::TextOrNumber => number_or_text,
        Shape::Number(least, None) => json!({ "type": "number", "minimum": least }),
        Shape::Number(least, Some(most)) => json!({ "type": "number", "minimum": least, "maximum": most }),
        Shape::Confidence => json!({ "type": "number", "exclusiveMinimum": 0, "maximum": 1 }),
        Shape::Flag => json!({ "type": "boolean" }),
        Shape::Texts(None) => json!({ "type": "array", "items": text }),
        Shape::Texts(Some(most)) => json!({ "type": "array", "items": text, "maxItems": most }),
        Shape::SomeTexts => json!({ "type": "array", "items": text, "minItems": 1 }),
        Shape::Conditions => {
            json!({ "type": "array", "items": { "type": "string", "pattern": "^[A-Za-z0-9_./{}-]+$" } })
        }
        Shape::Way => json!({ "anyOf": [text, referred(&keys::WAY, tables)] }),
        Shape::Ways => by_name(self::shape(Shape::Way, tables)),
        Shape::Pairs => by_name(number_or_text),
        Shape::Replies => {
            let list = json!({ "type": "array", "items": text });
            by_name(json!({ "anyOf": [number_or_text, list] }))
        }
        Shape::Words => by_name(text),
        Shape::Numbers => by_name(json!({ "type": "number", "minimum": 0 })),
        Shape::Kit => {
            let kit = json!({ "$ref": "#/$defs/kit" });
            let mut rules = by_name(json!({ "anyOf": [kit, text, { "type": "number" }] }));
            rules["propertyNames"] = json!({ "pattern": "^[A-Za-z0-9_-]+$" });
            tables.insert("kit".to_owned(), rules);
            kit
        }
        Shape::FaultTable => json!({ "anyOf": [text, referred(&keys::TROUBLE_REF, tables)] }),
        Shape::FaultTables => json!({ "type": "array", "items": self::shape(Shape::FaultTable, tables) }),
        Shape::Table(of) => referred(of, tables),
        Shape::Tables(of, least) => json!({ "type": "array", "items": referred(of, tables), "minItems": least }),
    }
}

/// Returns a reference to the rules of a table, which are written once.
fn referred(of: &'static Table, tables: &mut Map<String, Value>) -> Value {
    if !tables.contains_key(of.name) {
        // Its place is taken first: a table may lie inside one of its own kind.
        tables.insert(of.name.to_owned(), Value::Null);
        let rules = table(of, tables);
        tables.insert(of.name.to_owned(), rules);
    }
    json!({ "$ref": reference(of) })
}
