use chrono::{DateTime, FixedOffset};

/// One reading of the device's clocks. The ledger reads none itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moment {
    /// The wall clock, with its offset; people may set it.
    pub wall: DateTime<FixedOffset>,
    /// IANA name of the device's time zone.
    pub zone: String,
    /// Milliseconds since the device started; nobody can set it.
    pub boot_ms: i64,
    /// Names that start; `boot_ms` of different starts cannot be compared.
    pub boot_id: String,
}

/// Something in the journal whose time within the demonstration is known.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Anchor {
    pub(crate) at_ms: i64,
    pub(crate) boot_ms: i64,
}

/// How long after its beginning, in ms, a moment of a demonstration is.
///
/// `since_boot` is the earliest thing in the journal since the device last started, where there is one:
/// the time since then counts, whatever was done to the wall clock. After a restart there is none, and
/// the wall clock is the best there is. Time within a demonstration never goes back: `last_ms` is the
/// least there can be.
pub(crate) fn elapsed_ms(
    begun: DateTime<FixedOffset>,
    since_boot: Option<Anchor>,
    last_ms: i64,
    now: &Moment,
) -> i64 {
    let measured = match since_boot {
        Some(anchor) => anchor.at_ms.saturating_add(now.boot_ms.saturating_sub(anchor.boot_ms)),
        None => now.wall.signed_duration_since(begun).num_milliseconds(),
    };
    measured.max(last_ms)
}

#[cfg(test)]
mod tests {
    use chrono::TimeDelta;
    use proptest::prelude::*;

    use super::*;

    fn begun() -> DateTime<FixedOffset> {
        "2026-11-25T10:02:03+01:00".parse().unwrap()
    }

    #[track_caller]
    fn check(wall_ms: i64, boot_ms: i64, anchor: Option<(i64, i64)>, last_ms: i64, expected: i64) {
        let now = Moment {
            wall: begun() + TimeDelta::milliseconds(wall_ms),
            zone: "Europe/Berlin".to_owned(),
            boot_ms,
            boot_id: "a".to_owned(),
        };
        let anchor = anchor.map(|(at_ms, boot_ms)| Anchor { at_ms, boot_ms });
        assert_eq!(elapsed_ms(begun(), anchor, last_ms, &now), expected);
    }

    #[test]
    fn by_the_time_since_boot_or_else_by_the_wall() {
        check(1_500, 101_500, Some((0, 100_000)), 0, 1_500);
        // The wall clock was set back by an hour, then forward by a day: it does not matter.
        check(-3_600_000, 101_500, Some((0, 100_000)), 0, 1_500);
        check(86_400_000, 101_500, Some((0, 100_000)), 0, 1_500);
        // After a restart the wall clock counts, but never behind the last line.
        check(60_000, 20, None, 1_500, 60_000);
        check(-60_000, 20, None, 1_500, 1_500);
        // Later taps after the restart are measured from the first one since.
        check(-60_000, 520, Some((1_500, 20)), 1_500, 2_000);
    }

    proptest! {
        #[test]
        fn never_goes_back(wall in any::<i32>(), boot in any::<i32>(), last in 0_i64..1 << 40, anchor in any::<Option<(i32, i32)>>()) {
            let now = Moment {
                wall: begun() + TimeDelta::milliseconds(wall.into()),
                zone: "Etc/UTC".to_owned(),
                boot_ms: boot.into(),
                boot_id: "a".to_owned(),
            };
            let anchor = anchor.map(|(at, boot)| Anchor { at_ms: at.into(), boot_ms: boot.into() });
            prop_assert!(elapsed_ms(begun(), anchor, last, &now) >= last);
        }
    }
}
