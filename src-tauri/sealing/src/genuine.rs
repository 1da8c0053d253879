//! Whether a key made a signature. `ring` says so, six times as fast as `p256` by which signatures are made: that one alone
//! takes no chance for them (RFC 6979), so that the same document gives the same bytes.

use p256::ecdsa::VerifyingKey;
use ring::signature::{
    ECDSA_P256_SHA256_ASN1, ECDSA_P256_SHA256_FIXED, EcdsaVerificationAlgorithm, UnparsedPublicKey,
};

/// A signature in DER, as documents, certificates and lists carry it.
pub(crate) fn genuine(key: &VerifyingKey, message: &[u8], signature: &[u8]) -> bool {
    holds(&ECDSA_P256_SHA256_ASN1, key, message, signature)
}

/// A signature of 64 bytes, as devices put it beside their entries.
pub(crate) fn genuine_fixed(key: &VerifyingKey, message: &[u8], signature: &[u8]) -> bool {
    holds(&ECDSA_P256_SHA256_FIXED, key, message, signature)
}

fn holds(
    form: &'static EcdsaVerificationAlgorithm,
    key: &VerifyingKey,
    message: &[u8],
    signature: &[u8],
) -> bool {
    UnparsedPublicKey::new(form, key.to_sec1_point(false)).verify(message, signature).is_ok()
}
