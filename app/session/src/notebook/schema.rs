//! The JSON Schema of the file, made from the same tables that reading is checked against.

use serde_json::{Map, Value, json};

use super::canonical;
use super::file::VERSION;
use super::kinds::{Field, Holds, Kind, fields};

/// The schema (JSON Schema, draft 2020-12) of a file of the notebook.
pub fn text() -> String {
    let kinds: Map<String, Value> = Kind::ALL
        .into_iter()
        .map(|kind| {
            let mut record = object(fields(kind));
            record["properties"]["kind"] = json!({ "const": kind.name() });
            (kind.name().to_owned(), record)
        })
        .collect();
    let one_of: Value = Kind::ALL
        .into_iter()
        .map(|kind| json!({ "$ref": format!("#/$defs/{}", kind.name()) }))
        .collect();
    let schema = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A notebook of Sinkside",
        "type": "object",
        "required": ["format", "version", "exported_at", "records", "footer"],
        "properties": {
            "format": { "const": "notebook" },
            "version": { "const": VERSION },
            "exported_at": value(Holds::Instant),
            "records": { "type": "array", "items": { "oneOf": one_of } },
            "photos_left_out": value(Holds::Whole),
            "photos": {
                "type": "array",
                "items": {
                    "type": "object",
                    "properties": {
                        "id": value(Holds::Id),
                        "jpeg_base64": { "type": "string", "pattern": "^[A-Za-z0-9+/]*=*$" },
                        "name": value(Holds::Text),
                        "roll": value(Holds::Id),
                    },
                    "required": ["id", "jpeg_base64", "name", "roll"],
                },
            },
            "footer": {
                "type": "object",
                "required": ["counts", "records_sha256"],
                "properties": {
                    "counts": { "type": "object", "additionalProperties": value(Holds::Whole) },
                    "records_sha256": { "type": "string", "pattern": "^[0-9a-f]{64}$" },
                },
            },
        },
        "$defs": kinds,
    });
    canonical::text(&schema)
}

fn object<'a>(fields: impl IntoIterator<Item = &'a Field>) -> Value {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for field in fields {
        properties.insert(field.key.to_owned(), value(field.holds));
        if field.needed {
            required.push(Value::from(field.key));
        }
    }
    // What a later version adds is let through, as reading does.
    json!({ "type": "object", "properties": properties, "required": required })
}

fn value(holds: Holds) -> Value {
    match holds {
        Holds::Text => json!({ "type": "string" }),
        Holds::Id => json!({ "type": "string", "minLength": 1, "maxLength": 64 }),
        Holds::Instant => {
            json!({ "type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9:.]+(Z|[+-][0-9]{2}:[0-9]{2})$" })
        }
        Holds::Day => json!({ "type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$" }),
        Holds::Flag => json!({ "type": "boolean" }),
        Holds::Number => json!({ "type": "number" }),
        Holds::Whole => json!({ "type": "integer", "minimum": 0 }),
        Holds::Signed => json!({ "type": "integer" }),
        Holds::OneOf(words) => json!({ "enum": words }),
        Holds::List(of) => json!({ "type": "array", "items": value(*of) }),
        Holds::Object(fields) => object(fields),
        Holds::Versions => json!({ "type": "array", "items": { "type": "object" } }),
    }
}
