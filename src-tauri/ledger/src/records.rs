//! Filed records: which file belongs to which demonstration, and which files belong to none.

use std::{collections::BTreeSet, fs, path::PathBuf};

use evidence::{DemonstrationId, Digest};
use rusqlite::{Row, Transaction, named_params};
use uuid::Uuid;

use crate::{
    LedgerError, Reader,
    columns::{column, word},
    error::{Doing, files},
};

/// A signed PDF that lies in the records folder already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewRecord {
    /// Name of the file in the records folder.
    pub file: String,
    /// SHA-256 of the file.
    pub pdf: Digest,
    /// The canonical bytes of its `record.json`.
    pub json: Vec<u8>,
}

/// A filed record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FiledRecord {
    /// The demonstration; it names the record.
    pub demonstration: DemonstrationId,
    /// Id of the entry that seals it.
    pub entry: Uuid,
    /// Name of the file in the records folder.
    pub file: String,
    /// SHA-256 of the file.
    pub pdf: Digest,
    /// The canonical bytes of its `record.json`; read them with [`evidence::Record::read`].
    pub json: Vec<u8>,
}

/// A record with its second signature, filed beside the first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Countersigned {
    /// The demonstration; it names the record.
    pub demonstration: DemonstrationId,
    /// Id of the entry that says so.
    pub entry: Uuid,
    /// Name of the file in the records folder.
    pub file: String,
    /// SHA-256 of the file.
    pub pdf: Digest,
}

impl Reader {
    /// The filed record of a demonstration.
    pub fn record(&self, demonstration: &str) -> Result<Option<FiledRecord>, LedgerError> {
        let doing = "read a filed record";
        let connection = self.reading();
        let mut statement = connection.prepare_cached(include_str!("../sql/record/one.sql")).doing(doing)?;
        let mut rows = statement.query(named_params! { ":demonstration": demonstration }).doing(doing)?;
        rows.next().doing(doing)?.map(filed_from).transpose()
    }

    /// Every filed record, in the order of filing.
    pub fn records(&self) -> Result<Vec<FiledRecord>, LedgerError> {
        let doing = "list filed records";
        let connection = self.reading();
        let mut statement = connection.prepare_cached(include_str!("../sql/record/all.sql")).doing(doing)?;
        let mut rows = statement.query([]).doing(doing)?;
        let mut records = Vec::new();
        while let Some(row) = rows.next().doing(doing)? {
            records.push(filed_from(row)?);
        }
        Ok(records)
    }

    /// Every record with a second signature.
    pub fn countersigned(&self) -> Result<Vec<Countersigned>, LedgerError> {
        let doing = "list second signatures";
        let connection = self.reading();
        let mut statement =
            connection.prepare_cached(include_str!("../sql/record/countersigned.sql")).doing(doing)?;
        let mut rows = statement.query([]).doing(doing)?;
        let mut all = Vec::new();
        while let Some(row) = rows.next().doing(doing)? {
            all.push(Countersigned {
                demonstration: column(row, "demonstration")?,
                entry: word(row, "entry")?,
                file: column(row, "file")?,
                pdf: word(row, "pdf")?,
            });
        }
        Ok(all)
    }

    /// The second signature of a record, where there is one.
    pub fn countersignature(&self, demonstration: &str) -> Result<Option<Countersigned>, LedgerError> {
        Ok(self.countersigned()?.into_iter().find(|one| one.demonstration == demonstration))
    }

    /// Every file in the records folder that something refers to, with its digest.
    pub(crate) fn record_files(&self) -> Result<Vec<(String, Digest)>, LedgerError> {
        let doing = "list the files of records";
        let connection = self.reading();
        let mut statement =
            connection.prepare_cached(include_str!("../sql/record/files.sql")).doing(doing)?;
        let mut rows = statement.query([]).doing(doing)?;
        let mut files = Vec::new();
        while let Some(row) = rows.next().doing(doing)? {
            files.push((column(row, "file")?, word(row, "pdf")?));
        }
        Ok(files)
    }

    /// Files in the records folder that no record refers to: left by a crash between filing and sealing,
    /// or put there by hand. The caller sets them aside and never adopts them; nothing is deleted.
    pub fn orphans(&self) -> Result<Vec<PathBuf>, LedgerError> {
        let folder = self.records_folder();
        let filed: BTreeSet<String> = self.record_files()?.into_iter().map(|(file, _digest)| file).collect();
        let mut orphans = Vec::new();
        for file in fs::read_dir(&folder).map_err(files("list", &folder))? {
            let file = file.map_err(files("list", &folder))?;
            let is_file = file.file_type().map_err(files("look at", file.path()))?.is_file();
            if is_file && !file.file_name().to_str().is_some_and(|name| filed.contains(name)) {
                orphans.push(file.path());
            }
        }
        orphans.sort();
        Ok(orphans)
    }
}

pub(crate) fn file(
    transaction: &Transaction<'_>,
    demonstration: &str,
    entry: Uuid,
    new: &NewRecord,
) -> Result<(), LedgerError> {
    transaction
        .execute(
            include_str!("../sql/record/file.sql"),
            named_params! {
                ":demonstration": demonstration,
                ":entry": entry.to_string(),
                ":file": new.file,
                ":pdf": new.pdf.to_string(),
                ":json": new.json,
            },
        )
        .doing("file a record")?;
    Ok(())
}

pub(crate) fn countersign(
    transaction: &Transaction<'_>,
    demonstration: &str,
    entry: Uuid,
    file: &str,
    pdf: Digest,
) -> Result<(), LedgerError> {
    transaction
        .execute(
            include_str!("../sql/record/countersign.sql"),
            named_params! {
                ":demonstration": demonstration,
                ":entry": entry.to_string(),
                ":file": file,
                ":pdf": pdf.to_string(),
            },
        )
        .doing("file a second signature")?;
    Ok(())
}

fn filed_from(row: &Row<'_>) -> Result<FiledRecord, LedgerError> {
    Ok(FiledRecord {
        demonstration: column(row, "demonstration")?,
        entry: word(row, "entry")?,
        file: column(row, "file")?,
        pdf: word(row, "pdf")?,
        json: column(row, "json")?,
    })
}
