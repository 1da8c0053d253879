use std::{
    collections::BTreeMap,
    fs::{self, File},
    io::{self, Write},
    path::Path,
    time::Duration,
};

use evidence::digest_of;
use rusqlite::{Connection, backup::Backup};
use uuid::Uuid;
use zip::{CompressionMethod, ZipWriter, result::ZipError, write::SimpleFileOptions};

use super::{
    BACKUP_FORMAT, BackupContents, BackupError, CONTENTS, LEDGER, RECORDS, parent, sync_folder, unfinished,
};
use crate::{
    LedgerError, Moment, Reader,
    error::{Doing, files},
    open::{database, open_to_read},
};

/// The archive while it is not finished.
const ARCHIVE: &str = "archive.zip";

impl Reader {
    /// Makes a backup of the data folder as one new file, as it stands at one moment, while others go on
    /// writing. Takes seconds for a large ledger: not on the thread that draws. `id` is a random one, for
    /// what is not finished; `program` is the name and version of the program.
    ///
    /// # Errors
    /// Of [`BackupError`] all that are about making one; the file is then not there.
    pub fn back_up(
        &self,
        into: &Path,
        now: &Moment,
        program: &str,
        id: Uuid,
    ) -> Result<BackupContents, BackupError> {
        if into.exists() {
            return Err(BackupError::AlreadyThere(into.to_owned()));
        }
        let part = unfinished(into, id);
        let made = self.make(&part, now, program).and_then(|contents| {
            let archive = part.join(ARCHIVE);
            fs::rename(&archive, into).map_err(files("make the backup", into))?;
            sync_folder(parent(into)).map_err(files("sync the folder of", into))?;
            Ok(contents)
        });
        // What is not finished is of no use to anyone, and what it was made from is all still there.
        let cleared = fs::remove_dir_all(&part).map_err(files("clear away", &part));
        let contents = made?;
        cleared?;
        Ok(contents)
    }

    /// Makes the archive in a folder of its own, beside the copy of the ledger that goes into it.
    fn make(&self, part: &Path, now: &Moment, program: &str) -> Result<BackupContents, BackupError> {
        fs::create_dir_all(part).map_err(files("make the folder", part))?;
        let copy = database(part);
        copy_ledger(&self.folder, &copy)?;
        let snapshot = Reader::open(part)?;
        let installation = snapshot.installation()?;
        let digest = read(&copy).and_then(|file| digest_of(file).map_err(files("read", &copy)))?;
        let mut contents = BackupContents {
            format: BACKUP_FORMAT,
            made: now.wall,
            program: program.to_owned(),
            facility: installation.facility,
            stream: installation.stream,
            heads: snapshot.heads()?,
            files: BTreeMap::from([(LEDGER.to_owned(), digest)]),
        };
        let folder = self.records_folder();
        let mut sources = vec![(LEDGER.to_owned(), copy)];
        for (file, pdf) in snapshot.record_files()? {
            let path = folder.join(&file);
            let as_sealed = File::open(&path).and_then(digest_of).is_ok_and(|digest| digest == pdf);
            if !as_sealed {
                return Err(BackupError::Record(file));
            }
            let name = format!("{RECORDS}{file}");
            contents.files.insert(name.clone(), pdf);
            sources.push((name, path));
        }
        drop(snapshot);
        let archive = part.join(ARCHIVE);
        let mut zip = ZipWriter::new(File::create(&archive).map_err(files("write", &archive))?);
        let failed = |source| archive_failed(&archive, source);
        let text = serde_json::to_vec_pretty(&contents)
            .map_err(|source| LedgerError::Column { column: CONTENTS, source })?;
        zip.start_file(CONTENTS, stored(0)).map_err(failed)?;
        zip.write_all(&text).map_err(files("write", &archive))?;
        for (name, path) in sources {
            let mut file = read(&path)?;
            let length = file.metadata().map_err(files("read", &path))?.len();
            zip.start_file(name, stored(length)).map_err(failed)?;
            io::copy(&mut file, &mut zip).map_err(files("write", &archive))?;
        }
        let file = zip.finish().map_err(failed)?;
        file.sync_all().map_err(files("sync", &archive))?;
        Ok(contents)
    }
}

/// Not compressed: the records are already, and what is plain in the file is easier to save from a damaged
/// one.
fn stored(length: u64) -> SimpleFileOptions {
    SimpleFileOptions::default()
        .compression_method(CompressionMethod::Stored)
        .large_file(length >= u64::from(u32::MAX))
}

/// One step for the whole ledger: it is one snapshot, and a writer in write-ahead mode waits for nothing.
fn copy_ledger(folder: &Path, copy: &Path) -> Result<(), LedgerError> {
    let doing = "copy the ledger";
    let from = open_to_read(folder)?;
    let mut to = Connection::open(copy).doing(doing)?;
    Backup::new(&from, &mut to)
        .and_then(|backup| backup.run_to_completion(i32::MAX, Duration::ZERO, None))
        .doing(doing)?;
    // One file, with no write-ahead log beside it.
    to.pragma_update(None, "journal_mode", "DELETE").doing(doing)
}

fn read(path: &Path) -> Result<File, LedgerError> {
    File::open(path).map_err(files("read", path))
}

fn archive_failed(path: &Path, source: ZipError) -> BackupError {
    if let ZipError::Io(error) = source {
        return files("write", path)(error).into();
    }
    BackupError::Archive { path: path.to_owned(), source }
}
