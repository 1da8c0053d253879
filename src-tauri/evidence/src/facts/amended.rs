//! What was taken back or corrected afterwards, and what counts then.

use chrono::NaiveDate;
use uuid::Uuid;

use crate::{Attempt, CertificateIssued, CertificateRevoked, Corrected, Correction, Digest, Facts, Place};

/// The dates by which something counts: those that were sealed, or those of its correction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dates {
    /// Civil date on which it was carried out.
    pub on: NaiveDate,
    /// Valid through this date; `None` where it grants nothing.
    pub valid_until: Option<NaiveDate>,
}

impl Facts {
    /// Whether an entry still counts.
    pub fn counts(&self, entry: Uuid) -> bool {
        !self.voided.contains_key(&entry)
    }

    /// The corrections of an entry that were not voided themselves, in the order of the entries. Those that
    /// were stand in [`Facts::corrected`] still, and a history shows them as well.
    pub fn corrections(&self, entry: Uuid) -> impl Iterator<Item = &Corrected> {
        let all = self.corrected.get(&entry).map(Vec::as_slice).unwrap_or_default();
        all.iter().filter(|corrected| self.counts(corrected.entry))
    }

    /// Whether people disagree about an entry: two of its corrections give different dates. Both stand and
    /// show until one is voided.
    pub fn disputed(&self, entry: Uuid) -> bool {
        let mut dates = self.corrected_dates(entry);
        dates.next().is_some_and(|first| dates.any(|other| other != first))
    }

    /// The dates by which an attempt counts.
    pub fn dates(&self, attempt: &Attempt) -> Dates {
        let sealed = &attempt.sealed;
        self.dates_of(attempt.entry, Dates { on: sealed.on, valid_until: sealed.valid_until })
    }

    /// The dates by which an entry counts that says `said`. Where corrections conflict, the one that grants
    /// the least counts: nobody goes in on a date that somebody disputes.
    pub(super) fn dates_of(&self, entry: Uuid, said: Dates) -> Dates {
        self.corrected_dates(entry).min_by_key(|dates| (dates.valid_until, dates.on)).unwrap_or(said)
    }

    /// Whether an attempt was sealed with a certificate that was not revoked, or stands no later in its
    /// stream than the last entry accepted from the holder. Where it was revoked more than once, every
    /// revocation must accept it.
    pub fn accepted(&self, attempt: &Attempt) -> bool {
        let certificate = attempt.author.certificate;
        certificate.is_none_or(|certificate| self.revoked_before(certificate, attempt.place).is_none())
    }

    /// The revocation of a certificate after which whatever it sealed at a place counts for nothing: one whose last
    /// accepted entry of that stream comes before.
    pub fn revoked_before(&self, certificate: Digest, place: Place) -> Option<&CertificateRevoked> {
        let accepts = |one: &&CertificateRevoked| {
            one.last_accepted.get(&place.stream).is_some_and(|last| place.seq <= last.seq)
        };
        self.revoked.iter().filter(|one| one.fingerprint == certificate).find(|one| !accepts(one))
    }

    /// Whether a certificate holds no longer.
    pub fn is_revoked(&self, certificate: Digest) -> bool {
        self.revoked.iter().any(|revoked| revoked.fingerprint == certificate)
    }

    /// The certificate that somebody signs with now: the latest that was issued to them and not revoked.
    pub fn certificate(&self, person: &str) -> Option<&CertificateIssued> {
        let issued = &self.people.get(person)?.certificates;
        issued.iter().rev().find(|issued| !self.is_revoked(issued.fingerprint))
    }

    fn corrected_dates(&self, entry: Uuid) -> impl Iterator<Item = Dates> {
        self.corrections(entry).filter_map(|corrected| match corrected.correction {
            Correction::Date { on, valid_until } => Some(Dates { on, valid_until }),
            Correction::Note { .. } => None,
        })
    }
}
