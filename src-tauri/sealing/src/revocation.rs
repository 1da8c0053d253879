use chrono::{DateTime, SubsecRound, Utc};
use const_oid::{AssociatedOid as _, db::rfc5912::ECDSA_WITH_SHA_256};
use der::{
    Decode, DecodePem, Encode, EncodePem,
    asn1::{BitString, Uint},
    pem::LineEnding,
};
use p256::ecdsa::{DerSignature, SigningKey, signature::Signer as _};
use x509_cert::{
    Version,
    crl::{CertificateList, RevokedCert, TbsCertList},
    ext::{
        ToExtension,
        pkix::{AuthorityKeyIdentifier, CrlNumber, CrlReason, SubjectKeyIdentifier},
    },
    spki::AlgorithmIdentifierOwned,
};

use crate::{
    Certificate, SealingError,
    certificate::{moment, time},
};

/// A facility's certificate revocation list (RFC 5280, section 5): which observers' certificates hold no
/// longer, and since when. New records carry the latest, so that a reader needs no network.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RevocationList {
    inner: CertificateList,
    der: Vec<u8>,
}

/// A certificate that holds no longer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Revoked {
    /// The certificate.
    pub certificate: Certificate,
    /// Since when; whole seconds count.
    pub at: DateTime<Utc>,
    /// Why, in the list's own words.
    pub why: WhyRevoked,
}

/// Why a certificate holds no longer, as far as the list can say it; the ledger's entry says it in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyRevoked {
    /// The observer left.
    Left,
    /// The tablet was lost, or the PIN became known.
    KeyInOtherHands,
    /// Another certificate took its place.
    Replaced,
}

impl RevocationList {
    /// Made by [`crate::Authority::revoke`]. The list has no end of its own: a facility without a network
    /// gives out a new one when something changes, so it holds as long as the authority.
    pub(crate) fn issue(
        authority: &Certificate,
        key: &SigningKey,
        revoked: &[Revoked],
        before: Option<&RevocationList>,
        number: u64,
        now: DateTime<Utc>,
    ) -> Result<Self, SealingError> {
        let mut listed = revoked.iter().map(Revoked::entry).collect::<Result<Vec<_>, _>>()?;
        let before = before.and_then(|list| list.inner.tbs_cert_list.revoked_certificates.as_deref());
        listed.extend(before.unwrap_or_default().iter().cloned());
        // Once each, with the earliest date, in one order: the same facts give the same bytes.
        listed.sort_by_key(|one| {
            (one.serial_number.as_bytes().to_vec(), one.revocation_date.to_unix_duration())
        });
        listed.dedup_by(|later, first| later.serial_number == first.serial_number);
        let tbs = authority.inner.tbs_certificate();
        let names = tbs.subject();
        let identifier = tbs.get_extension::<SubjectKeyIdentifier>()?.map(|(_, key)| key.0);
        let issuer = AuthorityKeyIdentifier { key_identifier: identifier, ..Default::default() };
        let number = CrlNumber(Uint::new(&number.to_be_bytes())?);
        let algorithm = AlgorithmIdentifierOwned { oid: ECDSA_WITH_SHA_256, parameters: None };
        let list = TbsCertList {
            version: Version::V2,
            signature: algorithm.clone(),
            issuer: names.clone(),
            this_update: time(now.trunc_subsecs(0))?,
            next_update: Some(time(authority.until())?),
            // RFC 5280 5.1.2.6: absent, not empty, where nothing was revoked.
            revoked_certificates: (!listed.is_empty()).then_some(listed),
            crl_extensions: Some(vec![
                (&issuer).to_extension(names, &[])?,
                (&number).to_extension(names, &[])?,
            ]),
        };
        let signature: DerSignature = key.try_sign(&list.to_der()?)?;
        Self::new(CertificateList {
            tbs_cert_list: list,
            signature_algorithm: algorithm,
            signature: BitString::from_bytes(signature.as_bytes())?,
        })
    }

    fn new(inner: CertificateList) -> Result<Self, SealingError> {
        let der = inner.to_der()?;
        Ok(RevocationList { inner, der })
    }

