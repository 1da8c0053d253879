//! Rosters, histories and what falls due: everything that only reads, so that the command line may look
//! while the window is open.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use competency::{
    unit::same_unit,
    validity::{Standing, due_soon_through},
};
use contract::{
    Due, Fault, Next, OpenRoster, Person, Roster, RosterColumn, RosterFormat, RosterRow, SaveRoster, Shown,
};
use evidence::{Facts, Held};
use ledger::{Moment, Name, Reader};

use super::{
    Desk, civil_date,
    facility::count,
    names::{person_view, sort_key},
    procedures::title,
};
use crate::{
    fault::{file_fault, ledger_fault},
    folder::write_whole,
    saved,
};

/// The books of a data folder, open to read.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Books<'a> {
    pub(super) reader: &'a Reader,
}

/// How a person stands with one procedure required of them.
#[derive(Debug, Clone)]
pub(crate) struct Required {
    pub(crate) person: Person,
    pub(crate) procedure: RosterColumn,
    pub(crate) standing: Standing,
    /// How many days before it runs out to remind, the most first.
    pub(crate) lead_days: Vec<u32>,
    /// The day on which they were last reminded of this very date.
    pub(crate) reminded: Option<NaiveDate>,
    /// How often what calendar files told of it has changed, this time included.
    pub(crate) revision: u32,
}

/// What is overdue or runs out within some days, earliest first; then what is required of somebody who is not yet
/// competent or was never validated.
#[derive(Debug, Clone)]
pub(crate) struct DueWithin {
    pub(crate) facility: String,
    pub(crate) facility_id: String,
    pub(crate) as_of: NaiveDate,
    pub(crate) due: Vec<Required>,
}

impl Required {
    /// The last day of the validation that runs out or has run out, where there is one.
    pub(crate) fn runs_out(&self) -> Option<NaiveDate> {
        self.standing.valid_until.filter(|_until| self.standing.state.runs_out())
    }

    /// As a line of what falls due, where it is overdue or due soon.
    pub(crate) fn due(&self) -> Option<Due> {
        self.standing.valid_until.filter(|_until| self.standing.state.falls_due()).map(|valid_until| Due {
            person: self.person.id.clone(),
            name: self.person.name.clone(),
            unit: self.person.unit_name.clone(),
            procedure: self.procedure.title.clone(),
            state: self.standing.state,
            valid_until,
            reminded: self.reminded,
        })
    }
}

/// The day on which a person was last reminded that a procedure runs out on this date.
fn reminded(facts: &Facts, person: &str, procedure: &str, until: Option<NaiveDate>) -> Option<NaiveDate> {
    let sent = facts.people.get(person)?.reminders.iter();
    let same = sent.filter(|one| one.procedure == procedure && one.valid_until == until && !one.cancels);
    same.map(|one| one.on).max()
}

impl<'a> Books<'a> {
    /// The books behind a reader.
    pub(crate) fn of(reader: &'a Reader) -> Self {
        Books { reader }
    }

    /// The roster of a unit, by id or name, or of everyone.
    pub(crate) fn roster(self, request: &OpenRoster, now: &Moment) -> Result<Roster, Fault> {
        let facts = self.reader.facts(request.known_at).map_err(ledger_fault)?;
        let (_id, facility) =
            facts.facility.as_ref().ok_or_else(|| ledger_fault(ledger::LedgerError::NoFacility))?;
        let as_of = request.as_of.unwrap_or_else(|| civil_date(&facts, now));
        let unit = unit_asked(&facts, request.unit.as_ref())?;
        let columns = columns(&facts, as_of);
        let names = self.names()?;
        let mut rows: Vec<RosterRow> = facts
            .members(unit.map(|(id, _name)| id.as_str()), as_of)
            .into_iter()
            .map(|id| row(&facts, person_view(&facts, id, names.get(id), as_of), &columns, as_of))
            .collect();
        rows.sort_by_cached_key(|one| (sort_key(&one.person.name), one.person.number.clone()));
        Ok(Roster {
            facility: facility.name.clone(),
            unit: unit.map(|(_id, name)| name.clone()),
            as_of,
            known_at: request.known_at,
            standings: count(columns.len() * rows.len()),
            procedures: columns,
            rows,
            unknown_entries: facts.unknown,
            rules: competency::RULES_VERSION,
            covers: covers(self.reader, &facts)?,
        })
    }

    /// How everyone stands with each procedure required of them, where `wanted` says yes; what is not wanted costs
    /// nothing but the asking, so that thousands of people are no work where few are due.
    pub(crate) fn required_standings(
        self,
        as_of: NaiveDate,
        wanted: impl Fn(&Held) -> bool,
    ) -> Result<Vec<Required>, Fault> {
        let (facts, index) = self.reader.indexed(None).map_err(ledger_fault)?;
        let names = self.names()?;
        let columns: Vec<RosterColumn> = columns(&facts, as_of);
        let mut standings = Vec::new();
        for (id, held) in index.roster(&facts, None, as_of) {
            for (procedure, _held) in
                columns.iter().zip(held).filter(|(_, held)| held.required && wanted(held))
            {
                let standing = facts.standing(id, &procedure.id, as_of);
                let requirement = facts.requirement(id, &procedure.id, as_of);
                let revision = standing
                    .valid_until
                    .map_or(0, |until| facts.reminder_revision(id, &procedure.id, until, false));
                standings.push(Required {
                    person: person_view(&facts, id, names.get(id), as_of),
                    procedure: procedure.clone(),
                    lead_days: requirement.map(|set| set.lead_days.clone()).unwrap_or_default(),
                    reminded: reminded(&facts, id, &procedure.id, standing.valid_until),
                    revision,
                    standing,
                });
            }
        }
        Ok(standings)
    }

