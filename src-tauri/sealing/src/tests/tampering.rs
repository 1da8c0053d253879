use super::*;

#[track_caller]
fn broken(what: &str, pdf: &[u8], check: Check) {
    let verdict = verify(pdf, &trusted());
    assert_eq!(verdict.standing(), Standing::Broken, "{what}: {}", verdict.sentence());
    assert!(verdict.failed(check), "{what} must be named: {}", verdict.sentence());
    assert_eq!(verdict.attachment, None, "{what}: nothing may be read out of it");
}

#[test]
fn every_single_byte_counts() {
    let (pdf, trusted) = (signed(), trusted());
    let gap = verify::layout_of(&pdf);
    for place in 0..pdf.len() {
        // The case of a hexadecimal digit is the one thing inside the block that no signature covers.
        let masks: &[u8] = if gap.contains(&place) { &[0x01, 0x20] } else { &[0x01] };
        for mask in masks {
            let mut changed = pdf.clone();
            changed[place] ^= mask;
            let verdict = verify(&changed, &trusted);
            assert_eq!(verdict.standing(), Standing::Broken, "byte {place} changed by {mask:#x}");
        }
    }
}

#[test]
fn every_cut_counts() {
    let (pdf, trusted) = (signed(), trusted());
    for length in 0..pdf.len() {
        let verdict = verify(&pdf[..length], &trusted);
        assert_eq!(verdict.standing(), Standing::Broken, "cut to {length} bytes");
    }
    broken("the last byte cut off", &pdf[..pdf.len() - 1], Check::WholeDocument);
}

#[test]
fn anything_added_counts() {
    let pdf = signed();
    for added in ["\n", "% a comment", "\n1 0 obj\n<<>>\nendobj\n%%EOF"] {
        broken("something appended", &[&pdf, added.as_bytes()].concat(), Check::WholeDocument);
    }
    broken("something put in front", &[b"\n", pdf.as_slice()].concat(), Check::Signed);
}

#[test]
fn a_changed_attachment_is_a_changed_document() {
    let mut pdf = signed();
    let place = find(&pdf, b"competent");
    pdf[place..place + 9].copy_from_slice(b"excellent");
    broken("the attachment replaced", &pdf, Check::Unchanged);
}

#[test]
fn a_shrunk_byte_range_covers_too_little() {
    let pdf = signed();
    let key = find(&pdf, b"/ByteRange");
    let end = key + find(&pdf[key..], b"]");
    let text = String::from_utf8(pdf[key..end].to_vec()).unwrap();
    let rest = text.split_ascii_whitespace().last().unwrap();
    let less = (rest.parse::<usize>().unwrap() - 40).to_string();
    let shrunk = format!("{:<width$}", text.replace(rest, &less), width = text.len());
    let mut changed = pdf.clone();
    changed[key..end].copy_from_slice(&shrunk.as_bytes()[..text.len()]);
    broken("the byte range shrunk", &changed, Check::WholeDocument);
    broken("the byte range shrunk", &changed, Check::Unchanged);
}

#[test]
fn a_signature_from_another_record_does_not_fit() {
    let (one, two) = (signed(), {
        let facts = Facts { reason: "Observed and assessed by us", ..facts() };
        sign(plain(), &signer_of(&authority()), &facts).unwrap()
    });
    let block = |pdf: &[u8]| {
        let start = find(pdf, b"/Contents<") + 10;
        start..start + find(&pdf[start..], b">")
    };
    let mut swapped = one.clone();
    swapped[block(&one)].copy_from_slice(&two[block(&two)]);
    broken("the signature swapped", &swapped, Check::Unchanged);
}

#[test]
fn a_certificate_that_did_not_hold_is_named() {
    let authority = authority();
    let signer = signer_of(&authority);
    let held = sign(plain(), &signer, &facts()).unwrap();
    // Signing refuses it, so the claimed moment is signed by a second certificate issued later.
    let key = ObserverKey::create(seed(2));
    let later = authority.certify(&key, "Olga Server", "person-7", moment("2027-01-01T00:00:00Z"), seed(6));
    let later = Signer::new(key, later.unwrap(), authority.certificate().clone()).unwrap();
    let backdated = sign::sign_unchecked(plain(), &later, &facts()).unwrap();
    assert_eq!(verify(&held, &trusted()).standing(), Standing::Sound);
    let verdict = verify(&backdated, &trusted());
    assert_eq!(verdict.standing(), Standing::Broken);
    assert!(verdict.failed(Check::CertificateHeld), "{}", verdict.sentence());
}

