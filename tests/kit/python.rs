use std::{
    io::Write,
    path::PathBuf,
    process::{Command, Stdio},
};

use serde::{Serialize, de::DeserializeOwned};

use crate::place::root;

/// The interpreter of the outside checkers.
///
/// # Panics
///
/// Where the environment is not made yet.
pub fn interpreter() -> PathBuf {
    let python = root().join(".venv/bin/python");
    assert!(python.exists(), "{} is not there: cargo xtask setup", python.display());
    python
}

/// Runs a script that reads one JSON value on stdin and prints one on stdout.
///
/// # Panics
///
/// Where the script fails, with its own words.
pub fn ask<Answer: DeserializeOwned>(script: &str, question: &impl Serialize) -> Answer {
    let mut python = Command::new(interpreter())
        .args(["-c", script])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the outside checker starts");
    let question = serde_json::to_vec(question).expect("the question is JSON");
    let mut stdin = python.stdin.take().expect("stdin is piped");
    // Written beside the reading, so that two full pipes cannot wait for each other.
    let writer = std::thread::spawn(move || stdin.write_all(&question));
    let output = python.wait_with_output().expect("the outside checker ends");
    let written = writer.join().expect("the writer ends");
    assert!(output.status.success(), "outside checker: {}", String::from_utf8_lossy(&output.stderr));
    written.expect("the outside checker reads its question");
    serde_json::from_slice(&output.stdout)
        .unwrap_or_else(|error| panic!("{error} in {}", String::from_utf8_lossy(&output.stdout)))
}
