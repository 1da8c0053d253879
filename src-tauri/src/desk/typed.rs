//! What people type and a record or another paper will carry: refused here when it is empty or could not be printed,
//! so that nobody learns of it in front of a colleague who waits for the signature.

use competency::{journal::Event, procedure::Procedure};
use contract::{Fault, Next};
use serde_json::Value;

use crate::fault::paper_fault;

/// What was entered, without blanks around it; it must not be empty, and it must print.
pub(super) fn filled<'a>(text: &'a str, what: &str) -> Result<&'a str, Fault> {
    match text.trim() {
        "" => Err(Fault::new(Next::MendInput, format!("The {what} is empty; enter it, then try again."))),
        text => {
            printable(text, what)?;
            Ok(text)
        }
    }
}

/// What can be printed on a record, which must never show an empty box.
pub(super) fn printable(text: &str, what: &str) -> Result<(), Fault> {
    match why_not(text)? {
        None => Ok(()),
        Some(why) => Err(Fault::new(
            Next::MendInput,
            format!(
                "The {what} has {why}; leave it out, or write it in Latin, Greek, Cyrillic, Arabic or Han letters."
            ),
        )),
    }
}

/// The character that does not print, said so that it can be found even where it cannot be seen.
pub(super) fn why_not(text: &str) -> Result<Option<String>, Fault> {
    let missing = paper::unprintable(text).map_err(paper_fault)?;
    Ok(missing.map(|character| {
        format!(
            "the character “{character}” (U+{:04X}), which cannot be printed on a record",
            u32::from(character)
        )
    }))
}

/// What the observer wrote with a tap.
pub(super) fn printable_event(event: &Event) -> Result<(), Fault> {
    let (text, what) = if let Event::Note { text, .. } = event {
        (text, "note")
    } else if let Event::TeamError { what, .. } = event {
        (what, "error")
    } else if let Event::Because { why, .. } | Event::StricterDecision { why } = event {
        (why, "reason")
    } else if let Event::Coaching { what, .. } = event {
        (what, "coaching")
    } else {
        return Ok(());
    };
    printable(text, what)
}

/// Every text of a procedure stands on forms and records.
pub(super) fn printable_procedure(procedure: &Procedure) -> Result<(), Fault> {
    let value = serde_json::to_value(procedure)
        .map_err(|error| Fault::new(Next::AskForHelp, format!("The procedure cannot be read: {error}.")))?;
    let mut open = vec![&value];
    while let Some(value) = open.pop() {
        match value {
            Value::String(text) => printable(text, "procedure")?,
            Value::Array(values) => open.extend(values),
            Value::Object(fields) => open.extend(fields.values()),
            Value::Null | Value::Bool(_) | Value::Number(_) => {}
        }
    }
    Ok(())
}
