use super::*;

#[test]
fn an_authority_opens_with_its_passphrase_alone() {
    let made = authority();
    let sealed = made.seal("correct horse", seed(4)).unwrap();
    let text = format!("{sealed:?}");
    assert!(!text.contains("correct"), "the passphrase must not stand in what is stored");
    let open = |passphrase| Authority::open(&sealed, made.certificate().clone(), passphrase);
    assert_eq!(open("correct horse").unwrap().certificate(), made.certificate());
    assert!(matches!(open("correct horsf").unwrap_err(), SealingError::WrongPassphrase));
    let other = Authority::create("Hilltop Hospital", moment(NOW), seed(9)).unwrap();
    let mixed = Authority::open(&sealed, other.certificate().clone(), "correct horse");
    assert!(matches!(mixed.unwrap_err(), SealingError::OtherKey));
}

#[test]
fn an_observer_key_needs_both_the_pin_and_the_device() {
    let key = ObserverKey::create(seed(2));
    let sealed = key.seal("482913", &[7; 32], seed(5)).unwrap();
    let open = |pin, device| ObserverKey::open(&sealed, pin, &device);
    assert_eq!(open("482913", [7; 32]).unwrap().key, key.key);
    assert!(matches!(open("482914", [7; 32]).unwrap_err(), SealingError::WrongPin));
    assert!(matches!(open("482913", [8; 32]).unwrap_err(), SealingError::WrongPin));
}

#[test]
fn which_secrets_may_be_set() {
    for pin in ["", "12345", "12345a", "１２３４５６", "-12345", "12 3456"] {
        assert!(matches!(check_pin(pin), Err(SealingError::PinTooShort)), "{pin:?} must be refused");
    }
    for pin in ["000000", "123456", "1234567890", "987654", "890123", "1098765"] {
        assert!(matches!(check_pin(pin), Err(SealingError::PinGuessable)), "{pin:?} must be refused");
    }
    for pin in ["123457", "000001", "112233", "246810", "1234567891"] {
        assert!(check_pin(pin).is_ok(), "{pin:?} must be accepted");
    }
    for passphrase in ["", "eleven char", "aaaaaaaaaaaaaaaa", "ababababababab"] {
        let short = authority().seal(passphrase, seed(1));
        assert!(matches!(short.unwrap_err(), SealingError::PassphraseTooShort), "{passphrase:?}");
    }
    assert!(authority().seal("twelve chars", seed(1)).is_ok());
}

#[test]
fn certificates_hold_from_the_first_second_to_the_last() {
    let authority = authority();
    let observer = signer_of(&authority);
    let certificate = observer.certificate();
    assert_eq!(certificate.from(), moment(NOW));
    assert_eq!(certificate.until(), moment("2027-12-25T09:02:03Z"), "thirteen calendar months");
    for (when, holds) in [
        ("2026-11-25T09:02:02Z", false),
        ("2026-11-25T09:02:03Z", true),
        ("2027-12-25T09:02:03Z", true),
        ("2027-12-25T09:02:04Z", false),
    ] {
        assert_eq!(certificate.holds_at(moment(when)), holds, "at {when}");
    }
    assert_eq!(authority.certificate().until(), moment("2036-11-25T09:02:03Z"));
}

#[test]
fn an_observer_certificate_never_outlives_the_authority() {
    let authority = authority();
    let key = ObserverKey::create(seed(2));
    let issue = |now| authority.certify(&key, "Olga Server", "person-7", moment(now), seed(3));
    let late = issue("2036-06-01T00:00:00Z").unwrap();
    assert_eq!(late.until(), authority.certificate().until());
    let after = issue("2036-11-26T00:00:00Z");
    assert!(matches!(after.unwrap_err(), SealingError::OutsideCertificate { .. }));
}

