//! `check` finds whatever was changed behind the ledger's back, and names it.

#[cfg(test)]
mod kit;

use std::fs;

use competency::report::Outcome;
use evidence::{Body, UnitAdded, digest};
use kit::{Hospital, WEARER, at, verify};
use ledger::{Checked, Flaw, Known};

#[cfg(test)]
fn check(hospital: &Hospital, known: &[Known]) -> Checked {
    hospital.ledger.reader().check(known, &mut verify).unwrap()
}

#[cfg(test)]
fn sealed_once() -> Hospital {
    let mut hospital = Hospital::furnished();
    hospital.seal("d", Outcome::Competent);
    hospital
}

#[cfg(test)]
fn said(flaws: &[Flaw]) -> Vec<String> {
    flaws.iter().map(ToString::to_string).collect()
}

#[test]
fn a_whole_ledger_has_no_flaw() {
    let mut hospital = sealed_once();
    hospital.seal("e", Outcome::NotYetCompetent);
    hospital.ledger.erase_name(WEARER).unwrap();
    let place = hospital.ledger.reader().next_place().unwrap();
    let checked = check(&hospital, &[Known::before(&place, "the last record").unwrap()]);
    assert_eq!(said(&checked.flaws), Vec::<String>::new());
    assert_eq!((checked.entries, checked.streams, checked.records, checked.unknown), (7, 1, 2, 0));
}

#[test]
fn an_unknown_kind_is_kept_chained_and_counted() {
    let mut hospital = Hospital::furnished();
    let later = Body::Unknown { kind: "later".to_owned(), kind_version: 1, body: serde_json::json!({}) };
    hospital.write(at(1), later).unwrap();
    let checked = check(&hospital, &[]);
    assert_eq!((checked.unknown, checked.flaws.len()), (1, 0));
}

#[cfg(test)]
#[track_caller]
fn meddled(sql: &str, expected: &str) {
    let hospital = sealed_once();
    assert!(hospital.meddle(sql) > 0, "the change must touch a row");
    let flaws = said(&check(&hospital, &[]).flaws);
    assert!(flaws.iter().any(|flaw| flaw.contains(expected)), "{sql}: expected {expected} in {flaws:#?}");
}

#[test]
fn every_kind_of_change_is_named() {
    // The facility, a unit, two people and a requirement stand at 0 to 4, the seal at 5.
    meddled("UPDATE entry SET bytes = x'7b7d' WHERE seq = 2", "entry 2 of stream");
    meddled("UPDATE entry SET digest = substr(digest, 2) || 'f' WHERE seq = 2", "its digest does not match");
    meddled("UPDATE entry SET kind = 'unit-moved' WHERE seq = 1", "its kind does not match");
    meddled("UPDATE entry SET person = NULL WHERE seq = 5", "its person does not match");
    meddled("UPDATE entry SET known_on = '2020-01-01' WHERE seq = 5", "its date does not match");
    meddled("UPDATE entry SET hlc_n = 99 WHERE seq = 3", "its clock does not match");
    meddled("UPDATE entry SET id = 'x' WHERE seq = 3", "its id does not match");
    meddled("UPDATE entry SET stream = 'x' WHERE seq = 3", "its stream does not match");
    meddled("DELETE FROM entry WHERE seq = 3", "entry 4 stands where entry 3 should be");
    meddled(
        "UPDATE entry SET bytes = (SELECT bytes FROM entry AS other WHERE other.seq = 5 - entry.seq) WHERE seq IN (2, 3)",
        "entry 2 of stream",
    );
    meddled("DELETE FROM signature WHERE seq = 4", "the device's signature is missing");
    meddled("UPDATE signature SET bytes = x'00' WHERE seq = 4", "entry 4 of stream");
    meddled("UPDATE installation SET facility = '00000000-0000-0000-0000-000000000001'", "another facility");
    meddled("UPDATE name SET name = 'Eve' WHERE person = 'p-wearer'", "person p-wearer");
    meddled("DELETE FROM name WHERE person = 'p-wearer'", "person p-wearer");
    meddled(
        "UPDATE record SET json = x'7b7d'",
        "record of demonstration d is not as it was sealed: its record.json",
    );
    meddled("UPDATE record SET pdf = '' || replace(pdf, substr(pdf, 1, 1), 'a')", "the digest of its PDF");
    meddled("DELETE FROM record", "it is not filed");
    meddled("UPDATE name SET search = 'eve' WHERE person = 'p-wearer'", "person p-wearer");
    for (column, value) in [
        ("person", "'p-observer'"),
        ("observer", "'p-wearer'"),
        ("assistant", "'p-observer'"),
        ("purpose", "'practice'"),
        ("mode", "'guided'"),
        ("begun", "'2020-01-01T10:00:00+01:00'"),
        ("procedure", "'donning'"),
        ("procedure_hash", "replace(procedure_hash, substr(procedure_hash, 1, 1), 'x')"),
    ] {
        meddled(
            &format!("UPDATE demonstration SET {column} = {value}"),
            "how it began, as its journal has it",
        );
    }
    meddled("UPDATE line SET at_ms = at_ms + 1", "its journal");
    meddled("DELETE FROM line", "its journal");
}

