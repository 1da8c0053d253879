//! The journal: a tap is acknowledged only after it lasts, whatever the power does, and a full disk loses none.

use std::path::Path;

use ledger::Reader;

use crate::{
    disk::{Disk, Unsynced},
    trace::{Call, read, under_strace},
};

const TAPS: usize = 25;

/// Journals some taps under strace; gives what was acknowledged, and the calls.
fn journalled(folder: &Path, trace: &Path, more: &[&str]) -> (Vec<String>, Vec<Call>) {
    let told = under_strace(trace, more)
        .arg(env!("CARGO_BIN_EXE_windowless"))
        .arg(folder)
        .arg(TAPS.to_string())
        .output()
        .expect("strace starts: cargo xtask setup");
    let acknowledged = String::from_utf8_lossy(&told.stdout).lines().map(str::to_owned).collect();
    (acknowledged, read(trace, folder))
}

fn lines_in(folder: &Path) -> Vec<String> {
    let reader = Reader::open(folder).expect("what a cut leaves opens");
    let lines = reader.lines("killed-again-and-again").expect("its lines");
    lines.into_iter().map(|line| line.id).collect()
}

/// The disk as it stands after a cut, and what is in it.
fn left(disk: &Disk, unsynced: Unsynced) -> Vec<String> {
    let after = tempfile::tempdir().expect("a folder");
    disk.leave(after.path(), unsynced);
    lines_in(after.path())
}

#[test]
fn what_was_acknowledged_was_synced_before() {
    let place = tempfile::tempdir().expect("a folder");
    let (acknowledged, calls) = journalled(&place.path().join("data"), &place.path().join("trace"), &[]);
    assert_eq!(acknowledged.len(), TAPS, "every tap was acknowledged");
    let (mut disk, mut told) = (Disk::default(), 0);
    for call in &calls {
        disk.take(call);
        if *call != Call::Tell {
            continue;
        }
        told += 1;
        for unsynced in [Unsynced::Dropped, Unsynced::Kept, Unsynced::Torn(told as u64)] {
            let found = left(&disk, unsynced);
            assert!(found.starts_with(&acknowledged[..told]), "after {told} with {unsynced:?}: {found:?}");
        }
    }
    assert_eq!(told, TAPS, "the trace tells every acknowledgement");
}

#[test]
fn a_full_disk_refuses_a_tap_and_loses_none() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path().join("data");
    journalled(&folder, &place.path().join("first"), &[]);
    let before = lines_in(&folder).len();
    // From the twentieth write of a page on there is no room, not even where the reserve was.
    let full = ["-e", "inject=pwrite64:error=ENOSPC:when=20+"];
    let (acknowledged, _calls) = journalled(&folder, &place.path().join("second"), &full);
    assert!(acknowledged.len() < TAPS, "the disk was full before the end");
    let found = lines_in(&folder);
    assert_eq!(
        found[before..],
        acknowledged[..],
        "what was acknowledged is there, and what was refused is not"
    );
    // Once there is room again it goes on.
    let (acknowledged, _calls) = journalled(&folder, &place.path().join("third"), &[]);
    assert_eq!(acknowledged.len(), TAPS);
}
