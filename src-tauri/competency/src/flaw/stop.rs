//! Why reading stopped, and how it can go on.

use std::fmt;

use serde::de::{Error, Expected, Unexpected};

use super::nearest;

/// How reading goes on past a flaw. Places are byte offsets, which are unique to a value or a name.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Repair {
    /// An empty value is read instead of the one here.
    Blank(usize),
    /// The field with the name here, or the element here, is passed over.
    Skip(usize),
    /// The object here gets this field, with an empty value.
    Add(usize, &'static str),
}

impl Repair {
    /// Where the value or the name stands.
    pub(super) fn offset(&self) -> usize {
        match self {
            Repair::Blank(offset) | Repair::Skip(offset) | Repair::Add(offset, _) => *offset,
        }
    }
}

/// The error of the reader.
#[derive(Debug)]
pub(super) struct Stop {
    cause: Cause,
    at: Option<usize>,
    text: String,
}

#[derive(Debug)]
enum Cause {
    Value,
    UnknownField,
    MissingField(&'static str),
}

impl Stop {
    pub(super) fn value(offset: usize, text: String) -> Self {
        Stop { cause: Cause::Value, at: Some(offset), text }
    }

    /// Says where, unless it is known already: the innermost place wins.
    #[must_use]
    pub(super) fn at(mut self, offset: usize) -> Self {
        self.at.get_or_insert(offset);
        self
    }

    /// How to go on, and what is wrong; a stop without a place is the whole file's.
    pub(super) fn resolve(self, root: usize) -> (Repair, String) {
        let offset = self.at.unwrap_or(root);
        let repair = match self.cause {
            Cause::Value => Repair::Blank(offset),
            Cause::UnknownField => Repair::Skip(offset),
            Cause::MissingField(field) => Repair::Add(offset, field),
        };
        (repair, self.text)
    }
}

/// The sentence for a word that is not among those allowed.
pub(super) fn not_one_of(word: &str, allowed: &[&str]) -> String {
    match nearest(word, allowed.iter().copied()) {
        Some(near) => format!("\"{word}\" is not allowed here; did you mean \"{near}\"?"),
        None => format!("\"{word}\" is not allowed here; write one of: {}.", allowed.join(", ")),
    }
}

impl fmt::Display for Stop {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl std::error::Error for Stop {}

impl Error for Stop {
    fn custom<T: fmt::Display>(message: T) -> Self {
        let message = message.to_string();
        let mut letters = message.chars();
        let mut text: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
        text.push_str(letters.as_str());
        if !text.ends_with(['.', '?']) {
            text.push('.');
        }
        Stop { cause: Cause::Value, at: None, text }
    }

    fn invalid_type(found: Unexpected<'_>, expected: &dyn Expected) -> Self {
        let found = match found {
            Unexpected::Bool(_) => "true or false",
            Unexpected::Unsigned(_) | Unexpected::Signed(_) | Unexpected::Float(_) => "a number",
            Unexpected::Char(_) | Unexpected::Str(_) => "a text",
            Unexpected::Seq => "a list",
            Unexpected::Map => "an object",
            Unexpected::Unit | Unexpected::Option => "null",
            Unexpected::Bytes(_)
            | Unexpected::NewtypeStruct
            | Unexpected::Enum
            | Unexpected::UnitVariant
            | Unexpected::NewtypeVariant
            | Unexpected::TupleVariant
            | Unexpected::StructVariant
            | Unexpected::Other(_) => "something else",
        };
        Self::custom(format_args!("expected {expected}, but found {found}"))
    }

    fn unknown_variant(variant: &str, expected: &'static [&'static str]) -> Self {
        Stop { cause: Cause::Value, at: None, text: not_one_of(variant, expected) }
    }

    fn unknown_field(field: &str, expected: &'static [&'static str]) -> Self {
        let advice = match nearest(field, expected.iter().copied()) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!("take it out. The fields are: {}.", expected.join(", ")),
        };
        let text = format!("There is no field \"{field}\" here; {advice}");
        Stop { cause: Cause::UnknownField, at: None, text }
    }

    fn missing_field(field: &'static str) -> Self {
        let text = format!("The field \"{field}\" is missing here; add it.");
        Stop { cause: Cause::MissingField(field), at: None, text }
    }
}
