//! Files that somebody brings.

use wasm_bindgen_futures::JsFuture;

use crate::page;

/// Why a file is not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Refused {
    /// It has so many megabytes.
    TooLarge(u64),
    /// The system does not give its bytes.
    Unreadable,
}

/// Length of a file in bytes.
pub(crate) fn length(file: &web_sys::File) -> u64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a length is a whole number")]
    {
        file.size() as u64
    }
}

/// The bytes of a file of at most this length.
pub(crate) async fn read_file(file: &web_sys::File, most: u64) -> Result<Vec<u8>, Refused> {
    let length = length(file);
    if length > most {
        return Err(Refused::TooLarge(length >> 20));
    }
    read_part(file, 0, length).await
}

/// A part of a file.
pub(crate) async fn read_part(file: &web_sys::File, from: u64, until: u64) -> Result<Vec<u8>, Refused> {
    #[expect(clippy::cast_precision_loss, reason = "no file is longer than 2^53 bytes")]
    let part =
        file.slice_with_f64_and_f64(from as f64, until as f64).map_err(|_refused| Refused::Unreadable)?;
    let buffer = JsFuture::from(part.array_buffer()).await.map_err(|_refused| Refused::Unreadable)?;
    Ok(page::bytes_of(&buffer))
}
