//! Rosters, histories and what falls due: everything that only reads, so that the command line may look
//! while the window is open.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use competency::validity::{Standing, State};
use contract::{
    Due, Fault, Next, OpenRoster, Person, Roster, RosterColumn, RosterRow, SaveReminders, SaveRoster, Shown,
};
use evidence::Facts;
use ledger::{Moment, Name, Reader};

use super::{Desk, civil_date, names::person_view, procedures::title};
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
}

/// What is overdue or runs out within some days, earliest first.
#[derive(Debug, Clone)]
pub(crate) struct DueWithin {
    pub(crate) facility: String,
    pub(crate) facility_id: String,
    pub(crate) as_of: NaiveDate,
    pub(crate) due: Vec<Required>,
}

impl Required {
    /// As a line of what falls due, where it is overdue or due soon.
    pub(crate) fn due(&self) -> Option<Due> {
        let due = match self.standing.state {
            State::DueSoon | State::Overdue => true,
            State::Current
            | State::NotYetCompetent
            | State::NeverValidated
            | State::Suspended
            | State::NotRequired => false,
        };
        self.standing.valid_until.filter(|_until| due).map(|valid_until| Due {
            person: self.person.id.clone(),
            name: self.person.name.clone(),
            unit: self.person.unit_name.clone(),
            procedure: self.procedure.title.clone(),
            state: self.standing.state,
            valid_until,
        })
    }
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
        let unit = match &request.unit {
            None => None,
            Some(asked) => Some(
                facts
                    .units
                    .iter()
                    .find(|(id, name)| *id == asked || name.to_lowercase() == asked.to_lowercase())
                    .ok_or_else(|| {
                        Fault::new(
                            Next::ChooseAgain,
                            format!("There is no unit {asked}; choose one of {}.", listed(&facts)),
                        )
                    })?,
            ),
        };
        let columns: Vec<RosterColumn> = facts
            .required_procedures(as_of)
            .into_iter()
            .map(|id| RosterColumn { id: id.clone(), title: title(&facts, id) })
            .collect();
        let names = self.names()?;
        let mut rows: Vec<RosterRow> = facts
            .members(unit.map(|(id, _name)| id.as_str()), as_of)
            .into_iter()
            .map(|id| RosterRow {
                person: person_view(&facts, id, names.get(id), as_of),
                standings: columns.iter().map(|column| facts.standing(id, &column.id, as_of)).collect(),
            })
            .collect();
        rows.sort_by(|one, other| {
            (&one.person.name, &one.person.number).cmp(&(&other.person.name, &other.person.number))
        });
        Ok(Roster {
            facility: facility.name.clone(),
            unit: unit.map(|(_id, name)| name.clone()),
            as_of,
            known_at: request.known_at,
            procedures: columns,
            rows,
            unknown_entries: facts.unknown,
        })
    }

    /// How everyone stands with each procedure required of them.
    pub(crate) fn required_standings(self, facts: &Facts, as_of: NaiveDate) -> Result<Vec<Required>, Fault> {
        let names = self.names()?;
        let columns: Vec<RosterColumn> = facts
            .required_procedures(as_of)
            .into_iter()
            .map(|id| RosterColumn { id: id.clone(), title: title(facts, id) })
            .collect();
        let mut standings = Vec::new();
        for id in facts.members(None, as_of) {
            let person = person_view(facts, id, names.get(id), as_of);
            for procedure in &columns {
                if facts.requirement(id, &procedure.id, as_of).is_some() {
                    standings.push(Required {
                        person: person.clone(),
                        procedure: procedure.clone(),
                        standing: facts.standing(id, &procedure.id, as_of),
                    });
                }
            }
        }
        Ok(standings)
    }

    /// What is overdue, or runs out within some days of a date.
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
        let horizon = as_of + chrono::Days::new(u64::from(days));
        let mut due = self.required_standings(&facts, as_of)?;
        due.retain(|due| match due.standing.state {
            State::Current | State::DueSoon | State::Overdue => {
                due.standing.valid_until.is_some_and(|until| until <= horizon)
            }
            State::NotYetCompetent | State::NeverValidated | State::Suspended | State::NotRequired => false,
        });
        due.sort_by(|one, other| {
            (one.standing.valid_until, &one.person.name)
                .cmp(&(other.standing.valid_until, &other.person.name))
        });
        Ok(DueWithin { facility: facility.name.clone(), facility_id: id.to_string(), as_of, due })
    }

    pub(super) fn names(self) -> Result<BTreeMap<String, Name>, Fault> {
        let names = self.reader.names().map_err(ledger_fault)?;
        Ok(names.into_iter().map(|name| (name.person.clone(), name)).collect())
    }
}

fn listed(facts: &Facts) -> String {
    facts.units.values().cloned().collect::<Vec<_>>().join(", ")
}

impl Desk {
    /// The roster of a unit.
    pub(crate) fn open_roster(&self, request: &OpenRoster, now: &Moment) -> Result<Roster, Fault> {
        self.books().roster(request, now)
    }

    /// Saves a roster as CSV in the folder of exports.
    pub(crate) fn save_roster(&self, request: &SaveRoster, now: &Moment) -> Result<Shown, Fault> {
        let roster = self
            .books()
            .roster(&OpenRoster { unit: request.unit.clone(), as_of: request.as_of, known_at: None }, now)?;
        self.save(&format!("roster-{}.csv", roster.as_of), &saved::roster_csv(&roster)?)
    }

    /// Saves what falls due as a calendar in the folder of exports.
    pub(crate) fn save_reminders(&self, request: &SaveReminders, now: &Moment) -> Result<Shown, Fault> {
        let due = self.books().due_within(None, request.within_days, now)?;
        self.save(&format!("due-{}.ics", due.as_of), &saved::reminders_ics(&due, now)?)
    }

    /// Saves a file in the folder of exports. What lies there already stays: a file of the same name that
    /// says something else gets a numbered neighbour.
    pub(super) fn save(&self, name: &str, bytes: &[u8]) -> Result<Shown, Fault> {
        let path = self.folder().free_export(name, bytes);
        write_whole(&path, bytes).map_err(|error| file_fault("save", &path, &error))?;
        Ok(Shown { path: path.display().to_string(), opened: false })
    }
}
