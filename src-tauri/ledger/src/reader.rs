//! Everything that only reads.

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
    sync::{Arc, Mutex, MutexGuard, PoisonError},
};

use chrono::{DateTime, FixedOffset, NaiveDate};
use evidence::{Entry, Facts, Index, Place, Seen};
use rusqlite::{Connection, Params, named_params};
use uuid::Uuid;

use crate::{
    Installation, LedgerError,
    columns::column,
    entries,
    error::Doing,
    kept::Kept,
    open::{installation, open_to_read, records_folder},
};

/// The data folder, open to read only. It takes no lock: a command line may read while the window is open,
/// and sees what was committed before it looks.
#[derive(Debug)]
pub struct Reader {
    connection: Mutex<Connection>,
    pub(crate) folder: PathBuf,
    /// The facts of everything known.
    now: Mutex<Option<Kept>>,
    /// The facts of what was known by the end of the date that was asked about last.
    then: Mutex<Option<Kept>>,
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
            now: Mutex::new(None),
            then: Mutex::new(None),
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

    /// What all entries say, or all that were known by the end of a date. They are kept, and grow by the entries
    /// that were written since.
    pub fn facts(&self, known_at: Option<NaiveDate>) -> Result<Arc<Facts>, LedgerError> {
        self.kept(known_at, |kept| kept.facts())
    }

    /// The same, with the index by which rosters of thousands are made.
    pub fn indexed(&self, known_at: Option<NaiveDate>) -> Result<(Arc<Facts>, Arc<Index>), LedgerError> {
        self.kept(known_at, |kept| (kept.facts(), kept.index()))
    }

    fn kept<T>(
        &self,
        known_at: Option<NaiveDate>,
        of: impl FnOnce(&mut Kept) -> T,
    ) -> Result<T, LedgerError> {
        let place = if known_at.is_none() { &self.now } else { &self.then };
        let mut place = place.lock().unwrap_or_else(PoisonError::into_inner);
        let last: i64 = self
            .reading()
            .query_row(include_str!("../sql/entry/last.sql"), [], |row| row.get("last"))
            .doing("look for the last entry")?;
        let since = |after: i64| {
            let rows = named_params! { ":after": after, ":last": last };
            self.entries(include_str!("../sql/entry/since.sql"), rows)
        };
        let grown = match place.as_mut().filter(|kept| kept.is_known_at(known_at)) {
            Some(kept) if kept.last == last => true,
            Some(kept) => kept.grow(since(kept.last)?, last),
            None => false,
        };
        if !grown {
            // What was kept goes first, so that both are never held at once.
            *place = None;
        }
        let kept = match &mut *place {
            Some(kept) => kept,
            place => place.insert(Kept::of(since(0)?, known_at, last)),
        };
        Ok(of(kept))
    }

    /// What the entries about one person and about the facility say.
    pub fn facts_of(&self, person: &str, known_at: Option<NaiveDate>) -> Result<Facts, LedgerError> {
        let entries =
            self.entries(include_str!("../sql/entry/of_person.sql"), named_params! { ":person": person })?;
        Ok(Facts::fold(entries, known_at))
    }

    /// The wall clock at the last entry that this installation wrote; `None` before the first.
    pub fn last_written(&self) -> Result<Option<DateTime<FixedOffset>>, LedgerError> {
        let stream = self.installation()?.stream.to_string();
        let last = self
            .entries(include_str!("../sql/entry/last_of_stream.sql"), named_params! { ":stream": stream })?;
        Ok(last.first().map(|entry| entry.wall))
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
