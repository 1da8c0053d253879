//! What programs that know nothing of this one say of the same cases.
#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "cases are made here, whole; a slip in making one must stop the test"
)]

mod alignment;
#[expect(dead_code, reason = "the measures make cases of more kinds")]
mod cases;
mod dates;
mod intervals;
mod plan;
