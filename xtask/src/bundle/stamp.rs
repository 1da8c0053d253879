use std::{
    fs,
    hash::{DefaultHasher, Hash, Hasher},
    path::{Path, PathBuf},
};

use crate::fault::Fault;

/// Names the content of a page: every byte that goes into it and where it goes.
///
/// The standard hasher may differ between Rust releases; then the page is laid out once more, which
/// takes seconds. Nothing but that depends on it.
pub(super) fn of(code: &Path, style: &str, copied: &[(PathBuf, PathBuf)]) -> Result<String, Fault> {
    let mut hasher = DefaultHasher::new();
    read(code)?.hash(&mut hasher);
    style.hash(&mut hasher);
    for (from, name) in copied {
        name.hash(&mut hasher);
        read(from)?.hash(&mut hasher);
    }
    Ok(format!("{:016x}", hasher.finish()))
}

fn read(path: &Path) -> Result<Vec<u8>, Fault> {
    fs::read(path).map_err(|source| Fault::File { doing: "read", path: path.to_path_buf(), source })
}
