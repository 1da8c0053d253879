//! Procedure files and their schema, held to the Python package `jsonschema` (4.26, draft 2020-12).

use competency::{
    flaw::read_json,
    procedure::{Procedure, library, read, schema},
};
use serde_json::{Map, Value, json};
use suite::python;

/// For each value the first place that the schema does not accept.
fn asked(values: &[Value]) -> Vec<Option<String>> {
    let schema: Value = serde_json::from_str(schema()).expect("the schema is JSON");
    python::ask(include_str!("schema.py"), &json!({ "schema": schema, "values": values }))
}

fn file(name: &str) -> &'static str {
    let found = library().iter().find(|(file, _)| *file == format!("{name}.json"));
    found.map(|(_, text)| *text).expect("it is in the library")
}

#[test]
fn an_outside_validator_accepts_the_library() {
    let values: Vec<Value> =
        library().iter().map(|(_, text)| serde_json::from_str(text).expect("it is JSON")).collect();
    for ((name, _), refused) in library().iter().zip(asked(&values)) {
        assert_eq!(refused, None, "{name}");
    }
}

/// One passage of standard donning changed: what the validator names, and what is said to a person.
const BAD: &[(&str, &str, Option<&str>, &str)] = &[
    (
        "\"title\":",
        "\"titel\":",
        Some("$"),
        "line 5, column 3: There is no field \"titel\" here; did you mean \"title\"?",
    ),
    (
        "\"phase\": \"donning\"",
        "\"phase\": \"dressing\"",
        Some("$.phase"),
        "\"dressing\" is not allowed here; write one of: donning, doffing, other.",
    ),
    (
        "\"valid_months\": 12",
        "\"valid_months\": \"twelve\"",
        Some("$.valid_months"),
        "Expected a whole number from 0 to 4294967295, but found a text.",
    ),
    (
        "\"valid_months\": 12",
        "\"valid_months\": -12",
        Some("$.valid_months"),
        "Expected a whole number from 0 to 4294967295, but found -12.",
    ),
    (
        "\"ensemble\": [",
        "\"ensemble\": [7, ",
        Some("$.ensemble[0]"),
        "Expected a text in quotation marks, but found 7.",
    ),
    // Of the right kind, and none all the same.
    ("\"version\": \"1.0.0\"", "\"version\": \"one\"", Some("$.version"), "is not a semantic version"),
    ("\"valid_months\": 12", "\"valid_months\": 100000", Some("$.valid_months"), "for 1 to 120 months"),
];

#[test]
fn an_outside_validator_rejects_bad_files_and_a_person_is_told_where_and_why() {
    let text = file("standard-donning");
    let bad: Vec<String> = BAD
        .iter()
        .map(|(from, to, _, _)| {
            assert!(text.contains(from), "{from} must stand in the file");
            text.replacen(from, to, 1)
        })
        .collect();
    let values: Vec<Value> = bad.iter().map(|text| serde_json::from_str(text).expect("it is JSON")).collect();
    for ((text, refused), (_, to, place, says)) in bad.iter().zip(asked(&values)).zip(BAD) {
        assert_eq!(refused.as_deref(), *place, "{to}");
        let told: Vec<String> =
            read(text).expect_err("it is flawed").iter().map(ToString::to_string).collect();
        assert!(told.iter().any(|flaw| flaw.contains(says)), "{to}: {told:#?}");
        assert!(told.iter().all(|flaw| flaw.starts_with("line ")), "{to}: {told:#?}");
    }
}

#[test]
fn a_circle_is_named_with_its_place() {
    let mut value: Value = serde_json::from_str(file("standard-donning")).expect("it is JSON");
    let last =
        value["steps"].as_array().and_then(|steps| steps.last()).expect("there are steps")["id"].clone();
    value["steps"][0]["after"] = json!([last]);
    assert_eq!(asked(std::slice::from_ref(&value)), [None], "a schema sees no circle");
    let text = serde_json::to_string_pretty(&value).expect("it is JSON");
    let flaws = read(&text).expect_err("it goes in a circle");
    let told = flaws.first().expect("it is told").to_string();
    assert!(told.starts_with("line ") && told.contains("These steps wait for one another"), "{told}");
}

