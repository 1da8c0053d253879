//! The whole job in the real window: the program as built, its own page, its own data folder.
#![expect(
    clippy::expect_used,
    reason = "a test that cannot go on says so and fails; there is nobody to hand an error to"
)]

mod accessibility;
mod door;
mod evidence;
mod journey;
mod key_store;
mod keyboard;
mod manager;
mod paced;
mod paper;
mod reach;
mod records;
mod survival;
mod team;
mod workbench;
