use std::{
    borrow::Cow,
    collections::{BTreeMap, BTreeSet},
    fs::{self, File},
    io::{self, Read as _},
    path::{Path, PathBuf},
};

use evidence::{Seen, digest_of};
use rusqlite::named_params;
use serde_json::Value;
use uuid::Uuid;
use zip::ZipArchive;

use super::{
    BACKUP_FORMAT, BackupContents, BackupError, CONTENTS, LEDGER, RECORDS, parent, sync_folder, unfinished,
};
use crate::{
    Checked, Known, Ledger, LedgerError, Reader,
    error::{Doing, files},
    open::{database, records_folder},
};

/// No list of files comes near this; whatever is longer is not one.
const LONGEST_CONTENTS: u64 = 256 << 20;

/// Runs [`Reader::check`](crate::Reader::check) on what is restored, with the entries that the backup says
/// it holds and whatever else is known, and with the caller's check of signatures, whose keys may lie in the
/// ledger that is restored.
pub type Check<'a> = dyn FnMut(&Reader, &[Known]) -> Result<Checked, LedgerError> + 'a;

/// What was restored.
#[derive(Debug)]
pub struct Restored {
    /// What the backup said of itself.
    pub contents: BackupContents,
    /// What the ledger check found; it has no flaws, or nothing would have been restored.
    pub checked: Checked,
    /// The stream that this installation writes from now on. It is a new one: the installation that made
    /// the backup may still write its own, and two must never go on from the same entry.
    pub stream: Uuid,
}

/// Restores a backup into a folder that is empty or not there, and runs the ledger check before it counts.
/// `ids` gives random ids.
///
/// # Errors
/// Of [`BackupError`] all that are about restoring; the folder is then as it was.
pub fn restore(
    backup: &Path,
    folder: &Path,
    ids: &mut dyn FnMut() -> Uuid,
    check: &mut Check<'_>,
) -> Result<Restored, BackupError> {
    if !is_empty(folder)? {
        return Err(BackupError::NotEmpty(folder.to_owned()));
    }
    let part = unfinished(folder, ids());
    let restored =
        unpack(backup, &part).and_then(|contents| begin(&part, contents, ids, check)).and_then(|restored| {
            put(&part, folder)?;
            Ok(restored)
        });
    if restored.is_err() && part.exists() {
        // Only what was just copied out of the backup, which stays as it is.
        fs::remove_dir_all(&part).map_err(files("clear away", &part))?;
    }
    restored
}

