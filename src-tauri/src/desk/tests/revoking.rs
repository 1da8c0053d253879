//! The days that certificates have.

use contract::{ListObservers, Signing};

use super::*;

/// The certificate is made at half past midnight of 3 March in Berlin, when it is still the 2nd by UTC.
#[test]
fn the_days_of_a_certificate_are_the_facility_s() {
    let ward = Ward::new();
    let mut night = at(0);
    night.wall = "2026-03-03T00:30:00+01:00".parse().unwrap();
    let request = contract::AppointObserver {
        person: ward.observer.clone(),
        evidence: "Course certificate".to_owned(),
        passphrase: PASSPHRASE.to_owned(),
        pin: PIN.to_owned(),
    };
    ward.desk.appoint_observer(&request, &night).unwrap();
    let facts = ward.desk.reader().facts(None).unwrap();
    let until = facts.certificate(&ward.observer).unwrap().not_after;
    let berlin = until.with_timezone(&chrono_tz::Europe::Berlin).date_naive();
    assert_ne!(berlin, until.to_utc().date_naive(), "it ends in the hours in which the days differ");
    let lines = ward.desk.list_observers(&ListObservers {}, &at(1)).unwrap().lines;
    assert_eq!(lines[0].signing, Signing::Here(berlin));
}
