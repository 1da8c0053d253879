//! Reading files that a person names, with a sentence for whatever is wrong with them.

use std::{
    fs,
    io::{self, Read},
    path::Path,
};

use super::Complaint;

/// A text file, or standard input for `-`. `what` names it in the sentence, such as `procedure`.
pub(super) fn text(path: &Path, what: &str) -> Result<String, Complaint> {
    String::from_utf8(bytes(path, what)?).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let read = String::from_utf8_lossy(error.as_bytes().get(..good).unwrap_or_default());
        let column =
            read.lines().last().filter(|_| !read.ends_with('\n')).map_or(0, |line| line.chars().count());
        Complaint::new(format!(
            "The {what} {} is not UTF-8 text from line {}, column {} on; save it as UTF-8 and try again.",
            path.display(),
            read.matches('\n').count() + 1,
            column + 1
        ))
    })
}

/// The bytes of a file, or of standard input for `-`.
pub(super) fn bytes(path: &Path, what: &str) -> Result<Vec<u8>, Complaint> {
    let read = if path == Path::new("-") {
        let mut bytes = Vec::new();
        io::stdin().lock().read_to_end(&mut bytes).map(|_count| bytes)
    } else {
        fs::read(path)
    };
    read.map_err(|error| {
        let path = path.display();
        Complaint::new(if error.kind() == io::ErrorKind::NotFound {
            format!("There is no file {path}; check the path of the {what}.")
        } else if error.kind() == io::ErrorKind::PermissionDenied {
            format!("The {what} {path} may not be read by this user; change its permissions.")
        } else if error.kind() == io::ErrorKind::IsADirectory {
            format!("{path} is a folder; give the path of a {what} file.")
        } else {
            format!("The {what} {path} could not be read: {error}.")
        })
    })
}
