//! The command line as a script sees it: the program as built, its exit status, its one sentence.
#![expect(clippy::expect_used, reason = "helpers of tests fail loudly")]

mod bad_input;
mod demo;
mod keeping;

use std::{
    path::Path,
    process::{Command, Output},
};

use suite::place;

/// Runs the program with these arguments.
fn doorside<I: AsRef<std::ffi::OsStr>>(arguments: impl IntoIterator<Item = I>) -> Output {
    Command::new(place::program()).args(arguments).output().expect("the program starts")
}

/// Runs it on a data folder.
fn on(data: &Path, arguments: &[&str]) -> Output {
    let data = data.to_str().expect("a path that is text");
    doorside(arguments.iter().copied().chain(["--data", data]))
}

/// What it printed.
fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}
