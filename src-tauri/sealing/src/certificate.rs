use std::time::Duration;

use chrono::{DateTime, Utc};
use const_oid::db::{rfc4519, rfc5912::ECDSA_WITH_SHA_256};
use der::{
    Decode, DecodePem, Encode, EncodePem,
    asn1::{Any, GeneralizedTime, SetOfVec, UtcTime},
    pem::LineEnding,
};
use p256::{ecdsa::VerifyingKey, pkcs8::DecodePublicKey};
use sha2::{Digest, Sha256};
use x509_cert::{
    attr::AttributeTypeAndValue,
    ext::pkix::{BasicConstraints, KeyUsage},
    name::{Name, RdnSequence, RelativeDistinguishedName},
    spki::ObjectIdentifier,
    time::{Time, Validity},
};

use crate::{SealingError, genuine::genuine, vault::hex};

/// A certificate: of a facility's authority, or of one observer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Certificate {
    pub(crate) inner: x509_cert::Certificate,
    der: Vec<u8>,
}

impl Certificate {
    pub(crate) fn new(inner: x509_cert::Certificate) -> Result<Self, SealingError> {
        let der = inner.to_der()?;
        Ok(Certificate { inner, der })
    }

    /// Reads DER, as stored, or PEM, as exported for PDF readers.
    pub fn read(bytes: &[u8]) -> Result<Self, SealingError> {
        let inner = if bytes.starts_with(b"-----BEGIN") {
            x509_cert::Certificate::from_pem(bytes)
        } else {
            x509_cert::Certificate::from_der(bytes)
        };
        Self::new(inner.or(Err(SealingError::Unreadable { what: "certificate" }))?)
    }

    /// The bytes to store, DER.
    pub fn der(&self) -> &[u8] {
        &self.der
    }

    /// The text to export for PDF readers, PEM.
    pub fn pem(&self) -> Result<String, SealingError> {
        Ok(self.inner.to_pem(LineEnding::LF)?)
    }

    /// SHA-256 of the DER bytes, hexadecimal: what people compare over the telephone.
    pub fn fingerprint(&self) -> String {
        hex(&self.digest())
    }

    pub(crate) fn digest(&self) -> [u8; 32] {
        Sha256::digest(&self.der).into()
    }

    /// SHA-256 of the holder's public key as it stands there (RFC 5280, 4.1.2.7), hexadecimal: the same in every
    /// certificate of one key.
    pub fn key_fingerprint(&self) -> Result<String, SealingError> {
        Ok(hex(&Sha256::digest(self.inner.tbs_certificate().subject_public_key_info().to_der()?)))
    }

    /// The holder's name: the observer's, or the authority's.
    pub fn name(&self) -> String {
        attribute(self.inner.tbs_certificate().subject(), rfc4519::CN)
    }

    /// The facility.
    pub fn facility(&self) -> String {
        attribute(self.inner.tbs_certificate().subject(), rfc4519::O)
    }

    /// The observer's id in the facility; empty in an authority's certificate.
    pub fn person(&self) -> String {
        attribute(self.inner.tbs_certificate().subject(), rfc4519::SERIAL_NUMBER)
    }

    /// The serial number, hexadecimal.
    pub fn serial(&self) -> String {
        hex(self.inner.tbs_certificate().serial_number().as_bytes())
    }

    /// It holds from this moment.
    pub fn from(&self) -> DateTime<Utc> {
        moment(&self.inner.tbs_certificate().validity().not_before)
    }

    /// It holds until this moment.
    pub fn until(&self) -> DateTime<Utc> {
        moment(&self.inner.tbs_certificate().validity().not_after)
    }

    /// Whether it holds at the moment, both ends included.
    pub fn holds_at(&self, when: DateTime<Utc>) -> bool {
        self.from() <= when && when <= self.until()
    }

    /// Whether it may issue certificates.
    pub fn is_authority(&self) -> bool {
        let tbs = self.inner.tbs_certificate();
        let authority = matches!(tbs.get_extension::<BasicConstraints>(), Ok(Some((_, basic))) if basic.ca);
        let usage = matches!(tbs.get_extension::<KeyUsage>(), Ok(Some((_, usage))) if usage.key_cert_sign());
        authority && usage
    }

