use lopdf::{Document, IncrementalDocument, Object, dictionary};
use sealing::{Check, Revoked, Standing, WhyRevoked, verify, verify_with};
use serde_json::json;
use suite::python;

use crate::{
    made::{Made, authority, made, sign_record, signer, signer_at},
    outside::Desk,
};

/// One way of tampering, and who must see it. Where an outside program calls the signature valid, it
/// must at least say that not the whole file is signed: that is all it can know.
struct Case {
    what: &'static str,
    pdf: Vec<u8>,
    /// The check of ours that must fail.
    ours: Check,
    /// The outside programs that call the signature itself bad; the others see what was added.
    bad_signature: bool,
}

fn place(bytes: &[u8], needle: &[u8]) -> usize {
    bytes.windows(needle.len()).position(|window| window == needle).expect("it is in the file")
}

fn flipped(pdf: &[u8], at: usize) -> Vec<u8> {
    let mut changed = pdf.to_vec();
    *changed.get_mut(at).expect("a place in the file") ^= 1;
    changed
}

/// A change that is appended to the file, as editing programs do.
fn appended(pdf: &[u8], change: impl FnOnce(&mut IncrementalDocument)) -> Vec<u8> {
    let before = Document::load_mem(pdf).expect("a document");
    let mut update = IncrementalDocument::create_from(pdf.to_vec(), before);
    "1.7".clone_into(&mut update.new_document.version);
    change(&mut update);
    let mut bytes = Vec::new();
    update.save_to(&mut bytes).expect("it is written");
    bytes
}

fn with_another_page(pdf: &[u8]) -> Vec<u8> {
    appended(pdf, |update| {
        let before = update.get_prev_documents();
        let pages = before.catalog().and_then(|catalog| catalog.get(b"Pages")).and_then(Object::as_reference);
        let pages = pages.expect("pages");
        let mut tree = before.get_dictionary(pages).expect("the tree of pages").clone();
        let page = update.new_document.add_object(dictionary! {
            "Type" => "Page", "Parent" => pages, "MediaBox" => vec![0.into(), 0.into(), 100.into(), 100.into()],
        });
        let count = tree.get(b"Count").and_then(Object::as_i64).expect("a count");
        tree.set("Count", count + 1);
        tree.get_mut(b"Kids").and_then(Object::as_array_mut).expect("kids").push(page.into());
        update.new_document.set_object(pages, tree);
    })
}

