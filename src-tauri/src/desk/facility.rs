//! Home and the first start.

use chrono_tz::Tz;
use competency::{
    procedure::{self, library},
    validity::{LEAD_DAYS, State, due_load},
};
use contract::{CreateFacility, Due, Facility, Fault, Home, MonthLoad, Next, OpenHome, Unfinished, Unit};
use evidence::{
    ActingAs, FacilityCreated, Facts, ProcedurePublished, RequirementSet, UnitAdded, procedure_hash,
};
use ledger::{Deed, Moment, NewPerson};
use sealing::{Authority, check_pin};

use super::{Desk, Keys, author, civil_date, names::sort_key, typed::filled};
use crate::{
    chance, clock,
    fault::{file_fault, ledger_fault, sealing_fault},
};

/// How long ahead the load of due dates is shown.
const LOAD_MONTHS: u32 = 12;
/// What a new facility requires of everyone until it says otherwise.
const REQUIRED_AT_FIRST: [&str; 2] = ["standard-donning", "standard-removal-example-1"];

impl Desk {
    /// What home shows.
    pub(crate) fn open_home(&self, _request: &OpenHome, now: &Moment) -> Result<Home, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let Some((_id, facility)) = &facts.facility else {
            return Ok(Home {
                facility: None,
                today,
                set_aside: Vec::new(),
                unfinished: Vec::new(),
                watch_again: Vec::new(),
                due: Vec::new(),
                counts: Vec::new(),
                due_load: Vec::new(),
                people: 0,
                observers: 0,
                requirements: 0,
            });
        };
        let books = self.books();
        let held = books.required_held(today)?;
        let counts = State::ALL
            .into_iter()
            .map(|state| (state, count(held.iter().filter(|held| held.state == state).count())))
            .collect();
        let ends = held.iter().filter(|held| held.state.runs_out()).filter_map(|held| held.valid_until);
        let load = due_load(ends, today, LOAD_MONTHS);
        let falling_due = books.required_standings(today, |held| held.state.falls_due())?;
        let mut due: Vec<Due> = falling_due.iter().filter_map(super::standing::Required::due).collect();
        due.sort_by_cached_key(|one| (one.valid_until, sort_key(&one.name)));
        let members = facts.members(None, today);
        Ok(Home {
            facility: Some(Facility {
                name: facility.name.clone(),
                zone: facility.zone.clone(),
                units: units(&facts),
            }),
            today,
            set_aside: self.lies_aside(&facts)?,
            unfinished: self.unfinished(&facts)?,
            watch_again: self.watch_again(&facts)?,
            due,
            counts,
            due_load: load.into_iter().map(|(month, due)| MonthLoad { month, due }).collect(),
            people: count(members.len()),
            observers: count(members.iter().filter(|id| facts.certificate(id).is_some()).count()),
            requirements: count(facts.required_procedures(today).len()),
        })
    }

    /// Creates the facility, its authority, its first unit and its first observer, all or nothing.
    pub(crate) fn create_facility(&self, request: &CreateFacility, now: &Moment) -> Result<Home, Fault> {
        let name = filled(&request.name, "facility's name")?;
        let unit_name = filled(&request.unit, "unit's name")?;
        let observer_name = filled(&request.observer_name, "observer's name")?;
        let number = filled(&request.observer_number, "observer's staff number")?;
        let role = filled(&request.observer_role, "observer's role")?;
        let evidence = filled(&request.evidence, "outside evidence")?;
        check_pin(&request.pin).map_err(sealing_fault)?;
        let zone = request.zone.clone().unwrap_or_else(clock::device_zone);
        let Ok(tz) = zone.parse::<Tz>() else {
            return Err(Fault::new(
                Next::MendInput,
                format!("{zone} is no time zone of the IANA list; choose one such as Europe/Berlin."),
            ));
        };
        if self.reader().facts(None).map_err(ledger_fault)?.facility.is_some() {
            return Err(ledger_fault(ledger::LedgerError::FacilityExists));
        }
        let seed =
            chance::seed().map_err(|error| file_fault("draw a key for", self.folder().root(), &error))?;
        let authority = Authority::create(name, now.wall.to_utc(), seed).map_err(sealing_fault)?;
        let from = now.wall.with_timezone(&tz).date_naive();
        let unit = chance::id().to_string();
        let observer = chance::id().to_string();
        let mut deeds = vec![
            Deed::new(
                author(ActingAs::Manager),
                UnitAdded { unit: unit.clone(), name: unit_name.to_owned() },
            ),
            Deed::add_person(
                author(ActingAs::Manager),
                NewPerson {
                    person: observer.clone(),
                    unit,
                    role: role.to_owned(),
                    from,
                    name: observer_name.to_owned(),
                    number: number.to_owned(),
                    salt: chance::id(),
                },
            )
            .map_err(ledger_fault)?,
        ];
        let mut enrolled = self.enrol(&authority, &observer, observer_name, evidence, &request.pin, now)?;
        deeds.append(&mut enrolled.deeds);
        deeds.push(self.certify_device(&authority, now)?);
        for (file, text) in library() {
            deeds.push(published(file, text, from)?);
        }
        for procedure in REQUIRED_AT_FIRST {
            deeds.push(required(procedure, None, from));
        }
        // Keys first: facts that promise a key which is not there could not be undone.
        self.keep_device_key()?;
        self.keep_authority(&authority, &request.passphrase, now)?;
        self.keep_first_certificate(&authority)?;
        self.keep_observer_key(&observer, &enrolled)?;
        let created = FacilityCreated {
            name: name.to_owned(),
            zone,
            authority: Some(evidence::digest(authority.certificate().der())),
        };
        let keys = Keys { authority: Some(&authority), ..Keys::default() };
        self.stamped(now, keys, |ledger, stamp| {
            ledger.create_facility(author(ActingAs::Authority), created, &deeds, stamp)
        })
        .map_err(ledger_fault)?;
        // Beside the exports from the first day on: without it nobody can trust a record.
        self.save_authority_certificate()?;
        self.open_home(&OpenHome {}, now)
    }

    fn unfinished(&self, facts: &Facts) -> Result<Vec<Unfinished>, Fault> {
        let mut unfinished = Vec::new();
        for begun in self.reader().unfinished().map_err(ledger_fault)? {
            let lines = self.reader().lines(&begun.begin.demonstration).map_err(ledger_fault)?;
            let folded = competency::journal::fold(&lines, begun.begin.mode, &begun.begin.conditions);
            let name = self.reader().name(&begun.begin.person).map_err(ledger_fault)?;
            unfinished.push(Unfinished {
                procedure: super::procedures::title(facts, &begun.begin.procedure),
                demonstration: begun.begin.demonstration,
                person: name.and_then(|name| name.name).unwrap_or_default(),
                begun: begun.moment.wall.format("%Y-%m-%d %H:%M").to_string(),
                lines: count(folded.log.observations.len()),
                ended: folded.ended,
                settled: folded.settled,
            });
        }
        unfinished.sort_by(|one, other| other.begun.cmp(&one.begun));
        Ok(unfinished)
    }
}

