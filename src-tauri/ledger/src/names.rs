//! Names, which lie beside the entries and can be erased.

use evidence::PersonId;
use rusqlite::{Row, Transaction, named_params};
use uuid::Uuid;

use crate::{
    Ledger, LedgerError, Reader,
    columns::{column, word_or_none},
    error::Doing,
};

/// How a person is called. All is `None` once it was erased.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Name {
    /// The person.
    pub person: PersonId,
    /// Their name.
    pub name: Option<String>,
    /// Their staff number, unique in the facility.
    pub number: Option<String>,
    /// Drawn when the name was added; binds it to the person's entry.
    pub salt: Option<Uuid>,
}

/// A name that is being added together with its person's entry.
#[derive(Debug, Clone)]
pub(crate) struct NewName {
    pub(crate) name: String,
    pub(crate) number: String,
    pub(crate) salt: Uuid,
}

impl Ledger {
    /// Erases a person's name and number, when retention ends. Their entries stay, and the chain is whole.
    pub fn erase_name(&self, person: &str) -> Result<(), LedgerError> {
        let doing = "erase a name";
        self.transact(doing, |transaction| {
            transaction
                .execute(include_str!("../sql/name/erase.sql"), named_params! { ":person": person })
                .doing(doing)?;
            Ok(())
        })
    }
}

impl Reader {
    /// The people whose name or staff number contains the text, in any case and any alphabet that has
    /// cases; everyone whose name is kept where it is empty. In no order that people read: that is not a
    /// database's to know.
    pub fn search_names(&self, search: &str) -> Result<Vec<Name>, LedgerError> {
        let doing = "search people";
        let connection = self.reading();
        let search = search.trim().to_lowercase();
        let mut statement = connection.prepare_cached(include_str!("../sql/name/search.sql")).doing(doing)?;
        let rows = statement.query(named_params! { ":search": search }).doing(doing)?;
        all_from(rows, doing)
    }

    /// How one person is called.
    pub fn name(&self, person: &str) -> Result<Option<Name>, LedgerError> {
        let doing = "read a name";
        let connection = self.reading();
        let mut statement = connection.prepare_cached(include_str!("../sql/name/one.sql")).doing(doing)?;
        let mut rows = statement.query(named_params! { ":person": person }).doing(doing)?;
        rows.next().doing(doing)?.map(name_from).transpose()
    }

    /// Whether a person is found by this very text.
    pub(crate) fn is_found_by(&self, person: &str, searched: &str) -> Result<bool, LedgerError> {
        let doing = "compare how a person is found";
        let connection = self.reading();
        let mut statement = connection.prepare_cached(include_str!("../sql/name/found.sql")).doing(doing)?;
        statement.exists(named_params! { ":person": person, ":search": searched }).doing(doing)
    }

    /// How everyone is called.
    pub fn names(&self) -> Result<Vec<Name>, LedgerError> {
        let doing = "read all names";
        let connection = self.reading();
        let mut statement = connection.prepare_cached(include_str!("../sql/name/all.sql")).doing(doing)?;
        let rows = statement.query([]).doing(doing)?;
        all_from(rows, doing)
    }
}

pub(crate) fn add(transaction: &Transaction<'_>, person: &str, new: &NewName) -> Result<(), LedgerError> {
    let doing = "add a name";
    let mut taken = transaction.prepare_cached(include_str!("../sql/name/by_number.sql")).doing(doing)?;
    if taken.exists(named_params! { ":number": new.number }).doing(doing)? {
        return Err(LedgerError::NumberTaken);
    }
    let search = searched(&new.name, &new.number);
    transaction
        .execute(
            include_str!("../sql/name/add.sql"),
            named_params! {
                ":person": person,
                ":name": new.name,
                ":number": new.number,
                ":salt": new.salt.to_string(),
                ":search": search,
            },
        )
        .doing(doing)?;
    Ok(())
}

/// Calls a person otherwise. Their number is the one they have.
pub(crate) fn rename(transaction: &Transaction<'_>, person: &str, new: &NewName) -> Result<(), LedgerError> {
    let search = searched(&new.name, &new.number);
    let changed = transaction
        .execute(
            include_str!("../sql/name/rename.sql"),
            named_params! {
                ":person": person,
                ":name": new.name,
                ":number": new.number,
                ":salt": new.salt.to_string(),
                ":search": search,
            },
        )
        .doing("change a name")?;
    // A name that was erased stays erased, and another number is another person.
    if changed == 1 { Ok(()) } else { Err(LedgerError::NameMissing) }
}

/// The text by which a person is found. The line break keeps a search from matching across the end of the name.
pub(crate) fn searched(name: &str, number: &str) -> String {
    format!("{}\n{}", name.to_lowercase(), number.to_lowercase())
}

fn all_from(mut rows: rusqlite::Rows<'_>, doing: &'static str) -> Result<Vec<Name>, LedgerError> {
    let mut names = Vec::new();
    while let Some(row) = rows.next().doing(doing)? {
        names.push(name_from(row)?);
    }
    Ok(names)
}

fn name_from(row: &Row<'_>) -> Result<Name, LedgerError> {
    Ok(Name {
        person: column(row, "person")?,
        name: column(row, "name")?,
        number: column(row, "number")?,
        salt: word_or_none(row, "salt")?,
    })
}
