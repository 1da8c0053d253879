//! Kit.
