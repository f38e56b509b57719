//! JSON schema of a kind of file, from the descriptions of its fields.

use crate::parents::PARENTS;
use crate::range::in_words;
use crate::walk::FileKind;
use quantity::{Field, FieldKind, Meaning, Rule, Section};
use serde_json::{Map, Value, json};

/// The schema (draft 2020-12) that a file of this kind satisfies.
///
/// Units and basis are beyond a schema: quantities are texts with an example, and the reader says
/// what is wrong with one.
pub fn schema(kind: &FileKind) -> Value {
    let mut root = Map::new();
    root.insert(
        "$schema".to_owned(),
        json!("https://json-schema.org/draft/2020-12/schema"),
    );
    root.insert("title".to_owned(), json!(kind.name));
    root.extend(section(kind.section, false));
    let format = root
        .get_mut("properties")
        .and_then(|properties| properties.get_mut("format"))
        .and_then(Value::as_object_mut);
    if let Some(format) = format {
        format.insert("const".to_owned(), json!(kind.format));
    }
    Value::Object(root)
}

fn section(section: &Section, partial: bool) -> Map<String, Value> {
    let mut object = Map::new();
    object.insert("type".to_owned(), json!("object"));
    let mut properties = Map::new();
    for field in section.fields {
        properties.insert(field.name.to_owned(), Value::Object(property(field)));
    }
    object.insert("properties".to_owned(), Value::Object(properties));
    object.insert("additionalProperties".to_owned(), json!(false));
    if partial {
        return object;
    }
    let required: Vec<&str> = section
        .fields
        .iter()
        .filter(|field| field.required)
        .map(|field| field.name)
        .collect();
    if !required.is_empty() {
        object.insert("required".to_owned(), json!(required));
    }
    let all: Vec<Value> = section
        .rules
        .iter()
        .map(|rule| self::rule(section, rule))
        .collect();
    if !all.is_empty() {
        object.insert("allOf".to_owned(), Value::Array(all));
    }
    object
}

fn property(field: &Field) -> Map<String, Value> {
    let mut property = kind(&field.kind);
    property.insert("description".to_owned(), json!(description(field)));
    if !field.example.is_empty()
        && !matches!(
            field.kind,
            FieldKind::Table(_) | FieldKind::Tables(_) | FieldKind::Partial(_) | FieldKind::List(_)
        )
    {
        property.insert(
            "examples".to_owned(),
            json!([plain(&field.kind, field.example)]),
        );
    }
    if let Some(default) = field.default {
        property.insert("default".to_owned(), plain(&field.kind, default));
    }
    if let (FieldKind::Count, Some((low, high))) = (field.kind, field.range) {
        property.insert("minimum".to_owned(), json!(low));
        if high.is_finite() {
            property.insert("maximum".to_owned(), json!(high));
        }
    }
    if let (FieldKind::Tables(_), Some((low, high))) = (field.kind, field.range) {
        property.insert("minItems".to_owned(), json!(low));
        if high.is_finite() {
            property.insert("maxItems".to_owned(), json!(high));
        }
    }
    property
}

fn description(field: &Field) -> String {
    let range = in_words(field, meaning(&field.kind));
    if range.is_empty() || matches!(field.kind, FieldKind::Count | FieldKind::Tables(_)) {
        format!("{}.", field.help)
    } else {
        format!("{}; {range}.", field.help)
    }
}

/// The meaning of the quantities a field holds, if it holds any.
pub(crate) fn meaning(kind: &FieldKind) -> Option<Meaning> {
    match kind {
        FieldKind::Quantity(meaning) => Some(*meaning),
        FieldKind::Sourced(inner) | FieldKind::List(inner) => meaning(inner),
        _ => None,
    }
}

