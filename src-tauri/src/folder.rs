//! The data folder: where everything of one facility on one device lies.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

/// Where things lie in a data folder.
#[derive(Debug, Clone)]
pub(crate) struct Folder {
    root: PathBuf,
    key_store: bool,
}

impl Folder {
    /// The folder, which need not exist yet, with everything in it.
    pub(crate) fn at(root: impl Into<PathBuf>) -> Self {
        Folder { root: root.into(), key_store: false }
    }

    /// The same, with its device's secret in the system's key store, where there is one.
    pub(crate) fn with_key_store(self) -> Self {
        Folder { key_store: true, ..self }
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

    /// The device's secret, where no key store holds it.
    pub(crate) fn device_secret(&self) -> PathBuf {
        self.root.join("device.secret")
    }

    /// The name under which the system's key store holds the device's secret, where it does.
    pub(crate) fn device_key_name(&self) -> PathBuf {
        self.root.join("device.key-store")
    }

    /// Whether the system's key store may take the secret of this folder's device.
    pub(crate) fn may_use_key_store(&self) -> bool {
        self.key_store
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
pub(crate) fn only_this_user(path: &Path, mode: u32) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(mode))
}

#[cfg(not(unix))]
pub(crate) fn only_this_user(_path: &Path, _mode: u32) -> io::Result<()> {
    // The user's own profile folder is private already.
    Ok(())
}
