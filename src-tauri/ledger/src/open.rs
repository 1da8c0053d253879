//! Opening a data folder.

use std::{
    fs::{self, File, TryLockError},
    io::ErrorKind,
    path::{Path, PathBuf},
    sync::{Mutex, MutexGuard, PoisonError},
};

use rusqlite::{Connection, OpenFlags, OptionalExtension, Transaction, TransactionBehavior, named_params};
use rusqlite_migration::{M, Migrations};
use uuid::Uuid;

use crate::{
    LedgerError, Reader,
    columns::{word, word_or_none},
    error::{Doing, files, sorted},
    space::{Reserve, with_reserve},
};

/// Every migration there ever was, oldest first. A shipped one is never edited.
const MIGRATIONS: &[&str] = &[
    include_str!("../migrations/0001-begin.sql"),
    include_str!("../migrations/0002-drafts-and-forms.sql"),
    include_str!("../migrations/0003-wrong-pins.sql"),
    include_str!("../migrations/0004-second-signatures.sql"),
    include_str!("../migrations/0005-second-logs.sql"),
];

/// Marks the file as a ledger: `DOOR` in ASCII. The first migration writes it.
const APPLICATION_ID: i64 = 0x444f_4f52;

/// The data folder, open to write. There is one in a process, and one process per folder.
///
/// It may be shared between threads: writes go one after the other, in the order in which the threads
/// ask. A write returns once it is on the disk, which takes a few milliseconds, so it must not be called
/// on the thread that draws. Reads go through [`Ledger::reader`], on a connection of their own, and never
/// hold up a tap.
#[derive(Debug)]
pub struct Ledger {
    /// Closed before the writer, since only a writer that is the last to close tidies the file up.
    reader: Reader,
    writer: Mutex<Connection>,
    reserve: Reserve,
    /// Held for as long as the ledger is open; the system lets go of it even if the process is killed.
    _lock: File,
}

/// What this installation is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Installation {
    /// The chain that it writes.
    pub stream: Uuid,
    /// The facility, once there is one.
    pub facility: Option<Uuid>,
}

impl Ledger {
    /// Opens the ledger in a folder, and makes both where they are not there. `ids` gives random ids; the
    /// first one names the stream of a new installation.
    ///
    /// # Errors
    /// [`LedgerError::InUse`], [`LedgerError::Newer`], [`LedgerError::Foreign`], [`LedgerError::Damaged`],
    /// [`LedgerError::Full`], or [`LedgerError::Files`] where the folder cannot be used.
    pub fn open(folder: &Path, ids: &mut dyn FnMut() -> Uuid) -> Result<Ledger, LedgerError> {
        let records = records_folder(folder);
        fs::create_dir_all(&records).map_err(files("make the folder", &records))?;
        let lock = lock(folder)?;
        let mut connection = Connection::open(database(folder)).doing("open the file")?;
        refuse_foreign(&connection, folder)?;
        let settings = include_str!("../sql/open/settings.sql");
        connection.execute_batch(settings).doing("set up the file")?;
        migrations().to_latest(&mut connection).map_err(migration_failed)?;
        install(&mut connection, ids)?;
        let reserve = Reserve::in_folder(folder);
        // On a full device the ledger still opens: what is there must stay readable.
        match reserve.keep() {
            Ok(()) | Err(LedgerError::Full { .. }) => {}
            Err(error) => return Err(error),
        }
        let reader = Reader::open(folder)?;
        Ok(Ledger { writer: Mutex::new(connection), reader, reserve, _lock: lock })
    }

    /// Everything that only reads.
    pub fn reader(&self) -> &Reader {
        &self.reader
    }

    /// Between demonstrations: copies the write-ahead log back into the file, so that it stays small, and
    /// takes the reserve again where it was given up.
    ///
    /// # Errors
    /// [`LedgerError::Full`] where there is no room for the reserve; a demonstration should not be begun then.
    pub fn rest(&self) -> Result<(), LedgerError> {
        let connection = self.writing();
        connection
            .pragma(None, "wal_checkpoint", "TRUNCATE", |_row| Ok(()))
            .doing("copy the write-ahead log back")?;
        self.reserve.keep()
    }

