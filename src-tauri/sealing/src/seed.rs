use chacha20::{ChaCha20Rng, rand_core::SeedableRng};
use zeroize::Zeroizing;

/// Thirty-two bytes of fresh chance from the caller, spent by one operation.
///
/// The crate draws none itself, so the same arguments give the same bytes. Deliberately not `Clone`:
/// a seed used twice would give two keys or two salts that are one.
pub struct Seed(Zeroizing<[u8; 32]>);

impl Seed {
    /// Takes the bytes, which must come from the system's source of randomness.
    pub fn new(bytes: [u8; 32]) -> Self {
        Seed(Zeroizing::new(bytes))
    }

    pub(crate) fn into_rng(self) -> ChaCha20Rng {
        ChaCha20Rng::from_seed(*self.0)
    }
}

impl std::fmt::Debug for Seed {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Seed")
    }
}
