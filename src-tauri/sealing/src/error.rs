use chrono::{DateTime, Utc};

/// What went wrong while making, opening or using a key, or while signing. Verification never fails:
/// what it finds is in its verdict.
#[derive(Debug, thiserror::Error)]
pub enum SealingError {
    /// The PIN is too short or holds something other than digits.
    #[error("a PIN needs six digits or more, and digits only")]
    PinTooShort,
    /// The PIN to set is one that anybody would try.
    #[error("a PIN of one digit, or of digits that count up or down, is the first that anybody tries")]
    PinGuessable,
    /// The passphrase is too short.
    #[error("a passphrase needs twelve characters or more, and not one over and over")]
    PassphraseTooShort,
    /// The PIN does not open the key on this device. A wrong PIN and a key sealed on another device
    /// look the same, by construction.
    #[error("the PIN is wrong, or the key was sealed on another device")]
    WrongPin,
    /// The passphrase does not open the key.
    #[error("the passphrase is wrong")]
    WrongPassphrase,
    /// A stored key, certificate or signature cannot be read.
    #[error("the stored {what} cannot be read")]
    Unreadable {
        /// What was being read.
        what: &'static str,
    },
    /// The key and the certificate do not belong together.
    #[error("the key does not belong to the certificate")]
    OtherKey,
    /// The certificate was not issued by the authority given with it.
    #[error("the certificate was not issued by this authority")]
    OtherAuthority,
    /// A name that a certificate must carry is empty or longer than 64 characters.
    #[error("the {what} must have between 1 and 64 characters to be put into a certificate")]
    NameLength {
        /// Which name.
        what: &'static str,
    },
    /// The moment lies before the first or after the last year that a certificate can carry.
    #[error("the clock shows a date that no certificate can carry")]
    ImpossibleDate,
    /// The certificate does not hold at the moment of signing: it ran out, or the clock was set back.
    #[error(
        "the signing certificate holds from {from} until {until}: check the device's clock, or renew the certificate",
        from = from.format("%Y-%m-%d %H:%M UTC"),
        until = until.format("%Y-%m-%d %H:%M UTC")
    )]
    OutsideCertificate {
        /// Start of the certificate.
        from: DateTime<Utc>,
        /// End of the certificate.
        until: DateTime<Utc>,
    },
    /// The PDF to sign is signed already.
    #[error("the document is signed already")]
    AlreadySigned,
    /// The PDF to sign is not what this crate can sign.
    #[error("the document to sign has no {what}")]
    NotSignable {
        /// What is missing.
        what: &'static str,
    },
    /// Reading or writing the PDF failed.
    #[error("the document to sign could not be read or written")]
    Pdf(#[from] lopdf::Error),
    /// Writing the PDF failed.
    #[error("the document to sign could not be written")]
    Write(#[from] std::io::Error),
    /// A certificate or signature could not be encoded.
    #[error("a certificate or signature could not be encoded")]
    Encoding(#[from] der::Error),
    /// A certificate could not be made.
    #[error("a certificate could not be made")]
    Certificate(#[from] x509_cert::builder::Error),
    /// The key could not sign.
    #[error("the key could not sign")]
    Signing(#[from] p256::ecdsa::Error),
    /// Deriving a key from a passphrase or PIN failed, for instance for want of memory.
    #[error("a key could not be derived: {0}")]
    Derivation(argon2::Error),
}