    /// Whether it may sign records.
    pub(crate) fn may_sign(&self) -> bool {
        let usage = self.inner.tbs_certificate().get_extension::<KeyUsage>();
        matches!(usage, Ok(Some((_, usage))) if usage.digital_signature() && usage.non_repudiation())
    }

    /// Whether the authority named in it signed it.
    pub fn issued_by(&self, authority: &Certificate) -> bool {
        let tbs = self.inner.tbs_certificate();
        if !authority.is_authority() || tbs.issuer() != authority.inner.tbs_certificate().subject() {
            return false;
        }
        let algorithms = [tbs.signature(), self.inner.signature_algorithm()];
        if algorithms.iter().any(|algorithm| algorithm.oid != ECDSA_WITH_SHA_256) {
            return false;
        }
        let (Ok(body), Some(signature)) = (tbs.to_der(), self.inner.signature().as_bytes()) else {
            return false;
        };
        authority.verifies(&body, signature)
    }

    /// Whether the holder's key made this DER signature over the message.
    pub(crate) fn verifies(&self, message: &[u8], signature: &[u8]) -> bool {
        self.key().is_ok_and(|key| genuine(&key, message, signature))
    }

    pub(crate) fn key(&self) -> Result<VerifyingKey, SealingError> {
        let spki = self.inner.tbs_certificate().subject_public_key_info().to_der()?;
        VerifyingKey::from_public_key_der(&spki).or(Err(SealingError::Unreadable { what: "certificate" }))
    }
}

/// A subject: facility, name, and the person's id where there is one.
pub(crate) fn subject(facility: &str, name: &str, person: Option<&str>) -> Result<Name, SealingError> {
    let mut rdns = RdnSequence::default();
    rdns.push(rdn(rfc4519::O, "name of the facility", facility)?);
    rdns.push(rdn(rfc4519::CN, "name of the person", name)?);
    if let Some(person) = person {
        rdns.push(rdn(rfc4519::SERIAL_NUMBER, "id of the person", person)?);
    }
    Ok(Name::from_der(&rdns.to_der()?)?)
}

/// X.520 bounds each of these at 64 characters, and readers hold to it.
fn rdn(
    oid: ObjectIdentifier,
    what: &'static str,
    text: &str,
) -> Result<RelativeDistinguishedName, SealingError> {
    let text = text.trim();
    if text.is_empty() || text.chars().count() > 64 {
        return Err(SealingError::NameLength { what });
    }
    // The serial number attribute is a PrintableString by its definition; the others carry any script.
    let value = if oid == rfc4519::SERIAL_NUMBER {
        Any::from(der::asn1::PrintableStringRef::new(text)?)
    } else {
        Any::from(der::asn1::Utf8StringRef::new(text)?)
    };
    let mut set = SetOfVec::new();
    set.insert(AttributeTypeAndValue { oid, value })?;
    Ok(RelativeDistinguishedName::try_from(set.into_vec())?)
}

fn attribute(name: &Name, oid: ObjectIdentifier) -> String {
    name.iter()
        .find(|attribute| attribute.oid == oid)
        .and_then(|attribute| std::str::from_utf8(attribute.value.value()).ok())
        .unwrap_or_default()
        .to_owned()
}

pub(crate) fn validity(from: DateTime<Utc>, until: DateTime<Utc>) -> Result<Validity, SealingError> {
    Ok(Validity::new(time(from)?, time(until)?))
}

/// RFC 5280 4.1.2.5: `UTCTime` through 2049, `GeneralizedTime` from 2050.
pub(crate) fn time(when: DateTime<Utc>) -> Result<Time, SealingError> {
    let seconds = u64::try_from(when.timestamp()).or(Err(SealingError::ImpossibleDate))?;
    let since = Duration::from_secs(seconds);
    if let Ok(utc) = UtcTime::from_unix_duration(since) {
        return Ok(Time::UtcTime(utc));
    }
    let general = GeneralizedTime::from_unix_duration(since).or(Err(SealingError::ImpossibleDate))?;
    Ok(Time::GeneralTime(general))
}

pub(crate) fn moment(time: &Time) -> DateTime<Utc> {
    let seconds = time.to_unix_duration().as_secs();
    i64::try_from(seconds)
        .ok()
        .and_then(|seconds| DateTime::from_timestamp(seconds, 0))
        .unwrap_or(DateTime::<Utc>::MAX_UTC)
}
