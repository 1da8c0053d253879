//! Records whose signature holds and that do not hold themselves: what an observer with a key could sign by another
//! program. `doorside record verify` names what does not follow, with no ledger at hand.

use std::process::Command;

use competency::sentence::SIGNED_AS;
use evidence::{Record, procedure_hash};
use lopdf::Object;
use sealing::{Facts, RevocationList, Revoked, Signer, sign, verify};
use suite::place::program;

use crate::made::{Made, made, sign_record};

/// What the program says of a file, and whether it counts as good.
fn verified(made: &Made, pdf: &[u8]) -> (bool, String) {
    verified_with(made, pdf, None)
}

/// The same with a list of revoked certificates from elsewhere.
fn verified_with(made: &Made, pdf: &[u8], list: Option<&RevocationList>) -> (bool, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let (file, trust) = (folder.path().join("record.pdf"), folder.path().join("authority.pem"));
    std::fs::write(&file, pdf).expect("a file");
    std::fs::write(&trust, made.authority.pem().expect("it is text")).expect("a file");
    let mut command = Command::new(program());
    command.args(["record", "verify"]).arg(&file).arg("--trust").arg(&trust);
    if let Some(list) = list {
        let revoked = folder.path().join("revoked.pem");
        std::fs::write(&revoked, list.pem().expect("it is text")).expect("a file");
        command.arg("--revoked").arg(&revoked);
    }
    let told = command.output().expect("the program starts");
    (told.status.success(), String::from_utf8_lossy(&told.stdout).into_owned())
}

/// Signs pages of one record that carry the data of another.
fn with_other_data(shown: &Record, attached: &Record, signer: &Signer) -> Vec<u8> {
    let mut document = paper::record(shown, shown.ended).expect("the record is drawn");
    let data = attached.to_bytes().expect("canonical bytes");
    let is_data = |object: &Object| {
        object.as_stream().is_ok_and(|stream| {
            stream.dict.get(b"Type").and_then(Object::as_name).is_ok_and(|kind| kind == b"EmbeddedFile")
        })
    };
    let file = document.objects.values_mut().find(|object| is_data(object)).expect("the attachment");
    file.as_stream_mut().expect("a stream").set_plain_content(data);
    let facts = Facts { when: shown.ended, name: &shown.observer.name, reason: "Observed", place: "Ward 3" };
    sign(document, signer, &facts).expect("it is signed")
}

/// Signs a record as its observer would, but for what PDF readers show of the signature.
fn sign_as(record: &Record, signer: &Signer, name: &str, reason: &str) -> Vec<u8> {
    let drawn = paper::record(record, record.ended).expect("the record is drawn");
    let facts = Facts { when: record.ended, name, reason, place: &record.facility.name };
    sign(drawn, signer, &facts).expect("it is signed")
}

