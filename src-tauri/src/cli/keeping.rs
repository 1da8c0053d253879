//! The subcommands that keep the data folder safe: backup and restore.

use std::path::Path;

use ledger::Reader;

use super::{Complaint, Ending, print};
use crate::{
    chance, checking, clock,
    desk::{Desk, PROGRAM},
    fault::{backup_fault, ledger_fault},
    folder::Folder,
};

/// Makes a backup; the window may be in use meanwhile.
pub(super) fn back_up(folder: &Folder, file: &Path) -> Result<Ending, Complaint> {
    let reader = Reader::open(folder.root()).map_err(ledger_fault)?;
    let contents = reader.back_up(file, &clock::now(), PROGRAM, chance::id()).map_err(backup_fault)?;
    let records = contents.files.len().saturating_sub(1);
    print(&format!(
        "{} holds the ledger and {records} {}. Keep it away from the device; observers are appointed anew where it is restored.",
        file.display(),
        if records == 1 { "record" } else { "records" }
    ));
    Ok(Ending::Done)
}

/// Restores a backup into a folder that is empty or not there.
pub(super) fn restore(folder: &Folder, file: &Path) -> Result<Ending, Complaint> {
    let restored = ledger::restore(file, folder.root(), &mut chance::id, &mut |reader, known| {
        checking::check(reader, known, &[])
    })
    .map_err(backup_fault)?;
    // This device signs what comes from now on, and the ledger check must know its key.
    let desk = Desk::open(folder.clone())?;
    desk.keep_device_key()?;
    let told = desk.told_of(&restored)?;
    print(&format!(
        "Restored into {}: {} entries and {} records of {}, made {}; the ledger check found nothing wrong.",
        folder.root().display(),
        told.entries,
        told.records,
        told.facility,
        told.made
    ));
    print(&format!("Fingerprint of its authority, to compare: {}", contract::grouped(&told.authority)));
    print("Appoint the observers anew on this device: their keys open only where they were made.");
    Ok(Ending::Done)
}
