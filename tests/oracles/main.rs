//! What programs that know nothing of this one say of the same cases.

mod alignment;
mod cases;
mod dates;
