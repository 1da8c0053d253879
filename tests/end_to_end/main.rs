//! The whole job in the real window: the program as built, its own page, its own data folder.
#![expect(
    clippy::expect_used,
    reason = "a test that cannot go on says so and fails; there is nobody to hand an error to"
)]

mod accessibility;
mod journey;
mod manager;
mod records;
mod survival;
mod workbench;
