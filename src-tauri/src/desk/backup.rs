//! Backing the data folder up, and restoring a backup at the first start.

use std::{
    fs,
    io::{Seek, SeekFrom, Write},
    path::{Path, PathBuf},
};

use contract::{
    BackUp, BackedUp, BringBackup, Brought, Fault, Next, RestoreBackup, RestoredBackup, beginning,
};
use ledger::{BackupError, LedgerError, Moment, Reader, Restored};

use super::{Desk, PROGRAM, absent, facility::count};
use crate::{
    chance, checking,
    fault::{backup_fault, file_fault, ledger_fault},
    folder::Folder,
};

impl Desk {
    /// Makes a backup in the folder of exports, while work goes on.
    pub(crate) fn back_up(&self, _request: &BackUp, now: &Moment) -> Result<BackedUp, Fault> {
        let name = format!("doorside-backup-{}.zip", now.wall.date_naive());
        let path = self.folder().unused_export(&name);
        let contents = self.reader().back_up(&path, now, PROGRAM, chance::id()).map_err(backup_fault)?;
        let records = contents.files.len().saturating_sub(1);
        Ok(BackedUp { path: path.display().to_string(), records: count(records) })
    }

    /// Takes a part of a backup that the window brings.
    pub(crate) fn bring_backup(&self, request: &BringBackup) -> Result<Brought, Fault> {
        self.refuse_to_replace()?;
        let path = brought(self.folder(), &request.backup)?;
        let failed = |error: std::io::Error| file_fault("bring", &path, &error);
        let mut file = fs::OpenOptions::new()
            .create(true)
            .truncate(request.at == 0)
            .write(true)
            .open(&path)
            .map_err(failed)?;
        let there = file.metadata().map_err(failed)?.len();
        if request.at > there {
            return Err(Fault::new(
                Next::TryAgain,
                "A part of the backup was left out on the way; choose the file once more.",
            ));
        }
        file.seek(SeekFrom::Start(request.at)).map_err(failed)?;
        file.write_all(&request.part).map_err(failed)?;
        Ok(Brought { length: file.metadata().map_err(failed)?.len() })
    }

    /// What is needed to restore a backup that was brought, once nobody has the ledger open any more.
    pub(crate) fn ready_to_restore(&self, request: &RestoreBackup) -> Result<Ready, Fault> {
        self.refuse_to_replace()?;
        let backup = brought(self.folder(), &request.backup)?;
        if !backup.is_file() {
            return Err(absent("backup"));
        }
        let answers = request.answer.then(|| self.device_name());
        Ok(Ready { folder: self.folder().clone(), backup, name: PathBuf::from(&request.name), answers })
    }

    /// What is to be known of a ledger that was restored, so that nobody takes another facility's for their own.
    pub(crate) fn told_of(&self, restored: &Restored) -> Result<RestoredBackup, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let (_id, facility) = facts.facility.as_ref().ok_or_else(|| absent("facility"))?;
        Ok(RestoredBackup {
            made: restored.contents.made.format("%Y-%m-%d %H:%M").to_string(),
            entries: restored.checked.entries,
            records: count(restored.checked.records),
            facility: facility.name.clone(),
            authority: self.authority_certificate()?.fingerprint(),
            answered: facts.certificate(&self.device_name()).is_some(),
        })
    }

    /// A backup takes the place of nothing.
    fn refuse_to_replace(&self) -> Result<(), Fault> {
        if self.reader().facts(None).map_err(ledger_fault)?.facility.is_some() {
            return Err(ledger_fault(LedgerError::FacilityExists));
        }
        Ok(())
    }
}

/// A backup that was brought, and the folder that it is restored into.
#[derive(Debug)]
pub(crate) struct Ready {
    folder: Folder,
    backup: PathBuf,
    /// What it was called where it was chosen.
    name: PathBuf,
    /// The device whose request to join it must answer; `None` where it is a backup.
    answers: Option<String>,
}

impl Ready {
    /// The data folder.
    pub(crate) fn folder(&self) -> &Folder {
        &self.folder
    }

    /// Restores it beside the folder's own files, checks it, and only then puts it into their place.
    pub(crate) fn put(&self) -> Result<Restored, Fault> {
        let part = self.folder.root().join("restored");
        if part.exists() {
            // Left by a restore that did not come to its end; the backup itself is still whole.
            fs::remove_dir_all(&part).map_err(|error| file_fault("clear away", &part, &error))?;
        }
        let restored = ledger::restore(&self.backup, &part, &mut chance::id, &mut |reader, known| {
            checking::check(reader, known, &[])
        });
        fs::remove_file(&self.backup).map_err(|error| file_fault("clear away", &self.backup, &error))?;
        let restored = restored.map_err(|error| {
            // Nobody knows the file under the name that it has here.
            let is_other = matches!(error, BackupError::NotABackup(_));
            backup_fault(if is_other { BackupError::NotABackup(self.name.clone()) } else { error })
        })?;
        if let Err(other) = self.check_answer(&part) {
            fs::remove_dir_all(&part).map_err(|error| file_fault("clear away", &part, &error))?;
            return Err(other);
        }
        self.folder
            .take_over(&part)
            .map_err(|error| file_fault("put what was restored into", self.folder.root(), &error))?;
        Ok(restored)
    }
}

impl Ready {
    /// Whoever joins takes nobody else's ledger for the one that was asked for.
    fn check_answer(&self, part: &Path) -> Result<(), Fault> {
        let Some(device) = &self.answers else { return Ok(()) };
        let facts = Reader::open(part).and_then(|reader| reader.facts(None)).map_err(ledger_fault)?;
        if facts.certificate(device).is_some() {
            return Ok(());
        }
        let short = beginning(device);
        Err(Fault::new(
            Next::ChooseAgain,
            format!(
                "{} answers no request of this device, and nothing was taken from it; choose join-answer-{short}.zip, or \
                 restore it as a backup if it is one.",
                self.name.display()
            ),
        ))
    }
}

/// Where a backup is kept while it is brought. The window names it by digits alone.
fn brought(folder: &Folder, backup: &str) -> Result<PathBuf, Fault> {
    if backup.is_empty() || backup.len() > 64 || !backup.bytes().all(|byte| byte.is_ascii_hexdigit()) {
        return Err(absent("backup"));
    }
    Ok(folder.root().join(format!("brought-{backup}")))
}
