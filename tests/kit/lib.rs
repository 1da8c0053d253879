//! What the project's tests share: where things are, the outside checkers, and the real window.
//!
//! Nothing here is part of the program, and nothing here knows a rule of the trade.
#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on says so and fails; there is nobody to hand an error to"
)]

mod axe;
pub mod bad;
mod disk;
pub mod journal;
mod keys;
mod notices;
pub mod place;
pub mod python;
mod reach;
mod screen;
pub mod story;
mod window;

pub use axe::Violation;
pub use disk::SmallDisk;
pub use keys::Keys;
pub use notices::{Notice, Notices};
pub use screen::Screen;
pub use window::Window;
