use std::collections::BTreeMap;

use chrono::NaiveDate;
use competency::{unit::same_unit, validity::long_date};

use super::{BadRow, Change, Columns, DryRun, Known, Leaving, LeftBefore, PeopleFile, Renamed, Row};

/// A row as it is meant.
struct Meant {
    line: u64,
    number: String,
    name: String,
    unit: String,
    role: String,
    since: Option<NaiveDate>,
    last_day: Option<NaiveDate>,
}

/// What an import would change. `units` are the names of those that exist. A change without a date of its own
/// is from `today` on. Where the file is of `everybody`, whoever is missing from it leaves on that day.
///
/// People are recognised by their number alone, which keeps its leading zeros. A number that stands on several
/// lines is taken from none of them. A unit is recognised whatever case its name is written in and whatever space
/// stands in it, and keeps its spelling. `refused` says what is wrong with a text that a paper could not carry, after
/// "has".
pub fn dry_run(
    file: &PeopleFile,
    columns: &Columns,
    known: &[Known],
    units: &[String],
    today: NaiveDate,
    everybody: bool,
    refused: &dyn Fn(&str) -> Option<String>,
) -> DryRun {
    let mut result = DryRun::default();
    let day_first = columns.day_first.map_or_else(|| day_first(file, columns), DayFirst::Told);
    let mut lines: BTreeMap<&str, Vec<u64>> = BTreeMap::new();
    for row in &file.rows {
        if let Some(number) = row.cells.get(columns.number).filter(|number| !number.is_empty()) {
            lines.entry(number).or_default().push(row.line);
        }
    }
    let by_number: BTreeMap<&str, &Known> = known.iter().map(|one| (one.number.as_str(), one)).collect();
    for row in &file.rows {
        let meant = meant(row, file.header.len(), columns, day_first).and_then(|meant| {
            let on_lines = lines.get(meant.number.as_str()).map(Vec::as_slice).unwrap_or_default();
            match on_lines.iter().find(|line| **line != row.line) {
                Some(line) => Err(format!("The number {} also stands on line {line}.", meant.number)),
                None => fit_to_print(meant, refused),
            }
        });
        let taken = meant.and_then(|meant| {
            let known = by_number.get(meant.number.as_str()).copied();
            take(&mut result, meant, known, units, today)
        });
        if let Err(why) = taken {
            result.bad.push(BadRow { line: row.line, why });
        }
    }
    if everybody {
        // Whoever stands on a bad row is not missing from the file.
        let missing =
            known.iter().filter(|one| one.unit.is_some() && !lines.contains_key(one.number.as_str())).map(
                |one| Leaving { line: None, person: one.person.clone(), name: one.name.clone(), from: today },
            );
        result.leaving.extend(missing);
    }
    result
}

fn fit_to_print(meant: Meant, refused: &dyn Fn(&str) -> Option<String>) -> Result<Meant, String> {
    let texts =
        [("name", &meant.name), ("number", &meant.number), ("unit", &meant.unit), ("role", &meant.role)];
    let wrong =
        texts.into_iter().find_map(|(what, text)| Some(format!("The {what} has {}.", refused(text)?)));
    wrong.map_or(Ok(meant), Err)
}

/// Adds to the result what one row changes.
fn take(
    result: &mut DryRun,
    mut row: Meant,
    known: Option<&Known>,
    units: &[String],
    today: NaiveDate,
) -> Result<(), String> {
    let known_units = units.iter().chain(&result.new_units);
    if let Some(unit) = known_units.into_iter().find(|unit| same_unit(unit, &row.unit)) {
        row.unit.clone_from(unit);
    }
    let gone_from = row
        .last_day
        .map(|last| last.succ_opt().ok_or_else(|| format!("The date {last} is too late.")))
        .transpose()?;
    if let (Some(since), Some(last)) = (row.since, row.last_day)
        && last < since
    {
        let (last, since) = (long_date(last), long_date(since));
        return Err(format!("The last day, {last}, is before the first, {since}."));
    }
    let stays =
        known.is_some_and(|known| known.unit.as_deref() == Some(row.unit.as_str()) && known.role == row.role);
    let gone = gone_from.filter(|from| *from <= today);
    if let (Some(known), Some(since)) = (known, row.since)
        && !stays
        && gone.is_none()
        && since <= known.since
    {
        return Err(format!(
            "The change on {} is not after {}, since when {} is known.",
            long_date(since),
            long_date(known.since),
            known
                .unit
                .as_ref()
                .map_or_else(|| "that they left".to_owned(), |unit| format!("the unit {unit}")),
        ));
    }
    if let (None, Some(_), Some(last_day)) = (known, gone, row.last_day) {
        result.left_before.push(LeftBefore { line: row.line, name: row.name, last_day });
        return Ok(());
    }
    let mut changed = false;
    if let Some(known) = known.filter(|known| known.name != row.name) {
        changed = true;
        result.renamed.push(Renamed {
            line: row.line,
            person: known.person.clone(),
            before: known.name.clone(),
            name: row.name.clone(),
        });
    }
    // Someone who is gone already neither joins nor moves before they leave.
    if !stays && gone.is_none() {
        changed = true;
        if !units.contains(&row.unit) && !result.new_units.contains(&row.unit) {
            result.new_units.push(row.unit.clone());
        }
        let change = Change {
            line: row.line,
            person: known.map(|known| known.person.clone()),
            number: row.number,
            name: row.name.clone(),
            before: known.map(|known| (known.unit.clone(), known.role.clone())),
            unit: row.unit,
            role: row.role,
            from: row.since.unwrap_or(today),
            gone_from: gone_from.filter(|_| known.is_none()),
        };
        if known.is_some() { &mut result.moved } else { &mut result.added }.push(change);
    }
    // Whoever returns for a time leaves again.
    let here = |known: &&Known| known.unit.is_some() || changed;
    if let (Some(from), Some(known)) = (gone_from, known.filter(here)) {
        changed = true;
        let person = known.person.clone();
        result.leaving.push(Leaving { line: Some(row.line), person, name: row.name, from });
    }
    result.unchanged += usize::from(!changed && known.is_some());
    Ok(())
}

