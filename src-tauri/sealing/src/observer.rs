use chrono::{DateTime, TimeDelta, Utc};
use p256::{
    ecdsa::{DerSignature, SigningKey, signature::Signer as _},
    elliptic_curve::Generate,
};

use crate::{
    Certificate, DeviceKey, RevocationList, SealedKey, SealingError, Seed, check_pin, vault::Purpose,
};

/// An observer's private key, before it has a certificate.
#[derive(Debug)]
pub struct ObserverKey {
    pub(crate) key: SigningKey,
}

impl ObserverKey {
    /// Makes a key, on the device where the observer will sign.
    pub fn create(seed: Seed) -> Self {
        ObserverKey { key: SigningKey::generate_from_rng(&mut seed.into_rng()) }
    }

    /// Seals the key under the observer's PIN (six digits or more) and the device's secret, so that a
    /// copied data folder is not enough to guess the PIN.
    pub fn seal(&self, pin: &str, device_secret: &[u8; 32], seed: Seed) -> Result<SealedKey, SealingError> {
        check_pin(pin)?;
        SealedKey::seal(&self.key, Purpose::Observer, pin, device_secret, seed)
    }

    /// Opens the key again. Takes a noticeable part of a second, by design: off the ui thread.
    pub fn open(sealed: &SealedKey, pin: &str, device_secret: &[u8; 32]) -> Result<Self, SealingError> {
        let key = sealed.open(Purpose::Observer, pin, device_secret, SealingError::WrongPin)?;
        Ok(ObserverKey { key })
    }
}

/// Somebody who can sign: a key, its certificate and the authority that issued it.
#[derive(Debug)]
pub struct Signer {
    key: SigningKey,
    certificate: Certificate,
    authority: Certificate,
    revocations: Option<RevocationList>,
}

impl Signer {
    /// Puts the three together; they must belong to one another.
    pub fn new(
        key: ObserverKey,
        certificate: Certificate,
        authority: Certificate,
    ) -> Result<Self, SealingError> {
        Signer::of(key.key, certificate, authority)
    }

    /// A device as the signer of what it draws from its own ledger.
    pub fn of_device(
        device: &DeviceKey,
        certificate: Certificate,
        authority: Certificate,
    ) -> Result<Self, SealingError> {
        Signer::of(device.key.clone(), certificate, authority)
    }

    fn of(key: SigningKey, certificate: Certificate, authority: Certificate) -> Result<Self, SealingError> {
        if certificate.key()? != *key.verifying_key() {
            return Err(SealingError::OtherKey);
        }
        if !certificate.issued_by(&authority) {
            return Err(SealingError::OtherAuthority);
        }
        Ok(Signer { key, certificate, authority, revocations: None })
    }

    /// Takes the authority's latest revocation list along: records will carry it, and nothing is signed
    /// with a certificate that it names.
    pub fn with_revocations(self, list: RevocationList) -> Result<Self, SealingError> {
        if !list.issued_by(&self.authority) {
            return Err(SealingError::OtherAuthority);
        }
        Ok(Signer { revocations: Some(list), ..self })
    }

    /// The revocation list that records will carry.
    pub(crate) fn revocations(&self) -> Option<&RevocationList> {
        self.revocations.as_ref()
    }

    /// The signer's certificate.
    pub fn certificate(&self) -> &Certificate {
        &self.certificate
    }

    /// The certificate of the authority that issued it.
    pub fn authority(&self) -> &Certificate {
        &self.authority
    }

    /// Refuses a moment at which the certificate does not hold, such as after a clock was set back or
    /// since it was revoked.
    pub(crate) fn check_moment(&self, when: DateTime<Utc>) -> Result<(), SealingError> {
        let revoked = self.revocations.as_ref().and_then(|list| list.revoked_at(&self.certificate));
        if self.certificate.holds_at(when) && revoked.is_none_or(|revoked| when < revoked) {
            return Ok(());
        }
        let until = self.certificate.until();
        Err(SealingError::OutsideCertificate {
            from: self.certificate.from(),
            // It holds to the last second before it was revoked.
            until: revoked.map_or(until, |revoked| until.min(revoked - TimeDelta::seconds(1))),
        })
    }

    /// RFC 6979: no chance takes part, so the same document gives the same signature.
    pub(crate) fn sign_message(&self, message: &[u8]) -> Result<Vec<u8>, SealingError> {
        let signature: DerSignature = self.key.try_sign(message)?;
        Ok(signature.as_bytes().to_vec())
    }

    /// Signs the digest of a ledger entry: what the observer puts beside the device's own signature.
    /// Returns a DER signature.
    pub fn sign_entry(&self, digest: &[u8; 32]) -> Result<Vec<u8>, SealingError> {
        self.sign_message(&crate::device::entry_message(digest))
    }
}

impl Certificate {
    /// Whether the holder made this signature over the digest of a ledger entry.
    pub fn verifies_entry(&self, digest: &[u8; 32], signature: &[u8]) -> bool {
        self.verifies(&crate::device::entry_message(digest), signature)
    }
}
