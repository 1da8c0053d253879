//! Procedures that an educator is working on. They are no facts: they change, and they may be thrown away.

use rusqlite::{OptionalExtension, Row, named_params};

use crate::{Ledger, LedgerError, Moment, Reader, columns::column, error::Doing};

/// A procedure under way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptDraft {
    /// Names it.
    pub id: String,
    /// The procedure as JSON text; the ledger does not read it.
    pub procedure: String,
    /// When it was last kept, as RFC 3339 text.
    pub kept: String,
}

impl Ledger {
    /// Keeps a draft in the place of what it was before; it is on the disk when this returns.
    ///
    /// # Errors
    /// [`LedgerError::Full`] where there is no room; what was kept before is still there.
    pub fn keep_draft(&self, id: &str, procedure: &str, now: &Moment) -> Result<(), LedgerError> {
        let doing = "keep a draft";
        let kept = now.wall.to_rfc3339();
        self.transact(doing, |transaction| {
            transaction
                .execute(
                    include_str!("../sql/draft/keep.sql"),
                    named_params! { ":id": id, ":procedure": procedure, ":kept": kept },
                )
                .doing(doing)?;
            Ok(())
        })
    }

    /// Throws a draft away; one that is not there is gone already.
    pub fn drop_draft(&self, id: &str) -> Result<(), LedgerError> {
        let doing = "throw a draft away";
        self.transact(doing, |transaction| {
            transaction
                .execute(include_str!("../sql/draft/drop.sql"), named_params! { ":id": id })
                .doing(doing)?;
            Ok(())
        })
    }
}

impl Reader {
    /// One draft.
    pub fn draft(&self, id: &str) -> Result<Option<KeptDraft>, LedgerError> {
        self.reading()
            .query_row(include_str!("../sql/draft/one.sql"), named_params! { ":id": id }, |row| {
                Ok(draft(row))
            })
            .optional()
            .doing("read a draft")?
            .transpose()
    }

    /// Every draft, the last one kept first.
    pub fn drafts(&self) -> Result<Vec<KeptDraft>, LedgerError> {
        let doing = "list drafts";
        let connection = self.reading();
        let mut statement = connection.prepare_cached(include_str!("../sql/draft/all.sql")).doing(doing)?;
        let mut rows = statement.query([]).doing(doing)?;
        let mut drafts = Vec::new();
        while let Some(row) = rows.next().doing(doing)? {
            drafts.push(draft(row)?);
        }
        Ok(drafts)
    }
}

fn draft(row: &Row<'_>) -> Result<KeptDraft, LedgerError> {
    Ok(KeptDraft { id: column(row, "id")?, procedure: column(row, "procedure")?, kept: column(row, "kept")? })
}
