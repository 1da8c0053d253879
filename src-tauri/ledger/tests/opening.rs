//! Opening a data folder: made where it is not there, kept to one process, and explained when it is wrong.

#[cfg(test)]
mod kit;

use std::{error::Error, fs};

use kit::{Hospital, at, begin, open};
use ledger::{LedgerError, Reader};
use uuid::Uuid;

#[test]
fn an_empty_folder_becomes_a_ledger() {
    let folder = tempfile::tempdir().unwrap();
    let inside = folder.path().join("data").join("deeper");
    let ledger = open(&inside).unwrap();
    let installation = ledger.reader().installation().unwrap();
    assert_eq!((installation.stream, installation.facility), (Uuid::from_u128(0xA), None));
    let reserve = fs::metadata(inside.join("reserve")).unwrap();
    assert!(reserve.len() > 0, "room is kept for what must still be written on a full device");
}

#[test]
fn the_stream_stays_when_it_is_opened_again() {
    let hospital = Hospital::furnished();
    let before = hospital.ledger.reader().next_place().unwrap();
    let Hospital { folder, ledger, .. } = hospital;
    drop(ledger);
    let again = ledger::Ledger::open(folder.path(), &mut || Uuid::from_u128(0xB)).unwrap();
    assert_eq!(again.reader().next_place().unwrap(), before);
}

#[test]
fn one_process_per_data_folder() {
    let hospital = Hospital::empty();
    assert!(matches!(open(hospital.folder.path()), Err(LedgerError::InUse(_))));
    hospital.reopen();
}

#[test]
fn reading_needs_a_ledger() {
    let folder = tempfile::tempdir().unwrap();
    assert!(matches!(Reader::open(folder.path()), Err(LedgerError::Absent(_))));
    assert!(matches!(Reader::open(&folder.path().join("nowhere")), Err(LedgerError::Absent(_))));
}

#[test]
fn a_reader_works_alone_on_a_folder_that_was_closed() {
    let Hospital { folder, ledger, .. } = Hospital::furnished();
    drop(ledger);
    let reader = Reader::open(folder.path()).unwrap();
    assert_eq!(reader.facts(None).unwrap().people.len(), 2);
}

#[test]
fn a_newer_file_is_refused_and_left_alone() {
    let Hospital { folder, ledger, .. } = Hospital::furnished();
    drop(ledger);
    let file = folder.path().join("ledger.sqlite");
    rusqlite::Connection::open(&file).unwrap().pragma_update(None, "user_version", 99).unwrap();
    let before = fs::read(&file).unwrap();
    assert!(matches!(open(folder.path()), Err(LedgerError::Newer { found: 99, .. })));
    assert!(matches!(Reader::open(folder.path()), Err(LedgerError::Newer { found: 99, .. })));
    assert_eq!(fs::read(&file).unwrap(), before);
}

#[test]
fn another_database_is_refused_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("ledger.sqlite");
    rusqlite::Connection::open(&file).unwrap().execute_batch("CREATE TABLE recipes (name TEXT)").unwrap();
    let before = fs::read(&file).unwrap();
    assert!(matches!(open(folder.path()), Err(LedgerError::Foreign(_))));
    assert_eq!(fs::read(&file).unwrap(), before);
}

#[test]
fn a_damaged_file_is_explained_and_left_alone() {
    let Hospital { folder, ledger, .. } = Hospital::furnished();
    drop(ledger);
    let file = folder.path().join("ledger.sqlite");
    let whole = fs::read(&file).unwrap();
    let mut no_header = whole.clone();
    no_header[..16].fill(b'x');
    let mut no_schema = whole.clone();
    no_schema[100..4096].fill(0xee);
    for damaged in [no_header, no_schema] {
        fs::write(&file, &damaged).unwrap();
        let refused = open(folder.path()).expect_err("a damaged file must not open");
        assert!(matches!(refused, LedgerError::Damaged { .. }), "{refused:?}");
        assert!(refused.to_string().contains("damaged"));
        assert!(refused.source().is_some(), "the cause is kept");
        assert_eq!(fs::read(&file).unwrap(), damaged, "kept as it is");
    }
}

#[test]
fn resting_empties_the_write_ahead_log() {
    let hospital = Hospital::empty();
    hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    for n in 0..50 {
        hospital.tap("d", &n.to_string(), &at(n)).unwrap();
    }
    let log = hospital.folder.path().join("ledger.sqlite-wal");
    assert!(fs::metadata(&log).unwrap().len() > 0);
    hospital.ledger.rest().unwrap();
    assert_eq!(fs::metadata(&log).unwrap().len(), 0);
    assert_eq!(hospital.ledger.reader().lines("d").unwrap().len(), 50);
}

#[test]
fn keys_are_kept_as_they_are() {
    let hospital = Hospital::empty();
    assert_eq!(hospital.ledger.reader().key("authority").unwrap(), None);
    hospital.ledger.put_key("authority", b"one").unwrap();
    hospital.ledger.put_key("authority", b"two").unwrap();
    assert_eq!(hospital.ledger.reader().key("authority").unwrap().as_deref(), Some(&b"two"[..]));
}

#[test]
fn a_draft_is_there_as_it_was_last_kept() {
    let folder = tempfile::tempdir().unwrap();
    let open = || ledger::Ledger::open(folder.path(), &mut Uuid::nil).unwrap();
    let ledger = open();
    ledger.keep_draft("a", "{}", &at(1)).unwrap();
    ledger.keep_draft("b", "{}", &at(2)).unwrap();
    ledger.keep_draft("a", r#"{"title":"Doffing"}"#, &at(3)).unwrap();
    drop(ledger);
    let ledger = open();
    let ids: Vec<String> = ledger.reader().drafts().unwrap().into_iter().map(|draft| draft.id).collect();
    assert_eq!(ids, ["a", "b"], "the last one kept comes first");
    let kept = ledger.reader().draft("a").unwrap().unwrap();
    assert_eq!(kept.procedure, r#"{"title":"Doffing"}"#);
    ledger.drop_draft("a").unwrap();
    ledger.drop_draft("a").unwrap();
    assert_eq!(ledger.reader().draft("a").unwrap(), None);
}
