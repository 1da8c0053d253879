//! What is kept as evidence: the entry, the record, canonical JSON, digests, the chain, the logical
//! clock, and the one fold that makes facts of entries.
//!
//! What this crate does *not* do: it reads no clock and no file, draws no random number, knows no key
//! and no database. Signatures are made elsewhere, over the very bytes that [`Entry::to_bytes`] gives;
//! those bytes are stored as they are and never made again from the parsed form.
//!
//! An entry goes through it like this: a [`Draft`] and a [`Place`] make an [`Entry`]; its canonical
//! bytes are signed and stored; [`Entry::read`] takes bytes back and refuses any that are not
//! canonical; [`chain::Checker`] follows a stream; [`Facts::fold`] says what is true, and when it was
//! known.

mod body;
mod canonical;
pub mod chain;
mod digest;
mod entry;
mod error;
mod facts;
mod hlc;
mod record;
pub mod revision;
mod upcast;

pub use body::*;
pub use canonical::{canonical, read_strictly};
pub use digest::{Digest, digest, digest_of, name_digest, procedure_hash};
pub use entry::{ActingAs, Author, Draft, ENTRY_FORMAT, Entry, Place, Seen};
pub use error::EvidenceError;
pub use facts::{
    Attempt, Corrected, Dates, Facts, Held, Index, Membership, PersonFacts, PublishedVersion, PutRight,
    Retired, Stated, Touched, Voided,
};
pub use hlc::Hlc;
pub use record::{Named, Party, RECORD_FORMAT, Record};

/// Names a person; opaque, never derived from their name.
pub type PersonId = String;
/// Names a unit.
pub type UnitId = String;
/// Names a procedure in all its versions.
pub type ProcedureId = String;
/// Names a session; made by the window, so that a repeated request sets only one.
pub type SessionId = String;
/// Names a demonstration; made by the window, so that a repeated request begins only one.
pub type DemonstrationId = String;
