use paper::{SamePage, same_page};
use sealing::{Standing, verify};

use crate::{
    made::{authority, record, sign_record, signer},
    outside::{Desk, Pdfsig},
};

/// As readers copy it, without the marks of direction that poppler puts around what runs leftwards and with lam and
/// alef as the two letters that the one character stands for (NFKC). The joiner, which only shapes what is around it, is not drawn.
fn copied(desk: &Desk, pdf: &[u8]) -> String {
    let unseen = |character: &char| matches!(character, '\u{200c}' | '\u{202a}'..='\u{202e}');
    desk.text(pdf).replace('\u{fefb}', "لا").chars().filter(|character| !unseen(character)).collect()
}

/// Arabic with its joining forms and the ligature of lam and alef, Persian with the joiner that keeps two letters
/// apart, and Han, each where names stand; the outside programs must find nothing wrong, and a reader must
/// be able to search for the name as it is typed.
#[test]
fn names_in_arabic_and_han_are_signed_read_and_found_sound() {
    let authority = authority("مستشفى السلام", 1);
    let mut made = record();
    "فاطمة الزهراء العلي".clone_into(&mut made.person.name);
    "王秀英".clone_into(&mut made.observer.name);
    "علی‌رضا پهلوانی".clone_into(&mut made.unit.name);
    "مستشفى السلام".clone_into(&mut made.facility.name);
    // A letter with a mark below that no single character has.
    "Seen with 李小龙, Seán Ó Briain (x̱) and سلام.".clone_into(&mut made.remark);
    // Once: its certificate begins at a second of today.
    let signer = signer(&authority);
    let pdf = sign_record(&made, &signer);
    assert_eq!(pdf, sign_record(&made, &signer), "the same bytes each time");
    let desk = Desk::new(authority.certificate());
    let text = copied(&desk, &pdf);
    for said in [
        "فاطمة الزهراء العلي",
        "王秀英",
        "علیرضا پهلوانی",
        "مستشفى السلام",
        "李小龙, Seán Ó Briain (x̱) and سلام",
    ] {
        assert!(text.contains(said), "{said} must be readable in: {text}");
    }
    let verdict = verify(&pdf, std::slice::from_ref(authority.certificate()));
    assert_eq!(verdict.standing(), Standing::Sound, "{}", verdict.sentence());
    assert_eq!(same_page(&pdf, &made, made.ended).expect("it is drawn again"), SamePage::Same);
    let Pdfsig { signature, certificate, whole } = desk.pdfsig(&pdf);
    assert_eq!(
        (signature.as_str(), certificate.as_str()),
        ("Signature is Valid.", "Certificate is Trusted.")
    );
    assert!(whole);
    let pyhanko = desk.pyhanko(&pdf);
    assert!(pyhanko.bottom_line && pyhanko.coverage == "ENTIRE_FILE", "{pyhanko:?}");
    assert_eq!(desk.qpdf(&pdf), "");
    for finding in desk.archive(&pdf) {
        assert!(finding.starts_with("[unsupported]"), "{finding}");
    }
}
