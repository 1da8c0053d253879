use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
};

use crate::trace::Call;

/// What becomes of what was not synced when the power goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unsynced {
    /// It is gone.
    Dropped,
    /// It happened to be written.
    Kept,
    /// Some of it was written, some only in part, in no order; the number decides which.
    Torn(u64),
}

/// A disk that is told every call, and knows what of it would last.
#[derive(Debug, Default)]
pub(crate) struct Disk {
    files: Vec<Content>,
    /// The names as a running program sees them.
    names: BTreeMap<PathBuf, usize>,
    /// The names that last.
    synced: BTreeMap<PathBuf, usize>,
}

#[derive(Debug, Default)]
struct Content {
    synced: Vec<u8>,
    pending: Vec<Change>,
    /// Where the next write without a place of its own goes.
    end: usize,
}

#[derive(Debug, Clone)]
enum Change {
    Write(usize, Vec<u8>),
    Truncate(usize),
}

impl Disk {
    pub(crate) fn take(&mut self, call: &Call) {
        match call {
            Call::Open { path, truncate } => {
                let file = self.file(path);
                if *truncate && let Some(file) = self.files.get_mut(file) {
                    file.pending.push(Change::Truncate(0));
                    file.end = 0;
                }
            }
            Call::Write { path, at, bytes } => {
                let file = self.file(path);
                if let Some(file) = self.files.get_mut(file) {
                    let at = at.unwrap_or(file.end);
                    file.end = file.end.max(at + bytes.len());
                    file.pending.push(Change::Write(at, bytes.clone()));
                }
            }
            Call::Truncate { path, length } => {
                let file = self.file(path);
                if let Some(file) = self.files.get_mut(file) {
                    file.pending.push(Change::Truncate(*length));
                }
            }
            Call::Sync(path) => match self.names.get(path).and_then(|file| self.files.get_mut(*file)) {
                Some(file) => {
                    for change in std::mem::take(&mut file.pending) {
                        change.apply(&mut file.synced);
                    }
                }
                None => self.sync_folder(path),
            },
            Call::Rename(from, to) => {
                if let Some(file) = self.names.remove(from) {
                    self.names.insert(to.clone(), file);
                }
            }
            Call::Unlink(path) => {
                self.names.remove(path);
            }
            Call::Tell => {}
        }
    }

    fn file(&mut self, path: &Path) -> usize {
        if let Some(file) = self.names.get(path) {
            return *file;
        }
        self.files.push(Content::default());
        self.names.insert(path.to_owned(), self.files.len() - 1);
        self.files.len() - 1
    }

    /// The names in a folder last from now on, and those that went are gone.
    fn sync_folder(&mut self, folder: &Path) {
        let within = |path: &PathBuf| path.parent() == Some(folder);
        self.synced.retain(|path, _| !within(path));
        let now = self.names.iter().filter(|(path, _)| within(path));
        self.synced.extend(now.map(|(path, file)| (path.clone(), *file)));
    }

    /// Writes into a folder what would be there after the power went.
    pub(crate) fn leave(&self, folder: &Path, unsynced: Unsynced) {
        let mut chance = Chance(match unsynced {
            Unsynced::Torn(seed) => seed | 1,
            Unsynced::Dropped | Unsynced::Kept => 1,
        });
        let names = match unsynced {
            Unsynced::Dropped => &self.synced,
            Unsynced::Torn(_) if chance.one_in_two() => &self.synced,
            Unsynced::Kept | Unsynced::Torn(_) => &self.names,
        };
        for (path, file) in names {
            // Shared memory is no file that lasts, and the reserve only takes room.
            let passing = path.to_string_lossy().ends_with("-shm") || path.ends_with("reserve");
            let Some(file) = self.files.get(*file).filter(|_| !passing) else { continue };
            let place = folder.join(path);
            fs::create_dir_all(place.parent().expect("a folder")).expect("a folder");
            fs::write(place, file.left(unsynced, &mut chance)).expect("a file");
        }
    }
}

impl Content {
    fn left(&self, unsynced: Unsynced, chance: &mut Chance) -> Vec<u8> {
        let mut bytes = self.synced.clone();
        for change in &self.pending {
            match (unsynced, change) {
                (Unsynced::Dropped, _) => {}
                (Unsynced::Torn(_), _) if chance.one_in_two() => {}
                (Unsynced::Torn(_), Change::Write(at, written)) if chance.one_in_two() => {
                    // A sector is written whole or not at all; 512 bytes is the smallest there is.
                    let half = written.len() / 2 / 512 * 512;
                    Change::Write(*at, written.iter().take(half).copied().collect()).apply(&mut bytes);
                }
                (Unsynced::Kept | Unsynced::Torn(_), change) => change.apply(&mut bytes),
            }
        }
        bytes
    }
}

impl Change {
    fn apply(&self, bytes: &mut Vec<u8>) {
        match self {
            Change::Write(at, written) => {
                let end = at + written.len();
                if bytes.len() < end {
                    bytes.resize(end, 0);
                }
                if let Some(place) = bytes.get_mut(*at..end) {
                    place.copy_from_slice(written);
                }
            }
            Change::Truncate(length) => bytes.resize(*length, 0),
        }
    }
}

/// Xorshift (Marsaglia 2003): repeatable, and good enough to choose what is torn.
struct Chance(u64);

impl Chance {
    fn one_in_two(&mut self) -> bool {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 & 1 == 0
    }
}
