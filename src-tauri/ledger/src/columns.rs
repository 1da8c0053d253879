//! Values as they stand in columns: everything that has a text form in JSON has the same one here.

use rusqlite::Row;
use serde::{Serialize, de::DeserializeOwned};
use serde_json::Value;

use crate::{LedgerError, error::Doing};

/// The column as it is.
pub(crate) fn column<T: rusqlite::types::FromSql>(
    row: &Row<'_>,
    column: &'static str,
) -> Result<T, LedgerError> {
    row.get(column).doing("read a column")
}

/// A column that holds the text form of an id, a date, a digest or a word of a closed list.
pub(crate) fn word<T: DeserializeOwned>(row: &Row<'_>, name: &'static str) -> Result<T, LedgerError> {
    from_word(name, column(row, name)?)
}

/// The same, where the column may be empty.
pub(crate) fn word_or_none<T: DeserializeOwned>(
    row: &Row<'_>,
    name: &'static str,
) -> Result<Option<T>, LedgerError> {
    column::<Option<String>>(row, name)?.map(|text| from_word(name, text)).transpose()
}

/// A column that holds JSON.
pub(crate) fn json<T: DeserializeOwned>(row: &Row<'_>, name: &'static str) -> Result<T, LedgerError> {
    let text: String = column(row, name)?;
    serde_json::from_str(&text).map_err(|source| LedgerError::Column { column: name, source })
}

fn from_word<T: DeserializeOwned>(column: &'static str, text: String) -> Result<T, LedgerError> {
    serde_json::from_value(Value::String(text)).map_err(|source| LedgerError::Column { column, source })
}

/// The text form of an id, a date, a digest or a word of a closed list.
pub(crate) fn to_word<T: Serialize>(column: &'static str, value: &T) -> Result<String, LedgerError> {
    serde_json::to_value(value)
        .and_then(serde_json::from_value)
        .map_err(|source| LedgerError::Column { column, source })
}

/// JSON text.
pub(crate) fn to_json<T: Serialize>(column: &'static str, value: &T) -> Result<String, LedgerError> {
    serde_json::to_string(value).map_err(|source| LedgerError::Column { column, source })
}
