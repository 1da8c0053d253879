use serde::{Deserialize, Serialize};

/// A hybrid logical clock: orders entries as they were caused, close to the wall clock, and never goes
/// back when that clock is set back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hlc {
    /// Milliseconds since 1970-01-01 UTC of the latest wall clock seen.
    pub ms: i64,
    /// Counts entries made while the wall clock stood still or behind.
    pub n: u32,
}

impl Hlc {
    /// The reading for a new entry, later than `last`, the latest reading seen in any stream.
    #[must_use]
    pub fn next(last: Option<Hlc>, wall_ms: i64) -> Hlc {
        match last {
            // At the end of the counter the clock moves on by a millisecond rather than stand still.
            Some(Hlc { ms, n: u32::MAX }) if wall_ms <= ms => Hlc { ms: ms + 1, n: 0 },
            Some(Hlc { ms, n }) if wall_ms <= ms => Hlc { ms, n: n + 1 },
            Some(_) | None => Hlc { ms: wall_ms, n: 0 },
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn follows_the_wall_clock_when_that_moves_on() {
        assert_eq!(Hlc::next(None, 5), Hlc { ms: 5, n: 0 });
        assert_eq!(Hlc::next(Some(Hlc { ms: 5, n: 3 }), 6), Hlc { ms: 6, n: 0 });
        assert_eq!(Hlc::next(Some(Hlc { ms: 5, n: 3 }), 5), Hlc { ms: 5, n: 4 });
        assert_eq!(Hlc::next(Some(Hlc { ms: 5, n: u32::MAX }), 5), Hlc { ms: 6, n: 0 });
    }

    proptest! {
        #[test]
        fn never_goes_back(walls in prop::collection::vec(-1000_i64..1000, 1..50)) {
            let mut last = None;
            for wall in walls {
                let next = Hlc::next(last, wall);
                prop_assert!(Some(next) > last);
                prop_assert!(next.ms >= wall);
                last = Some(next);
            }
        }
    }
}
