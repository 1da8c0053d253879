use super::*;

const REVOKED: &str = "2026-12-01T08:00:00Z";

/// The list of the observer's certificate, revoked at that moment.
fn list(at: &str) -> RevocationList {
    let authority = authority();
    let certificate = signer_of(&authority).certificate().clone();
    let gone = Revoked { certificate, at: moment(at), why: WhyRevoked::KeyInOtherHands };
    authority.revoke(&[gone], 2, moment("2026-12-02T00:00:00Z")).unwrap()
}

fn nobody() -> RevocationList {
    authority().revoke(&[], 1, moment(NOW)).unwrap()
}

fn said(verdict: &Verdict) -> &Reason {
    verdict.reasons.iter().find(|reason| reason.check == Check::NotRevoked).unwrap()
}

#[test]
fn a_list_says_who_and_since_when_and_reads_back() {
    let (authority, list) = (authority(), list(REVOKED));
    assert!(list.issued_by(authority.certificate()));
    let other = Authority::create("Hilltop Hospital", moment(NOW), seed(9)).unwrap();
    assert!(!list.issued_by(other.certificate()), "another authority of the same name");
    assert_eq!(list.revoked_at(signer_of(&authority).certificate()), Some(moment(REVOKED)));
    assert_eq!(list.revoked_at(authority.certificate()), None);
    assert_eq!(list.made_at(), moment("2026-12-02T00:00:00Z"));
    for bytes in [list.der().to_vec(), list.pem().unwrap().into_bytes()] {
        assert_eq!(RevocationList::read(&bytes).unwrap(), list);
    }
    assert!(RevocationList::read(b"nonsense").is_err());
    assert!(matches!(
        other.revoke(
            &[Revoked {
                certificate: signer_of(&authority).certificate().clone(),
                at: moment(NOW),
                why: WhyRevoked::Left
            }],
            1,
            moment(NOW)
        ),
        Err(SealingError::OtherAuthority)
    ));
}

#[test]
fn each_certificate_stands_once_with_its_earliest_date_in_one_order() {
    let authority = authority();
    let key = ObserverKey::create(seed(2));
    let certify = |byte| authority.certify(&key, "Olga", "p", moment(NOW), seed(byte)).unwrap();
    let [one, two] = [3, 4].map(certify);
    let at = |certificate: &Certificate, at| Revoked {
        certificate: certificate.clone(),
        at: moment(at),
        why: WhyRevoked::Replaced,
    };
    let (late, early) = ("2026-12-03T00:00:00Z", "2026-12-01T00:00:00Z");
    let entries = [at(&one, late), at(&two, late), at(&one, early)];
    let made = authority.revoke(&entries, 1, moment(NOW)).unwrap();
    assert_eq!((made.revoked_at(&one), made.revoked_at(&two)), (Some(moment(early)), Some(moment(late))));
    let turned: Vec<_> = entries.iter().rev().cloned().collect();
    assert_eq!(authority.revoke(&turned, 1, moment(NOW)).unwrap(), made);
}

#[test]
fn every_byte_of_a_list_counts() {
    let (authority, list) = (authority(), list(REVOKED));
    for place in 0..list.der().len() {
        let mut changed = list.der().to_vec();
        changed[place] ^= 1;
        let holds =
            RevocationList::read(&changed).is_ok_and(|changed| changed.issued_by(authority.certificate()));
        assert!(!holds, "byte {place}");
    }
}

fn signed_with(list: RevocationList) -> Vec<u8> {
    let signer = signer_of(&authority()).with_revocations(list).unwrap();
    sign(plain(), &signer, &facts()).unwrap()
}

#[test]
fn a_record_carries_the_list_and_stays_sound() {
    let pdf = signed_with(nobody());
    let verdict = verify(&pdf, &trusted());
    assert_eq!(verdict.standing(), Standing::Sound, "{}", verdict.sentence());
    assert_eq!(verdict.lists, [nobody()]);
    assert_eq!(
        said(&verdict).text,
        "the certificate is not on the latest list of revoked ones at hand, of 2026-11-25 09:02 UTC"
    );
    assert_eq!(pdf, signed_with(nobody()), "the same input gives the same bytes");
    let without = verify(&signed(), &trusted());
    assert!(without.reasons.iter().all(|reason| reason.check != Check::NotRevoked), "nothing is known");
}

