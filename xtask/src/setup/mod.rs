//! Installs what is missing and leaves alone what is there.

mod debian;
mod python;
mod targets;

use crate::{fault::Fault, place::Place, step::Steps};

pub(crate) use targets::{TABLET, WINDOW, targets};

/// How much has to be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Need {
    /// To build and open the program.
    Build,
    /// To run every test as well.
    Test,
}

/// Debian packages, Rust targets and, for tests, the outside checkers.
pub(crate) fn setup(place: &Place, steps: &Steps, need: Need) -> Result<(), Fault> {
    debian::packages(steps, need)?;
    targets(steps, &[WINDOW, TABLET])?;
    match need {
        Need::Build => Ok(()),
        Need::Test => python::environment(place, steps),
    }
}
