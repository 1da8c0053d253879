use std::sync::LazyLock;

use paper::{SamePage, same_page};
use sealing::{Standing, verify};
use serde::Deserialize;
use serde_json::json;
use suite::python;

use crate::{
    made::{Made, made, sign_record},
    outside::{Desk, Pdfsig},
};

static MADE: LazyLock<Made> = LazyLock::new(made);

#[test]
fn pdfsig_finds_it_valid_trusted_and_wholly_signed() {
    let expected = Pdfsig {
        signature: "Signature is Valid.".to_owned(),
        certificate: "Certificate is Trusted.".to_owned(),
        whole: true,
    };
    assert_eq!(Desk::new(&MADE.authority).pdfsig(&MADE.pdf), expected);
}

#[test]
fn pyhanko_finds_it_valid_trusted_and_the_entire_file_covered() {
    let seen = Desk::new(&MADE.authority).pyhanko(&MADE.pdf);
    assert_eq!(seen.error, "");
    assert!(seen.intact && seen.valid && seen.trusted && seen.bottom_line, "{seen:?}");
    assert_eq!((seen.coverage.as_str(), seen.changed.as_str()), ("ENTIRE_FILE", "NONE"), "{seen:?}");
}

/// ETSI EN 319 102-1, 5.3, asked strictly: without knowing what was revoked, nothing is trusted, so the list that
/// the record brings along decides.
#[test]
fn the_european_validation_passes_with_the_list_that_the_record_carries() {
    let desk = Desk::new(&MADE.authority);
    let (pdf, authority) = desk.placed(&MADE.pdf);
    let said: Ades = python::ask(ADES, &json!({ "pdf": pdf, "authority": authority }));
    assert_eq!((said.with_list.as_str(), said.without.as_str()), ("OK", "CERTIFICATE_CHAIN_GENERAL_FAILURE"));
}

/// What `pyhanko` finds by the European rules, with the lists in the record and without.
#[derive(Debug, Deserialize)]
struct Ades {
    with_list: String,
    without: String,
}

const ADES: &str = r"
import asyncio, json, sys
from asn1crypto import crl
from pyhanko.keys import load_cert_from_pemder
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation.ades import ades_basic_validation
from pyhanko.sign.validation.dss import DocumentSecurityStore
from pyhanko.sign.validation.policy_decl import (LocalKnowledge, RevinfoOnlineFetchingRule, RevocationInfoGatheringSpec,
    SignatureValidationSpec)
from pyhanko_certvalidator.context import CertValidationPolicySpec
from pyhanko_certvalidator.policy_decl import REQUIRE_REVINFO, CertRevTrustPolicy
from pyhanko_certvalidator.registry import SimpleTrustManager
from pyhanko_certvalidator.revinfo.archival import CRLContainer
question = json.load(sys.stdin)
def said(signature, lists):
    spec = SignatureValidationSpec(
        cert_validation_policy=CertValidationPolicySpec(
            trust_manager=SimpleTrustManager.build(trust_roots=[load_cert_from_pemder(question['authority'])]),
            revinfo_policy=CertRevTrustPolicy(REQUIRE_REVINFO)),
        revinfo_gathering_policy=RevocationInfoGatheringSpec(
            online_fetching_rule=RevinfoOnlineFetchingRule.LOCAL_ONLY),
        local_knowledge=LocalKnowledge(known_crls=lists))
    result = asyncio.run(ades_basic_validation(signature.signed_data, spec, raw_digest=signature.compute_digest()))
    return result.ades_subindic.name
with open(question['pdf'], 'rb') as file:
    reader = PdfFileReader(file)
    signature = reader.embedded_signatures[0]
    signature.compute_integrity_info()
    carried = [CRLContainer(crl.CertificateList.load(one.get_object().data))
        for one in DocumentSecurityStore.read_dss(reader).crls]
    print(json.dumps(dict(with_list=said(signature, carried), without=said(signature, []))))
";

#[test]
fn qpdf_finds_nothing_wrong() {
    assert_eq!(Desk::new(&MADE.authority).qpdf(&MADE.pdf), "");
}

#[test]
fn pikepdf_finds_nothing_against_the_archive_format() {
    let findings = Desk::new(&MADE.authority).archive(&MADE.pdf);
    // It cannot judge forms, revocation lists, permissions and attachments, and says so; everything else it does.
    for finding in &findings {
        assert!(finding.starts_with("[unsupported]"), "{finding}");
        let known =
            ["/AcroForm", "/DSS", "/Perms", "embedded files"].iter().any(|known| finding.contains(known));
        assert!(known, "{finding}");
    }
}

#[test]
fn we_find_it_sound_and_the_pages_say_what_the_data_says() {
    let verdict = verify(&MADE.pdf, std::slice::from_ref(&MADE.authority));
    assert_eq!(verdict.standing(), Standing::Sound, "{}", verdict.sentence());
    let attached = verdict.attachment.expect("the data is attached");
    let read = evidence::Record::read(&attached).expect("the data is a record");
    assert_eq!(read, MADE.record);
    assert_eq!(same_page(&MADE.pdf, &read, MADE.record.ended).expect("it is drawn again"), SamePage::Same);
}

#[test]
fn a_record_stays_small() {
    // In Latin letters alone; each other script brings its letters along. The facility's list of who may no longer sign
    // is in it.
    let mut record = MADE.record.clone();
    "Anna Berg".clone_into(&mut record.person.name);
    "Olga Server".clone_into(&mut record.observer.name);
    let pdf = sign_record(&record, &MADE.signer);
    assert!(pdf.len() <= 60 * 1024, "{} bytes", pdf.len());
}
