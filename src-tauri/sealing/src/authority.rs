use std::collections::BTreeSet;

use chacha20::rand_core::CryptoRng;
use chrono::{DateTime, Months, SubsecRound, Utc};
use der::{Decode, asn1::OctetString};
use p256::{
    ecdsa::{DerSignature, SigningKey, VerifyingKey, signature::Signer as _},
    elliptic_curve::Generate,
    pkcs8::EncodePublicKey,
};
use sha2::{Digest, Sha256};
use x509_cert::{
    TbsCertificate,
    builder::{self, Builder, CertificateBuilder, profile::BuilderProfile},
    ext::{
        Extension, ToExtension,
        pkix::{AuthorityKeyIdentifier, BasicConstraints, KeyUsage, KeyUsages, SubjectKeyIdentifier},
    },
    name::Name,
    serial_number::SerialNumber,
    spki::{SubjectPublicKeyInfo, SubjectPublicKeyInfoRef},
};

use crate::{
    Certificate, DeviceKey, DevicePublic, ObserverKey, RevocationList, Revoked, SealedKey, SealingError,
    Seed,
    certificate::{subject, validity},
    device::entry_message,
    vault::{NO_DEVICE, Purpose},
};

/// An authority's certificate holds for ten years (common practice, no source).
const AUTHORITY_MONTHS: u32 = 120;
/// An observer's certificate outlives a yearly re-validation by a month (common practice, no source).
const OBSERVER_MONTHS: u32 = 13;
/// NIST SP 800-63B asks for eight characters at least and for none that are guessed at once (from memory). Every backup
/// carries the sealed key, so that whoever has one may guess without a limit: half as many again.
const LEAST_PASSPHRASE: usize = 12;
/// So many characters must differ: `aaaaaaaaaaaa` is none.
const LEAST_DIFFERENT: usize = 5;

/// A facility's own signing authority: it says who may sign records there.
#[derive(Debug)]
pub struct Authority {
    key: SigningKey,
    certificate: Certificate,
}

impl Authority {
    /// Makes the key and the certificate by which PDF readers come to trust the facility's records.
    /// `facility` is its name, at most 64 characters; `now` is where the certificate begins.
    pub fn create(facility: &str, now: DateTime<Utc>, seed: Seed) -> Result<Self, SealingError> {
        let mut rng = seed.into_rng();
        let key = SigningKey::generate_from_rng(&mut rng);
        let name = subject(facility, "Record authority", None)?;
        let profile = Profile { subject: name.clone(), issuer: name, kind: Kind::Authority };
        let until = later(now, AUTHORITY_MONTHS)?;
        let certificate = issue(profile, key.verifying_key(), &key, (now, until), &mut rng)?;
        Ok(Authority { key, certificate })
    }

    /// The certificate to store, to export and to trust.
    pub fn certificate(&self) -> &Certificate {
        &self.certificate
    }

    /// Seals the key under a passphrase of twelve characters or more that are not all alike.
    pub fn seal(&self, passphrase: &str, seed: Seed) -> Result<SealedKey, SealingError> {
        let different: BTreeSet<char> = passphrase.chars().collect();
        if passphrase.chars().count() < LEAST_PASSPHRASE || different.len() < LEAST_DIFFERENT {
            return Err(SealingError::PassphraseTooShort);
        }
        SealedKey::seal(&self.key, Purpose::Authority, passphrase, NO_DEVICE, seed)
    }

    /// Opens the key again. Takes a noticeable part of a second, by design: off the ui thread.
    pub fn open(
        sealed: &SealedKey,
        certificate: Certificate,
        passphrase: &str,
    ) -> Result<Self, SealingError> {
        let key = sealed.open(Purpose::Authority, passphrase, NO_DEVICE, SealingError::WrongPassphrase)?;
        if certificate.key()? != *key.verifying_key() {
            return Err(SealingError::OtherKey);
        }
        Ok(Authority { key, certificate })
    }

