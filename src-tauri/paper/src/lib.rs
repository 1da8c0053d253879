//! The only printpdf: the competency record, the roster and the observation form as PDF, drawn so that a hospital would file
//! them, and built to be archived (PDF/A-3b, tagged, data attached).
//!
//! What this crate does *not* do: it reads no clock and no file, draws no chance (the same input gives
//! the same bytes), signs nothing, scores nothing, and trusts no text to be printable: a character that
//! its fonts do not have is an error that names it, never an empty box.
//!
//! ```no_run
//! # type Moment = chrono::DateTime<chrono::FixedOffset>;
//! # fn shown(record: &evidence::Record, roster: &contract::Roster, now: Moment) -> Result<(), paper::PaperError> {
//! let to_be_signed: lopdf::Document = paper::record(record, now)?; // by `sealing`
//! let list: Vec<u8> = paper::roster(roster, record.ended, &record.program)?;
//! # Ok(())
//! # }
//! ```
#![expect(
    clippy::float_arithmetic,
    reason = "lengths on a page are fractions of a point; nothing is decided by them"
)]

mod anew;
mod archive;
mod authority;
mod blanks;
mod direction;
mod error;
mod faces;
mod form;
mod history;
mod long_figure;
mod notices;
mod paint;
mod record;
mod roster;
mod same;
mod scripts;
mod sessions;
mod sheet;
mod table;
mod words;

pub use authority::{RecoverySheet, TrustPage, TrustedCertificate, recovery_sheet, trust_page};
pub use error::PaperError;
pub use form::{FormOrigin, form};
pub use history::{HistoryOrigin, history};
pub use notices::{Notice, NoticeItem, notices};
pub use record::record;
pub use roster::roster;
pub use same::{SamePage, same_page};
pub use sessions::{Coming, SessionSheet, sessions};

/// The first character of a text that no font of the program has, or that turns the direction of the text unseen, so
/// that a name is refused where it is typed and not in front of a colleague who waits for the signature.
///
/// # Errors
/// When a font cannot be read.
pub fn unprintable(text: &str) -> Result<Option<char>, PaperError> {
    let faces = faces::Faces::load()?;
    // Lines are broken at white space, which is then never drawn.
    Ok(text.split_whitespace().find_map(|word| {
        let missing = |weight| faces.run(word, weight).missing;
        missing(picture::Weight::Regular).or_else(|| missing(picture::Weight::Bold))
    }))
}

#[cfg(test)]
mod tests;
