use std::sync::LazyLock;

use paper::{SamePage, same_page};
use sealing::{Standing, verify};

use crate::{
    made::{Made, made},
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
    assert_eq!(same_page(&MADE.pdf, &read).expect("it is drawn again"), SamePage::Same);
}

#[test]
fn a_record_stays_small() {
    // Three scripts stand on it, and the facility's list of who may no longer sign is in it.
    assert!(MADE.pdf.len() <= 60 * 1024, "{} bytes", MADE.pdf.len());
}
