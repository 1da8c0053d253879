//! Revoked certificates: what their holder sealed counts up to the last accepted entry of each stream.

use std::collections::BTreeMap;

use competency::{report::Outcome, validity::State};
use uuid::Uuid;

use super::{
    standings::{facts, sealed},
    tests::day,
};
use crate::{Author, CertificateRevoked, Digest, Entry, Facts, Seen, digest};

/// Entry 10 of the nil stream: a demonstration sealed on day 5 with this certificate.
fn with(certificate: Option<Digest>) -> Vec<Entry> {
    let mut entries = facts(vec![(5, sealed(5, Outcome::Competent).into())]);
    for entry in &mut entries {
        entry.author = Author { certificate, ..entry.author.clone() };
    }
    entries
}

fn revoked(fingerprint: Digest, stream: Uuid, seq: u64) -> CertificateRevoked {
    CertificateRevoked {
        person: "o".to_owned(),
        fingerprint,
        at: "2026-11-20T10:00:00+01:00".parse().unwrap(),
        reason: "the tablet was lost".to_owned(),
        last_accepted: BTreeMap::from([(stream, Seen { seq, digest: digest(b"entry") })]),
        list: "-----BEGIN X509 CRL-----".to_owned(),
    }
}

#[track_caller]
fn check(revocations: &[CertificateRevoked], expected: State) {
    let mut entries = with(Some(digest(b"certificate")));
    entries.extend((20..).zip(revocations).map(|(n, one)| super::tests::stated(n, 20, one.clone())));
    let facts = Facts::fold(entries, None);
    assert_eq!(facts.standing("p", "doffing", day(21)).state, expected);
    assert_eq!(facts.people["p"].attempts.len(), 1, "nothing vanishes");
    assert_eq!(facts.revoked, revocations);
}

#[test]
fn what_stands_after_the_last_accepted_entry_does_not_count() {
    let (mine, other) = (digest(b"certificate"), digest(b"another"));
    let (here, elsewhere) = (Uuid::nil(), Uuid::from_u128(7));
    check(&[], State::Current);
    check(&[revoked(mine, here, 9)], State::NeverValidated);
    check(&[revoked(mine, here, 10)], State::Current);
    check(&[revoked(mine, here, 11)], State::Current);
    check(&[revoked(mine, elsewhere, 99)], State::NeverValidated);
    check(&[revoked(other, here, 0)], State::Current);
    check(&[revoked(mine, here, 11), revoked(mine, here, 9)], State::NeverValidated);
}

#[test]
fn what_was_sealed_without_a_certificate_is_not_touched() {
    let mut entries = with(None);
    entries.push(super::tests::stated(20, 20, revoked(digest(b"certificate"), Uuid::nil(), 0)));
    assert_eq!(Facts::fold(entries, None).standing("p", "doffing", day(21)).state, State::Current);
}

#[test]
fn a_revocation_belongs_to_the_facts_of_everyone() {
    let entry = super::tests::stated(1, 1, revoked(digest(b"certificate"), Uuid::nil(), 3));
    assert_eq!(entry.body.person(), None);
    assert_eq!(Entry::read(&entry.to_bytes().unwrap()).unwrap(), entry);
}
