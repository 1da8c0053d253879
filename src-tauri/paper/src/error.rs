/// Why a page could not be drawn.
#[derive(Debug, thiserror::Error)]
pub enum PaperError {
    /// No font of the program has the character: an empty box on a record would be worse than none.
    #[error(
        "the character “{character}” (U+{:04X}) cannot be printed: write it another way",
        u32::from(*character)
    )]
    NoGlyph {
        /// The character.
        character: char,
    },
    /// A font that the program brings along cannot be read.
    #[error("a font of the program cannot be read: {0}")]
    Font(String),
    /// The data to attach cannot be written.
    #[error("the record's data could not be written")]
    Evidence(#[from] evidence::EvidenceError),
    /// The PDF could not be put together.
    #[error("the document could not be put together")]
    Pdf(#[from] lopdf::Error),
    /// The PDF could not be written.
    #[error("the document could not be written")]
    Write(#[from] std::io::Error),
    /// The QR code of the record's digest could not be made.
    #[error("the code of the record's digest could not be made")]
    Code(#[from] fast_qr::qr::QRCodeError),
}
