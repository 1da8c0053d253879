//! What a power cut leaves: every write of the demo is traced by `strace(1)`, and replayed up to many moments with
//! whatever was not synced dropped, kept, or torn. Killing a process proves nothing about this: the system keeps
//! what it was given.
//!
//! The model is POSIX at its strictest: the bytes of a file last once that file was synced, its name once its
//! folder was. Whatever the cut, the ledger must open and pass its check, and every record that it names must lie
//! whole in its place; a file that nobody names is no flaw.
#![cfg(target_os = "linux")]
#![expect(clippy::expect_used, clippy::panic, reason = "helpers of tests fail loudly")]

mod disk;
mod journal;
mod trace;

use std::{collections::BTreeSet, path::Path};

use disk::{Disk, Unsynced};
use ledger::Ledger;
use suite::place;
use trace::{Call, under_strace};
use uuid::Uuid;

/// Everything that the demo asked of the system, in order.
fn traced(folder: &Path) -> Vec<Call> {
    let (data, trace) = (folder.join("data"), folder.join("trace"));
    let output = under_strace(&trace, &[])
        .arg(place::program())
        .arg("demo")
        .arg("--data")
        .arg(&data)
        .output()
        .expect("strace starts: cargo xtask setup");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    trace::read(&trace, &data)
}

/// The ledger of what a cut left: how many records it names, all of them whole.
fn records_after(disk: &Disk, unsynced: Unsynced, at: usize) -> usize {
    let folder = tempfile::tempdir().expect("a folder");
    disk.leave(folder.path(), unsynced);
    let ledger = Ledger::open(folder.path(), &mut || Uuid::from_u128(7))
        .unwrap_or_else(|error| panic!("after call {at}, {unsynced:?}: {error}"));
    if ledger.reader().facts(None).expect("facts").facility.is_none() {
        return 0;
    }
    let checked = ledger.reader().check(&[], &mut |_entry, _bytes, _signatures| Ok(())).expect("a check");
    let flaws: Vec<String> = checked.flaws.iter().map(ToString::to_string).collect();
    assert_eq!(flaws, Vec::<String>::new(), "after call {at}, {unsynced:?}");
    checked.records
}

/// Around each record that is filed, and evenly over everything else.
fn cuts(calls: &[Call]) -> BTreeSet<usize> {
    let mut cuts: BTreeSet<usize> = (0..calls.len()).step_by(calls.len() / 24 + 1).collect();
    let filed = calls.iter().enumerate().filter(|(_, call)| call.files_a_record()).map(|(at, _)| at);
    // The first and the last of them: what lies between repeats the same calls.
    let filed: Vec<usize> = filed.collect();
    for at in filed.iter().take(2).chain(filed.iter().rev().take(2)) {
        // From the last writes before the rename to the commit of the entry after it.
        cuts.extend(at.saturating_sub(6)..(at + 24).min(calls.len()));
    }
    cuts.insert(calls.len());
    cuts
}

#[test]
fn no_power_cut_leaves_an_entry_without_its_record() {
    let folder = tempfile::tempdir().expect("a folder");
    let calls = traced(folder.path());
    let (mut disk, mut done, mut most) = (Disk::default(), 0, 0);
    for cut in cuts(&calls) {
        for call in calls.get(done..cut).unwrap_or_default() {
            disk.take(call);
        }
        done = cut;
        let least = records_after(&disk, Unsynced::Dropped, cut);
        assert!(least >= most, "after call {cut}: a record that was sealed is gone");
        most = least;
        for unsynced in [Unsynced::Kept, Unsynced::Torn(cut as u64)] {
            assert!(records_after(&disk, unsynced, cut) >= least, "after call {cut}, {unsynced:?}");
        }
    }
    assert!(most > 10, "in the end all records are there, and synced: {most}");
    // The replay must be able to fail: without the syncs there would be nothing.
    let mut careless = Disk::default();
    calls.iter().filter(|call| !call.syncs()).for_each(|call| careless.take(call));
    assert_eq!(records_after(&careless, Unsynced::Dropped, calls.len()), 0);
}