    /// One operation, one immediate transaction. It may be run twice, where the first time found no room.
    pub(crate) fn transact<T>(
        &self,
        doing: &'static str,
        mut act: impl FnMut(&Transaction<'_>) -> Result<T, LedgerError>,
    ) -> Result<T, LedgerError> {
        let mut connection = self.writing();
        with_reserve(&self.reserve, || {
            let transaction =
                connection.transaction_with_behavior(TransactionBehavior::Immediate).doing(doing)?;
            let done = act(&transaction)?;
            transaction.commit().doing(doing)?;
            Ok(done)
        })
    }

    /// A panic elsewhere cannot leave half a write behind: its transaction was rolled back.
    pub(crate) fn writing(&self) -> MutexGuard<'_, Connection> {
        self.writer.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

pub(crate) fn database(folder: &Path) -> PathBuf {
    folder.join("ledger.sqlite")
}

/// Where signed records are filed.
pub fn records_folder(folder: &Path) -> PathBuf {
    folder.join("records")
}

/// Opens the file to read only, for [`Reader`]. It takes no lock, so that a command line may read while
/// the window is open.
pub(crate) fn open_to_read(folder: &Path) -> Result<Connection, LedgerError> {
    let path = database(folder);
    match fs::metadata(&path) {
        Ok(_there) => {}
        Err(error) if error.kind() == ErrorKind::NotFound => {
            return Err(LedgerError::Absent(folder.to_owned()));
        }
        Err(error) => return Err(files("read", &path)(error)),
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(path, flags).doing("open the file")?;
    refuse_foreign(&connection, folder)?;
    if version(&connection)? < known_version() {
        return Err(LedgerError::Older);
    }
    connection.execute_batch(include_str!("../sql/open/reading.sql")).doing("set up the file")?;
    Ok(connection)
}

pub(crate) fn installation(connection: &Connection) -> Result<Option<Installation>, LedgerError> {
    let mut statement = connection
        .prepare_cached(include_str!("../sql/open/installation.sql"))
        .doing("read what this installation is")?;
    let mut rows = statement.query([]).doing("read what this installation is")?;
    rows.next()
        .doing("read what this installation is")?
        .map(|row| {
            Ok(Installation { stream: word(row, "stream")?, facility: word_or_none(row, "facility")? })
        })
        .transpose()
}

fn lock(folder: &Path) -> Result<File, LedgerError> {
    let path = folder.join("lock");
    let file = File::create(&path).map_err(files("open", &path))?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(LedgerError::InUse(folder.to_owned())),
        // Where the system has no file locks, as on a tablet, it runs one process per data folder itself.
        Err(TryLockError::Error(error)) if error.kind() == ErrorKind::Unsupported => Ok(file),
        Err(TryLockError::Error(error)) => Err(files("lock", path)(error)),
    }
}

fn migrations() -> Migrations<'static> {
    Migrations::new(MIGRATIONS.iter().map(|sql| M::up(sql)).collect())
}

/// The schema version that this program writes: one per migration.
fn known_version() -> u32 {
    u32::try_from(MIGRATIONS.len()).unwrap_or(u32::MAX)
}

fn version(connection: &Connection) -> Result<u32, LedgerError> {
    connection
        .pragma_query_value(None, "user_version", |row| row.get("user_version"))
        .doing("read the file's version")
}

/// Refuses what this program must not touch, before anything is written.
fn refuse_foreign(connection: &Connection, folder: &Path) -> Result<(), LedgerError> {
    let found = version(connection)?;
    let mark: i64 = connection
        .pragma_query_value(None, "application_id", |row| row.get("application_id"))
        .doing("read the file's mark")?;
    let tables: Option<String> = connection
        .query_row(include_str!("../sql/open/any_table.sql"), [], |row| row.get("name"))
        .optional()
        .doing("read the file's tables")?;
    if tables.is_some() && mark != APPLICATION_ID {
        return Err(LedgerError::Foreign(database(folder)));
    }
    let known = known_version();
    if found > known {
        return Err(LedgerError::Newer { found, known });
    }
    Ok(())
}

fn install(connection: &mut Connection, ids: &mut dyn FnMut() -> Uuid) -> Result<(), LedgerError> {
    if installation(connection)?.is_none() {
        let stream = ids().to_string();
        connection
            .execute(include_str!("../sql/open/install.sql"), named_params! { ":stream": stream })
            .doing("name the stream")?;
    }
    Ok(())
}

fn migration_failed(error: rusqlite_migration::Error) -> LedgerError {
    if let rusqlite_migration::Error::RusqliteError { err, .. } = error {
        sorted("bring the file up to date", err)
    } else {
        LedgerError::Migration(error)
    }
}

#[cfg(test)]
mod tests {
    use competency::{
        journal::Event,
        procedure::{By, Mode},
        validity::Purpose,
    };
    use evidence::digest;

