//! Backup and restore: the whole data folder as one file.
//!
//! A backup is a ZIP archive that any system opens: `backup.json` says what is in it, with the digest of
//! each file; `ledger.sqlite` is the ledger as it stood at one moment; `records/` holds the filed PDFs that
//! it names. It is made while the window is in use, and holds no secret of the device: an observer's key in
//! it opens nowhere, and observers are enrolled anew on the device it is restored to. The authority's key
//! is in it, sealed by its passphrase.

mod making;
mod restoring;

use std::{
    collections::BTreeMap,
    io,
    path::{Path, PathBuf},
};

use chrono::{DateTime, FixedOffset};
use evidence::{Digest, Seen};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use uuid::Uuid;

pub use restoring::{Check, Restored, backup_heads, restore};

use crate::{Flaw, LedgerError};

/// The format of `backup.json` that this program writes.
const BACKUP_FORMAT: u32 = 1;
const CONTENTS: &str = "backup.json";
const LEDGER: &str = "ledger.sqlite";
const RECORDS: &str = "records/";

/// What a backup says of itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BackupContents {
    /// 1.
    pub format: u32,
    /// When it was made.
    pub made: DateTime<FixedOffset>,
    /// Name and version of the program that made it.
    pub program: String,
    /// The facility, once there was one.
    pub facility: Option<Uuid>,
    /// The stream of the installation that made it.
    pub stream: Uuid,
    /// The last entry of each stream.
    pub heads: BTreeMap<Uuid, Seen>,
    /// Every other file in it, by name, with its digest.
    pub files: BTreeMap<String, Digest>,
}

/// Why a backup was not made or not restored. None names a person, and after none is anything half done.
#[derive(Debug, Error)]
pub enum BackupError {
    /// The ledger, or the one in the backup, could not be used.
    #[error(transparent)]
    Ledger(#[from] LedgerError),
    /// There is a file of that name already.
    #[error("there is a file {} already; name another one", .0.display())]
    AlreadyThere(PathBuf),
    /// A backup is restored into an empty folder only, so that it can take the place of nothing.
    #[error("the folder {} is not empty; a backup is restored into an empty one", .0.display())]
    NotEmpty(PathBuf),
    /// A filed record is not as it was sealed, and a backup of it could not be restored.
    #[error("the filed record {0} is missing or was changed, so no backup was made; run the ledger check")]
    Record(String),
    /// The file is not a backup, or what says so is gone.
    #[error("the file {} is not a backup of this program, or it is damaged", .0.display())]
    NotABackup(PathBuf),
    /// The backup was made by a later version of the program.
    #[error("the backup was made by a newer version of this program (format {found})")]
    Newer {
        /// The format that it names.
        found: u32,
    },
    /// Something in the backup is not what was put there.
    #[error("the backup is damaged: {file} in it {what}")]
    Damaged {
        /// Which file in it.
        file: String,
        /// What is wrong, as a verb with what follows.
        what: &'static str,
    },
    /// The files are as they were put there, but the ledger check finds flaws.
    #[error("the ledger in the backup does not pass the check: {}", first(.0))]
    Flawed(Vec<Flaw>),
    /// The archive could not be written.
    #[error("the backup {} could not be written", path.display())]
    Archive {
        /// Where.
        path: PathBuf,
        /// What the archiver said.
        #[source]
        source: zip::result::ZipError,
    },
}

fn first(flaws: &[Flaw]) -> String {
    flaws.first().map(ToString::to_string).unwrap_or_default()
}

/// Makes the names in a folder last. Where a folder cannot be opened for that, the system journals them.
fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { std::fs::File::open(folder)?.sync_all() } else { Ok(()) }
}

/// The folder that something lies in.
fn parent(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."))
}

/// A name beside a path, for what is not finished.
fn unfinished(path: &Path, id: Uuid) -> PathBuf {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    parent(path).join(format!(".{name}-{id}"))
}
