//! The second signature: seen and discussed, or declined; and nothing else after the first.

use super::*;

fn said(reason: &'static str) -> Facts<'static> {
    Facts {
        when: "2026-11-25T10:05:00+01:00".parse().unwrap(),
        name: "Nguyễn Thị Ánh",
        reason,
        place: "Hilltop Hospital",
    }
}

fn device() -> DeviceKey {
    DeviceKey::of(&[7; 32]).unwrap()
}

/// A device of this authority as a signer.
fn of(authority: &Authority) -> Signer {
    let device = device();
    let certificate =
        authority.certify_device(&device, "Device 1234", "abcd1234", moment(NOW), seed(21)).unwrap();
    Signer::of_device(&device, certificate, authority.certificate().clone()).unwrap()
}

fn seen() -> Vec<u8> {
    countersign(&signed(), &of(&authority()), &said("Seen and discussed: “Ich übe das noch einmal.”"))
        .unwrap()
}

#[test]
fn the_first_signature_stays_and_the_second_says_who_and_what() {
    let (before, after) = (signed(), seen());
    assert!(after.starts_with(&before), "not a byte of the first revision is touched");
    let verdict = verify(&after, &trusted());
    assert_eq!(verdict.standing(), Standing::Sound, "{}", verdict.sentence());
    let second = verdict.second.unwrap();
    assert_eq!(second.name, "Nguyễn Thị Ánh");
    assert_eq!(second.reason, "Seen and discussed: “Ich übe das noch einmal.”");
    assert_eq!(verdict.signature.unwrap().name, "Olga Server");
    assert_eq!(verdict.attachment.as_deref(), Some(ATTACHED));
    assert_eq!(seen(), seen(), "the same facts give the same bytes");
    // Other readers find it by the references of the second revision: see the outside checks of records.
    let text = String::from_utf8_lossy(&after[before.len()..]).into_owned();
    let (_, range) = text.split_once("/ByteRange").unwrap();
    let range: Vec<i64> = range
        .trim_start_matches([' ', '['])
        .split(']')
        .next()
        .unwrap()
        .split_whitespace()
        .map(|number| number.parse().unwrap())
        .collect();
    let [0, start, end, rest] = range[..] else { panic!("{range:?}") };
    assert_eq!(end + rest, i64::try_from(after.len()).unwrap());
    assert!(start > i64::try_from(before.len()).unwrap());
}

#[test]
fn there_is_one_second_signature_and_no_third() {
    let again = countersign(&seen(), &of(&authority()), &said("Declined"));
    assert!(matches!(again, Err(SealingError::NotSignable { .. })), "{again:?}");
    let unsigned = countersign(&unsigned(), &of(&authority()), &said("Declined"));
    assert!(matches!(unsigned, Err(SealingError::NotSignable { .. })));
}

#[test]
fn every_single_byte_of_it_counts() {
    let (first, whole) = (signed().len(), seen());
    for at in first..whole.len() {
        let mut changed = whole.clone();
        changed[at] ^= 1;
        let verdict = verify(&changed, &trusted());
        assert_eq!(verdict.standing(), Standing::Broken, "byte {at} of {}", whole.len());
    }
    for cut in [1, 2, 10, whole.len() - first - 1] {
        let verdict = verify(&whole[..whole.len() - cut], &trusted());
        assert_eq!(verdict.standing(), Standing::Broken, "{cut} bytes cut off");
    }
    for added in [&b"\n"[..], b"%", b"1 0 obj\n<< >>\nendobj\n"] {
        let verdict = verify(&[whole.as_slice(), added].concat(), &trusted());
        assert!(verdict.failed(Check::WholeDocument), "{}", verdict.sentence());
    }
}

/// Whoever made the file may have made the addition so that reading it never ends.
#[test]
fn nothing_that_was_added_is_read_before_the_first_signature_holds() {
    let mut changed = seen();
    changed[20] ^= 1;
    let verdict = verify(&changed, &trusted());
    let whole = verdict.reasons.iter().find(|reason| reason.check == Check::WholeDocument).unwrap();
    assert!(!whole.holds && whole.text.contains("was not looked at"), "{}", whole.text);
    assert_eq!(verdict.second, None);
}

#[test]
fn its_authority_may_be_another_one_which_is_trusted_or_said_to_be_unknown() {
    // As after the authority was rolled over.
    let other = Authority::create("Hilltop Hospital", moment(NOW), seed(9)).unwrap();
    let later = countersign(&signed(), &of(&other), &said("Seen")).unwrap();
    let [old, new] = [trusted(), vec![other.certificate().clone()]];
    assert_eq!(verify(&later, &[old.clone(), new.clone()].concat()).standing(), Standing::Sound);
    let fingerprint = other.certificate().fingerprint();
    for (trusted, of_second) in [(old, true), (new, false), (vec![], false)] {
        let verdict = verify(&later, &trusted);
        assert_eq!(verdict.standing(), Standing::UnknownAuthority);
        assert!(!verdict.failed(Check::SecondSignature));
        let told = verdict.sentence();
        assert_eq!(told.contains("second signature") && told.contains(&fingerprint), of_second, "{told}");
    }
}

#[test]
fn it_must_hold_when_it_was_made() {
    let early = Facts { when: "2026-11-25T10:02:02+01:00".parse().unwrap(), ..said("Seen") };
    assert!(countersign(&signed(), &of(&authority()), &early).is_err(), "before its certificate begins");
    let lost = Revoked {
        certificate: of(&authority()).certificate().clone(),
        at: moment("2026-11-25T09:04:00Z"),
        why: WhyRevoked::KeyInOtherHands,
    };
    let list = authority().revoke(&[lost], 2, moment("2026-11-26T00:00:00Z")).unwrap();
    assert!(verify_with(&seen(), &trusted(), &[list]).failed(Check::SecondSignature));
}

/// A signature that was made over another record is copied behind this one.
#[test]
fn it_cannot_be_carried_from_one_record_to_another() {
    let other =
        sign(plain(), &signer_of(&authority()), &Facts { reason: "Another record", ..facts() }).unwrap();
    let (first, whole) = (signed(), seen());
    let carried = [other.as_slice(), &whole[first.len()..]].concat();
    assert_eq!(verify(&carried, &trusted()).standing(), Standing::Broken);
}