    /// The state of everyone in each procedure required of them, and through when it holds.
    pub(crate) fn required_held(self, as_of: NaiveDate) -> Result<Vec<Held>, Fault> {
        let (facts, index) = self.reader.indexed(None).map_err(ledger_fault)?;
        let rows = index.roster(&facts, None, as_of).into_iter();
        Ok(rows.flat_map(|(_, held)| held).filter(|held| held.required).collect())
    }

    /// What is overdue or runs out within some days of a date, and what is required and not held yet.
    pub(crate) fn due_within(
        self,
        as_of: Option<NaiveDate>,
        days: u32,
        now: &Moment,
    ) -> Result<DueWithin, Fault> {
        let facts = self.reader.facts(None).map_err(ledger_fault)?;
        let (id, facility) =
            facts.facility.as_ref().ok_or_else(|| ledger_fault(ledger::LedgerError::NoFacility))?;
        let as_of = as_of.unwrap_or_else(|| civil_date(&facts, now));
        let horizon = due_soon_through(days, as_of);
        let mut due = self.required_standings(as_of, |held| {
            let soon = held.valid_until.is_some_and(|until| until <= horizon);
            held.state.lacks() || held.state.runs_out() && soon
        })?;
        due.sort_by_cached_key(|one| {
            let day = one.runs_out();
            (day.is_none(), day, one.standing.state, sort_key(&one.person.name), one.person.number.clone())
        });
        Ok(DueWithin { facility: facility.name.clone(), facility_id: id.to_string(), as_of, due })
    }

    pub(super) fn names(self) -> Result<BTreeMap<String, Name>, Fault> {
        let names = self.reader.names().map_err(ledger_fault)?;
        Ok(names.into_iter().map(|name| (name.person.clone(), name)).collect())
    }
}

/// One person's row.
pub(super) fn row(facts: &Facts, person: Person, columns: &[RosterColumn], as_of: NaiveDate) -> RosterRow {
    let of = columns.iter().map(|column| &column.id);
    RosterRow {
        standings: of.clone().map(|id| facts.standing(&person.id, id, as_of)).collect(),
        put_right: of
            .map(|id| facts.put_right(&person.id, id, as_of).into_iter().map(|(what, _said)| what).max())
            .collect(),
        person,
    }
}

/// The procedures that somebody must hold on a date.
pub(super) fn columns(facts: &Facts, as_of: NaiveDate) -> Vec<RosterColumn> {
    let required = facts.required_procedures(as_of).into_iter();
    required.map(|id| RosterColumn { id: id.clone(), title: title(facts, id) }).collect()
}

/// The unit asked for, by id or name, with its name.
pub(super) fn unit_asked<'f>(
    facts: &'f Facts,
    asked: Option<&String>,
) -> Result<Option<(&'f String, &'f String)>, Fault> {
    let Some(asked) = asked else { return Ok(None) };
    let meant = |(id, name): &(&String, &String)| *id == asked || same_unit(name, asked);
    facts.units.iter().find(meant).map(Some).ok_or_else(|| {
        Fault::new(Next::ChooseAgain, format!("There is no unit {asked}; choose one of {}.", listed(facts)))
    })
}

/// What a roster rests on: a device knows what was sealed on it, and what was brought to it.
pub(super) fn covers(reader: &Reader, facts: &Facts) -> Result<String, Fault> {
    let heads = reader.heads().map_err(ledger_fault)?;
    let entries: u64 = heads.values().map(|head| head.seq + 1).sum();
    let sealed: usize = facts.people.values().map(|person| person.attempts.len()).sum();
    let (devices, demonstrations) = (heads.len(), sealed);
    Ok(format!(
        "It rests on the {entries} entries and {demonstrations} sealed demonstrations that this device holds, from {devices} {}; what was sealed on another device and was not brought here is not in it.",
        if devices == 1 { "device" } else { "devices" }
    ))
}

fn listed(facts: &Facts) -> String {
    facts.units.values().cloned().collect::<Vec<_>>().join(", ")
}

impl Desk {
    /// Saves a roster in the folder of exports.
    pub(crate) fn save_roster(&self, request: &SaveRoster, now: &Moment) -> Result<Shown, Fault> {
        let roster = self.books().roster(&request.roster, now)?;
        let (ending, bytes) = match request.format {
            RosterFormat::Csv => ("csv", saved::roster_csv(&roster)?),
            RosterFormat::Xlsx => ("xlsx", saved::roster_xlsx(&roster, now)?),
            RosterFormat::Pdf => ("pdf", saved::roster_pdf(&roster, now)?),
            RosterFormat::Json => ("json", saved::roster_json(&roster)?),
        };
        self.save(&format!("roster-{}.{ending}", roster.as_of), &bytes)
    }

    /// Saves a file in the folder of exports. What lies there already stays: a file of the same name that
    /// says something else gets a numbered neighbour.
    pub(super) fn save(&self, name: &str, bytes: &[u8]) -> Result<Shown, Fault> {
        let path = self.folder().free_export(name, bytes);
        write_whole(&path, bytes).map_err(|error| file_fault("save", &path, &error))?;
        Ok(Shown { path: path.display().to_string(), opened: false })
    }
}