fn with_another_attachment(pdf: &[u8]) -> Vec<u8> {
    appended(pdf, |update| {
        let found = update.get_prev_documents().objects.iter().find_map(|(id, object)| {
            let stream = object.as_stream().ok()?;
            let kind = stream.dict.get(b"Type").and_then(Object::as_name).ok()?;
            (kind == b"EmbeddedFile").then(|| (*id, stream.clone()))
        });
        let (id, mut stream) = found.expect("the attachment");
        stream.set_plain_content(br#"{"outcome":"competent"}"#.to_vec());
        update.new_document.set_object(id, stream);
    })
}

/// The byte range says less than the file: what stands behind it could then be changed freely.
fn with_less_covered(pdf: &[u8]) -> Vec<u8> {
    let start = place(pdf, b"/ByteRange");
    let length = place(pdf.get(start..).expect("the rest"), b"]");
    let text = String::from_utf8(pdf.get(start..start + length).expect("a range").to_vec()).expect("text");
    let last = text.split_ascii_whitespace().last().expect("a number").to_owned();
    let less = (last.parse::<usize>().expect("a number") - 40).to_string();
    let shrunk = format!("{:<length$}", text.replace(&last, &less));
    let mut changed = pdf.to_vec();
    changed.splice(start..start + length, shrunk.bytes());
    changed
}

/// The signature block of another record of the same observer.
fn with_a_borrowed_signature(made: &Made) -> Vec<u8> {
    let mut other = made.record.clone();
    "Another demonstration.".clone_into(&mut other.remark);
    let other = sign_record(&other, &made.signer);
    let block = |pdf: &[u8]| {
        let start = place(pdf, b"/Contents<") + 10;
        start..start + place(pdf.get(start..).expect("the rest"), b">")
    };
    let borrowed = other.get(block(&other)).expect("a block").to_vec();
    let mut changed = made.pdf.clone();
    let into = block(&changed);
    assert_eq!(into.len(), borrowed.len(), "the blocks must fit for the case to mean something");
    changed.splice(into, borrowed);
    changed
}

fn cases(made: &Made) -> Vec<Case> {
    let pdf = &made.pdf;
    let case = |what, pdf, ours, bad_signature| Case { what, pdf, ours, bad_signature };
    vec![
        case("a byte of a page flipped", flipped(pdf, place(pdf, b"stream") + 20), Check::Unchanged, true),
        case("a byte of the date flipped", flipped(pdf, place(pdf, b"/M(D:") + 8), Check::Unchanged, true),
        case("the byte range shrunk", with_less_covered(pdf), Check::WholeDocument, true),
        case("the signature of another record", with_a_borrowed_signature(made), Check::Unchanged, true),
        case("a comment appended", [pdf, &b"\n% seen"[..]].concat(), Check::WholeDocument, false),
        case("a page appended", with_another_page(pdf), Check::WholeDocument, false),
        case("the attachment replaced", with_another_attachment(pdf), Check::WholeDocument, false),
    ]
}

#[test]
fn every_case_is_found_by_us_and_by_the_outside_programs() {
    let made = made();
    let desk = Desk::new(&made.authority);
    for Case { what, pdf, ours, bad_signature } in cases(&made) {
        let verdict = verify(&pdf, std::slice::from_ref(&made.authority));
        assert_eq!(verdict.standing(), Standing::Broken, "{what}: {}", verdict.sentence());
        assert!(verdict.failed(ours), "{what} must be named: {}", verdict.sentence());
        let (pdfsig, pyhanko) = (desk.pdfsig(&pdf), desk.pyhanko(&pdf));
        let (seen_bad, seen_sound) = (
            pdfsig.signature != "Signature is Valid.",
            pyhanko.intact && pyhanko.valid && pyhanko.coverage == "ENTIRE_FILE",
        );
        assert_eq!(seen_bad, bad_signature, "{what}: {pdfsig:?}");
        assert!(seen_bad || !pdfsig.whole, "{what}: {pdfsig:?}");
        assert!(!seen_sound, "{what}: {pyhanko:?}");
    }
}

#[test]
fn the_certificate_of_another_facility_is_found() {
    let made = made();
    // Same name, another key: what a forger could make.
    let stranger = authority("Hilltop Hospital", 9);
    let forged = sign_record(&made.record, &signer(&stranger));
    let verdict = verify(&forged, std::slice::from_ref(&made.authority));
    assert_eq!(verdict.standing(), Standing::UnknownAuthority, "{}", verdict.sentence());
    let desk = Desk::new(&made.authority);
    let pdfsig = desk.pdfsig(&forged);
    assert_eq!(pdfsig.signature, "Signature is Valid.");
    assert_ne!(pdfsig.certificate, "Certificate is Trusted.");
    let pyhanko = desk.pyhanko(&forged);
    assert!(pyhanko.intact && !pyhanko.trusted && !pyhanko.bottom_line, "{pyhanko:?}");
}

/// Without a time stamp of somebody else's, the outside programs judge a certificate by today; we judge it by the
/// moment of signing, and the revocation list and the chain of entries say whether that moment is to be believed.
#[test]
fn a_certificate_that_ran_out_since_is_told_by_the_outside_programs() {
    let then = made().record.ended.to_utc() - chrono::TimeDelta::days(800);
    let authority = sealing::Authority::create("Hilltop Hospital", then, sealing::Seed::new([1; 32]))
        .expect("an authority");
    let signer = signer_at(&authority, then);
    let mut record = made().record;
    (record.begun, record.ended) = (
        then.fixed_offset() + chrono::TimeDelta::hours(1),
        then.fixed_offset() + chrono::TimeDelta::hours(2),
    );
    let old = sign_record(&record, &signer);
    let verdict = verify(&old, std::slice::from_ref(authority.certificate()));
    assert_eq!(verdict.standing(), Standing::Sound, "{}", verdict.sentence());
    let desk = Desk::new(authority.certificate());
    let pdfsig = desk.pdfsig(&old);
    assert_eq!(pdfsig.signature, "Signature is Valid.");
    assert_ne!(pdfsig.certificate, "Certificate is Trusted.");
    let pyhanko = desk.pyhanko(&old);
    assert!(pyhanko.intact && pyhanko.valid && !pyhanko.trusted, "{pyhanko:?}");
}

/// The record was signed before; a verifier that is handed the list sees which certificate holds no longer.
#[test]
fn a_certificate_that_was_revoked_is_found_by_us_and_by_pyhanko() {
    let made = made();
    let at = made.record.ended.to_utc() - chrono::TimeDelta::hours(1);
    let certificate = made.signer.certificate().clone();
    let list = made
        .facility
        .revoke(&[Revoked { certificate, at, why: WhyRevoked::KeyInOtherHands }], 2, at)
        .expect("a list");
    let verdict = verify_with(&made.pdf, std::slice::from_ref(&made.authority), std::slice::from_ref(&list));
    assert!(verdict.failed(Check::NotRevoked), "{}", verdict.sentence());
    let desk = Desk::new(&made.authority);
    let (pdf, authority) = desk.placed(&made.pdf);
    let crl = pdf.with_extension("crl");
    std::fs::write(&crl, list.der()).expect("the list is written");
    let said: String = python::ask(REVOKED, &json!({ "pdf": pdf, "authority": authority, "crl": crl }));
    assert!(said.contains("revoked"), "pyhanko says: {said}");
}

const REVOKED: &str = r"
import json, sys
from asn1crypto import crl
from pyhanko.keys import load_cert_from_pemder
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko_certvalidator import ValidationContext
question = json.load(sys.stdin)
with open(question['crl'], 'rb') as file:
    listed = crl.CertificateList.load(file.read())
context = ValidationContext(trust_roots=[load_cert_from_pemder(question['authority'])], allow_fetching=False,
    crls=[listed], revocation_mode='require')
with open(question['pdf'], 'rb') as file:
    status = validate_pdf_signature(PdfFileReader(file).embedded_signatures[0], context)
print(json.dumps('revoked' if status.revoked else status.summary()))
";

#[test]
fn sampled_bytes_are_found_by_all() {
    let made = made();
    let desk = Desk::new(&made.authority);
    // Every byte is tried in `sealing`; here a few, spread over the file, in the eyes of the others. They do not
    // look at the padding of the signature block, which no signature covers; we do.
    let block = place(&made.pdf, b"/Contents<") + 10;
    let end = block + place(made.pdf.get(block..).expect("the rest"), b">");
    let padding = end - 80..end;
    let sampled = (0..made.pdf.len()).step_by(made.pdf.len() / 12 + 1);
    for at in sampled.filter(|at| !padding.contains(at)) {
        let pdf = flipped(&made.pdf, at);
        let verdict = verify(&pdf, std::slice::from_ref(&made.authority));
        assert_eq!(verdict.standing(), Standing::Broken, "byte {at}");
        assert_ne!(desk.pdfsig(&pdf).signature, "Signature is Valid.", "byte {at}");
        let pyhanko = desk.pyhanko(&pdf);
        assert!(!pyhanko.bottom_line, "byte {at}: {pyhanko:?}");
    }
}