#[test]
fn a_revoked_certificate_is_named() {
    // The record was signed at 2026-11-25T09:02:03Z.
    for (at, sound) in [
        ("2026-11-25T09:02:02Z", false),
        ("2026-11-25T09:02:03Z", false),
        ("2026-11-25T09:02:04Z", true),
        (REVOKED, true),
    ] {
        let verdict = verify_with(&signed(), &trusted(), &[nobody(), list(at)]);
        assert_eq!(verdict.standing() == Standing::Sound, sound, "revoked at {at}");
        assert_eq!(verdict.failed(Check::NotRevoked), !sound, "revoked at {at}");
        assert!(said(&verdict).text.contains("was revoked on "), "{}", said(&verdict).text);
        // Whoever has the key can claim a moment before that.
        assert_eq!((verdict.key_in_other_hands, said(&verdict).known), (sound, !sound), "revoked at {at}");
    }
    let left = Revoked {
        certificate: signer_of(&authority()).certificate().clone(),
        at: moment(REVOKED),
        why: WhyRevoked::Left,
    };
    let left = authority().revoke(&[left], 2, moment("2026-12-02T00:00:00Z")).unwrap();
    let verdict = verify_with(&signed(), &trusted(), &[left]);
    assert!(!verdict.key_in_other_hands && said(&verdict).known, "{}", said(&verdict).text);
    let verdict = verify_with(&signed(), &trusted(), &[list("2026-11-25T08:00:00Z")]);
    assert_eq!(
        verdict.sentence(),
        "The record cannot be relied on: the certificate was revoked on 2026-11-25 08:00 UTC, before the \
         record was signed."
    );
}

#[test]
fn a_list_of_another_authority_revokes_nothing() {
    let other = Authority::create("Hilltop Hospital", moment(NOW), seed(9)).unwrap();
    let key = ObserverKey::create(seed(2));
    // Its certificate bears the very serial number of ours, which comes from the same chance.
    let certificate = other.certify(&key, "Olga Server", "person-7", moment(NOW), seed(3)).unwrap();
    assert_eq!(certificate.serial(), signer_of(&authority()).certificate().serial());
    let gone = Revoked { certificate, at: moment(NOW), why: WhyRevoked::Left };
    let foreign = other.revoke(&[gone], 1, moment(NOW)).unwrap();
    assert_eq!(
        verify_with(&signed(), &trusted(), std::slice::from_ref(&foreign)).standing(),
        Standing::Sound
    );
    let refused = signer_of(&authority()).with_revocations(foreign);
    assert!(matches!(refused.unwrap_err(), SealingError::OtherAuthority));
}

#[test]
fn a_revoked_certificate_signs_nothing_more() {
    let at = |at| signer_of(&authority()).with_revocations(list(at)).unwrap();
    assert!(sign(plain(), &at("2026-11-25T09:02:04Z"), &facts()).is_ok(), "the second before");
    let refused = sign(plain(), &at("2026-11-25T09:02:03Z"), &facts()).unwrap_err();
    assert!(refused.to_string().contains("until 2026-11-25 09:02 UTC"), "{refused}");
    // An observer who signs all the same cannot hide it: the list is in the record.
    let hidden = sign::sign_unchecked(plain(), &at("2026-11-25T09:02:03Z"), &facts()).unwrap();
    let verdict = verify(&hidden, &trusted());
    assert_eq!(verdict.standing(), Standing::Broken);
    assert!(verdict.failed(Check::NotRevoked), "{}", verdict.sentence());
}

#[test]
fn every_single_byte_of_a_record_with_a_list_counts() {
    let (pdf, trusted) = (signed_with(nobody()), trusted());
    for place in 0..pdf.len() {
        let mut changed = pdf.clone();
        changed[place] ^= 1;
        assert_eq!(verify(&changed, &trusted).standing(), Standing::Broken, "byte {place}");
    }
}

#[test]
fn the_next_list_keeps_what_the_one_before_says_and_counts_on() {
    let authority = authority();
    let before = list(REVOKED);
    let key = ObserverKey::create(seed(12));
    let other = authority.certify(&key, "Peter", "p-2", moment(NOW), seed(13)).unwrap();
    let gone = Revoked { certificate: other.clone(), at: moment(REVOKED), why: WhyRevoked::Left };
    let next = authority.revoke_also(&before, &[gone], moment("2026-12-03T00:00:00Z")).unwrap();
    assert_eq!((before.number(), next.number()), (2, 3));
    for certificate in [signer_of(&authority).certificate(), &other] {
        assert_eq!(next.revoked_at(certificate), Some(moment(REVOKED)));
    }
    let stranger = Authority::create("Hilltop Hospital", moment(NOW), seed(9)).unwrap();
    assert!(matches!(stranger.revoke_also(&before, &[], moment(NOW)), Err(SealingError::OtherAuthority)));
}

#[test]
fn another_authority_certifies_the_key_that_somebody_has() {
    let (before, after) = (authority(), Authority::create("Hilltop Hospital", moment(NOW), seed(9)).unwrap());
    let earlier = signer_of(&before).certificate().clone();
    let renewed = after.renew(&earlier, moment(NOW), seed(14)).unwrap();
    assert_eq!((renewed.name(), renewed.person()), (earlier.name(), earlier.person()));
    let key = ObserverKey::create(seed(2));
    assert!(Signer::new(key, renewed, after.certificate().clone()).is_ok(), "the key stays where it is");
}
