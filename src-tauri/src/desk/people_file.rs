//! People from a personnel system's export: read, tried, and taken exactly as it was told.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use contract::{
    ConfirmImport, Fault, ImportChange, ImportKind, ImportTold, Next, PeopleColumns, PeopleTable,
    ReadPeopleFile, TryImport,
};
use evidence::{ActingAs, Facts, PersonMoved, UnitAdded, UnitId, digest};
use export::people::{Change, Columns, DryRun, Encoding, Known, PeopleFile, dry_run, guess, read_people};
use ledger::{Deed, Moment, NewPerson};

use super::{Desk, author, civil_date, facility::count};
use crate::{chance, fault::ledger_fault, printing::why_not};

/// How many rows are shown to choose the columns by.
const FIRST_ROWS: usize = 5;

impl Desk {
    /// Reads a file, and guesses its columns by their names.
    pub(crate) fn read_people_file(request: &ReadPeopleFile) -> Result<PeopleTable, Fault> {
        let file = read(request)?;
        let guess = guess(&file.header);
        Ok(PeopleTable {
            encoding: file.encoding.name().to_owned(),
            separator: file.separator.to_string(),
            guess: PeopleColumns {
                number: guess.number,
                name: guess.name,
                unit: guess.unit,
                role: guess.role,
                since: guess.since,
                last_day: guess.last_day,
                day_first: None,
            },
            first_rows: file.rows.iter().take(FIRST_ROWS).map(|row| row.cells.clone()).collect(),
            rows: count(file.rows.len()),
            header: file.header,
        })
    }

    /// Says what an import would change.
    pub(crate) fn try_import(&self, request: &TryImport, now: &Moment) -> Result<ImportTold, Fault> {
        Ok(told(&self.tried(request, now)?, false))
    }

    /// Does an import, exactly as it was told; all of it or nothing.
    pub(crate) fn confirm_import(&self, request: &ConfirmImport, now: &Moment) -> Result<ImportTold, Fault> {
        let run = self.tried(&request.import, now)?;
        let would = told(&run, false);
        if would.told != request.told {
            return Err(Fault::new(
                Next::MendInput,
                "What the file would change is not what was shown, since people were changed meanwhile; look at it again.",
            ));
        }
        if !would.bad.is_empty() && !request.despite_bad {
            return Err(Fault::new(
                Next::MendInput,
                "Some rows cannot be taken; confirm that the others are taken without them, or mend the file.",
            ));
        }
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let deeds = self.deeds(&facts, &run)?;
        self.write(&deeds, now)?;
        Ok(ImportTold { done: true, ..would })
    }

    fn tried(&self, request: &TryImport, now: &Moment) -> Result<DryRun, Fault> {
        let file = read(&request.file)?;
        let columns = columns(&request.columns)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let units: Vec<String> = facts.units.values().cloned().collect();
        let known = self.known(&facts, today)?;
        let refused = |text: &str| why_not(text).unwrap_or_else(|fault| Some(fault.text));
        let mut run = dry_run(&file, &columns, &known, &units, today, request.everybody, &refused);
        leave_out_what_is_stated(&mut run, &facts);
        Ok(run)
    }

    /// Everyone who was ever entered, those who left included: they may return.
    fn known(&self, facts: &Facts, today: NaiveDate) -> Result<Vec<Known>, Fault> {
        let names = self.reader().names().map_err(ledger_fault)?;
        let known = names.into_iter().filter_map(|name| {
            let person = facts.people.get(&name.person)?;
            let last = person.membership(today).or(person.memberships.first())?;
            Some(Known {
                unit: last.unit.as_ref().and_then(|unit| facts.units.get(unit).cloned()),
                role: last.role.clone(),
                since: last.from,
                person: name.person,
                number: name.number?,
                name: name.name?,
            })
        });
        Ok(known.collect())
    }

    /// The entries of an import: units first, since people refer to them.
    fn deeds(&self, facts: &Facts, run: &DryRun) -> Result<Vec<Deed>, Fault> {
        let by = || author(ActingAs::Manager);
        let mut units: BTreeMap<&str, UnitId> =
            facts.units.iter().map(|(id, name)| (name.as_str(), id.clone())).collect();
        let mut deeds = Vec::new();
        for name in &run.new_units {
            let unit = chance::id().to_string();
            deeds.push(Deed::new(by(), UnitAdded { unit: unit.clone(), name: name.clone() }));
            units.insert(name, unit);
        }
        let unit_of = |change: &Change| units.get(change.unit.as_str()).cloned().unwrap_or_default();
        for change in &run.added {
            let new = NewPerson {
                person: chance::id().to_string(),
                unit: unit_of(change),
                role: change.role.clone(),
                from: change.from,
                name: change.name.clone(),
                number: change.number.clone(),
                salt: chance::id(),
            };
            let leaves = change.gone_from.map(|from| PersonMoved {
                person: new.person.clone(),
                unit: None,
                role: new.role.clone(),
                from,
            });
            deeds.push(Deed::add_person(by(), new).map_err(ledger_fault)?);
            deeds.extend(leaves.map(|leaves| Deed::new(by(), leaves)));
        }
        for change in &run.moved {
            let Some(person) = change.person.clone() else { continue };
            let unit = Some(unit_of(change));
            let moved = PersonMoved { person, unit, role: change.role.clone(), from: change.from };
            deeds.push(Deed::new(by(), moved));
        }
        for renamed in &run.renamed {
            let number = self.reader().name(&renamed.person).map_err(ledger_fault)?;
            let Some(number) = number.and_then(|name| name.number) else { continue };
            let (person, name) = (renamed.person.clone(), renamed.name.clone());
            deeds.push(Deed::rename_person(by(), person, name, number, chance::id()).map_err(ledger_fault)?);
        }
        for leaving in &run.leaving {
            let role = run
                .moved
                .iter()
                .find(|moved| moved.person.as_ref() == Some(&leaving.person))
                .map(|moved| moved.role.clone())
                .or_else(|| Some(facts.people.get(&leaving.person)?.memberships.last()?.role.clone()));
            let (person, role) = (leaving.person.clone(), role.unwrap_or_default());
            deeds.push(Deed::new(by(), PersonMoved { person, unit: None, role, from: leaving.from }));
        }
        Ok(deeds)
    }
}