    use super::*;
    use crate::{Begin, Moment};

    fn begin() -> Begin {
        Begin {
            demonstration: "d".to_owned(),
            person: "p".to_owned(),
            observer: "o".to_owned(),
            assistant: None,
            procedure: "doffing".to_owned(),
            version: "1.0.0".to_owned(),
            procedure_hash: digest(b""),
            purpose: Purpose::Practice,
            mode: Mode::Assessed,
            conditions: Vec::new(),
            first_attempt: None,
            paper_form: None,
            second_of: None,
        }
    }

    #[test]
    fn a_full_device_loses_nothing_that_was_acknowledged() {
        let folder = tempfile::tempdir().unwrap();
        let ledger = Ledger::open(folder.path(), &mut Uuid::nil).unwrap();
        let now = Moment {
            wall: "2026-11-25T10:00:00+01:00".parse().unwrap(),
            zone: "Europe/Berlin".to_owned(),
            boot_ms: 0,
            boot_id: "start".to_owned(),
        };
        ledger.begin(&begin(), &now).unwrap();
        // No page more than there are: what SQLite says on a full device.
        let limit = |pages: i64| {
            ledger.writing().pragma(None, "max_page_count", pages, |_row| Ok(())).unwrap();
        };
        limit(1);
        let tap = |n: usize| {
            let event = Event::Act { act: "gloves-off".to_owned(), by: By::Wearer };
            ledger.append("d", &format!("tap {n}"), &event, &now)
        };
        let acknowledged: Vec<_> = (0..1000).map_while(|n| tap(n).ok()).collect();
        assert!(acknowledged.len() < 1000, "the pages run out");
        let refused = tap(acknowledged.len());
        assert!(matches!(refused, Err(LedgerError::Full { .. })), "{refused:?}");
        assert!(!ledger.reserve.is_kept(), "the reserve was given back before giving up");
        assert_eq!(ledger.reader().lines("d").unwrap(), acknowledged);

        limit(1 << 30);
        tap(acknowledged.len()).unwrap();
        assert_eq!(ledger.reader().lines("d").unwrap().len(), acknowledged.len() + 1);
        ledger.rest().unwrap();
        assert!(ledger.reserve.is_kept(), "taken again once there is room");
    }

    /// Every statement that made the file.
    fn schema(folder: &Path) -> Vec<(String, Option<String>)> {
        Connection::open(database(folder))
            .unwrap()
            .prepare("SELECT name, sql FROM sqlite_schema ORDER BY name")
            .unwrap()
            .query_map([], |row| Ok((row.get("name")?, row.get("sql")?)))
            .unwrap()
            .collect::<Result<_, _>>()
            .unwrap()
    }

    #[test]
    fn a_file_of_any_earlier_version_becomes_what_a_fresh_one_is() {
        let fresh = tempfile::tempdir().unwrap();
        drop(Ledger::open(fresh.path(), &mut Uuid::nil).unwrap());
        for earlier in 1..MIGRATIONS.len() {
            let folder = tempfile::tempdir().unwrap();
            let mut connection = Connection::open(database(folder.path())).unwrap();
            migrations().to_version(&mut connection, earlier).unwrap();
            install(&mut connection, &mut || Uuid::from_u128(7)).unwrap();
            drop(connection);
            assert!(matches!(Reader::open(folder.path()), Err(LedgerError::Older)), "version {earlier}");
            let ledger = Ledger::open(folder.path(), &mut Uuid::nil).unwrap();
            let stream = ledger.reader().installation().unwrap().stream;
            drop(ledger);
            assert_eq!(stream, Uuid::from_u128(7), "what was there stays");
            assert_eq!(schema(folder.path()), schema(fresh.path()), "version {earlier}");
        }
    }

    #[test]
    fn migrations_apply_from_nothing_and_are_valid() {
        migrations().validate().unwrap();
        let folder = tempfile::tempdir().unwrap();
        drop(Ledger::open(folder.path(), &mut Uuid::nil).unwrap());
        let connection = Connection::open(database(folder.path())).unwrap();
        assert_eq!(version(&connection).unwrap(), known_version());
        let loose: Vec<String> = connection
            .prepare("SELECT name FROM pragma_table_list WHERE schema = 'main' AND name NOT LIKE 'sqlite_%' AND NOT strict")
            .unwrap()
            .query_map([], |row| row.get("name"))
            .unwrap()
            .collect::<Result<_, _>>()
            .unwrap();
        assert_eq!(loose, Vec::<String>::new(), "every table is STRICT");
    }
}
