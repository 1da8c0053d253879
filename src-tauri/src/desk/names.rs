//! Putting names beside facts, for whoever may see them.

use chrono::NaiveDate;
use contract::Person;
use evidence::{Facts, Party};
use ledger::Name;

/// What stands for a name that was erased when its retention ended.
const ERASED: &str = "(name erased)";

/// A person as the window shows them on a date.
pub(super) fn person_view(facts: &Facts, person: &str, name: Option<&Name>, on: NaiveDate) -> Person {
    let membership = facts.membership(person, on);
    let unit = membership.and_then(|membership| membership.unit.clone()).unwrap_or_default();
    Person {
        id: person.to_owned(),
        name: shown_name(name),
        number: name.and_then(|name| name.number.clone()).unwrap_or_default(),
        unit_name: facts.units.get(&unit).cloned().unwrap_or_default(),
        unit,
        role: membership.map(|membership| membership.role.clone()).unwrap_or_default(),
        observes: facts.certificate(person).is_some(),
    }
}

/// A name as it is shown; where it was erased, that it was.
pub(super) fn shown_name(name: Option<&Name>) -> String {
    name.and_then(|name| name.name.clone()).unwrap_or_else(|| ERASED.to_owned())
}

/// A person as they stand on a record.
pub(super) fn party(person: Person) -> Party {
    Party { id: person.id, name: person.name, number: person.number, role: person.role }
}