/// Leaves out changes that were stated by an earlier import of the same rows, and that nothing stated since replaces.
fn leave_out_what_is_stated(run: &mut DryRun, facts: &Facts) {
    let stated = |person: Option<&String>, from: NaiveDate, unit_and_role: Option<(&str, &str)>| {
        let last = person.and_then(|person| facts.people.get(person)?.membership(from));
        last.filter(|last| last.from == from).is_some_and(|last| {
            let unit = last.unit.as_ref().and_then(|unit| facts.units.get(unit));
            unit.map(|unit| (unit.as_str(), last.role.as_str())) == unit_and_role
        })
    };
    let before = run.moved.len() + run.leaving.len();
    run.moved.retain(|one| !stated(one.person.as_ref(), one.from, Some((&one.unit, &one.role))));
    run.leaving.retain(|one| !stated(Some(&one.person), one.from, None));
    run.unchanged += before - run.moved.len() - run.leaving.len();
}

fn read(request: &ReadPeopleFile) -> Result<PeopleFile, Fault> {
    let encoding = match &request.encoding {
        None => None,
        Some(name) => Some(Encoding::named(name).ok_or_else(|| {
            Fault::new(Next::MendInput, format!("There is no encoding {name}; choose another one."))
        })?),
    };
    read_people(&request.bytes, encoding).map_err(|error| {
        Fault::new(Next::MendInput, format!("The file cannot be read: {error}; nothing was changed."))
    })
}

fn columns(chosen: &PeopleColumns) -> Result<Columns, Fault> {
    let missing = |what: &str| {
        Fault::new(
            Next::MendInput,
            format!("No column is chosen for the {what}; choose one, then try again."),
        )
    };
    if chosen.name.is_empty() {
        return Err(missing("name"));
    }
    Ok(Columns {
        number: chosen.number.ok_or_else(|| missing("staff number"))?,
        name: chosen.name.clone(),
        unit: chosen.unit.ok_or_else(|| missing("unit"))?,
        role: chosen.role.ok_or_else(|| missing("role"))?,
        since: chosen.since,
        last_day: chosen.last_day,
        day_first: chosen.day_first,
    })
}

fn told(run: &DryRun, done: bool) -> ImportTold {
    let place = |unit: Option<&str>, role: &str| match unit {
        Some(unit) if role.is_empty() => unit.to_owned(),
        Some(unit) => format!("{unit}, {role}"),
        None => "left".to_owned(),
    };
    let moved = |kind, change: &Change| ImportChange {
        kind,
        line: Some(change.line),
        name: change.name.clone(),
        before: change.before.as_ref().map_or_else(String::new, |(unit, role)| place(unit.as_deref(), role)),
        after: place(Some(&change.unit), &change.role),
        from: Some(change.from),
    };
    let mut changes: Vec<ImportChange> = Vec::new();
    changes.extend(run.added.iter().map(|change| moved(ImportKind::Joins, change)));
    changes.extend(run.moved.iter().map(|change| moved(ImportKind::Moves, change)));
    changes.extend(run.renamed.iter().map(|renamed| ImportChange {
        kind: ImportKind::Renamed,
        line: Some(renamed.line),
        name: renamed.name.clone(),
        before: renamed.before.clone(),
        after: renamed.name.clone(),
        from: None,
    }));
    changes.extend(run.leaving.iter().map(|leaving| ImportChange {
        kind: ImportKind::Leaves,
        line: leaving.line,
        name: leaving.name.clone(),
        before: String::new(),
        after: String::new(),
        from: Some(leaving.from),
    }));
    changes.extend(run.added.iter().filter_map(|change| {
        Some(ImportChange {
            kind: ImportKind::Leaves,
            line: Some(change.line),
            name: change.name.clone(),
            before: String::new(),
            after: String::new(),
            from: Some(change.gone_from?),
        })
    }));
    let left_before: Vec<_> =
        run.left_before.iter().map(|one| (one.line, one.name.clone(), one.last_day)).collect();
    let bad: Vec<(u64, String)> = run.bad.iter().map(|bad| (bad.line, bad.why.clone())).collect();
    let unchanged = count(run.unchanged);
    let whole = format!("{changes:?} {:?} {unchanged} {left_before:?} {bad:?}", run.new_units);
    let told = digest(whole.as_bytes()).to_string();
    ImportTold { told, changes, new_units: run.new_units.clone(), unchanged, left_before, bad, done }
}
