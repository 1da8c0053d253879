//! What cannot be printed, found before anybody needs it on paper.

use competency::{
    flaw::{Flaw, below},
    procedure::Procedure,
};
use contract::{Fault, Next};
use serde_json::Value;

use crate::fault::paper_fault;

/// The character that does not print, said so that it can be found even where it cannot be seen.
pub(crate) fn why_not(text: &str) -> Result<Option<String>, Fault> {
    let missing = paper::unprintable(text).map_err(paper_fault)?;
    Ok(missing.map(|character| {
        format!(
            "the character “{character}” (U+{:04X}), which cannot be printed on a record",
            u32::from(character)
        )
    }))
}

/// Every text of a procedure stands on forms and records: a flaw for each that would show an empty box there. Not yet
/// located in a text, see [`competency::flaw::locate`].
pub(crate) fn unprintable(procedure: &Procedure) -> Result<Vec<Flaw>, Fault> {
    let whole = serde_json::to_value(procedure)
        .map_err(|error| Fault::new(Next::AskForHelp, format!("The procedure cannot be read: {error}.")))?;
    let mut flaws = Vec::new();
    let mut open = vec![(String::new(), &whole)];
    while let Some((pointer, value)) = open.pop() {
        match value {
            Value::String(text) if text.contains(char::REPLACEMENT_CHARACTER) => {
                let told = format!("“{text}” has a mark where a letter could not be read: the file is in another encoding; save it as UTF-8 and try again.");
                flaws.push(Flaw::new(pointer, told));
            }
            Value::String(text) => flaws.extend(why_not(text)?.map(|why| {
                let told = format!(
                    "“{text}” has {why}; leave it out, or write it in Latin, Greek, Cyrillic, Arabic or Han letters."
                );
                Flaw::new(pointer, told)
            })),
            Value::Array(values) => {
                open.extend(values.iter().enumerate().map(|(index, value)| (below(&pointer, index), value)));
            }
            Value::Object(fields) => {
                open.extend(fields.iter().map(|(name, value)| (below(&pointer, name), value)));
            }
            Value::Null | Value::Bool(_) | Value::Number(_) => {}
        }
    }
    flaws.sort_by(|one, other| one.pointer.cmp(&other.pointer));
    Ok(flaws)
}
