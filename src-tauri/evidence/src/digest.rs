use std::{
    fmt,
    io::{self, Read},
    str::FromStr,
};

use competency::procedure::Procedure;
use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use uuid::Uuid;

use crate::{EvidenceError, canonical};

/// A SHA-256 digest; in JSON 64 small hexadecimal digits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Digest([u8; 32]);

impl Digest {
    /// Takes the 32 bytes of a SHA-256 digest.
    pub fn from_bytes(bytes: [u8; 32]) -> Self {
        Digest(bytes)
    }

    /// The 32 bytes.
    pub fn as_bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl From<Digest> for String {
    fn from(digest: Digest) -> Self {
        digest.to_string()
    }
}

impl TryFrom<String> for Digest {
    type Error = EvidenceError;

    fn try_from(text: String) -> Result<Self, EvidenceError> {
        text.parse()
    }
}

impl FromStr for Digest {
    type Err = EvidenceError;

    fn from_str(text: &str) -> Result<Self, EvidenceError> {
        let mut bytes = [0; 32];
        let (pairs, rest) = text.as_bytes().as_chunks::<2>();
        if pairs.len() != bytes.len() || !rest.is_empty() {
            return Err(EvidenceError::NotADigest);
        }
        for (byte, pair) in bytes.iter_mut().zip(pairs) {
            let [high, low] = pair.map(small_hex);
            *byte = high.zip(low).map(|(high, low)| high << 4 | low).ok_or(EvidenceError::NotADigest)?;
        }
        Ok(Digest(bytes))
    }
}

/// The value of a hexadecimal digit. Capital letters are refused: a digest has one way to be written.
fn small_hex(digit: u8) -> Option<u8> {
    match digit {
        b'0'..=b'9' => Some(digit - b'0'),
        b'a'..=b'f' => Some(digit - b'a' + 10),
        _ => None,
    }
}

/// SHA-256 of the bytes.
pub fn digest(bytes: &[u8]) -> Digest {
    Digest(Sha256::digest(bytes).into())
}

/// SHA-256 of all that is left to read, for what is too long to be held at once.
///
/// # Errors
/// Those of the reader.
pub fn digest_of(mut reader: impl Read) -> io::Result<Digest> {
    let mut hasher = Sha256::new();
    let mut buffer = vec![0; 1 << 16];
    loop {
        match reader.read(&mut buffer) {
            Ok(0) => return Ok(Digest(hasher.finalize().into())),
            Ok(length) => hasher.update(buffer.get(..length).unwrap_or_default()),
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
}

/// Names a procedure's very content: SHA-256 of its canonical JSON, without `$schema`, which only
/// tells an editor where the schema is.
///
/// # Errors
/// When a number in it is too large for canonical JSON.
pub fn procedure_hash(procedure: &Procedure) -> Result<Digest, EvidenceError> {
    let content = Procedure { schema: None, ..procedure.clone() };
    Ok(digest(&canonical(&content)?))
}

/// Binds a name and a staff number to a person's entry without showing them. The salt is drawn anew for
/// each person and lies beside the name; once both are erased the digest tells nobody anything.
///
/// # Errors
/// Never in practice: strings always have a canonical form.
pub fn name_digest(salt: Uuid, name: &str, number: &str) -> Result<Digest, EvidenceError> {
    Ok(digest(&canonical(&(salt, name, number))?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_read_in_parts_has_the_digest_of_the_whole() {
        for length in [0, 1, 65_535, 65_536, 65_537, 200_000] {
            let bytes: Vec<u8> = (0..length).map(|n| u8::try_from(n % 251).unwrap()).collect();
            assert_eq!(digest_of(bytes.as_slice()).unwrap(), digest(&bytes), "{length} bytes");
        }
    }

    #[test]
    fn digest_of_abc_is_as_published() {
        // FIPS 180-2, appendix B.1 (value from memory).
        let expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(digest(b"abc").to_string(), expected);
        assert_eq!(expected.parse::<Digest>().unwrap(), digest(b"abc"));
    }

    #[test]
    fn a_digest_has_one_way_to_be_written() {
        let text = digest(b"abc").to_string();
        for wrong in
            [text.to_uppercase(), format!("{text}0"), text.chars().skip(1).collect(), text.replace('b', "g")]
        {
            assert!(wrong.parse::<Digest>().is_err(), "{wrong} must be refused");
        }
    }

    #[test]
    fn name_digest_keeps_name_and_number_apart() {
        let salt = Uuid::from_u128(7);
        let one = name_digest(salt, "Ada", "12").unwrap();
        assert_ne!(one, name_digest(salt, "Ada1", "2").unwrap(), "moving a character across must show");
        assert_ne!(one, name_digest(Uuid::from_u128(8), "Ada", "12").unwrap(), "the salt must count");
    }
}
