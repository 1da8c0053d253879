//! Signed records in the eyes of other programs: poppler's `pdfsig` with the authority in a store of its
//! own, the Python package `pyhanko`, `qpdf`, and `pikepdf` for the archive format. Versions of the
//! Python packages are in `requirements.txt`.
//!
//! What is tampered with must be found by them and by us; the table in `tampered.rs` says who sees what.
#![expect(clippy::expect_used, clippy::panic, reason = "helpers of tests fail loudly")]

mod claims;
mod earlier;
mod made;
mod names;
mod outside;
mod second;
mod sound;
mod tampered;