/// Every value of a file put in the place of every other kind of value, every field left out, and an
/// unknown one added to every object: the reader and the outside validator agree on each of them.
#[test]
fn reader_and_schema_agree_on_the_form_of_a_file() {
    for name in ["standard-removal-example-2", "eye-protection-reprocessing"] {
        let value: Value = serde_json::from_str(file(name)).expect("it is JSON");
        let mut pointers = Vec::new();
        collect(&value, String::new(), &mut pointers);
        let mut spoilt = Vec::new();
        for pointer in &pointers {
            for other in
                [json!(null), json!(true), json!(7), json!(-1), json!(1.5), json!("x"), json!([]), json!({})]
            {
                spoilt.push(with(&value, pointer, |place| *place = other));
            }
            spoilt.push(with(&value, pointer, |place| {
                if let Value::Object(fields) = place {
                    fields.insert("unknown".to_owned(), json!(1));
                }
            }));
            let (parent, field) = pointer.rsplit_once('/').unwrap_or_default();
            spoilt.push(with(&value, parent, |place| {
                if let Value::Object(fields) = place {
                    fields.remove(field);
                }
            }));
        }
        assert!(spoilt.len() > 1000, "{name}: {}", spoilt.len());
        let mut refusals = 0;
        for (spoilt, refused) in spoilt.iter().zip(asked(&spoilt)) {
            let text = spoilt.to_string();
            let form = read_json::<Procedure>(&text);
            assert!(form.is_ok() || refused.is_some(), "{name}: {form:?}");
            // The schema knows a little of the sense as well; it refuses nothing that the reader takes.
            assert!(refused.is_none() || read(&text).is_err(), "{name}: {refused:?}");
            refusals += usize::from(refused.is_some());
        }
        assert!(refusals > 500 && refusals < spoilt.len(), "{name}: {refusals} of {} refused", spoilt.len());
    }
}

/// Every pointer but that of the whole.
fn collect(value: &Value, here: String, into: &mut Vec<String>) {
    let inner: Vec<(String, &Value)> = match value {
        Value::Object(fields) => fields.iter().map(|(name, inner)| (name.clone(), inner)).collect(),
        Value::Array(items) => items.iter().enumerate().map(|(at, inner)| (at.to_string(), inner)).collect(),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => Vec::new(),
    };
    for (token, inner) in inner {
        let pointer = format!("{here}/{token}");
        into.push(pointer.clone());
        collect(inner, pointer, into);
    }
}

fn with(value: &Value, pointer: &str, change: impl FnOnce(&mut Value)) -> Value {
    let mut value = value.clone();
    change(value.pointer_mut(pointer).expect("the pointer leads somewhere"));
    value
}

/// What no reader should choke on. Nothing changes, since reading makes nothing.
#[test]
fn hostile_files_are_refused_with_a_sentence_and_a_place() {
    let deep = |open: &str, times: usize| open.repeat(times);
    let acts: Map<String, Value> = (0..4_000).map(|act| (format!("act-{act}"), json!(act))).collect();
    for (text, place, says) in [
        (String::new(), (1, 1), "The file is empty"),
        ("Gloves first.".to_owned(), (1, 1), "This is not JSON"),
        ("{ \"id\": \"a\",\n  \"acts\": ".to_owned(), (2, 10), "The file ends too early"),
        (deep("[", 1_000_000), (1, 128), "nested too deeply"),
        (format!("{{ \"acts\": {}", deep("{ \"a\": ", 500_000)), (1, 893), "nested too deeply"),
        (" ".repeat(100 * 1024 * 1024), (1, 1), "The file is 100 MiB long and at most 4 MiB are read"),
        ("\"".repeat(100 * 1024 * 1024), (1, 1), "The file is 100 MiB long and at most 4 MiB are read"),
        (json!({ "acts": acts }).to_string(), (1, 18), "Expected a text in quotation marks, but found 0"),
    ] {
        let flaws = read(&text).expect_err("it is refused");
        let first = flaws.first().expect("it is told");
        assert_eq!((first.line, first.column), place, "{first}");
        assert!(first.text.contains(says), "{first}");
        assert!(flaws.len() <= 101, "{} flaws", flaws.len());
    }
}
