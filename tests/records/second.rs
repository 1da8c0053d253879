//! The second signature in the eyes of other programs: it breaks nothing, and they say what was added.

use std::process::Command;

use sealing::{DeviceKey, Facts, Seed, Signer, Standing, countersign, verify};
use serde::Deserialize;
use serde_json::json;
use suite::python;

use crate::{
    made::{Made, made},
    outside::Desk,
};

/// What `pyhanko` says of both signatures.
const PYHANKO: &str = r"
import json, sys
from pyhanko.keys import load_cert_from_pemder
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko_certvalidator import ValidationContext
question = json.load(sys.stdin)
answers = []
with open(question['pdf'], 'rb') as file:
    for signature in PdfFileReader(file).embedded_signatures:
        context = ValidationContext(trust_roots=[load_cert_from_pemder(question['authority'])], allow_fetching=False)
        status = validate_pdf_signature(signature, context)
        answers.append(dict(field=signature.field_name, sound=status.bottom_line, coverage=status.coverage.name,
            changed=status.modification_level.name, allowed=bool(status.docmdp_ok),
            reason=str(signature.sig_object.get('/Reason', ''))))
print(json.dumps(answers))
";

#[derive(Debug, Deserialize, PartialEq, Eq)]
struct Seen {
    field: String,
    sound: bool,
    coverage: String,
    changed: String,
    allowed: bool,
    reason: String,
}

const REASON: &str = "Seen and discussed; stated on this device by the person observed: Tôi sẽ tập lại.";

fn countersigned(made: &Made) -> Vec<u8> {
    let authority = &made.facility;
    let device = DeviceKey::of(&[7; 32]).expect("a device");
    let at = made.record.ended.to_utc() - chrono::TimeDelta::hours(1);
    let certificate = authority
        .certify_device(&device, "Device 1234", "abcd1234", at, Seed::new([21; 32]))
        .expect("a certificate");
    let signer = Signer::of_device(&device, certificate, authority.certificate().clone()).expect("a signer");
    let facts = Facts {
        when: made.record.ended + chrono::TimeDelta::minutes(2),
        name: &made.record.person.name,
        reason: REASON,
        place: "Hilltop Hospital",
    };
    countersign(&made.pdf, &signer, &facts).expect("the second signature is added")
}

#[test]
fn pyhanko_finds_both_sound_and_the_first_filled_in_as_allowed() {
    let made = made();
    let desk = Desk::new(&made.authority);
    let (pdf, authority) = desk.placed(&countersigned(&made));
    let seen: Vec<Seen> = python::ask(PYHANKO, &json!({ "pdf": pdf, "authority": authority }));
    let expected = |field: &str, coverage: &str, changed: &str, reason: &str| Seen {
        field: field.to_owned(),
        sound: true,
        coverage: coverage.to_owned(),
        changed: changed.to_owned(),
        allowed: true,
        reason: reason.to_owned(),
    };
    assert_eq!(
        seen,
        [
            expected("observer", "ENTIRE_REVISION", "FORM_FILLING", "Observed and assessed by me"),
            expected("person-observed", "ENTIRE_FILE", "NONE", REASON),
        ]
    );
}

#[test]
fn pdfsig_finds_two_valid_signatures_and_qpdf_nothing_wrong() {
    let made = made();
    let desk = Desk::new(&made.authority);
    let both = countersigned(&made);
    let (pdf, _authority) = desk.placed(&both);
    let told =
        Command::new("pdfsig").args(["-nssdir".as_ref(), desk.store().as_os_str(), pdf.as_os_str()]).output();
    let told = told.expect("pdfsig starts: cargo xtask setup");
    let told = String::from_utf8_lossy(&told.stdout).into_owned();
    assert_eq!(told.matches("Signature is Valid.").count(), 2, "{told}");
    assert_eq!(told.matches("Certificate is Trusted.").count(), 2, "{told}");
    assert_eq!(told.matches("- Total document signed").count(), 1, "the second covers the first: {told}");
    assert_eq!(desk.qpdf(&both), "");
    let findings = desk.archive(&both);
    assert!(findings.iter().all(|finding| finding.starts_with("[unsupported]")), "{findings:?}");
    let verdict = verify(&both, std::slice::from_ref(&made.authority));
    assert_eq!(verdict.standing(), Standing::Sound, "{}", verdict.sentence());
}
