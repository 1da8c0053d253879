use crate::{
    bundle, check,
    fault::Fault,
    place::Place,
    setup::{self, Need},
    step::{Steps, linting},
};

/// Everything that CI runs.
pub(crate) fn test(place: &Place, steps: &Steps) -> Result<(), Fault> {
    setup::setup(place, steps, Need::Test)?;
    check::elsewhere(place, steps)?;
    bundle::bundle(place, steps)?;
    // One build of everything, so that the program that the window tests start is there before them
    // and is built with the very features the tests are built with: nothing is compiled twice. The
    // linter compiles it, since checking everything first takes several minutes more from nothing.
    // The program comes first: the page is packed into a file that the library and its own tests share,
    // and whichever comes second takes what the first has written so far. One test is built with it,
    // which asks for the features of all of them.
    steps.run(
        "building the program, lints as errors",
        linting(place.root()).args([
            "build",
            "--locked",
            "--workspace",
            "--lib",
            "--bins",
            "--test",
            "architecture",
        ]),
    )?;
    steps.run(
        "building every test, lints as errors",
        linting(place.root()).args(["build", "--locked", "--workspace", "--all-targets"]),
    )?;
    steps.run(
        "every test",
        linting(place.root())
            .args(["test", "--locked", "--workspace", "--no-fail-fast"])
            .env("DOORSIDE_PROGRAM", place.program()),
    )
}
