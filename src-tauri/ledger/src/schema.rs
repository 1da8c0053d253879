//! Whether the tables and triggers of a file are those that this program makes: a trigger that was taken out forbids
//! nothing any more, and one that was put in does what nobody asked for.

use std::collections::BTreeMap;

use rusqlite::Connection;

use crate::{
    Flaw, LedgerError,
    columns::column,
    error::Doing,
    open::{migration_failed, migrations},
};

/// What makes each of them, by kind and name.
type Made = BTreeMap<(String, String), String>;

pub(crate) fn compare(connection: &Connection) -> Result<Vec<Flaw>, LedgerError> {
    let mut fresh = Connection::open_in_memory().doing("make the tables anew")?;
    migrations().to_latest(&mut fresh).map_err(migration_failed)?;
    let (expected, found) = (made(&fresh)?, made(connection)?);
    let named = |(kind, name): &(String, String)| format!("{kind} {name}");
    let gone = expected.iter().filter_map(|(which, by)| match found.get(which) {
        None => Some(Flaw::Schema { which: named(which), what: "is gone" }),
        Some(other) if other != by => Some(Flaw::Schema { which: named(which), what: "is another one" }),
        Some(_) => None,
    });
    let added = found.keys().filter(|which| !expected.contains_key(*which));
    let added = added.map(|which| Flaw::Schema { which: named(which), what: "does not belong there" });
    Ok(gone.chain(added).collect())
}

fn made(connection: &Connection) -> Result<Made, LedgerError> {
    let doing = "read what the file is made of";
    let mut statement = connection.prepare(include_str!("../sql/open/schema.sql")).doing(doing)?;
    let mut rows = statement.query([]).doing(doing)?;
    let mut made = Made::new();
    while let Some(row) = rows.next().doing(doing)? {
        made.insert((column(row, "type")?, column(row, "name")?), column(row, "sql")?);
    }
    Ok(made)
}