    /// Reads DER, as records carry it, or PEM, as the ledger keeps it.
    pub fn read(bytes: &[u8]) -> Result<Self, SealingError> {
        let inner = if bytes.starts_with(b"-----BEGIN") {
            CertificateList::from_pem(bytes)
        } else {
            CertificateList::from_der(bytes)
        };
        Self::new(inner.or(Err(SealingError::Unreadable { what: "revocation list" }))?)
    }

    /// The bytes that records carry, DER.
    pub fn der(&self) -> &[u8] {
        &self.der
    }

    /// The text to keep and to export, PEM.
    pub fn pem(&self) -> Result<String, SealingError> {
        Ok(self.inner.to_pem(LineEnding::LF)?)
    }

    /// When it was made.
    pub fn made_at(&self) -> DateTime<Utc> {
        moment(&self.inner.tbs_cert_list.this_update)
    }

    /// Which of the authority's lists it is; the highest is the latest. 0 where it does not say.
    pub fn number(&self) -> u64 {
        let mut extensions = self.inner.tbs_cert_list.crl_extensions.iter().flatten();
        let number = extensions.find(|extension| extension.extn_id == CrlNumber::OID);
        let number = number.and_then(|found| CrlNumber::from_der(found.extn_value.as_bytes()).ok());
        let bytes = number.iter().flat_map(|CrlNumber(number)| number.as_bytes());
        bytes.fold(0, |whole, byte| whole << 8 | u64::from(*byte))
    }

    /// Whether this authority signed it.
    pub fn issued_by(&self, authority: &Certificate) -> bool {
        let list = &self.inner.tbs_cert_list;
        let algorithms = [&list.signature, &self.inner.signature_algorithm];
        if !authority.is_authority()
            || list.issuer != *authority.inner.tbs_certificate().subject()
            || algorithms.iter().any(|algorithm| algorithm.oid != ECDSA_WITH_SHA_256)
        {
            return false;
        }
        let (Ok(body), Some(signature)) = (list.to_der(), self.inner.signature.as_bytes()) else {
            return false;
        };
        authority.verifies(&body, signature)
    }

    /// Whether the certificate holds no longer since its key may be in other hands: then whoever has it can claim any
    /// moment.
    pub fn is_in_other_hands(&self, certificate: &Certificate) -> bool {
        self.entry_of(certificate).is_some_and(|one| {
            let extensions = one.crl_entry_extensions.as_deref().unwrap_or_default();
            let reason = extensions.iter().find(|extension| extension.extn_id == CrlReason::OID);
            let reason = reason.and_then(|found| CrlReason::from_der(found.extn_value.as_bytes()).ok());
            reason == Some(CrlReason::KeyCompromise)
        })
    }

    /// Since when the certificate holds no longer; `None` where the list does not name it. Asks nothing
    /// about who issued either.
    pub fn revoked_at(&self, certificate: &Certificate) -> Option<DateTime<Utc>> {
        self.entry_of(certificate).map(|one| moment(&one.revocation_date))
    }

    fn entry_of(&self, certificate: &Certificate) -> Option<&RevokedCert> {
        let serial = certificate.inner.tbs_certificate().serial_number();
        let listed = self.inner.tbs_cert_list.revoked_certificates.as_deref().unwrap_or_default();
        listed.iter().find(|one| one.serial_number == *serial)
    }
}

impl Revoked {
    fn entry(&self) -> Result<RevokedCert, SealingError> {
        let why = match self.why {
            WhyRevoked::Left => CrlReason::AffiliationChanged,
            WhyRevoked::KeyInOtherHands => CrlReason::KeyCompromise,
            WhyRevoked::Replaced => CrlReason::Superseded,
        };
        let tbs = self.certificate.inner.tbs_certificate();
        Ok(RevokedCert {
            serial_number: tbs.serial_number().clone(),
            revocation_date: time(self.at.trunc_subsecs(0))?,
            crl_entry_extensions: Some(vec![(&why).to_extension(tbs.issuer(), &[])?]),
        })
    }
}
