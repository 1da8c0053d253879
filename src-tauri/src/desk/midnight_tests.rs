//! On which day a validation runs out where clocks are set, and wherever the tablet thinks it is.

use chrono::{DateTime, FixedOffset, NaiveDate, Utc};
use competency::{
    report::Outcome,
    validity::{Asked, Attempt, State, standing},
};
use evidence::{FacilityCreated, Facts};
use ledger::Moment;
use uuid::Uuid;

use super::{civil_date, civil_in};

fn facts(zone: &str) -> Facts {
    let facility = FacilityCreated { name: "West".to_owned(), zone: zone.to_owned(), authority: None };
    Facts { facility: Some((Uuid::nil(), facility)), ..Facts::default() }
}

/// A moment as a tablet tells it whose own clock is set to another zone.
fn told_in(moment: &str, hours_east: i32) -> Moment {
    let wall = moment.parse::<DateTime<FixedOffset>>().unwrap();
    let there = FixedOffset::east_opt(hours_east * 3600).unwrap();
    Moment {
        wall: wall.with_timezone(&there),
        zone: "Etc/UTC".to_owned(),
        boot_ms: 0,
        boot_id: "one".to_owned(),
    }
}

/// The local dates are those of Python's zoneinfo with the IANA data: clocks set forward at midnight (Havana and
/// Cairo in spring), set back over midnight so that an hour of a day comes twice (Cairo) or midnight itself does
/// (Havana), and a day that never was (Apia).
#[test]
fn a_day_ends_at_the_facility_s_midnight_whatever_the_clocks_do() {
    for (zone, moment, local) in [
        ("America/Havana", "2026-03-08T04:59:59Z", "2026-03-07"),
        ("America/Havana", "2026-03-08T05:00:00Z", "2026-03-08"),
        ("America/Havana", "2026-11-01T03:59:59Z", "2026-10-31"),
        ("America/Havana", "2026-11-01T04:00:00Z", "2026-11-01"),
        ("America/Havana", "2026-11-01T05:00:00Z", "2026-11-01"),
        ("Africa/Cairo", "2026-04-23T21:59:59Z", "2026-04-23"),
        ("Africa/Cairo", "2026-04-23T22:00:00Z", "2026-04-24"),
        ("Africa/Cairo", "2026-10-29T20:59:59Z", "2026-10-29"),
        ("Africa/Cairo", "2026-10-29T21:59:59Z", "2026-10-29"),
        ("Africa/Cairo", "2026-10-29T22:00:00Z", "2026-10-30"),
        ("Pacific/Apia", "2011-12-30T09:59:59Z", "2011-12-29"),
        ("Pacific/Apia", "2011-12-30T10:00:00Z", "2011-12-31"),
        ("Pacific/Kiritimati", "2026-11-25T10:30:00Z", "2026-11-26"),
        ("Pacific/Niue", "2026-11-25T10:30:00Z", "2026-11-24"),
        ("Europe/Berlin", "2026-11-25T22:59:59Z", "2026-11-25"),
        ("Europe/Berlin", "2026-11-25T23:00:00Z", "2026-11-26"),
    ] {
        let expected: NaiveDate = local.parse().unwrap();
        for hours_east in [-11, 0, 1, 14] {
            let now = told_in(moment, hours_east);
            assert_eq!(
                civil_date(&facts(zone), &now),
                expected,
                "{zone}, {moment}, told {hours_east} h east"
            );
        }
    }
}

#[test]
fn a_validation_holds_through_an_hour_that_comes_twice() {
    let last: NaiveDate = "2026-10-29".parse().unwrap();
    let attempt = Attempt {
        on: "2025-10-29".parse().unwrap(),
        outcome: Outcome::Competent,
        valid_until: Some(last),
        cut: None,
        elsewhere: None,
    };
    let state = |moment| {
        let asked = Asked { required: true, lead_days: 7, suspended: None };
        standing(
            std::slice::from_ref(&attempt),
            asked,
            civil_date(&facts("Africa/Cairo"), &told_in(moment, 0)),
        )
        .state
    };
    // 23:30 in summer time, 23:30 an hour later in standard time, and midnight.
    assert_eq!(state("2026-10-29T20:30:00Z"), State::DueSoon);
    assert_eq!(state("2026-10-29T21:30:00Z"), State::DueSoon);
    assert_eq!(state("2026-10-29T22:00:00Z"), State::Overdue);
}

/// A record that is checked may claim any moment; `chrono` ends with the year 262142.
#[test]
fn the_last_and_the_first_moment_there_are_have_a_day_in_every_zone() {
    for (zone, at) in [
        ("Pacific/Auckland", DateTime::<Utc>::MAX_UTC),
        ("America/Havana", DateTime::<Utc>::MIN_UTC),
        ("no zone", DateTime::<Utc>::MAX_UTC),
    ] {
        assert_eq!(civil_in(zone, at.fixed_offset()).date(), at.date_naive(), "{zone}");
    }
}