    /// Issues a certificate to an observer: thirteen calendar months from `now`, never longer than
    /// the authority's own. `name` is what records show, at most 64 characters; `person` is the id in
    /// the facility, letters, digits and hyphens.
    pub fn certify(
        &self,
        observer: &ObserverKey,
        name: &str,
        person: &str,
        now: DateTime<Utc>,
        seed: Seed,
    ) -> Result<Certificate, SealingError> {
        self.issue_to(observer.key.verifying_key(), name, person, now, seed)
    }

    /// Makes the list of every certificate that was ever revoked; it takes the place of the list before,
    /// so `revoked` must hold what that one held. `number` counts the facility's lists, from 1.
    ///
    /// # Errors
    /// When one of the certificates was issued by another authority.
    pub fn revoke(
        &self,
        revoked: &[Revoked],
        number: u64,
        now: DateTime<Utc>,
    ) -> Result<RevocationList, SealingError> {
        if revoked.iter().any(|one| !one.certificate.issued_by(&self.certificate)) {
            return Err(SealingError::OtherAuthority);
        }
        RevocationList::issue(&self.certificate, &self.key, revoked, None, number, now)
    }

    /// Makes the next list: everything that the one before names, as it stands there, and these besides.
    ///
    /// # Errors
    /// When the list before, or one of the certificates, is another authority's.
    pub fn revoke_also(
        &self,
        before: &RevocationList,
        revoked: &[Revoked],
        now: DateTime<Utc>,
    ) -> Result<RevocationList, SealingError> {
        let ours = before.issued_by(&self.certificate)
            && revoked.iter().all(|one| one.certificate.issued_by(&self.certificate));
        if !ours {
            return Err(SealingError::OtherAuthority);
        }
        let number = before.number().saturating_add(1);
        RevocationList::issue(&self.certificate, &self.key, revoked, Some(before), number, now)
    }

    /// Issues a certificate to whoever holds the key of an earlier one, such as after the authority was
    /// rolled over: the key stays where it is, and so does the PIN that opens it.
    ///
    /// # Errors
    /// As [`Authority::certify`], and where the earlier certificate cannot be read.
    pub fn renew(
        &self,
        earlier: &Certificate,
        now: DateTime<Utc>,
        seed: Seed,
    ) -> Result<Certificate, SealingError> {
        self.issue_to(&earlier.key()?, &earlier.name(), &earlier.person(), now, seed)
    }

    /// Issues a certificate to a device, for what it seals without anybody's PIN, such as a history drawn from
    /// its ledger. `name` is what is shown, `device` its id, letters, digits and hyphens.
    ///
    /// # Errors
    /// As [`Authority::certify`].
    pub fn certify_device(
        &self,
        device: &DeviceKey,
        name: &str,
        id: &str,
        now: DateTime<Utc>,
        seed: Seed,
    ) -> Result<Certificate, SealingError> {
        self.issue_to(device.key.verifying_key(), name, id, now, seed)
    }

    /// The same for a device that is elsewhere and has sent its public key.
    ///
    /// # Errors
    /// As [`Authority::certify`].
    pub fn certify_other_device(
        &self,
        device: &DevicePublic,
        name: &str,
        id: &str,
        now: DateTime<Utc>,
        seed: Seed,
    ) -> Result<Certificate, SealingError> {
        self.issue_to(&device.0, name, id, now, seed)
    }

    /// Signs the digest of a ledger entry. Returns a DER signature.
    ///
    /// # Errors
    /// Never in practice.
    pub fn sign_entry(&self, digest: &[u8; 32]) -> Result<Vec<u8>, SealingError> {
        let signature: DerSignature = self.key.try_sign(&entry_message(digest))?;
        Ok(signature.as_bytes().to_vec())
    }

