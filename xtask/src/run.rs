use std::{env, process::Command};

use crate::{
    bundle,
    fault::Fault,
    place::Place,
    setup::{self, Need},
    step::{Steps, cargo},
};

/// From a fresh clone to the open window: set up, build, play one demonstration, show it.
pub(crate) fn run(place: &Place, steps: &Steps) -> Result<(), Fault> {
    setup::setup(place, steps, Need::Build)?;
    bundle::bundle(place, steps)?;
    steps.run(
        "building the program",
        cargo(place.root()).args(["build", "--locked", "--package", "doorside"]),
    )?;
    let (program, demo) = (place.program(), place.demo());
    steps.run(
        format!("playing one demonstration in the demo facility, {}", demo.display()),
        Command::new(&program).arg("demo").arg("--data").arg(&demo),
    )?;
    if ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| env::var_os(name).is_some_and(|v| !v.is_empty())) {
        steps.run(
            "opening the window; close it to come back here",
            Command::new(&program).arg("--data").arg(&demo),
        )
    } else {
        steps.say(format!(
            "there is no display here, so no window opens; on a screen: {} --data {}",
            program.display(),
            demo.display()
        ));
        Ok(())
    }
}
