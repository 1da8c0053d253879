//! What cannot be printed, found before anybody needs it on paper.

use competency::{
    flaw::Flaw,
    procedure::{Procedure, texts},
};
use contract::Fault;

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
    let mut flaws = Vec::new();
    for (pointer, text) in texts(procedure) {
        if text.contains(char::REPLACEMENT_CHARACTER) {
            let told = format!(
                "“{text}” has a mark where a letter could not be read: the file is in another encoding; save it as UTF-8 and try again."
            );
            flaws.push(Flaw::new(pointer, told));
        } else if let Some(why) = why_not(&text)? {
            let told = format!(
                "“{text}” has {why}; leave it out, or write it in Latin, Greek, Cyrillic, Arabic or Han letters."
            );
            flaws.push(Flaw::new(pointer, told));
        }
    }
    Ok(flaws)
}