    fn issue_to(
        &self,
        holder: &VerifyingKey,
        name: &str,
        person: &str,
        now: DateTime<Utc>,
        seed: Seed,
    ) -> Result<Certificate, SealingError> {
        if !self.certificate.holds_at(now) {
            return Err(SealingError::OutsideCertificate {
                from: self.certificate.from(),
                until: self.certificate.until(),
            });
        }
        let profile = Profile {
            subject: subject(&self.certificate.facility(), name, Some(person))?,
            issuer: self.certificate.inner.tbs_certificate().subject().clone(),
            kind: Kind::Observer,
        };
        let until = later(now, OBSERVER_MONTHS)?.min(self.certificate.until());
        issue(profile, holder, &self.key, (now, until), &mut seed.into_rng())
    }
}

fn later(now: DateTime<Utc>, months: u32) -> Result<DateTime<Utc>, SealingError> {
    now.checked_add_months(Months::new(months)).ok_or(SealingError::ImpossibleDate)
}

fn issue(
    profile: Profile,
    holder: &VerifyingKey,
    issuer: &SigningKey,
    (from, until): (DateTime<Utc>, DateTime<Utc>),
    rng: &mut impl CryptoRng,
) -> Result<Certificate, SealingError> {
    let spki = holder.to_public_key_der().or(Err(SealingError::Unreadable { what: "key" }))?;
    let spki = SubjectPublicKeyInfo::from_der(spki.as_bytes())?;
    // Certificates count in whole seconds; rounding down keeps `from` from lying in the future.
    let validity = validity(from.trunc_subsecs(0), until.trunc_subsecs(0))?;
    let builder = CertificateBuilder::new(profile, SerialNumber::generate(rng), validity, spki)?;
    Certificate::new(builder.build::<_, DerSignature>(issuer)?)
}

enum Kind {
    Authority,
    Observer,
}

/// The extensions of RFC 5280 4.2 that our two kinds of certificate carry.
struct Profile {
    subject: Name,
    issuer: Name,
    kind: Kind,
}

impl BuilderProfile for Profile {
    fn get_issuer(&self, _subject: &Name) -> Name {
        self.issuer.clone()
    }

    fn get_subject(&self) -> Name {
        self.subject.clone()
    }

    fn build_extensions(
        &self,
        holder: SubjectPublicKeyInfoRef<'_>,
        issuer: SubjectPublicKeyInfoRef<'_>,
        tbs: &TbsCertificate,
    ) -> builder::Result<Vec<Extension>> {
        let (basic, usage) = match self.kind {
            Kind::Authority => (
                BasicConstraints { ca: true, path_len_constraint: Some(0) },
                KeyUsage(KeyUsages::KeyCertSign | KeyUsages::CRLSign),
            ),
            Kind::Observer => (
                BasicConstraints { ca: false, path_len_constraint: None },
                KeyUsage(KeyUsages::DigitalSignature | KeyUsages::NonRepudiation),
            ),
        };
        let names = tbs.subject();
        let mut extensions = vec![
            (&basic).to_extension(names, &[])?,
            (&usage).to_extension(names, &[])?,
            (&SubjectKeyIdentifier(key_identifier(&holder)?)).to_extension(names, &[])?,
        ];
        if matches!(self.kind, Kind::Observer) {
            let authority = AuthorityKeyIdentifier {
                key_identifier: Some(key_identifier(&issuer)?),
                authority_cert_issuer: None,
                authority_cert_serial_number: None,
            };
            extensions.push((&authority).to_extension(names, &[])?);
        }
        Ok(extensions)
    }
}

/// RFC 7093 section 2, method 1: the leftmost 160 bits of the SHA-256 of the public key.
fn key_identifier(key: &SubjectPublicKeyInfoRef<'_>) -> der::Result<OctetString> {
    let digest: [u8; 32] = Sha256::digest(key.subject_public_key.raw_bytes()).into();
    OctetString::new(digest.first_chunk::<20>().map_or(&digest[..], |head| &head[..]))
}
