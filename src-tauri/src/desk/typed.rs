//! What people type and a record or another paper will carry: refused here when it is empty or could not be printed,
//! so that nobody learns of it in front of a colleague who waits for the signature.

use competency::journal::Event;
use contract::{Fault, Next};

use crate::printing::why_not;

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