#[test]
fn every_changed_byte_of_an_entry_is_found() {
    let hospital = sealed_once();
    let (connection, triggers) = hospital.unguarded();
    let bytes: Vec<u8> =
        connection.query_row("SELECT bytes FROM entry WHERE seq = 5", [], |row| row.get("bytes")).unwrap();
    let put = |bytes: &[u8]| {
        connection.execute("UPDATE entry SET bytes = ?1 WHERE seq = 5", [bytes]).unwrap();
    };
    for at in 0..bytes.len() {
        let mut changed = bytes.clone();
        changed[at] ^= 1;
        put(&changed);
        let flaws = said(&check(&hospital, &[]).flaws);
        assert!(flaws.iter().any(|flaw| flaw.starts_with("entry 5 of stream")), "byte {at}: {flaws:?}");
    }
    put(&bytes);
    for trigger in triggers {
        connection.execute_batch(&trigger).unwrap();
    }
    assert_eq!(said(&check(&hospital, &[]).flaws), Vec::<String>::new());
}

#[test]
fn a_guard_that_is_gone_or_came_is_found() {
    let after = |sql: &str| {
        let hospital = sealed_once();
        hospital.meddle("UPDATE entry SET bytes = bytes");
        let file = hospital.folder.path().join("ledger.sqlite");
        rusqlite::Connection::open(file).unwrap().execute_batch(sql).unwrap();
        said(&check(&hospital, &[]).flaws)
    };
    assert_eq!(after(""), Vec::<String>::new());
    assert_eq!(after("DROP TRIGGER entry_never_changes"), ["the file’s trigger entry_never_changes is gone"]);
    assert_eq!(
        after("CREATE TRIGGER mild AFTER INSERT ON wrong_pin BEGIN DELETE FROM wrong_pin; END"),
        ["the file’s trigger mild does not belong there"]
    );
    assert_eq!(
        after(
            "DROP TRIGGER entry_never_changes; CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry BEGIN SELECT 1; END"
        ),
        ["the file’s trigger entry_never_changes is another one"]
    );
}

#[test]
fn what_the_rest_comes_of_is_told_first() {
    let hospital = sealed_once();
    hospital.meddle("UPDATE entry SET bytes = x'7b7d' WHERE seq = 4");
    // It named the key of whoever signed all of them.
    let checked =
        hospital.ledger.reader().check(&[], &mut |_, _, _| Err("nobody knows its key".into())).unwrap();
    let flaws = said(&checked.flaws);
    assert_eq!(flaws.len(), 6);
    assert!(flaws[0].starts_with("entry 4 of stream") && flaws[0].contains("cannot be read"), "{flaws:#?}");
}

#[test]
fn a_byte_that_makes_a_column_no_text_is_found() {
    for column in ["stream", "id", "digest", "kind", "known_on"] {
        let hospital = sealed_once();
        hospital.meddle(&format!(
            "UPDATE entry SET {column} = CAST(x'80' || substr({column}, 2) AS TEXT) WHERE seq = 5"
        ));
        let flaws = said(&check(&hospital, &[]).flaws);
        assert!(flaws.iter().any(|flaw| flaw.starts_with("entry 5 of stream")), "{column}: {flaws:?}");
    }
}

#[test]
fn the_last_entry_cut_off_is_found_by_a_head_kept_elsewhere() {
    let hospital = sealed_once();
    let place = hospital.ledger.reader().next_place().unwrap();
    let head = Known::before(&place, "the record e.pdf").unwrap();
    hospital.meddle("DELETE FROM record");
    hospital.meddle("DELETE FROM signature WHERE seq = 5");
    hospital.meddle("DELETE FROM entry WHERE seq = 5");
    assert_eq!(said(&check(&hospital, &[]).flaws), Vec::<String>::new(), "the file alone cannot tell");
    let flaws = said(&check(&hospital, &[head]).flaws);
    assert_eq!(flaws.len(), 1);
    assert!(flaws[0].contains("lacks entry 5, which is known from the record e.pdf"), "{flaws:?}");
}

#[test]
fn a_chain_written_anew_is_found_by_a_head_kept_elsewhere() {
    let mut hospital = Hospital::furnished();
    let before = hospital.ledger.reader().next_place().unwrap();
    hospital.write(at(1), UnitAdded { unit: "u-east".to_owned(), name: "East".to_owned() }).unwrap();
    let wrong = evidence::Seen { seq: before.seq, digest: digest(b"what stood there once") };
    let known = Known { stream: before.stream, seen: wrong, from: "another tablet".to_owned() };
    let flaws = said(&check(&hospital, &[known]).flaws);
    assert_eq!(flaws.len(), 1);
    assert!(flaws[0].contains("is not the one known from another tablet"), "{flaws:?}");
}

#[test]
fn a_filed_pdf_that_was_changed_or_removed_is_found() {
    let hospital = sealed_once();
    let pdf = hospital.ledger.reader().records_folder().join("d.pdf");
    let mut bytes = fs::read(&pdf).unwrap();
    bytes[3] ^= 1;
    fs::write(&pdf, bytes).unwrap();
    assert!(said(&check(&hospital, &[]).flaws)[0].contains("its PDF was changed"));
    fs::remove_file(&pdf).unwrap();
    assert!(said(&check(&hospital, &[]).flaws)[0].contains("its PDF is not there"));
}
