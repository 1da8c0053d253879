//! Following one stream, entry by entry, and saying where it breaks.

use thiserror::Error;
use uuid::Uuid;

use crate::{Digest, Entry, EvidenceError, Hlc, digest};

/// Where and how a chain breaks.
#[derive(Debug, Error)]
pub enum Break {
    /// The bytes are not an entry.
    #[error("entry {seq} of stream {stream} cannot be read")]
    Unreadable {
        /// The stream.
        stream: Uuid,
        /// The number it should have.
        seq: u64,
        /// Why.
        #[source]
        source: EvidenceError,
    },
    /// The entry names another stream.
    #[error("entry {seq} of stream {stream} says that it belongs to stream {found}")]
    OtherStream {
        /// The stream.
        stream: Uuid,
        /// The number it should have.
        seq: u64,
        /// The stream it names.
        found: Uuid,
    },
    /// The entry has another number than its turn.
    #[error("in stream {stream}, entry {found} stands where entry {seq} should be")]
    OutOfTurn {
        /// The stream.
        stream: Uuid,
        /// The number that was due.
        seq: u64,
        /// The number found.
        found: u64,
    },
    /// The entry before it is not the one it was chained to.
    #[error("entry {seq} of stream {stream} was chained to another entry than the one before it")]
    OtherPredecessor {
        /// The stream.
        stream: Uuid,
        /// The entry.
        seq: u64,
    },
    /// Its logical clock does not move on.
    #[error("the clock of entry {seq} of stream {stream} does not move on")]
    ClockBack {
        /// The stream.
        stream: Uuid,
        /// The entry.
        seq: u64,
    },
    /// The stream ends before an entry that is known from elsewhere.
    #[error("stream {stream} ends before entry {seq}, which is known from elsewhere")]
    CutOff {
        /// The stream.
        stream: Uuid,
        /// The entry that is known.
        seq: u64,
    },
    /// Another entry stands where one is known from elsewhere.
    #[error("entry {seq} of stream {stream} is not the one known from elsewhere")]
    NotAsKnown {
        /// The stream.
        stream: Uuid,
        /// The entry.
        seq: u64,
    },
}

/// Follows one stream from its first entry.
#[derive(Debug)]
pub struct Checker {
    stream: Uuid,
    next: u64,
    last: Option<(Digest, Hlc)>,
}

impl Checker {
    /// Before the first entry of a stream.
    pub fn new(stream: Uuid) -> Self {
        Checker { stream, next: 0, last: None }
    }

    /// Takes the bytes of the next entry and gives it back read.
    ///
    /// # Errors
    /// Where the chain breaks at this entry.
    pub fn take(&mut self, bytes: &[u8]) -> Result<Entry, Break> {
        let (stream, seq) = (self.stream, self.next);
        let entry = Entry::read(bytes).map_err(|source| Break::Unreadable { stream, seq, source })?;
        if entry.place.stream != stream {
            return Err(Break::OtherStream { stream, seq, found: entry.place.stream });
        }
        if entry.place.seq != seq {
            return Err(Break::OutOfTurn { stream, seq, found: entry.place.seq });
        }
        if entry.place.prev != self.last.map(|(digest, _)| digest) {
            return Err(Break::OtherPredecessor { stream, seq });
        }
        if self.last.is_some_and(|(_, hlc)| entry.hlc <= hlc) {
            return Err(Break::ClockBack { stream, seq });
        }
        self.last = Some((digest(bytes), entry.hlc));
        self.next += 1;
        Ok(entry)
    }

    /// The last entry taken, as number and digest.
    pub fn head(&self) -> Option<(u64, Digest)> {
        self.last.map(|(digest, _)| (self.next - 1, digest))
    }
}
