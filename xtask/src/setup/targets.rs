use std::{path::Path, process::Command};

use crate::{
    fault::Fault,
    step::{Steps, answer},
};

/// What the window's page is compiled for.
pub(crate) const WINDOW: &str = "wasm32-unknown-unknown";

/// What tablets run; the crates without a window are checked for it.
pub(crate) const TABLET: &str = "aarch64-linux-android";

/// Adds the Rust targets that the compiler lacks.
pub(crate) fn targets(steps: &Steps, wanted: &[&str]) -> Result<(), Fault> {
    let missing: Vec<&str> = wanted.iter().copied().filter(|target| !is_there(target)).collect();
    if missing.is_empty() {
        steps.say("Rust targets: all there");
        return Ok(());
    }
    if answer(Command::new("rustup").arg("--version")).is_none() {
        return Err(Fault::Missing {
            what: format!("Rust targets are ({})", missing.join(", ")),
            line: format!("rustup target add {}", missing.join(" ")),
        });
    }
    steps.run(
        format!("adding Rust targets: {}", missing.join(" ")),
        Command::new("rustup").args(["target", "add"]).args(&missing),
    )
}

/// Asks the compiler itself, since not every Rust comes from rustup.
fn is_there(target: &str) -> bool {
    answer(Command::new("rustc").args(["--print", "target-libdir", "--target", target]))
        .is_some_and(|folder| Path::new(folder.trim()).is_dir())
}
