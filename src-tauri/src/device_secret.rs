//! The device's secret: 32 bytes of chance without which no PIN opens an observer's key, and where they lie.
//!
//! A device keeps it in the system's key store where one is open when the device is set up, and in a file of the
//! data folder otherwise. Nothing moves it later: whoever looks after the device can rely on where it lies.

mod key_store;

use std::{fs, io, path::Path};

use contract::{Fault, Next, SecretPlace};
use uuid::Uuid;

use crate::{
    fault::file_fault,
    folder::{Folder, only_this_user, write_whole},
};

/// The secret, and where it lies.
pub(crate) struct DeviceSecret {
    /// Itself.
    pub(crate) bytes: [u8; 32],
    /// Where it lies.
    pub(crate) place: SecretPlace,
}

impl std::fmt::Debug for DeviceSecret {
    /// Never shows the secret.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("DeviceSecret").field("place", &self.place).finish_non_exhaustive()
    }
}

/// The secret of the device whose folder this is, made by `fresh` when there is none yet and kept
/// under that name where a key store takes it.
///
/// # Errors
/// When the file cannot be read or written, or the key store that holds it does not answer.
pub(crate) fn of_device(
    folder: &Folder,
    fresh: impl FnOnce() -> io::Result<[u8; 32]>,
    name: impl FnOnce() -> Uuid,
) -> Result<DeviceSecret, Fault> {
    let made = || -> io::Result<DeviceSecret> {
        let bytes = fresh()?;
        let name = name().to_string();
        if folder.may_use_key_store() && key_store::keep(&name, &bytes) {
            keep(&folder.device_key_name(), name.as_bytes())?;
            return Ok(DeviceSecret { bytes, place: SecretPlace::KeyStore });
        }
        keep(&folder.device_secret(), &bytes)?;
        Ok(DeviceSecret { bytes, place: SecretPlace::File })
    };
    match there(folder)? {
        Some(secret) => Ok(secret),
        None => made().map_err(|error| file_fault("keep this device's secret in", folder.root(), &error)),
    }
}

/// The same for whoever only reads; none is made.
///
/// # Errors
/// As [`of_device`], and when there is none.
pub(crate) fn known(folder: &Folder) -> Result<DeviceSecret, Fault> {
    let none = || unreadable(folder, &io::Error::from(io::ErrorKind::NotFound));
    there(folder)?.ok_or_else(none)
}

fn there(folder: &Folder) -> Result<Option<DeviceSecret>, Fault> {
    if let Some(bytes) = read(folder, &folder.device_secret())? {
        let bytes = bytes.try_into().or(Err(damaged(folder)))?;
        return Ok(Some(DeviceSecret { bytes, place: SecretPlace::File }));
    }
    let Some(name) = read(folder, &folder.device_key_name())? else { return Ok(None) };
    let name = String::from_utf8(name).or(Err(damaged(folder)))?;
    let bytes = key_store::read(&name).map_err(|why| closed(&why))?;
    Ok(Some(DeviceSecret { bytes, place: SecretPlace::KeyStore }))
}

fn read(folder: &Folder, path: &Path) -> Result<Option<Vec<u8>>, Fault> {
    match fs::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(unreadable(folder, &error)),
    }
}

fn keep(path: &Path, bytes: &[u8]) -> io::Result<()> {
    write_whole(path, bytes)?;
    only_this_user(path, 0o600)
}

fn unreadable(folder: &Folder, error: &io::Error) -> Fault {
    file_fault("read this device's secret in", folder.root(), error)
}

fn damaged(folder: &Folder) -> Fault {
    Fault::new(
        Next::AskForHelp,
        format!(
            "This device's secret in {} is damaged, so no PIN opens a key here; restore a backup into an empty folder, \
             and appoint the observers there.",
            folder.root().display()
        ),
    )
}

fn closed(why: &str) -> Fault {
    Fault::new(
        Next::AskForHelp,
        format!(
            "This device's secret lies in the system's key store, which does not give it ({why}); sign in to the \
             system and unlock its key store, then open the program again."
        ),
    )
}
