use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use serde_json::Value;

use super::{doorside, on, told};

/// The path printed behind a word.
fn path_of(told: &str, word: &str) -> PathBuf {
    let line = told.lines().find_map(|line| line.strip_prefix(word)).expect("the demo says where it is");
    let path = line.trim().split(" (").next().unwrap_or_default();
    PathBuf::from(path)
}

/// The main job from the command line: one step missed and one out of order, a signed record that
/// verifies, a ledger that is whole, and a second run that changes nothing.
#[test]
fn the_demo_ends_in_a_record_that_stands() {
    let folder = tempfile::tempdir().unwrap();
    let first = told(&on(folder.path(), &["demo"]));
    assert!(first.contains("came too early"), "one step out of order: {first}");
    assert!(first.contains("was not done"), "one step missed: {first}");
    assert!(first.contains("not yet competent"), "{first}");
    let (record, trust) = (path_of(&first, "Signed record:"), path_of(&first, "Authority:"));
    let (record, trust) = (record.to_str().unwrap(), trust.to_str().unwrap());
    let sealed = fs::read(record).unwrap();

    let verified = doorside(["record", "verify", record, "--trust", trust]);
    assert_eq!(verified.status.code(), Some(0), "{}", told(&verified));
    let flipped = folder.path().join("flipped.pdf");
    let mut bytes = sealed.clone();
    let middle = bytes.len() / 3;
    bytes[middle] ^= 1;
    fs::write(&flipped, bytes).unwrap();
    let found = doorside(["record", "verify", flipped.to_str().unwrap(), "--trust", trust]);
    assert_eq!(found.status.code(), Some(1), "one flipped byte is found: {}", told(&found));

    let whole = on(folder.path(), &["ledger", "check"]);
    assert_eq!(whole.status.code(), Some(0), "{}", told(&whole));
    let roster = told(&on(folder.path(), &["roster", "--format", "json"]));

    answers_about_the_last_days_there_are(folder.path());

    let second = told(&on(folder.path(), &["demo"]));
    assert!(second.contains("already"), "{second}");
    assert_eq!(fs::read(record).unwrap(), sealed, "the record is the same file");
    assert_eq!(
        told(&on(folder.path(), &["roster", "--format", "json"])),
        roster,
        "and the roster says the same"
    );
    assert_eq!(told(&on(folder.path(), &["ledger", "check"])), told(&whole), "and no entry was added");
}

/// However far ahead it is asked about, and on the calendar's first and last day: an answer, or one sentence.
fn answers_about_the_last_days_there_are(data: &Path) {
    for asked in [
        &["reminders", "--within", "4000000000"][..],
        &["reminders", "--as-of", "+262142-12-31"],
        &["reminders", "--as-of=-262143-01-01", "--format", "csv"],
        &["roster", "--as-of", "+262142-12-31", "--format", "pdf"],
        &["roster", "--as-of=-262143-01-01", "--format", "csv"],
        &["history", "1008", "--as-of", "+262142-12-31"],
        &["history", "1008", "--known-at", "+262142-12-31", "--format", "csv"],
    ] {
        let output = on(data, asked);
        let said = String::from_utf8_lossy(&output.stderr);
        let answered = output.status.code() == Some(0) && !output.stdout.is_empty();
        let refused = output.status.code() == Some(2) && said.trim_end().lines().count() == 1;
        assert!(answered || refused, "{asked:?} ends with {:?}: {said}", output.status);
    }
}

/// `score --json` prints one object of the documented shape, and the same without `--json` in words.
#[test]
fn a_score_is_one_object_or_the_same_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("log.json");
    let text = r#"{ "mode": "assessed", "observations": [ { "at_ms": 0, "act": "remove-gown" },
        { "at_ms": 9000, "act": "remove-gloves" }, { "at_ms": 20000, "until_ms": 42000, "act": "hand-rub" } ] }"#;
    fs::write(&log, text).unwrap();
    let procedure = suite::place::root().join("procedures/standard-removal-example-1.json");
    let arguments = ["score", "--procedure", procedure.to_str().unwrap(), "--log", log.to_str().unwrap()];
    let object: Value =
        serde_json::from_str(&told(&doorside(arguments.into_iter().chain(["--json"])))).unwrap();
    let names: Vec<&str> = object.as_object().unwrap().keys().map(String::as_str).collect();
    for name in
        ["alignment_cost", "findings", "outcome", "score_permille", "steps", "steps_counted", "steps_well"]
    {
        assert!(names.contains(&name), "{name} is missing: {names:?}");
    }
    let words = told(&doorside(arguments));
    assert!(words.contains("not yet competent"), "{words}");
    for finding in object["findings"].as_array().unwrap() {
        let said = [finding["text"].as_str(), finding["step"].as_str(), finding["severity"].as_str()];
        for part in said.into_iter().flatten() {
            assert!(words.contains(part), "{part} of {finding} in {words}");
        }
        if let Some(at) = finding["observation"].as_u64() {
            assert!(words.contains(&format!("observation {at}")), "{finding} in {words}");
        }
        for pair in finding["because"].as_array().unwrap() {
            let [before, after] = [0, 1].map(|place| pair[place].as_str().unwrap());
            assert!(words.contains(&format!("{before} belongs before {after}")), "{finding} in {words}");
        }
    }
    for step in object["steps"].as_array().unwrap() {
        let id = step["id"].as_str().unwrap();
        let line = words.lines().find(|line| line.split_whitespace().next() == Some(id));
        let line = line.unwrap_or_else(|| panic!("{id} is missing: {words}"));
        let at = step["observation"].as_u64().map(|at| format!("observation {at}"));
        assert!(at.is_none_or(|at| line.ends_with(&at)), "{step} is told as {line}");
    }
}

/// The log may come through a pipe.
#[test]
fn a_log_is_read_from_standard_input_too() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("log.json");
    fs::write(&log, r#"{ "mode": "assessed", "observations": [ { "at_ms": 0, "act": "hand-rub" } ] }"#)
        .unwrap();
    let procedure = suite::place::root().join("procedures/hand-rub.json");
    let procedure = procedure.to_str().unwrap();
    let piped = Command::new(suite::place::program())
        .args(["score", "--procedure", procedure, "--log", "-", "--json"])
        .stdin(fs::File::open(&log).unwrap())
        .output()
        .unwrap();
    let named = doorside(["score", "--procedure", procedure, "--log", log.to_str().unwrap(), "--json"]);
    assert!(piped.status.success() && !piped.stdout.is_empty());
    assert_eq!(piped.stdout, named.stdout);
}