fn is_empty(folder: &Path) -> Result<bool, LedgerError> {
    match fs::read_dir(folder) {
        Ok(mut inside) => Ok(inside.next().is_none()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(true),
        Err(error) => Err(files("look into", folder)(error)),
    }
}

/// The facility of a backup, and the last entry of each stream when it was made.
///
/// # Errors
/// [`BackupError::NotABackup`], [`BackupError::Newer`], or what the file system says.
pub fn backup_heads(backup: &Path) -> Result<(Option<Uuid>, BTreeMap<Uuid, Seen>), BackupError> {
    let (_zip, contents) = contents(backup)?;
    Ok((contents.facility, contents.heads))
}

/// The archive, and what it says of itself.
fn contents(backup: &Path) -> Result<(ZipArchive<File>, BackupContents), BackupError> {
    let not_a_backup = || BackupError::NotABackup(backup.to_owned());
    let file = File::open(backup).map_err(files("open", backup))?;
    let mut zip = ZipArchive::new(file).or(Err(not_a_backup()))?;
    let mut text = Vec::new();
    zip.by_name(CONTENTS)
        .or(Err(not_a_backup()))?
        .take(LONGEST_CONTENTS)
        .read_to_end(&mut text)
        .or(Err(not_a_backup()))?;
    let contents = read_contents(&text)?.ok_or_else(not_a_backup)?;
    Ok((zip, contents))
}

/// Copies every file out of the backup, and compares each with its digest.
fn unpack(backup: &Path, part: &Path) -> Result<BackupContents, BackupError> {
    let (mut zip, contents) = contents(backup)?;
    let there: BTreeSet<String> = zip.file_names().filter_map(Result::ok).map(Cow::into_owned).collect();
    let unexpected = there.into_iter().find(|name| name != CONTENTS && !contents.files.contains_key(name));
    if let Some(file) = unexpected {
        return Err(BackupError::Damaged { file, what: "does not belong there" });
    }
    let records = records_folder(part);
    fs::create_dir_all(&records).map_err(files("make the folder", &records))?;
    for (name, expected) in &contents.files {
        let damaged = |what| BackupError::Damaged { file: name.clone(), what };
        let path = place(part, name).ok_or_else(|| damaged("has a name that no file of ours has"))?;
        let mut packed = zip.by_name(name).or(Err(damaged("is missing")))?;
        let mut file = File::create(&path).map_err(files("write", &path))?;
        match io::copy(&mut packed, &mut file) {
            Ok(_length) => file.sync_all().map_err(files("sync", &path))?,
            // The archiver compares a checksum of its own, and says so like this.
            Err(error) if is_unreadable(&error) => return Err(damaged("cannot be read")),
            Err(error) => return Err(files("write", &path)(error).into()),
        }
        let found = File::open(&path).and_then(digest_of).map_err(files("read", &path))?;
        if found != *expected {
            return Err(damaged("was changed"));
        }
    }
    Ok(contents)
}

fn is_unreadable(error: &io::Error) -> bool {
    matches!(
        error.kind(),
        io::ErrorKind::InvalidData
            | io::ErrorKind::InvalidInput
            | io::ErrorKind::UnexpectedEof
            | io::ErrorKind::Other
    )
}

/// `None` where the text is not that of a backup.
fn read_contents(text: &[u8]) -> Result<Option<BackupContents>, BackupError> {
    let Ok(value) = serde_json::from_slice::<Value>(text) else { return Ok(None) };
    let found = value.get("format").and_then(Value::as_u64).and_then(|format| u32::try_from(format).ok());
    match found {
        Some(found) if found > BACKUP_FORMAT => Err(BackupError::Newer { found }),
        Some(_) => Ok(serde_json::from_value(value).ok()),
        None => Ok(None),
    }
}

/// Where a file of a backup goes; `None` for a name that leads anywhere else.
fn place(part: &Path, name: &str) -> Option<PathBuf> {
    if name == LEDGER {
        return Some(database(part));
    }
    let file = name.strip_prefix(RECORDS)?;
    let plain = !file.is_empty() && !file.contains(['/', '\\', ':']) && file != "." && file != "..";
    plain.then(|| records_folder(part).join(file))
}

/// Brings the ledger up to date, checks it and gives it a stream of its own.
fn begin(
    part: &Path,
    contents: BackupContents,
    ids: &mut dyn FnMut() -> Uuid,
    check: &mut Check<'_>,
) -> Result<Restored, BackupError> {
    if !contents.files.contains_key(LEDGER) {
        return Err(BackupError::Damaged { file: LEDGER.to_owned(), what: "is missing" });
    }
    let ledger = Ledger::open(part, ids)?;
    let known: Vec<Known> = contents
        .heads
        .iter()
        .map(|(stream, seen)| Known {
            stream: *stream,
            seen: *seen,
            from: "what the backup says of itself".to_owned(),
        })
        .collect();
    let checked = check(ledger.reader(), &known)?;
    if !checked.flaws.is_empty() {
        return Err(BackupError::Flawed(checked.flaws));
    }
    let stream = ledger.renew_stream(ids())?;
    Ok(Restored { contents, checked, stream })
}

/// Puts the finished folder into its place.
fn put(part: &Path, folder: &Path) -> Result<(), LedgerError> {
    for inside in [records_folder(part), part.to_owned()] {
        sync_folder(&inside).map_err(files("sync", &inside))?;
    }
    // Only an empty folder is removed like this.
    match fs::remove_dir(folder) {
        Ok(()) => {}
        Err(error) if error.kind() == io::ErrorKind::NotFound => {}
        Err(error) => return Err(files("put the restored folder into the place of", folder)(error)),
    }
    fs::rename(part, folder).map_err(files("put the restored folder into its place", folder))?;
    sync_folder(parent(folder)).map_err(files("sync the folder of", folder))
}

impl Ledger {
    fn renew_stream(&self, stream: Uuid) -> Result<Uuid, LedgerError> {
        let doing = "name the stream";
        self.transact(doing, |transaction| {
            transaction
                .execute(
                    include_str!("../../sql/open/renew_stream.sql"),
                    named_params! { ":stream": stream.to_string() },
                )
                .doing(doing)?;
            Ok(stream)
        })
    }
}
