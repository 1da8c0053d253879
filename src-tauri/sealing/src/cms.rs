//! The signature block inside a PDF: CMS `SignedData` (RFC 5652) with the attributes that `PAdES` B-B
//! (EN 319 142-1) asks for, and nothing else.
//!
//! Reading is strict in a simple way: what was read is assembled anew, and must give the same bytes.
//! So every byte of the block is either covered by the signature or implied by the certificates.

use cms::{
    cert::{CertificateChoices, IssuerAndSerialNumber},
    content_info::{CmsVersion, ContentInfo},
    signed_data::{
        CertificateSet, EncapsulatedContentInfo, SignedData, SignerIdentifier, SignerInfo, SignerInfos,
    },
};
use const_oid::db::{
    rfc5911::{ID_CONTENT_TYPE, ID_DATA, ID_MESSAGE_DIGEST, ID_SIGNED_DATA},
    rfc5912::{ECDSA_WITH_SHA_256, ID_SHA_256},
};
use der::{
    Any, Decode, Encode, Sequence,
    asn1::{ObjectIdentifier, OctetString, SetOfVec},
};
use x509_cert::{
    attr::{Attribute, Attributes},
    spki::AlgorithmIdentifierOwned,
};

use crate::{Certificate, SealingError};

/// id-aa-signingCertificateV2, RFC 5035 section 3.
const ID_SIGNING_CERTIFICATE_V2: ObjectIdentifier =
    ObjectIdentifier::new_unwrap("1.2.840.113549.1.9.16.2.47");

/// RFC 5035 section 3, with the hash algorithm left at its default, SHA-256.
#[derive(Sequence)]
struct SigningCertificateV2 {
    certs: Vec<EssCertIdV2>,
}

#[derive(Sequence)]
struct EssCertIdV2 {
    cert_hash: OctetString,
}

/// The attributes that are signed, as the DER of their SET: the message of the signature.
pub(crate) fn attributes(document: &[u8; 32], signer: &Certificate) -> Result<Vec<u8>, SealingError> {
    Ok(attribute_set(document, signer)?.to_der()?)
}

fn attribute_set(document: &[u8; 32], signer: &Certificate) -> Result<Attributes, SealingError> {
    let digest = OctetString::new(document.as_slice())?;
    let certificate = SigningCertificateV2 {
        certs: vec![EssCertIdV2 { cert_hash: OctetString::new(signer.digest().as_slice())? }],
    };
    // No signing-time: PAdES puts the claimed time into the signature dictionary, which is signed too.
    Ok(SetOfVec::try_from(vec![
        attribute(ID_CONTENT_TYPE, &ID_DATA)?,
        attribute(ID_MESSAGE_DIGEST, &digest)?,
        attribute(ID_SIGNING_CERTIFICATE_V2, &certificate)?,
    ])?)
}

fn attribute(oid: ObjectIdentifier, value: &impl Encode) -> Result<Attribute, SealingError> {
    let value = Any::from_der(&value.to_der()?)?;
    Ok(Attribute { oid, values: SetOfVec::try_from(vec![value])? })
}

/// The whole block, DER.
pub(crate) fn assemble(
    document: &[u8; 32],
    signer: &Certificate,
    authority: &Certificate,
    signature: &[u8],
) -> Result<Vec<u8>, SealingError> {
    let sha256 = AlgorithmIdentifierOwned { oid: ID_SHA_256, parameters: None };
    let tbs = signer.inner.tbs_certificate();
    let info = SignerInfo {
        version: CmsVersion::V1,
        sid: SignerIdentifier::IssuerAndSerialNumber(IssuerAndSerialNumber {
            issuer: tbs.issuer().clone(),
            serial_number: tbs.serial_number().clone(),
        }),
        digest_alg: sha256.clone(),
        signed_attrs: Some(attribute_set(document, signer)?),
        signature_algorithm: AlgorithmIdentifierOwned { oid: ECDSA_WITH_SHA_256, parameters: None },
        signature: OctetString::new(signature)?,
        unsigned_attrs: None,
    };
    let certificates = [signer, authority]
        .map(|certificate| CertificateChoices::Certificate(certificate.inner.clone()))
        .to_vec();
    let signed = SignedData {
        version: CmsVersion::V1,
        digest_algorithms: SetOfVec::try_from(vec![sha256])?,
        encap_content_info: EncapsulatedContentInfo { econtent_type: ID_DATA, econtent: None },
        certificates: Some(CertificateSet::try_from(certificates)?),
        crls: None,
        signer_infos: SignerInfos::try_from(vec![info])?,
    };
    let content = Any::from_der(&signed.to_der()?)?;
    Ok(ContentInfo { content_type: ID_SIGNED_DATA, content }.to_der()?)
}

/// What a signature block says.
pub(crate) struct Block {
    pub(crate) signer: Certificate,
    pub(crate) authority: Certificate,
    /// The digest of the document that was signed.
    pub(crate) document: [u8; 32],
    pub(crate) signature: Vec<u8>,
}

impl Block {
    /// Whether the signer's key made its signature over the document that it says.
    pub(crate) fn is_genuine(&self) -> bool {
        attributes(&self.document, &self.signer)
            .is_ok_and(|attributes| self.signer.verifies(&attributes, &self.signature))
    }
}

/// `None` unless the bytes are exactly a block as [`assemble`] makes it.
pub(crate) fn read(bytes: &[u8]) -> Option<Block> {
    let content = ContentInfo::from_der(bytes).ok()?;
    let signed: SignedData = content.content.decode_as().ok()?;
    let [info] = signed.signer_infos.0.as_slice() else { return None };
    let SignerIdentifier::IssuerAndSerialNumber(sid) = &info.sid else { return None };
    let document = info
        .signed_attrs
        .iter()
        .flat_map(SetOfVec::iter)
        .find(|attribute| attribute.oid == ID_MESSAGE_DIGEST)
        .and_then(|attribute| attribute.values.get(0)?.decode_as::<OctetString>().ok())
        .and_then(|digest| digest.as_bytes().try_into().ok())?;
    let certificates: Option<Vec<Certificate>> = signed
        .certificates
        .as_ref()?
        .0
        .iter()
        .map(|choice| match choice {
            CertificateChoices::Certificate(inner) => Certificate::new(inner.clone()).ok(),
            CertificateChoices::Other(_) => None,
        })
        .collect();
    let certificates = certificates?;
    let [first, second] = certificates.as_slice() else { return None };
    let is_signer = |certificate: &Certificate| {
        let tbs = certificate.inner.tbs_certificate();
        *tbs.issuer() == sid.issuer && *tbs.serial_number() == sid.serial_number
    };
    let (signer, authority) = if is_signer(first) { (first, second) } else { (second, first) };
    let block = Block {
        signer: signer.clone(),
        authority: authority.clone(),
        document,
        signature: info.signature.as_bytes().to_vec(),
    };
    let again = assemble(&block.document, &block.signer, &block.authority, &block.signature).ok()?;
    (is_signer(signer) && again == bytes).then_some(block)
}