#[test]
fn what_does_not_follow_from_what_was_logged_is_named() {
    let made = made();
    let signed = |change: &dyn Fn(&mut Record)| {
        let mut record = made.record.clone();
        change(&mut record);
        sign_record(&record, &made.signer)
    };
    let other_page = {
        let mut other = made.record.clone();
        "Somebody Else".clone_into(&mut other.person.name);
        with_other_data(&made.record, &other, &made.signer)
    };
    for (what, pdf, said) in [
        ("a better score", signed(&|one| one.report.steps_well += 1), "its score is not what its rules make"),
        (
            "a finding left out",
            signed(&|one| one.report.findings.truncate(1)),
            "its score is not what its rules make",
        ),
        (
            "an act left out",
            signed(&|one| drop(one.log.observations.remove(0))),
            "its score is not what its rules make",
        ),
        (
            "other rules",
            signed(&|one| (one.rules, one.report.steps_well) = (one.rules + 1, one.report.steps_well + 1)),
            "its score cannot be recomputed",
        ),
        (
            "a milder procedure",
            signed(&|one| one.procedure.pass.max_other_findings += 9),
            "its procedure is not the one its hash names",
        ),
        (
            "another observer",
            signed(&|one| "person-9".clone_into(&mut one.observer.id)),
            "it was not signed by the observer that it names",
        ),
        (
            "a longer validation",
            signed(&|one| one.valid_until = Some(one.on + chrono::Months::new(48))),
            "what it grants is not what its outcome grants",
        ),
        (
            "another day",
            signed(&|one| one.on += chrono::TimeDelta::days(40)),
            "its date is not the day on which it began",
        ),
        (
            "a longer demonstration",
            signed(&|one| one.ended += chrono::TimeDelta::seconds(9)),
            "it does not end when its log ends",
        ),
        (
            "one that lasts longer than there are dates",
            signed(&|one| one.log.ended.at_ms = Some(9_007_199_254_740_991)),
            "it does not end when its log ends",
        ),
        (
            "a line left out",
            signed(&|one| drop(one.trace.remove(0))),
            "its log is not what was acknowledged line by line",
        ),
        (
            "another name for the observer",
            signed(&|one| "Dr Nobody".clone_into(&mut one.observer.name)),
            "the record names Dr Nobody as the observer",
        ),
        (
            "another name in the signature",
            sign_as(&made.record, &made.signer, "Dr Nobody", SIGNED_AS),
            "its signature names another observer",
        ),
        (
            "another reason",
            sign_as(&made.record, &made.signer, &made.record.observer.name, "Seen from afar"),
            "it was signed for another reason",
        ),
        (
            "another page",
            other_page,
            "its pages, or what lies beside them, are not what its record.json makes",
        ),
    ] {
        let (good, told) = verified(&made, &pdf);
        assert!(!good && told.contains(said), "{what}: {told}");
    }
}

/// The page that an earlier version drew cannot be drawn again; what it signed and its data hold all the same.
#[test]
fn a_page_that_another_version_drew_is_said_and_breaks_nothing() {
    let made = made();
    let mut document = paper::record(&made.record, made.record.ended).expect("the record is drawn");
    let about = document.trailer.get(b"Info").and_then(Object::as_reference).expect("it says what it is");
    let about = document.get_dictionary_mut(about).expect("it says what it is");
    about.set("Creator", Object::string_literal("Competency record, layout 3"));
    let facts = Facts {
        when: made.record.ended,
        name: &made.record.observer.name,
        reason: "Observed and assessed by me",
        place: &made.record.facility.name,
    };
    let pdf = sign(document, &made.signer, &facts).expect("it is signed");
    let (good, told) = verified(&made, &pdf);
    assert!(good && told.contains("another version of the program drew it"), "{told}");
    assert!(told.contains("the score was recomputed") && !told.contains("FAILS"), "{told}");
}

#[test]
fn a_later_list_from_elsewhere_tells_who_was_revoked_since() {
    let made = made();
    let signed = verify(&made.pdf, &[]).signature.expect("it is signed");
    let at = made.record.ended.with_timezone(&chrono::Utc);
    let revoked = [Revoked { certificate: signed.signer, at, why: sealing::WhyRevoked::KeyInOtherHands }];
    let list = made.facility.revoke(&revoked, 2, at).expect("a list");
    let (good, told) = verified(&made, &made.pdf);
    assert!(good, "{told}");
    let (good, told) = verified_with(&made, &made.pdf, Some(&list));
    assert!(!good && told.contains("the certificate was revoked on"), "{told}");
}

#[test]
fn other_rules_that_come_to_the_same_score_break_nothing() {
    let mut made = made();
    made.record.rules -= 1;
    let (good, told) = verified(&made, &sign_record(&made.record, &made.signer));
    assert!(good && told.contains("the score was recomputed"), "{told}");
}

#[test]
fn a_procedure_that_is_not_known_is_said_and_breaks_nothing() {
    let mut made = made();
    "A procedure of another house".clone_into(&mut made.record.procedure.title);
    made.record.procedure_hash = procedure_hash(&made.record.procedure).expect("a hash");
    let (good, told) = verified(&made, &sign_record(&made.record, &made.signer));
    assert!(good, "{told}");
    assert!(
        told.contains("A procedure of another house") && told.contains("ask the facility for the one"),
        "{told}"
    );
}
