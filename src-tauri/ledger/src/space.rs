//! The reserve: room kept back, so that a demonstration under way can still be brought to its end when
//! the device has no room left.

use std::{
    fs,
    io::Write,
    path::{Path, PathBuf},
};

use crate::{LedgerError, error::files};

/// 8 MiB: more than 500 taps with their write-ahead pages, and a sealed record.
const RESERVE_BYTES: usize = 8 << 20;

#[derive(Debug)]
pub(crate) struct Reserve {
    path: PathBuf,
}

impl Reserve {
    pub(crate) fn in_folder(folder: &Path) -> Self {
        Reserve { path: folder.join("reserve") }
    }

    /// Whether the reserve is there, whole.
    pub(crate) fn is_kept(&self) -> bool {
        fs::metadata(&self.path).is_ok_and(|file| file.len() == RESERVE_BYTES as u64)
    }

    /// Takes the room, where it is not taken yet. Ones are written, since a file system may keep zeros
    /// without giving them room.
    pub(crate) fn keep(&self) -> Result<(), LedgerError> {
        if self.is_kept() {
            return Ok(());
        }
        let write = || {
            let mut file = fs::File::create(&self.path)?;
            file.write_all(&vec![0xff; RESERVE_BYTES])?;
            file.sync_all()
        };
        write().map_err(|error| {
            // A part of a reserve only takes room away from what is needed now.
            self.release();
            files("keep room in", &self.path)(error)
        })
    }

    /// Gives the room back; answers whether there was any.
    pub(crate) fn release(&self) -> bool {
        fs::remove_file(&self.path).is_ok()
    }
}

/// Does it, and where there is no room, gives the reserve back and does it once more.
pub(crate) fn with_reserve<T>(
    reserve: &Reserve,
    mut act: impl FnMut() -> Result<T, LedgerError>,
) -> Result<T, LedgerError> {
    match act() {
        Err(LedgerError::Full { .. }) if reserve.release() => act(),
        done => done,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_reserve_is_given_back_once_and_taken_again() {
        let folder = tempfile::tempdir().unwrap();
        let reserve = Reserve::in_folder(folder.path());
        reserve.keep().unwrap();
        assert!(reserve.is_kept());

        let mut tries = 0;
        let done = with_reserve(&reserve, || {
            tries += 1;
            if tries == 1 { Err(LedgerError::Full { doing: "test" }) } else { Ok(tries) }
        });
        assert_eq!(done.unwrap(), 2, "the second try has the room of the reserve");
        assert!(!reserve.is_kept());

        let full: Result<(), _> = with_reserve(&reserve, || {
            tries += 1;
            Err(LedgerError::Full { doing: "test" })
        });
        assert!(matches!(full, Err(LedgerError::Full { .. })));
        assert_eq!(tries, 3, "with no reserve left there is no second try");

        reserve.keep().unwrap();
        assert!(reserve.is_kept());
    }
}
