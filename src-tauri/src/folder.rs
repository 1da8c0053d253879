//! The data folder: where everything of one facility on one device lies.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

/// Where things lie in a data folder.
#[derive(Debug, Clone)]
pub(crate) struct Folder {
    root: PathBuf,
}

impl Folder {
    /// The folder, which need not exist yet.
    pub(crate) fn at(root: impl Into<PathBuf>) -> Self {
        Folder { root: root.into() }
    }

    /// The platform's own place for this program's data.
    #[cfg(desktop)]
    pub(crate) fn of_platform() -> Option<Self> {
        dirs::data_dir().map(|data| Folder::at(data.join(crate::window::IDENTIFIER)))
    }

    /// The folder itself.
    pub(crate) fn root(&self) -> &Path {
        &self.root
    }

    /// The signed records.
    pub(crate) fn records(&self) -> PathBuf {
        self.root.join("records")
    }

    /// Files of the records folder that no entry refers to.
    pub(crate) fn set_aside(&self) -> PathBuf {
        self.root.join("set-aside")
    }

    /// Rosters and calendars saved from the window.
    pub(crate) fn exports(&self) -> PathBuf {
        self.root.join("exports")
    }

    /// When notifications were shown on this device, a line each.
    pub(crate) fn notices(&self) -> PathBuf {
        self.root.join("notifications.txt")
    }

    /// Where an export of this name may be written without taking the place of another one: where no
    /// file is, or one with the same bytes.
    pub(crate) fn free_export(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
        let numbered = (2_u32..).map(|n| format!("{stem}-{n}.{ending}"));
        let free = |path: &PathBuf| fs::read(path).map_or(true, |there| there == bytes);
        let mut paths =
            std::iter::once(name.to_owned()).chain(numbered).map(|name| self.exports().join(name));
        paths.find(free).unwrap_or_else(|| self.exports().join(name))
    }

    /// Where an export of this name may be written that no file bears yet.
    pub(crate) fn unused_export(&self, name: &str) -> PathBuf {
        let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
        let numbered = (2_u32..).map(|n| format!("{stem}-{n}.{ending}"));
        let mut paths =
            std::iter::once(name.to_owned()).chain(numbered).map(|name| self.exports().join(name));
        paths.find(|path| !path.exists()).unwrap_or_else(|| self.exports().join(name))
    }

    /// Puts a ledger with its records, finished and closed in a folder inside this one, into the place of the
    /// ledger here, which is closed and has no facility. The ledger's own file goes last: until then the
    /// folder is as it was, but for files in the records folder that nobody refers to.
    pub(crate) fn take_over(&self, part: &Path) -> io::Result<()> {
        fs::create_dir_all(self.records())?;
        for record in fs::read_dir(part.join("records"))? {
            let record = record?;
            fs::rename(record.path(), self.records().join(record.file_name()))?;
        }
        sync_folder(&self.records())?;
        for beside in ["ledger.sqlite-wal", "ledger.sqlite-shm"] {
            match fs::remove_file(self.root.join(beside)) {
                Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
                Ok(()) | Err(_) => {}
            }
        }
        fs::rename(part.join("ledger.sqlite"), self.root.join("ledger.sqlite"))?;
        sync_folder(&self.root)?;
        fs::remove_dir_all(part)
    }

    /// Makes the folder, private to this user where the system can.
    pub(crate) fn make(&self) -> io::Result<()> {
        for folder in [self.root.clone(), self.records(), self.exports()] {
            fs::create_dir_all(&folder)?;
            only_this_user(&folder, 0o700)?;
        }
        Ok(())
    }

    /// The same secret for whoever only reads; none is made.
    pub(crate) fn known_device_secret(&self) -> io::Result<[u8; 32]> {
        self.device_secret(|| Err(io::Error::from(io::ErrorKind::NotFound)))
    }

    /// The secret that ties an observer's key to this device, made by `fresh` when there is none yet.
    ///
    /// It lies in a file that only this user may read; a device with a key store of its own should hold
    /// it there, and DEVELOPERS.md says what is used where.
    pub(crate) fn device_secret(&self, fresh: impl FnOnce() -> io::Result<[u8; 32]>) -> io::Result<[u8; 32]> {
        let path = self.root.join("device.secret");
        match fs::read(&path) {
            Ok(bytes) => bytes.try_into().map_err(|_wrong: Vec<u8>| {
                io::Error::new(
                    io::ErrorKind::InvalidData,
                    "the device's secret is damaged; restore it from a backup",
                )
            }),
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                let secret = fresh()?;
                write_whole(&path, &secret)?;
                only_this_user(&path, 0o600)?;
                Ok(secret)
            }
            Err(error) => Err(error),
        }
    }
}

/// Adds to the end of a file, which is made where it is not there, and answers when it is on the disk.
pub(crate) fn append(path: &Path, bytes: &[u8]) -> io::Result<()> {
    use io::Write;

    let mut file = fs::OpenOptions::new().create(true).append(true).open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Writes a file so that it is either there whole or not at all: a temporary file, synced, renamed,
/// and the folder synced.
pub(crate) fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    use io::Write;

    let folder = path.parent().unwrap_or_else(|| Path::new("."));
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let temporary = folder.join(format!(".{name}.part"));
    let mut file = fs::File::create(&temporary)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    drop(file);
    fs::rename(&temporary, path)?;
    sync_folder(folder)
}

#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    fs::File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
fn sync_folder(_folder: &Path) -> io::Result<()> {
    // A folder cannot be opened for syncing here; the rename itself is journaled by the system.
    Ok(())
}

#[cfg(unix)]
fn only_this_user(path: &Path, mode: u32) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(mode))
}

#[cfg(not(unix))]
fn only_this_user(_path: &Path, _mode: u32) -> io::Result<()> {
    // The user's own profile folder is private already.
    Ok(())
}