#[test]
fn a_certificate_that_had_run_out_is_named() {
    let authority = Authority::create("Hilltop Hospital", moment("2023-01-01T00:00:00Z"), seed(1)).unwrap();
    let key = ObserverKey::create(seed(2));
    let early = authority.certify(&key, "Olga Server", "person-7", moment("2023-01-02T00:00:00Z"), seed(6));
    let early = Signer::new(key, early.unwrap(), authority.certificate().clone()).unwrap();
    assert!(sign(plain(), &early, &facts()).is_err(), "signing refuses it");
    let late = sign::sign_unchecked(plain(), &early, &facts()).unwrap();
    let verdict = verify(&late, std::slice::from_ref(authority.certificate()));
    assert_eq!(verdict.standing(), Standing::Broken);
    assert!(verdict.failed(Check::CertificateHeld), "{}", verdict.sentence());
}

#[test]
fn an_observer_cannot_make_observers() {
    // The block carries the certificates that its maker chose; here the "authority" is an observer.
    let authority = authority();
    let observer = signer_of(&authority);
    let pdf = sign(plain(), &observer, &facts()).unwrap();
    let gap = verify::layout_of(&pdf);
    let digest = sign::digest(&pdf, &gap);
    let attributes = cms::attributes(&digest, observer.certificate()).unwrap();
    let signature = observer.sign_message(&attributes).unwrap();
    let stranger = Authority::create("Other Hospital", moment(NOW), seed(9)).unwrap();
    let forged = cms::assemble(&digest, observer.certificate(), stranger.certificate(), &signature).unwrap();
    let mut changed = pdf.clone();
    let text = vault::hex(&forged);
    let room = gap.len() - 2;
    assert!(text.len() <= room, "the forged block must fit for the test to mean something");
    let padded = format!("{text:0<room$}");
    changed[gap.start + 1..gap.end - 1].copy_from_slice(padded.as_bytes());
    broken("issued by somebody else", &changed, Check::Issued);
}

#[test]
fn what_is_no_record_at_all() {
    for bytes in [&b""[..], b"%PDF-1.7", b"/ByteRange", b"/ByteRange[0 0 0 0]", b"/ByteRange[0 1 3 9]<>"] {
        assert_eq!(verify(bytes, &trusted()).standing(), Standing::Broken);
    }
    broken("not signed", &unsigned(), Check::Signed);
    let endless = format!("/ByteRange[0 {0} {0} {0}]", usize::MAX);
    broken("endless", endless.as_bytes(), Check::Signed);
}

/// Signs changed bytes of the same length anew, as whoever has the key can.
fn signed_again(mut pdf: Vec<u8>) -> Vec<u8> {
    let signer = signer_of(&authority());
    let start = find(&pdf, b"/Contents<") + b"/Contents".len();
    let gap = start..start + find(&pdf[start..], b">") + 1;
    let digest = sign::digest(&pdf, &gap);
    let signature = signer.sign_message(&cms::attributes(&digest, signer.certificate()).unwrap()).unwrap();
    let block = cms::assemble(&digest, signer.certificate(), signer.authority(), &signature).unwrap();
    let block = vault::hex(&block);
    let width = gap.len() - 2;
    pdf[gap.start + 1..gap.end - 1].copy_from_slice(format!("{block:0<width$}").as_bytes());
    pdf
}

/// Whoever has the key could put beside the signature what some reader does or shows: another kind of form, rights,
/// words of another program.
#[test]
fn nothing_but_what_signing_writes_stands_around_a_signature() {
    let own = verify(&signed_again(signed()), &trusted());
    assert_eq!(own.standing(), Standing::Sound, "it is the key's own work");
    for (ours, theirs) in [
        ("/SigFlags", "/XFAFlags"),
        ("/DocMDP ", "/UR3MDP "),
        ("/Reason", "/Reas0n"),
        ("/T(person-observed)", "/U(person-observed)"),
    ] {
        let mut pdf = signed();
        let at = find(&pdf, ours.as_bytes());
        pdf[at..at + ours.len()].copy_from_slice(theirs.as_bytes());
        broken(theirs, &signed_again(pdf), Check::Record);
    }
}
