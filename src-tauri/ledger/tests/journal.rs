//! The live journal: what was acknowledged stays, in order, with times that never go back.

#[cfg(test)]
mod kit;

use competency::{journal::Event, log::HowEnded};
use kit::{Hospital, act, at, begin};
use ledger::{Begin, LedgerError, Moment, Reader};

#[test]
fn what_was_acknowledged_is_there_after_reopening() {
    let hospital = Hospital::empty();
    let begun = hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    for (tap, ms) in [("a", 500), ("b", 1_500), ("c", 1_500)] {
        hospital.tap("d", tap, &at(ms)).unwrap();
    }
    let hospital = hospital.reopen();
    let reader = hospital.ledger.reader();
    assert_eq!(reader.unfinished().unwrap(), [begun], "offered again exactly as begun");
    let lines: Vec<_> =
        reader.lines("d").unwrap().into_iter().map(|line| (line.id, line.at_ms, line.event)).collect();
    assert_eq!(
        lines,
        [
            ("a".to_owned(), 500, act("a")),
            ("b".to_owned(), 1_500, act("b")),
            ("c".to_owned(), 1_500, act("c"))
        ]
    );
}

#[test]
fn the_same_request_again_changes_nothing() {
    let hospital = Hospital::empty();
    let first = hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    assert_eq!(hospital.ledger.begin(&begin("d"), &at(5_000)).unwrap(), first);
    let line = hospital.ledger.append("d", &"a".to_owned(), &act("gloves"), &at(1_000)).unwrap();
    let again = hospital.ledger.append("d", &"a".to_owned(), &act("gown"), &at(2_000)).unwrap();
    assert_eq!(again, line, "the first line is the answer, whatever comes with the second request");
    assert_eq!(hospital.ledger.reader().lines("d").unwrap(), [line]);
}

#[test]
fn a_clock_set_back_or_forward_does_not_disturb() {
    let hospital = Hospital::empty();
    hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    let wall = |wall_ms: i64, boot_ms: i64| Moment { wall: at(wall_ms).wall, ..at(boot_ms) };
    assert_eq!(hospital.tap("d", "a", &wall(1_000, 1_000)).unwrap(), 1_000);
    assert_eq!(hospital.tap("d", "b", &wall(-3_600_000, 2_000)).unwrap(), 2_000);
    assert_eq!(hospital.tap("d", "c", &wall(86_400_000, 3_000)).unwrap(), 3_000);
}

#[test]
fn after_a_restart_of_the_device_time_goes_on() {
    let hospital = Hospital::empty();
    let begun = hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    assert_eq!(hospital.tap("d", "a", &at(10_000)).unwrap(), 10_000);
    let restarted = |wall_ms: i64, boot_ms: i64| Moment {
        wall: at(wall_ms).wall,
        boot_ms,
        boot_id: "second start".to_owned(),
        ..at(0)
    };
    assert_eq!(hospital.tap("d", "b", &restarted(90_000, 20_000)).unwrap(), 90_000);
    // From then on the time since that restart counts, whatever the wall clock says.
    assert_eq!(hospital.tap("d", "c", &restarted(0, 21_000)).unwrap(), 91_000);
    let shown = hospital.ledger.reader().elapsed_ms(&begun, &restarted(0, 22_000)).unwrap();
    assert_eq!(shown, 92_000, "what the screen shows goes by the same rule");
}

#[test]
fn a_tap_needs_a_demonstration_under_way() {
    let mut hospital = Hospital::furnished();
    assert!(matches!(hospital.tap("d", "a", &at(0)), Err(LedgerError::NotBegun)));
    hospital.seal("d", competency::report::Outcome::Competent);
    assert!(matches!(hospital.tap("d", "late", &at(9_500)), Err(LedgerError::AlreadySealed)));
    assert_eq!(hospital.tap("d", "a", &at(9_500)).unwrap(), 1_000, "a repeated request is still answered");
    assert_eq!(hospital.ledger.reader().unfinished().unwrap(), []);
    assert!(hospital.ledger.reader().begun("d").unwrap().unwrap().sealed);
}

#[test]
fn the_latest_unfinished_comes_first() {
    let hospital = Hospital::empty();
    for id in ["one", "two", "three"] {
        hospital.ledger.begin(&begin(id), &at(0)).unwrap();
    }
    let ids: Vec<_> = hospital
        .ledger
        .reader()
        .unfinished()
        .unwrap()
        .into_iter()
        .map(|begun| begun.begin.demonstration)
        .collect();
    assert_eq!(ids, ["three", "two", "one"]);
}

#[test]
fn a_second_log_is_finished_only_as_long_as_its_end_stands() {
    let hospital = Hospital::empty();
    hospital.ledger.begin(&begin("first"), &at(0)).unwrap();
    let second = Begin { second_of: Some("first".to_owned()), ..begin("second") };
    hospital.ledger.begin(&second, &at(1_000)).unwrap();
    let offered = || {
        let unfinished = hospital.ledger.reader().unfinished().unwrap();
        unfinished.into_iter().map(|begun| begun.begin.demonstration).collect::<Vec<_>>()
    };
    let tap = |tap: &str, event: &Event| {
        hospital.ledger.append("second", &tap.to_owned(), event, &at(2_000)).unwrap();
    };
    assert_eq!(offered(), ["second", "first"]);
    tap("end", &Event::End { how: HowEnded::Completed });
    assert_eq!(offered(), ["first"], "it has ended");
    tap("back", &Event::Undo { of: "end".to_owned() });
    assert_eq!(offered(), ["second", "first"], "the end was taken back, so it goes on");
    tap("forth", &Event::Undo { of: "back".to_owned() });
    assert_eq!(offered(), ["first"], "the end stands again");
}

#[test]
fn a_reader_sees_each_tap_while_the_window_is_open() {
    let hospital = Hospital::empty();
    hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    let other = Reader::open(hospital.folder.path()).unwrap();
    hospital.tap("d", "a", &at(1_000)).unwrap();
    assert_eq!(other.lines("d").unwrap().len(), 1);
}

#[test]
fn taps_from_many_threads_are_written_one_after_the_other() {
    let hospital = Hospital::empty();
    hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    std::thread::scope(|scope| {
        for thread in 0..4_i64 {
            let hospital = &hospital;
            scope.spawn(move || {
                for n in 0..25 {
                    hospital.tap("d", &format!("{thread}/{n}"), &at(n * 10)).unwrap();
                }
            });
        }
    });
    let lines = hospital.ledger.reader().lines("d").unwrap();
    assert_eq!(lines.len(), 100);
    assert!(lines.is_sorted_by_key(|line| line.at_ms), "time never goes back");
    for thread in 0..4 {
        let mine: Vec<_> = lines
            .iter()
            .filter(|line| line.id.starts_with(&format!("{thread}/")))
            .map(|line| &line.id)
            .collect();
        let expected: Vec<_> = (0..25).map(|n| format!("{thread}/{n}")).collect();
        assert!(mine.iter().copied().eq(&expected), "each thread's taps keep their order");
    }
}
