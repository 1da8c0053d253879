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
    )
}
