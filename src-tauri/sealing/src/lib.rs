//! The only keys, certificates and signatures: who may sign a facility's records, the signature on a
//! record, and the verdict on a signed record.
//!
//! What this crate does *not* do: it reads no clock and draws no chance (moments and [`Seed`]s come in
//! as arguments), opens no file, stores no key, and knows no procedure, person or score. Verification
//! cannot fail: whatever the bytes are, it answers with a [`Verdict`].
//!
//! ```
//! # use chrono::{DateTime, Utc};
//! # use sealing::*;
//! # fn fresh() -> Seed { Seed::new([7; 32]) }
//! # fn main() -> Result<(), SealingError> {
//! # let now: DateTime<Utc> = DateTime::UNIX_EPOCH;
//! # let device_secret = [9; 32];
//! let authority = Authority::create("Hilltop Hospital", now, fresh())?;
//! let at_rest = authority.seal("a passphrase", fresh())?;
//! let key = ObserverKey::create(Seed::new([8; 32]));
//! let certificate = authority.certify(&key, "O. Server", "person-1", now, fresh())?;
//! let sealed = key.seal("482913", &device_secret, fresh())?;
//! // Later: the observer types the PIN.
//! let key = ObserverKey::open(&sealed, "482913", &device_secret)?;
//! let signer = Signer::new(key, certificate, authority.certificate().clone())?;
//! # let drawn = lopdf::Document::new();
//! let facts = Facts { when: now.fixed_offset(), name: "O. Server", reason: "Observed", place: "Ward 3" };
//! let signed = sign(drawn, &signer, &facts).unwrap_or_default();
//! let verdict = verify(&signed, &[authority.certificate().clone()]);
//! println!("{}", verdict.sentence());
//! // The tablet is lost: new records carry the list, and earlier ones are verified with it.
//! let certificate = signer.certificate().clone();
//! let lost = Revoked { certificate, at: now, why: WhyRevoked::KeyInOtherHands };
//! let list = authority.revoke(&[lost], 1, now)?;
//! let verdict = verify_with(&signed, &[authority.certificate().clone()], &[list.clone()]);
//! let signer = signer.with_revocations(list)?;
//! # Ok(())
//! # }
//! ```

mod authority;
mod certificate;
mod cms;
mod device;
mod error;
mod genuine;
mod observer;
mod pin;
mod revocation;
mod second;
mod seed;
mod sign;
mod vault;
mod verify;

pub use authority::Authority;
pub use certificate::Certificate;
pub use device::{DeviceKey, DevicePublic};
pub use error::SealingError;
pub use observer::{ObserverKey, Signer};
pub use pin::{PinDelay, check_pin, pin_delay};
pub use revocation::{RevocationList, Revoked, WhyRevoked};
pub use second::countersign;
pub use seed::Seed;
pub use sign::{Facts, sign};
pub use vault::SealedKey;
pub use verify::{Check, Reason, Signature, Standing, Verdict, verify, verify_with};

#[cfg(test)]
mod tests;
