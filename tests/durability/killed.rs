//! A process that journals is killed in the middle of a stream of taps, 100 times over, or as often as
//! `DOORSIDE_KILLS` says: `DOORSIDE_KILLS=1000 cargo test -p suite --test killed` is the run by hand. Every tap that it
//! acknowledged is there afterwards, in order, and the demonstration is offered to go on with.
//!
//! Killing a process says nothing about a power cut: what the system was told to sync is another test.

use std::{
    io::{BufRead, BufReader},
    path::Path,
    process::{Command, Stdio},
};

use ledger::{Ledger, Reader};
use uuid::Uuid;

/// Runs the process until it has acknowledged so many taps, kills it (SIGKILL on Unix), and gives all ids
/// that it had printed by then.
#[cfg(test)]
fn acknowledged_before_the_kill(folder: &Path, taps: usize) -> Vec<String> {
    let mut child = Command::new(env!("CARGO_BIN_EXE_windowless"))
        .arg(folder)
        .stdout(Stdio::piped())
        .spawn()
        .expect("the windowless process starts");
    let mut printed = BufReader::new(child.stdout.take().expect("its output is piped")).lines();
    let mut ids: Vec<String> = printed.by_ref().take(taps).collect::<Result<_, _>>().expect("whole lines");
    child.kill().expect("it can be killed");
    // What it printed between the last line read and the kill was acknowledged, too.
    ids.extend(printed.map_while(Result::ok));
    let status = child.wait().expect("it ends");
    assert!(!status.success(), "it taps without end, so only the kill ends it: {status}");
    ids
}

#[cfg(test)]
fn journal(folder: &Path, by_the_window: bool) -> Vec<String> {
    let ids = |reader: &Reader| {
        let unfinished = reader.unfinished().expect("unfinished demonstrations");
        assert_eq!(unfinished.len(), 1, "it is offered to go on with");
        let lines = reader.lines("killed-again-and-again").expect("its lines");
        assert!(lines.is_sorted_by_key(|line| line.at_ms), "time never goes back");
        lines.into_iter().map(|line| line.id).collect()
    };
    if by_the_window {
        let ledger = Ledger::open(folder, &mut Uuid::nil).expect("the lock went with the process");
        ids(ledger.reader())
    } else {
        ids(&Reader::open(folder).expect("the folder opens to read"))
    }
}

#[test]
fn every_acknowledged_tap_survives_a_hundred_kills() {
    let kills =
        std::env::var("DOORSIDE_KILLS").map_or(100, |kills| kills.parse().expect("a number of kills"));
    let folder = tempfile::tempdir().expect("a folder");
    let mut expected: Vec<String> = Vec::new();
    for round in 0..kills {
        // Between 1 and 17 taps, in an order that meets every length; 7 and 17 share no divisor.
        let taps = 1 + round * 7 % 17;
        expected.extend(acknowledged_before_the_kill(folder.path(), taps));
        // Every other time a reader looks first, so that the next process finds the log as the kill left it.
        let found = journal(folder.path(), round % 2 == 0);
        assert!(found.starts_with(&expected), "round {round}: an acknowledged tap is gone or out of order");
        assert!(
            found.len() <= expected.len() + 1,
            "round {round}: at most the tap that was being written is there without having been acknowledged"
        );
        expected = found;
    }
    let numbered: Vec<String> = (0..expected.len()).map(|n| format!("tap {n}")).collect();
    assert_eq!(expected, numbered, "each once, none left out");
}
