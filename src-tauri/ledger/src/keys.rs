//! A place for sealed blobs that belong to this data folder, such as encrypted keys. The ledger does not
//! know what is in them, and holds nothing that would open them.

use rusqlite::{OptionalExtension, named_params};

use crate::{Ledger, LedgerError, Reader, error::Doing};

impl Ledger {
    /// Keeps a blob under a name, in the place of an earlier one.
    pub fn put_key(&self, name: &str, blob: &[u8]) -> Result<(), LedgerError> {
        let doing = "keep a sealed key";
        self.transact(doing, |transaction| {
            transaction
                .execute(include_str!("../sql/key/put.sql"), named_params! { ":name": name, ":blob": blob })
                .doing(doing)?;
            Ok(())
        })
    }

    /// Drops the blob of a name, and those of names below it (`name/…`), but for one that is kept.
    pub fn drop_keys(&self, under: &str, kept: &str) -> Result<(), LedgerError> {
        let doing = "drop a sealed key";
        self.transact(doing, |transaction| {
            let which = named_params! { ":under": under, ":kept": kept };
            transaction.execute(include_str!("../sql/key/drop.sql"), which).doing(doing)?;
            Ok(())
        })
    }
}

impl Reader {
    /// The blob kept under a name.
    pub fn key(&self, name: &str) -> Result<Option<Vec<u8>>, LedgerError> {
        self.reading()
            .query_row(include_str!("../sql/key/one.sql"), named_params! { ":name": name }, |row| {
                row.get("blob")
            })
            .optional()
            .doing("read a sealed key")
    }
}
