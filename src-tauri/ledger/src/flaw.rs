use evidence::{PersonId, chain::Break};
use thiserror::Error;
use uuid::Uuid;

/// One thing that is wrong with a ledger, and where.
#[derive(Debug, Error)]
pub enum Flaw {
    /// The file itself is damaged.
    #[error("the file is damaged: {0}")]
    File(String),
    /// A table or a trigger is not one that this program makes.
    #[error("the file’s {which} {what}")]
    Schema {
        /// Its kind and name.
        which: String,
        /// What is wrong with it.
        what: &'static str,
    },
    /// The bytes in a row are not an entry.
    #[error("entry {seq} of stream {stream} cannot be read: {because}")]
    Unreadable {
        /// The stream, as it stands in the row.
        stream: String,
        /// The number, as it stands in the row.
        seq: i64,
        /// Why.
        because: String,
    },
    /// A column does not say what the entry's bytes say.
    #[error("entry {seq} of stream {stream} is not as it was written: its {column} does not match its bytes")]
    Column {
        /// The stream, as it stands in the row.
        stream: String,
        /// The number, as it stands in the row.
        seq: i64,
        /// The column.
        column: &'static str,
    },
    /// A chain breaks.
    #[error(transparent)]
    Chain(#[from] Break),
    /// The stream ends before an entry that is known from elsewhere.
    #[error("stream {stream} lacks entry {seq}, which is known from {from}")]
    CutOff {
        /// The stream.
        stream: Uuid,
        /// The entry that is known.
        seq: u64,
        /// From where it is known.
        from: String,
    },
    /// Another entry stands where one is known from elsewhere.
    #[error("entry {seq} of stream {stream} is not the one known from {from}")]
    NotAsKnown {
        /// The stream.
        stream: Uuid,
        /// The entry.
        seq: u64,
        /// From where it is known.
        from: String,
    },
    /// An entry belongs to another facility.
    #[error("entry {seq} of stream {stream} belongs to another facility")]
    OtherFacility {
        /// The stream.
        stream: Uuid,
        /// The entry.
        seq: u64,
    },
    /// The signatures of an entry do not hold.
    #[error("entry {seq} of stream {stream}: {because}")]
    Signature {
        /// The stream.
        stream: Uuid,
        /// The entry.
        seq: u64,
        /// What the caller's check says.
        because: String,
    },
    /// The name beside a person's entry is not the one that was entered, or is gone without being erased.
    #[error("the name kept for person {0} is not the one their entry was written with")]
    Name(PersonId),
    /// A record is not the one its entry seals.
    #[error("the record of demonstration {demonstration} is not as it was sealed: {what}")]
    Record {
        /// The demonstration.
        demonstration: String,
        /// What does not match.
        what: &'static str,
    },
}

impl Flaw {
    /// Whether others may come of it alone, as where an entry cannot be read that names a certificate: those are told
    /// first.
    pub(crate) fn comes_first(&self) -> bool {
        match self {
            Flaw::File(_) | Flaw::Schema { .. } | Flaw::Unreadable { .. } | Flaw::Column { .. } => true,
            Flaw::Chain(_)
            | Flaw::CutOff { .. }
            | Flaw::NotAsKnown { .. }
            | Flaw::OtherFacility { .. }
            | Flaw::Signature { .. }
            | Flaw::Name(_)
            | Flaw::Record { .. } => false,
        }
    }
}
