use argon2::{Algorithm, Argon2, Params, Version};
use chacha20::rand_core::Rng;
use chacha20poly1305::{
    ChaCha20Poly1305, KeyInit,
    aead::{Aead, Payload},
};
use p256::ecdsa::SigningKey;
use serde::{Deserialize, Serialize};
use zeroize::Zeroizing;

use crate::{SealingError, Seed};

/// A private key at rest: useless without the passphrase or PIN it was sealed under.
///
/// Argon2id stretches the secret, ChaCha20-Poly1305 seals the key. Everything needed to open it again
/// except the secrets is in here, so the costs can be raised for new keys without losing old ones.
/// The costs of new keys are the second recommendation of RFC 9106, section 4 (from memory):
/// 64 MiB, 3 passes; lanes are one, since a tablet has little to gain from four.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SealedKey {
    /// What the key is for, bound into the seal.
    purpose: Purpose,
    /// Argon2id memory in KiB.
    memory_kib: u32,
    /// Argon2id passes.
    passes: u32,
    /// Argon2id salt, 16 bytes, hexadecimal.
    salt: String,
    /// ChaCha20-Poly1305 nonce, 12 bytes, hexadecimal.
    nonce: String,
    /// The sealed scalar, 32 bytes and a 16-byte tag, hexadecimal.
    sealed: String,
}

/// What a sealed key is for. A key sealed for one purpose does not open as another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Purpose {
    /// The facility's authority.
    Authority,
    /// One observer.
    Observer,
}

impl Purpose {
    fn label(self) -> &'static [u8] {
        match self {
            Purpose::Authority => b"authority key, format 1",
            Purpose::Observer => b"observer key, format 1",
        }
    }
}

/// Where no device secret takes part.
pub(crate) const NO_DEVICE: &[u8] = &[];

const MEMORY_KIB: u32 = 64 * 1024;
const PASSES: u32 = 3;
/// A file that asks for more than this is damaged or hostile.
const MOST_MEMORY_KIB: u32 = 1024 * 1024;
const MOST_PASSES: u32 = 64;

impl SealedKey {
    pub(crate) fn seal(
        key: &SigningKey,
        purpose: Purpose,
        secret: &str,
        device: &[u8],
        seed: Seed,
    ) -> Result<Self, SealingError> {
        let mut rng = seed.into_rng();
        let mut salt = [0; 16];
        rng.fill_bytes(&mut salt);
        let mut nonce = [0; 12];
        rng.fill_bytes(&mut nonce);
        let wrapping = stretch(secret, device, &salt, MEMORY_KIB, PASSES)?;
        let scalar = Zeroizing::new(key.to_bytes());
        let sealed = cipher(&wrapping)?
            .encrypt(&nonce.into(), Payload { msg: scalar.as_slice(), aad: purpose.label() })
            .or(Err(SealingError::Unreadable { what: "key" }))?;
        Ok(SealedKey {
            purpose,
            memory_kib: MEMORY_KIB,
            passes: PASSES,
            salt: hex(&salt),
            nonce: hex(&nonce),
            sealed: hex(&sealed),
        })
    }

    /// `wrong` is the error when the secret does not fit.
    pub(crate) fn open(
        &self,
        purpose: Purpose,
        secret: &str,
        device: &[u8],
        wrong: SealingError,
    ) -> Result<SigningKey, SealingError> {
        const UNREADABLE: SealingError = SealingError::Unreadable { what: "key" };
        let salt: [u8; 16] = unhex(&self.salt).ok_or(UNREADABLE)?;
        let nonce: [u8; 12] = unhex(&self.nonce).ok_or(UNREADABLE)?;
        let sealed: [u8; 48] = unhex(&self.sealed).ok_or(UNREADABLE)?;
        if self.purpose != purpose || self.memory_kib > MOST_MEMORY_KIB || self.passes > MOST_PASSES {
            return Err(UNREADABLE);
        }
        let wrapping = stretch(secret, device, &salt, self.memory_kib, self.passes)?;
        let scalar = cipher(&wrapping)?
            .decrypt(&nonce.into(), Payload { msg: &sealed, aad: purpose.label() })
            .or(Err(wrong))?;
        let scalar = Zeroizing::new(scalar);
        SigningKey::from_slice(&scalar).or(Err(UNREADABLE))
    }
}

/// The device's secret goes in as Argon2's own secret input, so that guessing a PIN needs the device.
fn stretch(
    secret: &str,
    device: &[u8],
    salt: &[u8],
    memory_kib: u32,
    passes: u32,
) -> Result<Zeroizing<[u8; 32]>, SealingError> {
    let params = Params::new(memory_kib, passes, 1, Some(32)).map_err(SealingError::Derivation)?;
    let argon2 = Argon2::new_with_secret(device, Algorithm::Argon2id, Version::V0x13, params)
        .map_err(SealingError::Derivation)?;
    let mut wrapping = Zeroizing::new([0; 32]);
    argon2
        .hash_password_into(secret.as_bytes(), salt, wrapping.as_mut_slice())
        .map_err(SealingError::Derivation)?;
    Ok(wrapping)
}

fn cipher(wrapping: &[u8; 32]) -> Result<ChaCha20Poly1305, SealingError> {
    ChaCha20Poly1305::new_from_slice(wrapping).or(Err(SealingError::Unreadable { what: "key" }))
}

pub(crate) fn hex(bytes: &[u8]) -> String {
    base16ct::lower::encode_string(bytes)
}

/// `None` unless the text is exactly `N` bytes in small hexadecimal digits.
fn unhex<const N: usize>(text: &str) -> Option<[u8; N]> {
    base16ct::lower::decode_vec(text).ok()?.try_into().ok()
}
