//! Versions that follow one another, and procedures made from others.

use semver::Version;

use super::{Procedure, fresh_id};

/// Whether a version comes after another; never where one of them is no semantic version.
pub fn is_later(version: &str, than: &str) -> bool {
    match (Version::parse(version), Version::parse(than)) {
        (Ok(version), Ok(than)) => version > than,
        (Ok(_) | Err(_), _) => false,
    }
}

/// A procedure of its own, made from another: its id is new, and its versions begin anew.
pub fn copied(procedure: &Procedure, taken: impl Fn(&str) -> bool) -> Procedure {
    let title = format!("{} (our own)", procedure.title);
    let mut used: Vec<String> = Vec::new();
    let id = loop {
        let id = fresh_id(&title, used.iter().map(String::as_str));
        if !taken(&id) {
            break id;
        }
        used.push(id);
    };
    Procedure { id, title, version: "1.0.0".to_owned(), ..procedure.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::{library, read};

    #[test]
    fn versions_are_compared_by_their_numbers() {
        for (version, than, later) in [
            ("1.0.1", "1.0.0", true),
            ("1.10.0", "1.9.0", true),
            ("2.0.0", "10.0.0", false),
            ("1.0.0", "1.0.0", false),
            ("1.0", "0.9.0", false),
            ("next", "1.0.0", false),
        ] {
            assert_eq!(is_later(version, than), later, "{version} after {than}");
        }
    }

    #[test]
    fn a_copy_is_a_procedure_of_its_own() {
        let original = read(library()[0].1).unwrap();
        let first = copied(&original, |_| false);
        assert_ne!(first.id, original.id);
        assert_eq!(first.version, "1.0.0");
        let second = copied(&original, |id| id == first.id);
        assert!(second.id != first.id && second.id != original.id, "{}", second.id);
        assert_eq!(second.steps, original.steps);
    }
}
