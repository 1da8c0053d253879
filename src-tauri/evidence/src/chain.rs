//! Following one stream, entry by entry, and saying where it breaks.

use thiserror::Error;
use uuid::Uuid;

use crate::{Digest, Entry, Hlc};

/// Where and how a chain breaks.
#[derive(Debug, Error)]
pub enum Break {
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
}

/// Follows one stream from its first entry, and goes on after a break, so that every break is found.
#[derive(Debug)]
pub struct Checker {
    stream: Uuid,
    next: u64,
    /// The entry before; `None` before the first, and after one that could not be read.
    last: Option<(Digest, Hlc)>,
    /// Whether `last` is known.
    certain: bool,
}

impl Checker {
    /// Before the first entry of a stream.
    pub fn new(stream: Uuid) -> Self {
        Checker { stream, next: 0, last: None, certain: true }
    }

    /// Takes the next entry, with the digest of its bytes.
    ///
    /// # Errors
    /// Where and how the chain breaks at this entry. The next one is held to this one all the same.
    pub fn follow(&mut self, entry: &Entry, digest: Digest) -> Result<(), Break> {
        let (stream, seq) = (self.stream, self.next);
        let found = entry.place;
        let broken = if found.stream != stream {
            Err(Break::OtherStream { stream, seq, found: found.stream })
        } else if found.seq != seq {
            Err(Break::OutOfTurn { stream, seq, found: found.seq })
        } else if self.certain && found.prev != self.last.map(|(digest, _)| digest) {
            Err(Break::OtherPredecessor { stream, seq })
        } else if self.last.is_some_and(|(_, hlc)| entry.hlc <= hlc) {
            Err(Break::ClockBack { stream, seq })
        } else {
            Ok(())
        };
        self.last = Some((digest, entry.hlc));
        self.certain = true;
        // After a gap the chain goes on from the entry that was found.
        self.next = if found.stream == stream { found.seq.saturating_add(1) } else { seq + 1 };
        broken
    }

    /// Passes over an entry that cannot be read; what follows it cannot be held to it.
    pub fn skip(&mut self) {
        self.last = None;
        self.certain = false;
        self.next += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Body, UnitAdded, digest, entry::tests::entry};

    /// A stream of five entries with their digests.
    fn stream() -> Vec<(Entry, Digest)> {
        let mut entries: Vec<(Entry, Digest)> = Vec::new();
        for n in 0..5_u64 {
            let body = UnitAdded { unit: format!("u-{n}"), name: "Ward".to_owned() };
            let mut entry = entry(Body::from(body));
            entry.place.seq = n;
            entry.place.prev = entries.last().map(|(_, digest)| *digest);
            entry.hlc = Hlc::next(entries.last().map(|(entry, _)| entry.hlc), 0);
            let bytes = entry.to_bytes().unwrap();
            entries.push((entry, digest(&bytes)));
        }
        entries
    }

    #[track_caller]
    fn check(change: impl FnOnce(&mut Vec<(Entry, Digest)>), expected: &[&str]) {
        let mut entries = stream();
        let mut checker = Checker::new(entries[0].0.place.stream);
        change(&mut entries);
        let breaks: Vec<String> = entries
            .iter()
            .filter_map(|(entry, digest)| checker.follow(entry, *digest).err())
            .map(|broken| broken.to_string().replace(&Uuid::nil().to_string(), "S"))
            .collect();
        assert_eq!(breaks, expected);
    }

    #[test]
    fn every_break_is_named() {
        check(|_| {}, &[]);
        check(|entries| drop(entries.remove(2)), &["in stream S, entry 3 stands where entry 2 should be"]);
        check(|entries| drop(entries.remove(0)), &["in stream S, entry 1 stands where entry 0 should be"]);
        check(
            |entries| entries.swap(1, 2),
            &[
                "in stream S, entry 2 stands where entry 1 should be",
                "in stream S, entry 1 stands where entry 3 should be",
                "in stream S, entry 3 stands where entry 2 should be",
            ],
        );
        check(
            |entries| entries[2].1 = digest(b"changed"),
            &["entry 3 of stream S was chained to another entry than the one before it"],
        );
        check(
            |entries| entries[3].0.hlc = Hlc { ms: 0, n: 0 },
            &["the clock of entry 3 of stream S does not move on"],
        );
        let other = Uuid::from_u128(9);
        check(
            |entries| entries[4].0.place.stream = other,
            &["entry 4 of stream S says that it belongs to stream 00000000-0000-0000-0000-000000000009"],
        );
    }

    #[test]
    fn an_entry_that_was_skipped_breaks_nothing_after_it() {
        let entries = stream();
        let mut checker = Checker::new(Uuid::nil());
        for (n, (entry, digest)) in entries.iter().enumerate() {
            if n == 2 {
                checker.skip();
            } else {
                checker.follow(entry, *digest).unwrap();
            }
        }
    }
}
