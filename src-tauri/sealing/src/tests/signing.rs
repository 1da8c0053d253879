use super::*;

#[test]
fn a_signed_record_is_sound() {
    let verdict = verify(&signed(), &trusted());
    assert_eq!(verdict.standing(), Standing::Sound, "{}", verdict.sentence());
    assert!(verdict.reasons.iter().all(|reason| reason.holds));
    let signature = verdict.signature.as_ref().unwrap();
    let facts = facts();
    assert_eq!(signature.when, facts.when);
    assert_eq!(signature.name, facts.name);
    assert_eq!(signature.reason, facts.reason);
    assert_eq!(signature.place, facts.place);
    assert_eq!(signature.signer.person(), "person-7");
    assert_eq!(verdict.attachment.as_deref(), Some(ATTACHED));
    assert_eq!(
        verdict.sentence(),
        "The record is whole and unchanged since it was signed on 2026-11-25 10:02 +01:00 under the \
         authority of Hilltop Hospital."
    );
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    assert_eq!(signed(), signed());
}

#[test]
fn an_unknown_authority_is_said() {
    let verdict = verify(&signed(), &[]);
    assert_eq!(verdict.standing(), Standing::UnknownAuthority);
    assert!(verdict.sentence().contains(&authority().certificate().fingerprint()));
    assert_eq!(verdict.attachment.as_deref(), Some(ATTACHED));
}

#[test]
fn another_facility_of_the_same_name_is_unknown() {
    let other = Authority::create("Hilltop Hospital", moment(NOW), seed(9)).unwrap();
    let verdict = verify(&signed(), &[other.certificate().clone()]);
    assert_eq!(verdict.standing(), Standing::UnknownAuthority);
    assert!(verdict.failed(Check::KnownAuthority));
}

#[test]
fn signing_outside_the_certificate_is_refused() {
    for (when, what) in [
        ("2026-11-25T10:02:02+01:00", "the clock was set back"),
        ("2027-12-25T10:02:04+01:00", "the certificate ran out"),
    ] {
        let facts = Facts { when: when.parse().unwrap(), ..facts() };
        let error = sign(plain(), &signer_of(&authority()), &facts).expect_err(what);
        assert!(error.to_string().contains("2027-12-25"), "{error}");
    }
}

#[test]
fn what_cannot_be_signed() {
    let signer = signer_of(&authority());
    let again = sign(Document::load_mem(&signed()).unwrap(), &signer, &facts());
    assert!(matches!(again.unwrap_err(), SealingError::AlreadySigned));
    let nothing = sign(Document::new(), &signer, &facts());
    assert!(matches!(nothing.unwrap_err(), SealingError::Pdf(_)));
}

#[test]
fn a_name_of_any_length_and_script_fits() {
    let authority = Authority::create(&"Ω".repeat(64), moment(NOW), seed(1)).unwrap();
    let key = ObserverKey::create(seed(2));
    let name = "漢".repeat(64);
    let certificate = authority.certify(&key, &name, "p-1", moment(NOW), seed(3)).unwrap();
    let signer = Signer::new(key, certificate, authority.certificate().clone()).unwrap();
    let pdf = sign(plain(), &signer, &Facts { name: &name, ..facts() }).unwrap();
    let verdict = verify(&pdf, &[authority.certificate().clone()]);
    assert_eq!(verdict.standing(), Standing::Sound, "{}", verdict.sentence());
    assert_eq!(verdict.signature.unwrap().name, name);
}