pub(super) fn units(facts: &Facts) -> Vec<Unit> {
    let mut units: Vec<Unit> =
        facts.units.iter().map(|(id, name)| Unit { id: id.clone(), name: name.clone() }).collect();
    units.sort_by_cached_key(|one| sort_key(&one.name));
    units
}

/// The fact that puts a procedure of the library in force.
fn published(file: &str, text: &str, from: chrono::NaiveDate) -> Result<Deed, Fault> {
    let unusable = |why: String| {
        Fault::new(
            Next::AskForHelp,
            format!("The procedure {file} of the library cannot be used: {why}; install the program anew."),
        )
    };
    let procedure = procedure::read(text)
        .map_err(|flaws| unusable(flaws.into_iter().map(|flaw| flaw.text).collect::<Vec<_>>().join(" ")))?;
    let hash = procedure_hash(&procedure).map_err(|error| unusable(error.to_string()))?;
    let published = ProcedurePublished { procedure, hash, from, approved: None, revalidate: None };
    Ok(Deed::new(author(ActingAs::Educator), published))
}

/// The fact that requires a procedure of everyone in a unit, or of everyone.
pub(super) fn required(procedure: &str, unit: Option<&str>, from: chrono::NaiveDate) -> Deed {
    Deed::new(
        author(ActingAs::Manager),
        RequirementSet {
            procedure: procedure.to_owned(),
            unit: unit.map(str::to_owned),
            role: None,
            required: true,
            months: None,
            lead_days: LEAD_DAYS.to_vec(),
            from,
        },
    )
}

pub(super) fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}
