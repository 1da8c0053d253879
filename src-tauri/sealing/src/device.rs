use chacha20::{ChaCha20Rng, rand_core::SeedableRng};
use hkdf::Hkdf;
use p256::{
    ecdsa::{Signature, SigningKey, VerifyingKey, signature::Signer},
    elliptic_curve::Generate,
};
use sha2::Sha256;
use zeroize::Zeroizing;

use crate::{SealingError, genuine::genuine_fixed};

/// The key by which a device signs every ledger entry it writes.
///
/// It is derived from the device's secret, so one secret in the system's key store carries both it
/// and the observers' PINs; the derivation keeps the two apart.
#[derive(Debug)]
pub struct DeviceKey {
    pub(crate) key: SigningKey,
}

impl DeviceKey {
    /// Derives the key from the device's secret: 32 bytes of chance made when the device was set up.
    pub fn of(device_secret: &[u8; 32]) -> Result<Self, SealingError> {
        let mut seed = Zeroizing::new([0; 32]);
        Hkdf::<Sha256>::new(None, device_secret)
            .expand(b"device entry key, format 1", seed.as_mut_slice())
            .or(Err(SealingError::Unreadable { what: "device secret" }))?;
        Ok(DeviceKey { key: SigningKey::generate_from_rng(&mut ChaCha20Rng::from_seed(*seed)) })
    }

    /// The public key to store in the ledger: 33 bytes, SEC1 compressed.
    pub fn public(&self) -> DevicePublic {
        DevicePublic(*self.key.verifying_key())
    }

    /// Signs the digest of an entry; 64 bytes.
    pub fn sign_entry(&self, digest: &[u8; 32]) -> Result<[u8; 64], SealingError> {
        let signature: Signature = self.key.try_sign(&entry_message(digest))?;
        Ok(signature.to_bytes().into())
    }
}

/// What checks a device's signatures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DevicePublic(pub(crate) VerifyingKey);

impl DevicePublic {
    /// Reads the 33 bytes of [`DevicePublic::to_bytes`].
    pub fn read(bytes: &[u8]) -> Result<Self, SealingError> {
        VerifyingKey::from_sec1_bytes(bytes)
            .map(DevicePublic)
            .or(Err(SealingError::Unreadable { what: "device key" }))
    }

    /// 33 bytes, SEC1 compressed.
    pub fn to_bytes(&self) -> Vec<u8> {
        self.0.to_sec1_point(true).as_bytes().to_vec()
    }

    /// Whether the device made this signature over the digest of an entry.
    pub fn verifies_entry(&self, digest: &[u8; 32], signature: &[u8]) -> bool {
        genuine_fixed(&self.0, &entry_message(digest), signature)
    }
}

/// Entry signatures carry a prefix of their own, so that none can be passed off as a signature over a
/// document or a certificate.
pub(crate) fn entry_message(digest: &[u8; 32]) -> Vec<u8> {
    let mut message = b"ledger entry\0".to_vec();
    message.extend_from_slice(digest);
    message
}
