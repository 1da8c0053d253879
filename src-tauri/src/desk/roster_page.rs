//! A part of a roster: thousands of people cross to the window a page at a time.

use chrono::NaiveDate;
use competency::{share::share, validity::State};
use contract::{ColumnTotal, Fault, OpenRosterPage, Person, Roster, RosterGroup, RosterPage, RosterSort};
use evidence::Held;
use ledger::Moment;

use super::{
    Desk, civil_date,
    facility::count,
    names::{person_view, sort_key},
    standing::{columns, covers, row, unit_asked},
};
use crate::fault::ledger_fault;

/// One person with their states; sentences are only made for those who are shown.
type Row = (Person, Vec<Held>);

impl Desk {
    /// Whoever is looked for, in the order asked for, with what holds of everyone found.
    pub(crate) fn open_roster(&self, request: &OpenRosterPage, now: &Moment) -> Result<RosterPage, Fault> {
        let (facts, index) = self.reader().indexed(request.roster.known_at).map_err(ledger_fault)?;
        let (_id, facility) =
            facts.facility.as_ref().ok_or_else(|| ledger_fault(ledger::LedgerError::NoFacility))?;
        let as_of = request.roster.as_of.unwrap_or_else(|| civil_date(&facts, now));
        let unit = unit_asked(&facts, request.roster.unit.as_ref())?;
        let names = self.named()?;
        let all = index.roster(&facts, unit.map(|(id, _name)| id.as_str()), as_of);
        let standings = count(all.iter().map(|(_, held)| held.len()).sum());
        let mut rows: Vec<Row> = all
            .into_iter()
            .map(|(id, held)| (person_view(&facts, id, names.get(id), as_of), held))
            .filter(|row| is_meant(row, request))
            .collect();
        rows.sort_by_cached_key(|one| key(one, request.sort));
        let procedures = columns(&facts, as_of);
        let shown = part(&rows, request.first, request.most);
        let shown = shown.map(|(person, _)| row(&facts, person.clone(), &procedures, as_of));
        Ok(RosterPage {
            found: count(rows.len()),
            groups: groups(&rows, request.sort),
            totals: (0..procedures.len()).map(|column| total(&rows, column)).collect(),
            roster: Roster {
                facility: facility.name.clone(),
                unit: unit.map(|(_id, name)| name.clone()),
                as_of,
                known_at: request.roster.known_at,
                rows: shown.collect(),
                procedures,
                unknown_entries: facts.unknown,
                rules: competency::RULES_VERSION,
                standings,
                covers: covers(self.reader(), &facts)?,
            },
        })
    }
}

/// The part of a list that was asked for.
pub(super) fn part<T>(all: impl IntoIterator<Item = T>, first: u32, most: u32) -> impl Iterator<Item = T> {
    let at = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
    all.into_iter().skip(at(first)).take(at(most))
}

/// Whether a person's name or number contains a text, in any case; everyone's does where it is empty.
pub(super) fn is_called(person: &Person, search: &str) -> bool {
    let search = search.trim().to_lowercase();
    search.is_empty()
        || person.name.to_lowercase().contains(&search)
        || person.number.to_lowercase().contains(&search)
}

fn is_meant((person, held): &Row, request: &OpenRosterPage) -> bool {
    is_called(person, &request.search)
        && request.state.is_none_or(|state| held.iter().any(|standing| standing.state == state))
}

/// A name as it is sorted by.
type Sorted = (String, String);

/// What a roster is sorted by; people who are alike in that stand by name and number.
fn key((person, held): &Row, sort: RosterSort) -> (Option<NaiveDate>, Sorted, Sorted, String) {
    let runs_out = (sort == RosterSort::RunsOut).then(|| runs_out(held)).flatten();
    let group = sort_key(group(person, sort).unwrap_or_default());
    (runs_out, group, sort_key(&person.name), person.number.clone())
}

/// Beside whom a person stands in this order.
fn group(person: &Person, sort: RosterSort) -> Option<&str> {
    match sort {
        RosterSort::Name | RosterSort::RunsOut => None,
        RosterSort::Unit => Some(&person.unit_name),
        RosterSort::Role => Some(&person.role),
    }
}

/// The groups of rows that are in their order.
fn groups(rows: &[Row], sort: RosterSort) -> Vec<RosterGroup> {
    let mut groups: Vec<RosterGroup> = Vec::new();
    for (first, name) in (0..).zip(rows.iter().filter_map(|(person, _)| group(person, sort))) {
        match groups.last_mut().filter(|last| last.name == name) {
            Some(last) => last.people += 1,
            None => groups.push(RosterGroup { name: name.to_owned(), first, people: 1 }),
        }
    }
    groups
}

/// The first day on which something required runs out; what nobody holds comes before every day.
fn runs_out(held: &[Held]) -> Option<NaiveDate> {
    let required = held.iter().filter(|one| one.required);
    required
        .map(|one| one.valid_until.filter(|_until| one.state.holds()))
        .min()
        .unwrap_or(Some(NaiveDate::MAX))
}

fn total(rows: &[Row], column: usize) -> ColumnTotal {
    let held: Vec<&Held> = rows.iter().filter_map(|(_, held)| held.get(column)).collect();
    let of = |state: State| count(held.iter().filter(|one| one.state == state).count());
    let counts: Vec<(State, u32)> =
        State::ALL.into_iter().map(|state| (state, of(state))).filter(|(_, number)| *number > 0).collect();
    let required = count(held.iter().filter(|one| one.required).count());
    let hold = count(held.iter().filter(|one| one.required && one.state.holds()).count());
    ColumnTotal { counts, hold: share(hold, required) }
}
