use crate::{
    fault::Fault,
    place::Place,
    step::{Steps, cargo},
};

/// Runs the measures in `tests/benches`; each prints ratios within its own run.
pub(crate) fn bench(place: &Place, steps: &Steps) -> Result<(), Fault> {
    steps.run(
        "building and taking the measures; let the machine rest meanwhile",
        cargo(place.root()).args(["bench", "--locked", "--package", "suite"]),
    )?;
    let target = place.root().join("target");
    let picture = target.join("growth.svg");
    // A workspace of its own, since nothing else needs what it compares with.
    steps.run(
        format!(
            "scoring beside the crate process_mining; how its time grows is drawn in {}",
            picture.display()
        ),
        cargo(place.root())
            .args(["run", "--locked", "--release", "--manifest-path", "tests/benches/peer/Cargo.toml"])
            .arg("--target-dir")
            .arg(target.join("peer"))
            .arg("--")
            .arg(picture),
    )
}
