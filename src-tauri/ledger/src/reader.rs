//! Everything that only reads.

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
    sync::{Arc, Mutex, MutexGuard, PoisonError},
};

use chrono::NaiveDate;
use evidence::{Entry, Facts, Index, Place, Seen};
use rusqlite::{Connection, Params, named_params};
use uuid::Uuid;

use crate::{
    Installation, LedgerError,
    columns::column,
    entries,
    error::Doing,
    open::{installation, open_to_read, records_folder},
};

/// The data folder, open to read only. It takes no lock: a command line may read while the window is open,
/// and sees what was committed before it looks.
#[derive(Debug)]
pub struct Reader {
    connection: Mutex<Connection>,
    pub(crate) folder: PathBuf,
    /// The facts of everything known, with the number of entries they are folded from; entries are never
    /// changed or removed, so the same number means the same entries.
    folded: Mutex<Option<(i64, Arc<Facts>)>>,
    /// The index of the facts that it is beside.
    indexed: Mutex<Option<(Arc<Facts>, Arc<Index>)>>,
}

impl Reader {
    /// Opens the ledger in a folder to read.
    ///
    /// # Errors
    /// [`LedgerError::Absent`], [`LedgerError::Newer`], [`LedgerError::Older`], [`LedgerError::Foreign`] or
    /// [`LedgerError::Damaged`].
    pub fn open(folder: &Path) -> Result<Reader, LedgerError> {
        let connection = open_to_read(folder)?;
        Ok(Reader {
            connection: Mutex::new(connection),
            folder: folder.to_owned(),
            folded: Mutex::new(None),
            indexed: Mutex::new(None),
        })
    }

    /// What this installation is.
    ///
    /// # Errors
    /// [`LedgerError::NoFacility`] where the file was never set up.
    pub fn installation(&self) -> Result<Installation, LedgerError> {
        installation(&self.reading())?.ok_or(LedgerError::NoFacility)
    }

    /// Where the next entry of this installation would stand. A record is drawn with it, and then sealed
    /// at that very place or not at all.
    pub fn next_place(&self) -> Result<Place, LedgerError> {
        let connection = self.reading();
        let stream = installation(&connection)?.ok_or(LedgerError::NoFacility)?.stream;
        Ok(entries::next_place(&entries::heads(&connection)?, stream))
    }

    /// The last entry of every stream: what a revocation accepts from the holder of a certificate.
    pub fn heads(&self) -> Result<BTreeMap<Uuid, Seen>, LedgerError> {
        entries::heads(&self.reading())
    }

    /// What all entries say, or all that were known by the end of a date.
    pub fn facts(&self, known_at: Option<NaiveDate>) -> Result<Arc<Facts>, LedgerError> {
        let all = include_str!("../sql/entry/all.sql");
        if known_at.is_some() {
            return Ok(Arc::new(Facts::fold(self.entries(all, [])?, known_at)));
        }
        let mut folded = self.folded.lock().unwrap_or_else(PoisonError::into_inner);
        let count: i64 = self
            .reading()
            .query_row(include_str!("../sql/entry/count.sql"), [], |row| row.get("entries"))
            .doing("count entries")?;
        match folded.as_ref() {
            Some((of, facts)) if *of == count => Ok(Arc::clone(facts)),
            Some(_) | None => {
                let entries = self.entries(all, [])?;
                let count = i64::try_from(entries.len()).unwrap_or(i64::MAX);
                let facts = Arc::new(Facts::fold(entries, None));
                *folded = Some((count, Arc::clone(&facts)));
                Ok(facts)
            }
        }
    }

    /// What all entries say, with the index by which rosters of thousands are made; both are kept until another
    /// entry is written.
    pub fn indexed(&self) -> Result<(Arc<Facts>, Arc<Index>), LedgerError> {
        let facts = self.facts(None)?;
        let mut indexed = self.indexed.lock().unwrap_or_else(PoisonError::into_inner);
        match indexed.as_ref() {
            Some((of, index)) if Arc::ptr_eq(of, &facts) => Ok((facts, Arc::clone(index))),
            Some(_) | None => {
                let index = Arc::new(Index::of(&facts));
                *indexed = Some((Arc::clone(&facts), Arc::clone(&index)));
                Ok((facts, index))
            }
        }
    }

    /// What the entries about one person and about the facility say.
    pub fn facts_of(&self, person: &str, known_at: Option<NaiveDate>) -> Result<Facts, LedgerError> {
        let entries =
            self.entries(include_str!("../sql/entry/of_person.sql"), named_params! { ":person": person })?;
        Ok(Facts::fold(entries, known_at))
    }

    /// Where signed records are filed.
    pub fn records_folder(&self) -> PathBuf {
        records_folder(&self.folder)
    }

    pub(crate) fn reading(&self) -> MutexGuard<'_, Connection> {
        self.connection.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn entries(&self, sql: &str, params: impl Params) -> Result<Vec<Entry>, LedgerError> {
        let doing = "read the entries";
        let connection = self.reading();
        let mut statement = connection.prepare_cached(sql).doing(doing)?;
        let mut rows = statement.query(params).doing(doing)?;
        let mut entries = Vec::new();
        while let Some(row) = rows.next().doing(doing)? {
            let bytes: Vec<u8> = column(row, "bytes")?;
            entries
                .push(Entry::read(&bytes).map_err(|source| LedgerError::Evidence { doing: "read", source })?);
        }
        Ok(entries)
    }
}
