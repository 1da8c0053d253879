use std::{io, path::PathBuf};

use evidence::EvidenceError;
use rusqlite::ErrorCode;
use thiserror::Error;

/// Whatever a caller's signing or checking went wrong with.
pub type SignError = Box<dyn std::error::Error + Send + Sync>;

/// Why the ledger did not do what was asked. Each says what was being attempted; none names a person.
#[derive(Debug, Error)]
pub enum LedgerError {
    /// A file or folder could not be read or written.
    #[error("could not {doing} {}", path.display())]
    Files {
        /// What was being done, as a verb.
        doing: &'static str,
        /// With what.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: io::Error,
    },
    /// There is no ledger in the folder.
    #[error("there is no ledger in {}", .0.display())]
    Absent(PathBuf),
    /// Another process has the data folder open.
    #[error("the data folder {} is in use by another window of this program", .0.display())]
    InUse(PathBuf),
    /// The file was written by a later version of the program.
    #[error(
        "the ledger was written by a newer version of this program (format {found}, this one knows {known})"
    )]
    Newer {
        /// The file's schema version.
        found: u32,
        /// The newest schema version that this program knows.
        known: u32,
    },
    /// The file was written by an earlier version, and it was opened only to read.
    #[error("the ledger is of an older version: open the window once, it brings the ledger up to date")]
    Older,
    /// The file is an `SQLite` database, but not a ledger.
    #[error("the file {} is a database, but not a ledger of this program", .0.display())]
    Foreign(PathBuf),
    /// The file is damaged. It is left as it is: evidence is never repaired by deletion.
    #[error("the ledger file is damaged; it was left as it is ({doing})")]
    Damaged {
        /// What was being done.
        doing: &'static str,
        /// What `SQLite` said.
        #[source]
        source: rusqlite::Error,
    },
    /// There is no room left on the device.
    #[error("there is no room left on the device ({doing})")]
    Full {
        /// What was being done.
        doing: &'static str,
    },
    /// Any other failure of the database.
    #[error("the ledger could not {doing}")]
    Sql {
        /// What was being done, as a verb.
        doing: &'static str,
        /// What `SQLite` said.
        #[source]
        source: rusqlite::Error,
    },
    /// The schema could not be brought up to date.
    #[error("the ledger could not be brought up to date")]
    Migration(#[source] rusqlite_migration::Error),
    /// What stands in a column is not what was written there.
    #[error("the column {column} of the ledger does not hold what it should")]
    Column {
        /// The column.
        column: &'static str,
        /// What serde found.
        #[source]
        source: serde_json::Error,
    },
    /// A stored entry cannot be read, or a new one cannot be written.
    #[error("an entry could not be {doing}")]
    Evidence {
        /// `read` or `written`.
        doing: &'static str,
        /// Why.
        #[source]
        source: EvidenceError,
    },
    /// No facility has been created here.
    #[error("no facility has been created in this data folder")]
    NoFacility,
    /// A facility has been created here already.
    #[error("a facility has been created in this data folder already")]
    FacilityExists,
    /// A person is added only together with their name, through [`crate::Deed::add_person`].
    #[error("a person must be added together with a name")]
    NameMissing,
    /// Another person has that staff number.
    #[error("another person has this staff number already")]
    NumberTaken,
    /// No demonstration of that id was begun.
    #[error("no demonstration of this id was begun")]
    NotBegun,
    /// The demonstration is sealed; nothing can be added.
    #[error("the demonstration is sealed already")]
    AlreadySealed,
    /// An entry was written since the record was drawn: take the place anew and draw it again.
    #[error("another entry was written in the meantime")]
    PlaceTaken,
    /// A line was acknowledged since the record was drawn, which would be missing from it.
    #[error("something was logged while the record was being signed, and nothing was sealed")]
    LoggedSince,
    /// The record row and the sealed entry do not speak of the same thing.
    #[error("the record and its entry do not agree on the {0}")]
    Disagree(&'static str),
    /// The entry could not be signed.
    #[error("the entry could not be signed")]
    Sign(#[source] SignError),
}

/// Adds what was being attempted to an error of the database, and sorts it.
pub(crate) trait Doing<T> {
    /// `what` completes "the ledger could not ...".
    fn doing(self, what: &'static str) -> Result<T, LedgerError>;
}

impl<T> Doing<T> for Result<T, rusqlite::Error> {
    fn doing(self, doing: &'static str) -> Result<T, LedgerError> {
        self.map_err(|source| sorted(doing, source))
    }
}

/// Sorts an error of the database by what can be done about it.
pub(crate) fn sorted(doing: &'static str, source: rusqlite::Error) -> LedgerError {
    match source.sqlite_error_code() {
        Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => LedgerError::Damaged { doing, source },
        Some(ErrorCode::DiskFull) => LedgerError::Full { doing },
        Some(_) | None => LedgerError::Sql { doing, source },
    }
}

/// Adds the path and what was being done to an error of the file system.
pub(crate) fn files(doing: &'static str, path: impl Into<PathBuf>) -> impl FnOnce(io::Error) -> LedgerError {
    let path = path.into();
    move |source| {
        if matches!(source.kind(), io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded) {
            LedgerError::Full { doing }
        } else {
            LedgerError::Files { doing, path, source }
        }
    }
}
