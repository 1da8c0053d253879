//! A JSON text with the place of every value.

use std::collections::BTreeSet;

use jsonc_parser::ast::{ObjectProp, ObjectPropName, Value};
use jsonc_parser::common::Ranged;
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};

use super::stop::Repair;
use super::{Flaw, MOST_BYTES, below};

/// No comments, no trailing commas, nothing that other readers of JSON refuse.
const STRICT: ParseOptions = ParseOptions {
    allow_comments: false,
    allow_loose_object_property_names: false,
    allow_trailing_commas: false,
    allow_missing_commas: false,
    allow_single_quoted_strings: false,
    allow_hexadecimal_numbers: false,
    allow_unary_plus_numbers: false,
    allow_bare_decimal_point_numbers: false,
    allow_non_finite_numbers: false,
    allow_extended_string_escapes: false,
};

pub(super) struct Document<'t> {
    text: &'t str,
    root: Value<'t>,
}

impl<'t> Document<'t> {
    pub(super) fn parse(text: &'t str) -> Result<Self, Flaw> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let whole = |text: String| Flaw { pointer: String::new(), line: 1, column: 1, text };
        if text.len() > MOST_BYTES {
            let (size, most) = (text.len() / 1024 / 1024, MOST_BYTES / 1024 / 1024);
            return Err(whole(format!(
                "The file is {size} MiB long and at most {most} MiB are read; check that it is the right file."
            )));
        }
        if text.trim_ascii().is_empty() {
            return Err(whole("The file is empty; write a JSON object into it.".to_owned()));
        }
        // serde_json decides what is JSON and refuses deep nesting; the other parser, which keeps the
        // places, is more lenient by design.
        if let Err(error) = serde_json::from_str::<serde_json::Value>(text) {
            return Err(syntax_flaw(text, &error));
        }
        let parsed = parse_to_ast(text, &CollectOptions::default(), &STRICT).map_err(|error| {
            let (line, column) = line_and_column(text, error.range().start);
            Flaw { pointer: String::new(), line, column, text: not_json(&error.kind().to_string()) }
        })?;
        match parsed.value {
            Some(root) => Ok(Document { text, root }),
            None => Err(whole("The file is empty; write a JSON object into it.".to_owned())),
        }
    }

    pub(super) fn root(&self) -> &Value<'t> {
        &self.root
    }

    /// Byte offset of the outermost value.
    pub(super) fn start(&self) -> usize {
        self.root.start()
    }

    /// The names that stand a second time in their object, with their offsets.
    pub(super) fn repeated_names(&self) -> Vec<(usize, String)> {
        let mut repeated = Vec::new();
        collect_repeated(&self.root, &mut repeated);
        repeated
    }

    /// The flaw that this repair goes past. A field that is missing has a pointer of its own and the
    /// place of its object.
    pub(super) fn flaw(&self, repair: &Repair, text: String) -> Flaw {
        let offset = repair.offset();
        let mut pointer = pointer_to(&self.root, String::new(), offset).unwrap_or_default();
        if let Repair::Add(_, field) = repair {
            pointer = below(&pointer, field);
        }
        let (line, column) = line_and_column(self.text, offset);
        Flaw { pointer, line, column, text }
    }

    /// Line and column of the value a pointer names, or of the nearest value around it.
    pub(super) fn place_of(&self, pointer: &str) -> (u32, u32) {
        let mut value = &self.root;
        for token in pointer.split('/').skip(1) {
            let token = token.replace("~1", "/").replace("~0", "~");
            let inner = match value {
                Value::Object(object) => object.get(&token).map(|field| &field.value),
                Value::Array(array) => token.parse().ok().and_then(|i: usize| array.elements.get(i)),
                Value::StringLit(_) | Value::NumberLit(_) | Value::BooleanLit(_) | Value::NullKeyword(_) => {
                    None
                }
            };
            match inner {
                Some(inner) => value = inner,
                None => break,
            }
        }
        line_and_column(self.text, value.start())
    }
}

/// Offset of a field's name.
pub(super) fn name_start(field: &ObjectProp<'_>) -> usize {
    match &field.name {
        ObjectPropName::String(name) => name.range.start,
        ObjectPropName::Word(name) => name.range.start,
    }
}

fn collect_repeated(value: &Value<'_>, repeated: &mut Vec<(usize, String)>) {
    match value {
        Value::Object(object) => {
            let mut seen = BTreeSet::new();
            for field in &object.properties {
                if !seen.insert(field.name.as_str()) {
                    repeated.push((name_start(field), field.name.as_str().to_owned()));
                }
                collect_repeated(&field.value, repeated);
            }
        }
        Value::Array(array) => {
            for element in &array.elements {
                collect_repeated(element, repeated);
            }
        }
        Value::StringLit(_) | Value::NumberLit(_) | Value::BooleanLit(_) | Value::NullKeyword(_) => {}
    }
}

fn pointer_to(value: &Value<'_>, here: String, offset: usize) -> Option<String> {
    if value.start() == offset {
        return Some(here);
    }
    match value {
        Value::Object(object) => object
            .properties
            .iter()
            .filter(|field| (name_start(field)..field.value.end()).contains(&offset))
            .find_map(|field| {
                let pointer = below(&here, field.name.as_str());
                if name_start(field) == offset {
                    return Some(pointer);
                }
                pointer_to(&field.value, pointer, offset)
            }),
        Value::Array(array) => array
            .elements
            .iter()
            .enumerate()
            .filter(|(_, element)| (element.start()..element.end()).contains(&offset))
            .find_map(|(index, element)| pointer_to(element, below(&here, index), offset)),
        Value::StringLit(_) | Value::NumberLit(_) | Value::BooleanLit(_) | Value::NullKeyword(_) => None,
    }
}

/// Line and column, both from 1, the column in characters.
fn line_and_column(text: &str, offset: usize) -> (u32, u32) {
    let before = text.get(..offset).unwrap_or(text);
    let line = before.bytes().filter(|byte| *byte == b'\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
    (u32::try_from(line).unwrap_or(u32::MAX), u32::try_from(column).unwrap_or(u32::MAX))
}

fn not_json(reason: &str) -> String {
    format!("This is not JSON: {reason}. Nothing after this place could be read; mend it and check again.")
}

fn syntax_flaw(text: &str, error: &serde_json::Error) -> Flaw {
    let line_start: usize =
        text.split_inclusive('\n').take(error.line().saturating_sub(1)).map(str::len).sum();
    // serde_json counts the bytes of the line up to and including the one that is wrong.
    let mut offset = (line_start + error.column().saturating_sub(1)).min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    let (line, column) = line_and_column(text, offset);
    let message = error.to_string();
    let suffix = format!(" at line {} column {}", error.line(), error.column());
    let reason = message.strip_suffix(&suffix).unwrap_or(&message);
    let text = if reason == "recursion limit exceeded" {
        "Brackets are nested too deeply here; at most 127 levels are read.".to_owned()
    } else if error.is_eof() {
        "The file ends too early: a bracket or a quotation mark is never closed. Was it cut off?".to_owned()
    } else {
        not_json(reason)
    };
    Flaw { pointer: String::new(), line, column, text }
}
