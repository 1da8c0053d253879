//! The only source of chance: ids, and entropy for keys and certificates.

use std::io;

use sealing::Seed;
use uuid::Uuid;

/// A new random id.
pub(crate) fn id() -> Uuid {
    Uuid::new_v4()
}

/// Thirty-two bytes for a secret of this device.
pub(crate) fn secret() -> io::Result<[u8; 32]> {
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes).map_err(|error| io::Error::other(error.to_string()))?;
    Ok(bytes)
}

/// A seed for one key, salt or certificate.
pub(crate) fn seed() -> io::Result<Seed> {
    secret().map(Seed::new)
}
