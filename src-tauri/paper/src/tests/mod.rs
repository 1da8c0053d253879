//! What stands on the pages, and that nothing but the input decides it.

mod forms;
mod glyphs;
mod histories;
mod lists;
mod pages;
mod rosters;
mod same;
mod sample;

use lopdf::Document;

/// The file before it is signed.
fn pdf_of(record: &evidence::Record) -> Result<Vec<u8>, crate::PaperError> {
    crate::archive::written(crate::record(record, sample::signed())?)
}

/// The text of all pages, as a reader would copy it, white space evened out.
fn text_of(pdf: &[u8]) -> String {
    let document = Document::load_mem(pdf).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    let text = document.extract_text(&pages).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
