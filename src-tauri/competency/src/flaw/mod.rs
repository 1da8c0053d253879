//! Reading a JSON file that a person wrote: every flaw at once, each with its place and one sentence.
//!
//! [`read_json`] reads any type that serde can read. Where a plain reader stops at the first wrong
//! field, this one notes the flaw, puts an empty value in its place and goes on, so that a file with a
//! misspelt field in three steps says so three times.
//!
//! Limits: enums are read from texts (a variant without content) or through `deserialize_any`; an error
//! inside an untagged or internally tagged enum is told at the place of the whole value, since serde
//! keeps no places there.

mod document;
mod empty;
mod node;
mod stop;

use std::collections::BTreeSet;
use std::fmt;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use document::Document;
use node::Node;
use stop::{Repair, Stop};

/// Longest text that is read, in bytes; a procedure of 128 steps and a log of 10,000 lines stay far below.
pub const MOST_BYTES: usize = 4 * 1024 * 1024;

/// Most flaws that are told at once.
pub const MOST_FLAWS: usize = 100;

/// One thing that is wrong, or odd, in a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Flaw {
    /// JSON pointer (RFC 6901) of the value it is about; empty for the whole file.
    pub pointer: String,
    /// Line, from 1; 0 as long as the flaw has not been located in a text.
    pub line: u32,
    /// Column in characters, from 1; 0 as long as the flaw has not been located in a text.
    pub column: u32,
    /// What is wrong and what to do, in one or two sentences.
    pub text: String,
}

impl Flaw {
    /// A flaw of a value that has not been located yet; see [`locate`].
    pub fn new(pointer: impl Into<String>, text: impl Into<String>) -> Self {
        Flaw { pointer: pointer.into(), line: 0, column: 0, text: text.into() }
    }
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line == 0 {
            f.write_str(&self.text)
        } else {
            write!(f, "line {}, column {}: {}", self.line, self.column, self.text)
        }
    }
}

/// What could be read of a file.
#[derive(Debug, Clone)]
pub struct Reading<T> {
    /// The value, with empty values where the file was flawed; `None` where nothing could be made of it.
    pub value: Option<T>,
    /// The flaws, in the order of their places.
    pub flaws: Vec<Flaw>,
}

/// Reads a value, or tells every flaw of the file's form: not JSON, a field that is unknown, missing or
/// given twice, a value of the wrong type. Comments and trailing commas are not JSON. A byte order mark
/// at the beginning is passed over.
pub fn read_json<T: DeserializeOwned>(text: &str) -> Result<T, Vec<Flaw>> {
    let Reading { value, flaws } = read_leniently(text);
    match value {
        Some(value) if flaws.is_empty() => Ok(value),
        Some(_) | None => Err(flaws),
    }
}

/// Like [`read_json`], but gives what could be read as well, so that its sense can be checked too.
pub fn read_leniently<T: DeserializeOwned>(text: &str) -> Reading<T> {
    let document = match Document::parse(text) {
        Ok(document) => document,
        Err(flaw) => return Reading { value: None, flaws: vec![flaw] },
    };
    let mut found: Vec<(Repair, String)> = Vec::new();
    let mut repairs = BTreeSet::new();
    for (offset, name) in document.repeated_names() {
        let text = format!("\"{name}\" stands twice in the same object; keep one of them.");
        found.push((Repair::Skip(offset), text));
        repairs.insert(Repair::Skip(offset));
    }
    // Each round mends one more place, so the rounds are bounded by the flaws that are told.
    let value = loop {
        if found.len() > MOST_FLAWS {
            break None;
        }
        match T::deserialize(Node::new(document.root(), &repairs)) {
            Ok(value) => break Some(value),
            Err(stop) => {
                if !mend(stop, document.start(), &mut repairs, &mut found) {
                    break None;
                }
            }
        }
    };
    found.sort_by_key(|(repair, _)| repair.offset());
    let more = found.len() > MOST_FLAWS;
    found.truncate(MOST_FLAWS);
    let mut flaws: Vec<Flaw> = found.into_iter().map(|(repair, text)| document.flaw(&repair, text)).collect();
    if more && let Some(last) = flaws.last().cloned() {
        let text = format!("There are more flaws than these {MOST_FLAWS}; mend them and check again.");
        flaws.push(Flaw { text, ..last });
    }
    Reading { value, flaws }
}

/// Notes the flaw and how to go on past it; `false` where there is no going on.
fn mend(stop: Stop, root: usize, repairs: &mut BTreeSet<Repair>, found: &mut Vec<(Repair, String)>) -> bool {
    let (repair, text) = stop.resolve(root);
    if repairs.insert(repair.clone()) {
        found.push((repair, text));
        return true;
    }
    // Even an empty value does not do here: leave it out altogether, once. The root cannot be left out.
    matches!(repair, Repair::Blank(offset) if offset != root && repairs.insert(Repair::Skip(offset)))
}

/// Fills in the places of flaws that name a pointer; one whose value is absent gets the place of the
/// nearest value around it. A text that is not JSON leaves them as they are. Sorts by place.
pub fn locate(text: &str, flaws: &mut [Flaw]) {
    let Ok(document) = Document::parse(text) else { return };
    for flaw in flaws.iter_mut() {
        (flaw.line, flaw.column) = document.place_of(&flaw.pointer);
    }
    flaws.sort_by_key(|flaw| (flaw.line, flaw.column));
}

/// One step further down a JSON pointer, escaped as RFC 6901 section 3 has it.
pub fn below(pointer: &str, token: impl fmt::Display) -> String {
    let token = token.to_string().replace('~', "~0").replace('/', "~1");
    format!("{pointer}/{token}")
}

/// The name among `names` that `word` was most likely meant to be, if any is near.
pub fn nearest<'n>(word: &str, names: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    names
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(word, name), name))
        .filter(|(distance, name)| *distance <= name.chars().count().min(word.chars().count()).div_ceil(3))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests;
