//! The procedure model: a versioned partial order of steps, as it stands in a procedure file.

mod types;

pub use types::*;
