use crate::{
    fault::Fault,
    place::Place,
    setup::{TABLET, WINDOW},
    step::{Steps, cargo},
};

/// Crates that hold the rules and the pictures. Each is compiled for the browser *alone*: within a
/// whole-workspace build another crate's features would lend it a clock or a file system unseen.
const PURE: &[&str] = &["competency", "evidence", "picture", "contract"];

/// Crates that a tablet build needs and that compile for it without an Android SDK.
const ON_TABLETS: &[&str] = &["competency", "contract"];

/// Formatting, lints as errors, and the crates that must compile for other targets.
pub(crate) fn check(place: &Place, steps: &Steps) -> Result<(), Fault> {
    elsewhere(place, steps)?;
    steps.run(
        "lints, as errors",
        cargo(place.root()).args([
            "clippy",
            "--locked",
            "--workspace",
            "--all-targets",
            "--",
            "--deny",
            "warnings",
        ]),
    )
}

/// Formatting, and the crates that must compile for other targets.
pub(crate) fn elsewhere(place: &Place, steps: &Steps) -> Result<(), Fault> {
    let root = place.root();
    steps.run("formatting", cargo(root).args(["fmt", "--all", "--check"]))?;
    for name in PURE {
        steps.run(
            format!("{name} alone, for the browser"),
            cargo(root).args(["check", "--locked", "--package", name, "--target", WINDOW]),
        )?;
    }
    let mut tablet = cargo(root);
    tablet.args(["check", "--locked", "--target", TABLET]);
    for name in ON_TABLETS {
        tablet.args(["--package", name]);
    }
    steps.run("the rules and the contract, for tablets", &mut tablet)
}
