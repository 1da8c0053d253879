//! The rules of the trade, once: what a procedure is, what a demonstration of it is worth, what the
//! observer is warned of while watching, and how long a validation holds.
//!
//! What this crate does *not* do: it reads no clock, no file and no environment, draws no random
//! number, knows no person by name, no database, no screen and no paper. Everything it needs comes in
//! as an argument, so the same input gives the same bytes on every platform, and it compiles to
//! `wasm32-unknown-unknown` alone.

mod align;
mod bits;
pub mod clearance;
pub mod flaw;
pub mod journal;
pub mod live;
pub mod log;
pub mod model;
pub mod plan;
pub mod procedure;
pub mod report;
pub mod responses;
pub mod roles;
pub mod score;
pub mod sentence;
pub mod share;
pub mod unit;
pub mod validity;

/// Version of the scoring rules. A record names the rules it was scored by, so that a later program
/// can recompute the score, or say that it cannot.
pub const RULES_VERSION: u32 = 4;

#[cfg(test)]
mod fuzz;
#[cfg(test)]
mod testing;