fn kind(kind: &FieldKind) -> Map<String, Value> {
    let value = match kind {
        FieldKind::Quantity(Meaning::Number) => json!({ "type": ["number", "string"] }),
        FieldKind::Quantity(meaning) => json!({
            "type": "string",
            "pattern": "^\\s*[-+\\u2212]?\\.?[0-9]|^\\s*(the )?(site|local)",
            "x-quantity": meaning.words(),
        }),
        FieldKind::Text => json!({ "type": "string", "minLength": 1 }),
        FieldKind::Choice(words) => json!({ "enum": words }),
        FieldKind::Flag => json!({ "type": "boolean" }),
        FieldKind::Count => json!({ "type": "integer", "minimum": 0 }),
        FieldKind::List(inner) => json!({ "type": "array", "items": self::kind(inner) }),
        FieldKind::Table(inner) => Value::Object(section(inner, false)),
        FieldKind::Partial(inner) => Value::Object(section(inner, true)),
        FieldKind::Tables(inner) => json!({ "type": "array", "items": section(inner, false) }),
        FieldKind::Sourced(inner) => {
            let mut table = section(&PARENTS, false);
            if let Some(Value::Object(properties)) = table.get_mut("properties") {
                properties.insert("value".to_owned(), Value::Object(self::kind(inner)));
            }
            table.insert("required".to_owned(), json!(["value"]));
            json!({ "oneOf": [self::kind(inner), table] })
        }
    };
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

/// An example or default as the sort of JSON value it is.
fn plain(kind: &FieldKind, text: &str) -> Value {
    match kind {
        FieldKind::Flag
        | FieldKind::Count
        | FieldKind::List(_)
        | FieldKind::Table(_)
        | FieldKind::Tables(_)
        | FieldKind::Partial(_)
        | FieldKind::Quantity(Meaning::Number) => {
            serde_json::from_str(text).unwrap_or_else(|_| json!(text))
        }
        FieldKind::Sourced(inner) => plain(inner, text),
        _ => json!(text),
    }
}

fn rule(section: &Section, rule: &Rule) -> Value {
    let each = |names: &[&str]| -> Vec<Value> {
        names.iter().map(|n| json!({ "required": [n] })).collect()
    };
    match rule {
        Rule::ExactlyOne(names) => json!({ "oneOf": each(names) }),
        Rule::AtLeastOne(names) => json!({ "anyOf": each(names) }),
        Rule::AtMostOne(names) => {
            let none = json!({ "not": { "anyOf": each(names) } });
            let mut all = each(names);
            all.push(none);
            json!({ "oneOf": all })
        }
        Rule::Together(names) => {
            let none = json!({ "not": { "anyOf": each(names) } });
            json!({ "anyOf": [{ "required": names }, none] })
        }
        Rule::When {
            field,
            word,
            needs,
            may,
        } => {
            let others = strangers(section, field, needs, may);
            let chosen = chosen(section, field, word);
            let mut then = Map::new();
            if !needs.is_empty() {
                then.insert("required".to_owned(), json!(needs));
            }
            if !others.is_empty() {
                then.insert("not".to_owned(), json!({ "anyOf": each(&others) }));
            }
            json!({ "if": chosen, "then": then })
        }
    }
}

/// A schema that holds when the field says the word, in either of the forms it may have.
fn chosen(section: &Section, field: &str, word: &str) -> Value {
    let alone = json!({ "const": word });
    let sourced = section
        .field(field)
        .is_some_and(|f| matches!(f.kind, FieldKind::Sourced(_)));
    let says = if sourced {
        let table =
            json!({ "type": "object", "properties": { "value": alone }, "required": ["value"] });
        json!({ "anyOf": [{ "const": word }, table] })
    } else {
        alone
    };
    json!({ "properties": { field: says }, "required": [field] })
}

/// Fields that other words of the same choice name and this one does not.
fn strangers<'a>(section: &'a Section, choice: &str, needs: &[&str], may: &[&str]) -> Vec<&'a str> {
    let mut all: Vec<&str> = Vec::new();
    for rule in section.rules {
        if let Rule::When {
            field,
            needs: theirs,
            may: perhaps,
            ..
        } = rule
            && *field == choice
        {
            for name in theirs.iter().chain(perhaps.iter()) {
                if !needs.contains(name) && !may.contains(name) && !all.contains(name) {
                    all.push(name);
                }
            }
        }
    }
    all
}

#[cfg(test)]
mod tests;
