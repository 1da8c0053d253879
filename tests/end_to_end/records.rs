//! The signed file as other people's programs see it.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

/// Every PDF below a folder.
pub(crate) fn below(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("the data folder can be listed").filter_map(Result::ok) {
        let path = entry.path();
        if path.is_dir() {
            found.extend(below(&path));
        } else if path.extension().is_some_and(|extension| extension == "pdf") {
            found.push(path);
        }
    }
    found
}

/// What poppler's `pdfsig(1)` says of the signatures in a file.
pub(crate) fn signatures(pdf: &Path) -> String {
    // The facility's authority is in nobody's store, so the chain is not asked about (`-nocert`).
    let told = Command::new("pdfsig").arg("-nocert").arg(pdf).output().expect("pdfsig starts");
    String::from_utf8_lossy(&told.stdout).into_owned()
}

/// The words on its pages, by poppler's `pdftotext(1)`.
pub(crate) fn words(pdf: &Path) -> String {
    let told = Command::new("pdftotext").arg(pdf).arg("-").output().expect("pdftotext starts");
    assert!(told.status.success(), "pdftotext reads the record: {}", String::from_utf8_lossy(&told.stderr));
    String::from_utf8_lossy(&told.stdout).split_whitespace().collect::<Vec<_>>().join(" ")
}
