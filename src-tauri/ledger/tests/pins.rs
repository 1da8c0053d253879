//! Wrong PINs are counted on the disk, and no clock that can be set shortens the wait.

#[cfg(test)]
mod kit;

use std::time::Duration;

use chrono::TimeDelta;
use kit::{Hospital, OBSERVER, WEARER, at};
use ledger::{Moment, PinState};

#[test]
fn wrong_pins_are_counted_per_person_until_one_opens() {
    let hospital = Hospital::empty();
    let state = |person| hospital.ledger.reader().pin_state(person).unwrap();
    assert_eq!(state(OBSERVER), PinState::default());
    assert_eq!(hospital.ledger.pin_failed(OBSERVER, &at(0)).unwrap(), 1);
    assert_eq!(hospital.ledger.pin_failed(OBSERVER, &at(5_000)).unwrap(), 2);
    assert_eq!(hospital.ledger.pin_failed(WEARER, &at(6_000)).unwrap(), 1);
    assert_eq!(state(OBSERVER), PinState { tries: 2, last: Some(at(5_000)) });
    hospital.ledger.pin_opened(OBSERVER).unwrap();
    hospital.ledger.pin_opened(OBSERVER).unwrap();
    assert_eq!((state(OBSERVER).tries, state(WEARER).tries), (0, 1));
}

#[test]
fn what_was_counted_is_there_after_reopening() {
    let hospital = Hospital::empty();
    for n in 1..=4 {
        assert_eq!(hospital.ledger.pin_failed(OBSERVER, &at(0)).unwrap(), n);
    }
    let hospital = hospital.reopen();
    assert_eq!(hospital.ledger.reader().pin_state(OBSERVER).unwrap().tries, 4);
}

#[test]
fn only_time_that_nobody_can_set_counts() {
    let state = PinState { tries: 3, last: Some(at(0)) };
    let seconds = |now: &Moment| state.since_last(now).as_secs();
    assert_eq!(seconds(&at(30_000)), 30);
    // The wall clock was set forward by a day, and back by one: neither matters.
    for set in [TimeDelta::days(1), TimeDelta::days(-1)] {
        let now = at(10_000);
        assert_eq!(seconds(&Moment { wall: now.wall + set, ..now }), 10);
    }
    // Started anew, with the wall clock set forward: only the time since that start is certain.
    let now = at(0);
    let wall = now.wall + TimeDelta::days(1);
    assert_eq!(seconds(&Moment { wall, boot_id: "second start".to_owned(), boot_ms: 7_000, ..now }), 7);
    // A time since start that went back is no time passed.
    assert_eq!(seconds(&at(-1)), 0);
    assert_eq!(PinState::default().since_last(&at(0)), Duration::MAX);
}
