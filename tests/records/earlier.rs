//! Records that earlier versions of the program wrote: still read, scored again and verified.

use std::process::Command;

use chrono::{TimeDelta, Utc};
use competency::{RULES_VERSION, journal::fold, model::Model, score::score, validity::granted_until};
use evidence::{Record, procedure_hash};
use sealing::{Authority, ObserverKey, Seed, Signer};
use suite::place::{program, root};

use crate::made::sign_record;

/// What the program wrote as `record.json` when its format was 1: a trace with an undo, a prompt, a fault,
/// contamination, a hold, a note and answers given afterwards.
fn format_1() -> Vec<u8> {
    std::fs::read(root().join("tests/records/format-1.json")).expect("the sample is there")
}

#[test]
fn a_record_of_format_1_is_read_and_scored_as_it_was() {
    let bytes = format_1();
    let record = Record::read(&bytes).expect("format 1 is known");
    assert_eq!(record.format, 1);
    assert!(record.trace.len() > 15 && record.report.findings.len() > 3, "there is something to get wrong");
    // Its digest, and with it the seal that names it, stay.
    assert_eq!(record.to_bytes().expect("canonical bytes"), bytes);
    assert_eq!(procedure_hash(&record.procedure).expect("a hash"), record.procedure_hash);

    let folded = fold(&record.trace, record.mode, &record.log.conditions);
    assert_eq!(folded.log, record.log, "the trace makes the log that it made then");
    // What format 2 added is nowhere in it.
    assert_eq!((folded.stricter, folded.coaching, folded.changes.len()), (None, None, 0));
    assert_eq!(record.outcome(), record.report.outcome);

    let again = by_the_rules_of_today(record.clone());
    assert_eq!((again.outcome(), again.valid_until), (record.outcome(), record.valid_until));
}

/// The record with the score that the rules of today make of its log. What it says besides stays, its format too.
fn by_the_rules_of_today(record: Record) -> Record {
    let report = score(&Model::new(record.procedure.clone()), &record.log);
    let valid_until =
        granted_until(record.purpose, record.mode, &record.procedure, report.outcome, record.on);
    Record { report, valid_until, rules: RULES_VERSION, ..record }
}

/// Seals a record as its observer would have, and gives what the program says of it, with no data at hand.
fn verified(record: &Record) -> (bool, String) {
    // Whoever vouched for it did so the day before.
    let then = record.begun.with_timezone(&Utc) - TimeDelta::days(1);
    let authority = Authority::create("Harbour Hospital", then, Seed::new([7; 32])).expect("an authority");
    let key = ObserverKey::create(Seed::new([8; 32]));
    let certificate = authority
        .certify(&key, &record.observer.name, &record.observer.id, then, Seed::new([9; 32]))
        .expect("a certificate");
    let list = authority.revoke(&[], 1, then).expect("a list");
    let signer = Signer::new(key, certificate, authority.certificate().clone())
        .and_then(|signer| signer.with_revocations(list))
        .expect("a signer");
    let folder = tempfile::tempdir().expect("a folder");
    let (pdf, trust) = (folder.path().join("record.pdf"), folder.path().join("authority.pem"));
    std::fs::write(&pdf, sign_record(record, &signer)).expect("a file");
    std::fs::write(&trust, authority.certificate().pem().expect("it is text")).expect("a file");
    let told = Command::new(program())
        .args(["record", "verify"])
        .arg(&pdf)
        .arg("--trust")
        .arg(&trust)
        .output()
        .expect("the program starts");
    (told.status.success(), String::from_utf8_lossy(&told.stdout).into_owned())
}

#[test]
fn a_sealed_record_of_format_1_is_verified_without_any_data() {
    let record = by_the_rules_of_today(Record::read(&format_1()).expect("format 1 is known"));
    let (holds, said) = verified(&record);
    assert!(holds && said.contains("the score was recomputed") && !said.contains("FAILS"), "{said}");
}

#[test]
fn a_record_that_was_scored_by_earlier_rules_says_so() {
    let mut record = Record::read(&format_1()).expect("format 1 is known");
    assert!(record.rules < RULES_VERSION, "the sample is of earlier rules");
    // Where the rules of today give the same, nothing speaks against it.
    let (holds, said) = verified(&record);
    assert!(holds && !said.contains("FAILS"), "{said}");
    // Where they do not, it cannot be told which of the two is wrong.
    record.report.alignment_cost += 1;
    let (holds, said) = verified(&record);
    assert!(!holds && said.contains("it was scored by rules 2"), "{said}");
}
