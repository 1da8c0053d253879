use thiserror::Error;

/// Why something cannot stand as evidence.
#[derive(Debug, Error)]
pub enum EvidenceError {
    /// The value cannot be written as canonical JSON.
    #[error("this cannot be written as canonical JSON")]
    Write(#[source] serde_json::Error),
    /// The bytes are not JSON, or a key stands twice in one object.
    #[error("this is not JSON in which every key stands once")]
    Read(#[source] serde_json::Error),
    /// The bytes are JSON, but not in their one canonical form.
    #[error("this is JSON, but not in canonical form, so it was not written by this program")]
    NotCanonical,
    /// Whole numbers beyond 2^53 - 1 are not the same for every reader (RFC 8785, I-JSON).
    #[error("the whole number {0} is too large to mean the same to every reader")]
    NumberTooLarge(String),
    /// A field is missing, unknown or of another type.
    #[error("the {what} does not have the fields it should have")]
    Shape {
        /// What was being read, such as `entry` or `body of demonstration-sealed`.
        what: String,
        /// What serde found.
        #[source]
        source: serde_json::Error,
    },
    /// The envelope is of a later format.
    #[error("this is written in format {found}, and this program reads formats up to {known}")]
    NewerFormat {
        /// The format that the bytes name.
        found: u64,
        /// The newest format that this program reads.
        known: u32,
    },
    /// A digest is 64 small hexadecimal digits.
    #[error("a digest is 64 hexadecimal digits in small letters")]
    NotADigest,
}
