use std::{fs, path::Path};

use suite::place;
use tempfile::TempDir;

use super::{doorside, on};

/// Exit status 2, nothing on standard output, and a sentence that says what, where and what to do.
#[track_caller]
fn refused(arguments: &[&str], expected: &[&str]) {
    let output = doorside(arguments);
    let sentence = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}: {sentence}");
    assert_eq!(sentence.trim_end().lines().count(), 1, "{arguments:?} is told in one line: {sentence}");
    assert!(output.stdout.is_empty(), "{arguments:?} printed an answer all the same");
    for part in expected {
        assert!(sentence.contains(part), "{arguments:?} should say {part:?}: {sentence}");
    }
}

fn kept(folder: &TempDir, name: &str, text: &str) -> String {
    let path = folder.path().join(name);
    fs::write(&path, text).expect("the file is written");
    path.to_str().expect("a path that is text").to_owned()
}

fn library(name: &str) -> String {
    place::root().join("procedures").join(name).to_str().expect("a path that is text").to_owned()
}

#[test]
fn files_that_are_not_there_or_not_what_they_should_be() {
    let folder = tempfile::tempdir().unwrap();
    let procedure = library("standard-donning.json");
    let log = kept(&folder, "log.json", r#"{ "mode": "assessed", "observations": [] }"#);
    let prose = kept(&folder, "prose.json", "Gloves first.");
    let wrong = kept(&folder, "wrong.json", "{ \"mode\": \"assessed\",\n  \"observations\": 7 }");
    let unsorted = kept(
        &folder,
        "unsorted.json",
        r#"{ "mode": "assessed", "observations": [ { "at_ms": 9, "act": "a" }, { "at_ms": 3, "act": "b" } ] }"#,
    );

    refused(&["score", "--procedure", "nowhere.json", "--log", &log], &["nowhere.json", "procedure"]);
    refused(&["score", "--procedure", &procedure, "--log", "nowhere.json"], &["nowhere.json", "log"]);
    refused(&["score", "--procedure", &prose, "--log", &log], &["prose.json:1:1"]);
    refused(&["score", "--procedure", &procedure, "--log", &wrong], &["wrong.json:2:19"]);
    refused(&["score", "--procedure", &procedure, "--log", &unsorted], &["unsorted.json:1:"]);
    refused(&["record", "verify", "nowhere.pdf"], &["nowhere.pdf", "record"]);
    refused(&["record", "verify", &log], &["log.json", "is no PDF"]);
    let pdf = kept(&folder, "plain.pdf", "%PDF-1.7\n");
    refused(&["record", "verify", &pdf, "--trust", &prose], &["prose.json", "certificate"]);
    refused(&["procedure", "check", "nowhere.json"], &["nowhere.json"]);
    refused(&["roster", "--as-of", "the 3rd of May"], &["--as-of", "see doorside --help"]);
    refused(&["score", "--procedure", &procedure], &["--log", "see doorside --help"]);
}

#[test]
fn a_check_that_fails_is_exit_status_one() {
    let folder = tempfile::tempdir().unwrap();
    let flawed =
        fs::read_to_string(library("standard-donning.json")).unwrap().replace("\"gown-on\"", "\"gown-onn\"");
    for (arguments, says) in [
        (
            ["procedure", "check", &kept(&folder, "flawed.json", &flawed.replacen("gown-onn", "gown-on", 1))],
            "flawed.json:",
        ),
        (["record", "verify", &kept(&folder, "plain.pdf", "%PDF-1.7\n")], "no signature"),
    ] {
        let output = doorside(arguments);
        let told = super::told(&output);
        assert_eq!(output.status.code(), Some(1), "{arguments:?}: {told}");
        assert!(told.contains(says), "{arguments:?} should say {says:?}: {told}");
    }
}

/// Whatever is handed in as a procedure: a sentence with its place, and the file stays as it was.
#[test]
fn every_bad_procedure_file_is_told_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    for (name, text, says) in suite::bad::procedures() {
        let path = kept(&folder, name, &text);
        let output = doorside(["procedure", "check", &path]);
        let told = super::told(&output);
        assert_eq!(output.status.code(), Some(1), "{name}: {told}");
        for part in says {
            assert!(told.contains(part), "{name} should say {part:?}: {told}");
        }
        assert!(told.contains(&format!("{name}:")), "{name} is told with its place: {told}");
        assert!(fs::read_to_string(&path).unwrap() == text, "{name} is as it was");
    }
}

/// What is odd is told with its place and is no failure; a file is as it was after any check.
#[test]
fn what_is_odd_is_told_and_nothing_changes() {
    let folder = tempfile::tempdir().unwrap();
    let sound = fs::read_to_string(library("standard-donning.json")).unwrap();
    let odd = sound.replace("[\"standard\", \"contact\", \"droplet\", \"airborne\"]", "[]");
    let deep = "[".repeat(100_000);
    for (name, text, status, says) in [
        ("sound.json", &sound, 0, "no flaw."),
        ("odd.json", &odd, 0, "Odd: It belongs to no precautions"),
        ("deep.json", &deep, 1, "deep.json:1:128"),
    ] {
        let path = kept(&folder, name, text);
        let output = doorside(["procedure", "check", &path]);
        let told = super::told(&output);
        assert_eq!(output.status.code(), Some(status), "{name}: {told}");
        assert!(told.contains(says), "{name} should say {says:?}: {told}");
        assert_eq!(&fs::read_to_string(&path).unwrap(), text, "{name} is as it was");
    }
}

/// A file in another encoding is told with the line and the column from which on it cannot be read.
#[test]
fn a_file_in_another_encoding_is_told_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let sound = fs::read_to_string(library("standard-donning.json")).unwrap();
    let mut bytes = sound.into_bytes();
    let title = "  \"title\": \"".len();
    let line = bytes.split(|byte| *byte == b'\n').take(4).map(|line| line.len() + 1).sum::<usize>();
    // ISO 8859-1 writes the letter é so.
    bytes[line + title] = 0xe9;
    let path = folder.path().join("latin.json");
    fs::write(&path, bytes).unwrap();
    refused(&["procedure", "check", path.to_str().unwrap()], &["latin.json", "line 5, column 13"]);
}

/// A data folder that is not there, holds no ledger, or a ledger that is none.
#[test]
fn data_folders_that_cannot_be_read() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("broken")).unwrap();
    fs::write(
        folder.path().join("broken/ledger.sqlite"),
        "no database at all, but long enough to be read as one",
    )
    .unwrap();
    for (data, says) in [("absent", "no ledger"), ("broken", "ledger")] {
        let output = on(&folder.path().join(data), &["roster"]);
        let sentence = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{data}: {sentence}");
        assert!(sentence.contains(says), "{data} should say {says:?}: {sentence}");
        assert_eq!(sentence.trim_end().lines().count(), 1, "one sentence: {sentence}");
    }
    assert!(!Path::new(&folder.path().join("absent")).exists(), "looking makes nothing");
}

#[test]
fn a_person_or_unit_that_is_not_there() {
    let folder = tempfile::tempdir().unwrap();
    assert!(on(folder.path(), &["demo"]).status.success());
    for (arguments, says) in
        [(["history", "no such number"], "staff number"), (["roster", "--unit=Moon"], "Moon")]
    {
        let output = on(folder.path(), &arguments);
        let sentence = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {sentence}");
        assert!(sentence.contains(says), "{arguments:?} should say {says:?}: {sentence}");
    }
}
