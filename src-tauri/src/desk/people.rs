//! People.

use competency::unit::same_unit;
use contract::{AddPerson, Fault, ListPeople, People, Person};
use evidence::{ActingAs, UnitAdded};
use ledger::{Deed, Moment, NewPerson};

use super::{
    Desk, absent, author, civil_date,
    facility::count,
    names::{person_view, sort_key},
    roster_page::part,
    typed::filled,
};
use crate::{chance, fault::ledger_fault};

impl Desk {
    /// People whose name or number contains a text, by name.
    pub(crate) fn list_people(&self, request: &ListPeople, now: &Moment) -> Result<People, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let mut found = self.reader().search_names(&request.search).map_err(ledger_fault)?;
        found.retain(|name| !request.left || facts.has_left(&name.person, today));
        found.sort_by_cached_key(|name| {
            (sort_key(name.name.as_deref().unwrap_or_default()), name.number.clone())
        });
        let shown = part(&found, request.first, request.most);
        let people = shown.map(|name| person_view(&facts, &name.person, Some(name), today)).collect();
        Ok(People { found: people, of: count(found.len()) })
    }

    /// Adds a person, and their unit where there is none of that name.
    pub(crate) fn add_person(&self, request: &AddPerson, now: &Moment) -> Result<Person, Fault> {
        let name = filled(&request.name, "name")?;
        let number = filled(&request.number, "staff number")?;
        let unit_name = filled(&request.unit, "unit")?;
        let role = filled(&request.role, "role")?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let known = facts.units.iter().find(|(_id, known)| same_unit(known, unit_name));
        let mut deeds = Vec::new();
        let unit = if let Some((id, _name)) = known {
            id.clone()
        } else {
            let id = chance::id().to_string();
            deeds.push(Deed::new(
                author(ActingAs::Manager),
                UnitAdded { unit: id.clone(), name: unit_name.to_owned() },
            ));
            id
        };
        let person = chance::id().to_string();
        deeds.push(
            Deed::add_person(
                author(ActingAs::Manager),
                NewPerson {
                    person: person.clone(),
                    unit,
                    role: role.to_owned(),
                    from: civil_date(&facts, now),
                    name: name.to_owned(),
                    number: number.to_owned(),
                    salt: chance::id(),
                },
            )
            .map_err(ledger_fault)?,
        );
        self.write(&deeds, now)?;
        self.person(&person, now)
    }

    /// One person, as they stand now.
    pub(crate) fn person(&self, person: &str, now: &Moment) -> Result<Person, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let name = self.reader().name(person).map_err(ledger_fault)?.ok_or_else(|| absent("person"))?;
        Ok(person_view(&facts, person, Some(&name), civil_date(&facts, now)))
    }
}