#[test]
fn certificates_say_who_and_where_and_read_back() {
    let authority = Authority::create("Ospedale Sant’Anna — Ελλάδα", moment(NOW), seed(1)).unwrap();
    let key = ObserverKey::create(seed(2));
    let certificate = authority.certify(&key, "Nguyễn Thị Ánh", "p-42", moment(NOW), seed(3)).unwrap();
    assert_eq!(certificate.facility(), "Ospedale Sant’Anna — Ελλάδα");
    assert_eq!(certificate.name(), "Nguyễn Thị Ánh");
    assert_eq!(certificate.person(), "p-42");
    assert!(certificate.issued_by(authority.certificate()));
    assert!(!certificate.is_authority() && authority.certificate().is_authority());
    assert!(!authority.certificate().issued_by(&certificate), "an observer must not be able to issue");
    for bytes in [certificate.der().to_vec(), certificate.pem().unwrap().into_bytes()] {
        assert_eq!(Certificate::read(&bytes).unwrap(), certificate);
    }
    assert!(Certificate::read(b"nonsense").is_err());
}

#[test]
fn names_that_no_certificate_can_carry() {
    let long = "n".repeat(65);
    for name in ["", "  ", long.as_str()] {
        let refused = Authority::create(name, moment(NOW), seed(1));
        assert!(matches!(refused.unwrap_err(), SealingError::NameLength { .. }), "{name:?} must be refused");
    }
    assert!(Authority::create(&"n".repeat(64), moment(NOW), seed(1)).is_ok());
}

#[test]
fn a_signer_needs_parts_that_belong_together() {
    let authority = authority();
    let certificate = signer_of(&authority).certificate().clone();
    let stranger = ObserverKey::create(seed(8));
    let wrong_key = Signer::new(stranger, certificate.clone(), authority.certificate().clone());
    assert!(matches!(wrong_key.unwrap_err(), SealingError::OtherKey));
    let other = Authority::create("Hilltop Hospital", moment(NOW), seed(9)).unwrap();
    let wrong_authority = Signer::new(ObserverKey::create(seed(2)), certificate, other.certificate().clone());
    assert!(matches!(wrong_authority.unwrap_err(), SealingError::OtherAuthority));
}

#[test]
fn entries_are_signed_by_device_and_observer() {
    let device = DeviceKey::of(&[7; 32]).unwrap();
    let public = DevicePublic::read(&device.public().to_bytes()).unwrap();
    let signature = device.sign_entry(&[1; 32]).unwrap();
    assert!(public.verifies_entry(&[1; 32], &signature));
    assert!(!public.verifies_entry(&[2; 32], &signature), "another entry");
    let other = DeviceKey::of(&[8; 32]).unwrap();
    assert!(!other.public().verifies_entry(&[1; 32], &signature), "another device");
    let signer = signer_of(&authority());
    let signature = signer.sign_entry(&[1; 32]).unwrap();
    assert!(signer.certificate().verifies_entry(&[1; 32], &signature));
    assert!(!signer.certificate().verifies_entry(&[2; 32], &signature), "another entry");
}

#[test]
fn a_sealed_key_survives_storage_and_not_tampering() {
    let key = ObserverKey::create(seed(2));
    let sealed = key.seal("482913", &[7; 32], seed(5)).unwrap();
    let stored = serde_json::to_string(&sealed).unwrap();
    let back: SealedKey = serde_json::from_str(&stored).unwrap();
    assert_eq!(back, sealed);
    for (what, from, to) in [
        ("purpose", "\"observer\"", "\"authority\""),
        ("endless work", "\"memory_kib\":65536", "\"memory_kib\":4294967295"),
        ("salt cut short", "\"salt\":\"", "\"salt\":\"é"),
    ] {
        let changed: SealedKey = serde_json::from_str(&stored.replace(from, to)).unwrap();
        let opened = ObserverKey::open(&changed, "482913", &[7; 32]);
        assert!(matches!(opened.unwrap_err(), SealingError::Unreadable { .. }), "{what}");
    }
}
