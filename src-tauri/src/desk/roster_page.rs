//! A part of a roster: thousands of people cross to the window a page at a time.

use chrono::NaiveDate;
use competency::{share::share, validity::State};
use contract::{ColumnTotal, Fault, OpenRosterPage, Person, Roster, RosterPage, RosterSort};
use evidence::Held;
use ledger::Moment;

use super::{
    Desk, civil_date,
    facility::count,
    names::person_view,
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
        rows.sort_by(|one, other| key(one, request.sort).cmp(&key(other, request.sort)));
        let procedures = columns(&facts, as_of);
        let shown = rows.iter().skip(at(request.first)).take(at(request.most));
        let shown = shown.map(|(person, _)| row(&facts, person.clone(), &procedures, as_of));
        Ok(RosterPage {
            found: count(rows.len()),
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

fn at(number: u32) -> usize {
    usize::try_from(number).unwrap_or(usize::MAX)
}

fn is_meant((person, held): &Row, request: &OpenRosterPage) -> bool {
    let search = request.search.trim().to_lowercase();
    let named =
        || person.name.to_lowercase().contains(&search) || person.number.to_lowercase().contains(&search);
    (search.is_empty() || named())
        && request.state.is_none_or(|state| held.iter().any(|standing| standing.state == state))
}

/// What a roster is sorted by; people who are alike in that stand by name and number.
fn key((person, held): &Row, sort: RosterSort) -> (Option<NaiveDate>, &str, &str, &str) {
    let (runs_out, unit) = match sort {
        RosterSort::Name => (None, ""),
        RosterSort::Unit => (None, person.unit_name.as_str()),
        RosterSort::RunsOut => (runs_out(held), ""),
    };
    (runs_out, unit, &person.name, &person.number)
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
