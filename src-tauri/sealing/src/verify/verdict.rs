use chrono::{DateTime, FixedOffset};

use crate::{Certificate, RevocationList};

/// What verification says.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Verdict {
    /// Every check that was made, in order.
    pub reasons: Vec<Reason>,
    /// Who signed, when and why; only where nothing is broken.
    pub signature: Option<Signature>,
    /// Its certificate was revoked afterwards since its key may be in other hands, so that the moment it claims proves
    /// nothing.
    pub key_in_other_hands: bool,
    /// The second signature, where there is one; only where the first is not broken.
    pub second: Option<Signature>,
    /// The bytes of the attached `record.json`, where it is the only attachment; only where nothing is broken.
    pub attachment: Option<Vec<u8>>,
    /// Every attached file with its name; only where nothing is broken.
    pub files: Vec<(String, Vec<u8>)>,
    /// The revocation lists that the record carries; only where nothing is broken.
    pub lists: Vec<RevocationList>,
}

/// How a signed record stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Everything holds and the authority is one of those trusted.
    Sound,
    /// Everything holds, but an authority, of the first signature or of the second, is not one of those trusted.
    UnknownAuthority,
    /// Something does not hold.
    Broken,
}

/// One check.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reason {
    /// What was checked.
    pub check: Check,
    /// Whether it holds, as far as anybody can know here.
    pub holds: bool,
    /// Whether what is at hand can tell at all.
    pub known: bool,
    /// One plain statement, without a full stop.
    pub text: String,
}

/// The checks, in the order they are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Check {
    /// There is a signature, in the form that records have.
    Signed,
    /// The signature covers the whole document, and nothing was added.
    WholeDocument,
    /// The signature block is readable and holds nothing that does not belong there.
    SignatureBlock,
    /// The document is the one that was signed.
    Unchanged,
    /// The signature was made with the key of the certificate.
    Genuine,
    /// The certificate was issued by the authority that comes with it, for signing.
    Issued,
    /// The signature stands where a record has it, and is the one PDF readers show.
    Record,
    /// The certificates held at the claimed time.
    CertificateHeld,
    /// The certificate was not revoked before the claimed time, as far as the lists at hand say.
    NotRevoked,
    /// The authority is one of those trusted; asked of the second signature's, too, where it is another one.
    KnownAuthority,
    /// The second signature, where there is one, is whole and its certificate held.
    SecondSignature,
}

/// A signature, as it presents itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// The claimed moment.
    pub when: DateTime<FixedOffset>,
    /// The signer's name.
    pub name: String,
    /// What the signature means.
    pub reason: String,
    /// Where it was made.
    pub place: String,
    /// The signer's certificate.
    pub signer: Certificate,
    /// The certificate of the authority that issued it.
    pub authority: Certificate,
}

impl Verdict {
    /// How the record stands.
    pub fn standing(&self) -> Standing {
        if self.is_broken() || self.signature.is_none() {
            Standing::Broken
        } else if self.failed(Check::KnownAuthority) {
            Standing::UnknownAuthority
        } else {
            Standing::Sound
        }
    }

    /// The verdict in one sentence.
    pub fn sentence(&self) -> String {
        match (self.standing(), &self.signature) {
            (Standing::Sound, Some(signature)) => format!(
                "The record is whole and unchanged since it was signed on {} under the authority of {}.",
                signature.when.format("%Y-%m-%d %H:%M %:z"),
                signature.authority.facility(),
            ),
            (Standing::UnknownAuthority, Some(signature)) if self.knows_the_first() => format!(
                "The record is whole and unchanged since it was signed on {} under the authority of {}, but the \
                 authority of its second signature is not one that you trust: compare its fingerprint {} with the \
                 facility before you rely on that signature.",
                signature.when.format("%Y-%m-%d %H:%M %:z"),
                signature.authority.facility(),
                self.second.as_ref().map(|second| second.authority.fingerprint()).unwrap_or_default(),
            ),
            (Standing::UnknownAuthority, Some(signature)) => format!(
                "The record is whole and unchanged since it was signed, but the authority of {} is not one \
                 that you trust: compare its fingerprint {} with the facility before you rely on the record.",
                signature.authority.facility(),
                signature.authority.fingerprint(),
            ),
            (_, _) => {
                let failed: Vec<&str> = self
                    .reasons
                    .iter()
                    .filter(|reason| !reason.holds && reason.check != Check::KnownAuthority)
                    .map(|reason| reason.text.as_str())
                    .collect();
                format!("The record cannot be relied on: {}.", failed.join("; "))
            }
        }
    }

    fn knows_the_first(&self) -> bool {
        self.reasons.iter().any(|reason| reason.check == Check::KnownAuthority && reason.holds)
    }

    /// Whether this check was made and does not hold.
    pub fn failed(&self, check: Check) -> bool {
        self.reasons.iter().any(|reason| reason.check == check && !reason.holds)
    }

    pub(super) fn is_broken(&self) -> bool {
        self.reasons.iter().any(|reason| !reason.holds && reason.check != Check::KnownAuthority)
    }

    pub(super) fn add(&mut self, reason: Reason) {
        self.reasons.push(reason);
    }

    pub(super) fn check(&mut self, check: Check, holds: bool) {
        self.add(if holds { check.holds() } else { check.fails(check.failure()) });
    }

    pub(super) fn need<T>(&mut self, check: Check, found: Option<T>) -> Option<T> {
        self.check(check, found.is_some());
        found
    }
}

impl Check {
    pub(super) fn holds(self) -> Reason {
        let text = match self {
            Check::Signed => "the document is signed",
            Check::WholeDocument => "the signature covers the whole document",
            Check::SignatureBlock => "the signature block is readable",
            Check::Unchanged => "what the signature covers was not changed since",
            Check::Genuine => "the signature was made with the key of the certificate",
            Check::Issued => "the certificate was issued by the authority named in it",
            Check::Record => "the signature stands where a record has it",
            Check::CertificateHeld => "the certificate held when it was signed",
            Check::NotRevoked => "the certificate was not revoked",
            Check::KnownAuthority => "the authority is one that you trust",
            Check::SecondSignature => "the second signature holds",
        };
        Reason { check: self, holds: true, known: true, text: text.to_owned() }
    }

    pub(super) fn fails(self, text: &str) -> Reason {
        Reason { check: self, holds: false, known: true, text: text.to_owned() }
    }

    fn failure(self) -> &'static str {
        match self {
            Check::Signed => "the document carries no signature of the kind that records have",
            Check::WholeDocument => "the signature does not cover the whole document",
            Check::SignatureBlock => "the signature block is damaged or not of the kind that records have",
            Check::Unchanged => "the document was changed after it was signed",
            Check::Genuine => "the signature was not made with the key of the certificate",
            Check::Issued => "the certificate was not issued by the authority named in it",
            Check::Record => "the signature does not stand where a record has it",
            Check::CertificateHeld => "the certificate did not hold when the record says it was signed",
            Check::NotRevoked => "the certificate was revoked before the record was signed",
            Check::KnownAuthority => "the authority is not one that you trust",
            Check::SecondSignature => "the second signature does not hold",
        }
    }
}
