//! Files of the records folder that no entry names: the device lost its power, or the program was ended, between the
//! signing and the entry. They are put aside and told, with what to do next; nothing is deleted or adopted.

use std::{fs, path::Path, sync::Mutex, sync::PoisonError};

use contract::{Fault, SetAside, WhatWasSetAside};
use evidence::{Facts, Record};

use super::{Desk, names::shown_name};
use crate::{
    chance,
    fault::{file_fault, ledger_fault},
};

/// What lies aside, as it was read when the folder was opened.
#[derive(Debug, Default)]
pub(super) struct Aside(Mutex<Vec<Lying>>);

#[derive(Debug, Clone)]
struct Lying {
    path: String,
    /// The demonstration that the file is a record of; `None` where it is no whole record.
    record: Option<Box<Record>>,
    /// It carries a second signature, or was to.
    second: bool,
    /// It was put aside just now, not at an earlier start.
    now: bool,
}

impl Desk {
    /// Puts what no entry names aside, and reads what lies there.
    pub(super) fn set_aside(&self) -> Result<(), Fault> {
        let orphans = self.reader().orphans().map_err(ledger_fault)?;
        let aside = self.folder().set_aside();
        let mut moved = Vec::new();
        for orphan in orphans {
            fs::create_dir_all(&aside).map_err(|error| file_fault("make", &aside, &error))?;
            let name = orphan.file_name().unwrap_or_default();
            let mut place = aside.join(name);
            if place.exists() {
                place = aside.join(format!("{}-{}", chance::id(), name.to_string_lossy()));
            }
            fs::rename(&orphan, &place).map_err(|error| file_fault("set aside", &orphan, &error))?;
            moved.push(place);
        }
        let mut lying = Vec::new();
        if aside.is_dir() {
            for file in fs::read_dir(&aside).map_err(|error| file_fault("list", &aside, &error))? {
                let path = file.map_err(|error| file_fault("list", &aside, &error))?.path();
                if path.is_file() {
                    lying.push(read(&path, moved.contains(&path)));
                }
            }
        }
        lying.sort_by(|one, other| one.path.cmp(&other.path));
        *self.aside.0.lock().unwrap_or_else(PoisonError::into_inner) = lying;
        Ok(())
    }

    /// What lies aside and still asks for something: gone once the demonstration is sealed, or the second signature
    /// is there; what is no record is told at the start that put it aside.
    pub(super) fn lies_aside(&self, facts: &Facts) -> Result<Vec<SetAside>, Fault> {
        let lying = self.aside.0.lock().unwrap_or_else(PoisonError::into_inner).clone();
        let mut told = Vec::new();
        for one in lying {
            let what = match &one.record {
                Some(record) => self.asks(facts, record, one.second)?,
                None => one.now.then_some(WhatWasSetAside::NoRecord),
            };
            told.extend(what.map(|what| SetAside { path: one.path, what }));
        }
        Ok(told)
    }

    fn asks(&self, facts: &Facts, record: &Record, second: bool) -> Result<Option<WhatWasSetAside>, Fault> {
        let reader = self.reader();
        let (demonstration, person) = (record.demonstration.clone(), record.person.id.clone());
        let name = shown_name(reader.name(&record.person.id).map_err(ledger_fault)?.as_ref());
        let procedure = super::procedures::title(facts, &record.procedure.id);
        let sealed = reader.record(&demonstration).map_err(ledger_fault)?.is_some();
        Ok(if second {
            let there = reader.countersignature(&demonstration).map_err(ledger_fault)?.is_some();
            (sealed && !there).then_some(WhatWasSetAside::SecondSignature { person, name, procedure })
        } else {
            let underway = reader.begun(&demonstration).map_err(ledger_fault)?.is_some();
            match (sealed, underway) {
                (true, _) => None,
                (false, true) => Some(WhatWasSetAside::Record { demonstration, name, procedure }),
                (false, false) => Some(WhatWasSetAside::NotInLedger),
            }
        })
    }
}

/// What lies there; a file that cannot be read is one of which nothing more is known, and keeps nobody from their work.
fn read(path: &Path, now: bool) -> Lying {
    let attached = fs::read(path).ok().and_then(|bytes| sealing::verify(&bytes, &[]).attachment);
    let record = attached.and_then(|data| Record::read(&data).ok()).map(Box::new);
    let second = path.file_stem().is_some_and(|name| name.to_string_lossy().ends_with("-second"));
    Lying { path: path.display().to_string(), record, second, now }
}
