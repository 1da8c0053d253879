//! The one place where what went wrong inside becomes what reaches a person.

use std::{io, path::Path};

use contract::{Fault, Next};
use ledger::{BackupError, LedgerError};
use paper::PaperError;
use sealing::SealingError;

/// What the ledger could not do.
pub(crate) fn ledger_fault(error: LedgerError) -> Fault {
    let (next, what_to_do) = match &error {
        LedgerError::Files { .. } => (Next::TryAgain, "check that the folder may be written, then try again"),
        LedgerError::Absent(_) => {
            (Next::ChooseAgain, "open the window once to begin, or name another folder with --data")
        }
        LedgerError::InUse(_) => (Next::TryAgain, "close that window, then try again"),
        LedgerError::Newer { .. } => {
            (Next::AskForHelp, "install the newer version on this device; nothing was changed")
        }
        LedgerError::Older => (Next::TryAgain, "then try again"),
        LedgerError::Foreign(_) => (Next::ChooseAgain, "name another data folder; nothing was changed"),
        LedgerError::Damaged { .. } => {
            (Next::AskForHelp, "keep the folder as it is and restore the latest backup into another one")
        }
        LedgerError::Full { .. } => {
            (Next::MakeRoom, "make room, then try again; what was acknowledged is safe")
        }
        LedgerError::Sql { .. }
        | LedgerError::Migration(_)
        | LedgerError::Column { .. }
        | LedgerError::Evidence { .. }
        | LedgerError::Sign(_)
        | LedgerError::Disagree(_) => (
            Next::AskForHelp,
            "nothing was written; run the ledger check and show what it says to whoever looks after this device",
        ),
        LedgerError::NoFacility => (Next::ChooseAgain, "create the facility first"),
        LedgerError::FacilityExists => (Next::ChooseAgain, "go back to home; it is there already"),
        LedgerError::NameMissing => (Next::MendInput, "enter a name"),
        LedgerError::NumberTaken => (Next::MendInput, "check the number, or search for that person"),
        LedgerError::NotBegun => (Next::ChooseAgain, "go back to home and begin it again"),
        LedgerError::LoggedSince => (Next::ChooseAgain, "look at the review once more, then sign"),
        LedgerError::AlreadySealed => (Next::ChooseAgain, "look for its record in the person's history"),
        LedgerError::PlaceTaken => (Next::TryAgain, "try again"),
    };
    Fault::new(next, sentence(&error.to_string(), what_to_do))
}

/// What could not be sealed or signed.
pub(crate) fn sealing_fault(error: SealingError) -> Fault {
    let (next, what_to_do) = match &error {
        SealingError::PinTooShort | SealingError::PinGuessable => (Next::MendInput, "enter another PIN"),
        SealingError::PassphraseTooShort => (Next::MendInput, "enter a longer one"),
        SealingError::WrongPin | SealingError::WrongPassphrase => (Next::MendInput, "type it again"),
        SealingError::NameLength { .. } => (Next::MendInput, "shorten it"),
        SealingError::OutsideCertificate { .. } | SealingError::ImpossibleDate => {
            (Next::TryAgain, "then try again; nothing was sealed")
        }
        SealingError::Unreadable { .. }
        | SealingError::OtherKey
        | SealingError::OtherAuthority
        | SealingError::AlreadySigned
        | SealingError::NotSignable { .. }
        | SealingError::Pdf(_)
        | SealingError::Write(_)
        | SealingError::Encoding(_)
        | SealingError::Certificate(_)
        | SealingError::Signing(_)
        | SealingError::Derivation(_) => (
            Next::AskForHelp,
            "nothing was sealed, and the demonstration is kept; show this to whoever looks after this device",
        ),
    };
    Fault::new(next, sentence(&error.to_string(), what_to_do))
}

/// What could not be backed up or restored. Nothing is half done after it.
pub(crate) fn backup_fault(error: BackupError) -> Fault {
    let (next, what_to_do) = match &error {
        // It is not of the backup alone, and is told like everywhere else.
        BackupError::Ledger(LedgerError::Full { .. }) => {
            (Next::MakeRoom, "make room on the device, then try again")
        }
        BackupError::Ledger(_) => {
            (Next::AskForHelp, "nothing was changed; show this to whoever looks after this device")
        }
        BackupError::AlreadyThere(_) => (Next::MendInput, "nothing was written"),
        BackupError::NotEmpty(_) => (Next::MendInput, "name another folder with --data"),
        BackupError::Record(_) => (Next::AskForHelp, "show what it says to whoever looks after this device"),
        BackupError::NotABackup(_) => (Next::MendInput, "choose the file that was saved as a backup"),
        BackupError::Newer { .. } => (Next::AskForHelp, "install the newer version, then restore it"),
        BackupError::Damaged { .. } | BackupError::Flawed(_) => {
            (Next::AskForHelp, "nothing was restored; use an earlier backup, and keep this one as it is")
        }
        BackupError::Archive { .. } => (Next::TryAgain, "make room on the device, then try again"),
    };
    Fault::new(next, sentence(&error.to_string(), what_to_do))
}

/// The key to sign with is not here.
pub(crate) fn no_key_here() -> Fault {
    Fault::new(
        Next::AskForHelp,
        "The signing key is not on this device, or it was taken away; appoint the observer here, or sign on the device where they were appointed.",
    )
}

/// What could not be drawn.
pub(crate) fn paper_fault(error: PaperError) -> Fault {
    Fault::new(
        Next::AskForHelp,
        sentence(
            &error.to_string(),
            "nothing was sealed, and the demonstration is kept; show this to whoever looks after this device",
        ),
    )
}

/// What could not be done with a file. `doing` is a verb and what follows it, before the path.
pub(crate) fn file_fault(doing: &str, path: &Path, error: &io::Error) -> Fault {
    let path = path.display();
    if error.kind() == io::ErrorKind::StorageFull {
        return Fault::new(
            Next::MakeRoom,
            format!("There was no room to {doing} {path}; make room, then try again."),
        );
    }
    Fault::new(
        Next::TryAgain,
        format!(
            "It was not possible to {doing} {path} ({error}); check that the folder may be written, then try again."
        ),
    )
}

/// One sentence of what is wrong and what to do.
fn sentence(wrong: &str, what_to_do: &str) -> String {
    let mut letters = wrong.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}; {what_to_do}.", letters.as_str())
}
