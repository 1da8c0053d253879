//! The procedure model: a versioned partial order of steps, as it stands in a procedure file.
//!
//! [`read`] reads a file, or tells every flaw of its form and of its sense at once, each with its place.
//! [`check`] is the sense alone, for a procedure that is being edited. [`odd`] tells what is legal but
//! makes one wonder.

mod applies;
mod check;
mod compare;
mod cycles;
mod edit;
mod facility;
#[cfg(feature = "schema")]
mod generated;
mod library;
mod odd;
mod read;
mod texts;
mod types;
mod versions;

pub use applies::Applies;
pub use check::check;
pub use compare::{Asks, Change, Comparison, Proposal, Reworded, Subject, Turn, compare};
pub use edit::{Edit, Head, Precedes, Refusal, edit, fresh_id, kept_in_order, precedes};
pub use facility::{ContactTime, Equipment, FacilityValues, Product};
#[cfg(feature = "schema")]
pub use generated::generated_schema;
pub use library::{library, schema};
pub use odd::{LONGEST_LABEL, odd};
pub use read::read;
pub use texts::{in_names, texts};
pub use types::*;
pub use versions::{copied, is_later};

#[cfg(test)]
mod tests;