fn meant(row: &Row, width: usize, columns: &Columns, day_first: DayFirst) -> Result<Meant, String> {
    if row.cells.len() != width {
        return Err(format!("The row has {} cells, the first row {width}.", row.cells.len()));
    }
    let cell = |at: usize| row.cells.get(at).map(String::as_str).unwrap_or_default();
    let needed = |what: &str, text: &str| {
        if text.is_empty() { Err(format!("The {what} is missing.")) } else { Ok(text.to_owned()) }
    };
    let date = |column: Option<usize>| match column.map(cell) {
        None | Some("") => Ok(None),
        Some(text) => read_date(text, day_first).map(Some),
    };
    let parts: Vec<&str> = columns.name.iter().map(|at| cell(*at)).filter(|part| !part.is_empty()).collect();
    Ok(Meant {
        line: row.line,
        number: needed("number", cell(columns.number))?,
        name: needed("name", &parts.join(" "))?,
        unit: needed("unit", cell(columns.unit))?,
        role: needed("role", cell(columns.role))?,
        since: date(columns.since)?,
        last_day: date(columns.last_day)?,
    })
}

/// How dates with slashes are read.
#[derive(Clone, Copy)]
enum DayFirst {
    /// As it was told, or as some date of the file can only be read.
    Told(bool),
    /// No date of the file tells.
    Open,
    /// Some dates can only be read one way, others only the other.
    Both,
}

/// What the dates of the file tell: one with a number over 12 can be read only one way.
fn day_first(file: &PeopleFile, columns: &Columns) -> DayFirst {
    let date_columns = [columns.since, columns.last_day];
    let cells = file.rows.iter().flat_map(|row| date_columns.iter().flatten().map(|at| row.cells.get(*at)));
    let (mut day, mut month) = (false, false);
    for (first, second, _) in cells.flatten().filter_map(|cell| numbers(cell, '/')) {
        day |= first > 12;
        month |= second > 12;
    }
    match (day, month) {
        (true, true) => DayFirst::Both,
        (false, false) => DayFirst::Open,
        (day, _) => DayFirst::Told(day),
    }
}

/// `2026-05-03`, `3.5.2026`, or with slashes in the order that the file has.
fn read_date(text: &str, day_first: DayFirst) -> Result<NaiveDate, String> {
    let none = || format!("\"{text}\" is not a date.");
    let dated = |year: u32, month, day| {
        let year = i32::try_from(year).ok().filter(|year| (1900..3000).contains(year)).ok_or_else(none)?;
        NaiveDate::from_ymd_opt(year, month, day).ok_or_else(none)
    };
    if let Some((year, month, day)) = numbers(text, '-') {
        return dated(year, month, day);
    }
    if let Some((day, month, year)) = numbers(text, '.') {
        return dated(year, month, day);
    }
    let (first, second, year) = numbers(text, '/').ok_or_else(none)?;
    match day_first {
        DayFirst::Told(true) => dated(year, second, first),
        DayFirst::Told(false) => dated(year, first, second),
        DayFirst::Open if first == second => dated(year, first, second),
        DayFirst::Open | DayFirst::Both => Err(format!(
            "\"{text}\" may begin with the day or with the month: choose which, and show again what would change."
        )),
    }
}

fn numbers(text: &str, between: char) -> Option<(u32, u32, u32)> {
    let mut parts = text.split(between).map(|part| part.parse().ok());
    let numbers = (parts.next()??, parts.next()??, parts.next()??);
    parts.next().is_none().then_some(numbers)
}
