//! Erasing a person's name, when its retention ends.

use chrono::NaiveDate;
use contract::{EraseName, Fault, NameKept, Next, OpenPerson, PersonFile};
use evidence::Facts;
use ledger::{Moment, Name};

use super::{Desk, absent, civil_date};
use crate::fault::ledger_fault;

impl Desk {
    /// Erases a person's name and staff number. Every entry stays as it is, so the chain is whole; nothing of it is
    /// written as an entry, since that would say for ever whose name it was that is gone.
    pub(crate) fn erase_name(&self, request: &EraseName, now: &Moment) -> Result<PersonFile, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let name = self.reader().name(&request.person).map_err(ledger_fault)?;
        match name_kept(&facts, &request.person, name.as_ref(), civil_date(&facts, now)) {
            NameKept::MayBeErased => {}
            NameKept::Erased => return Err(Fault::new(Next::ChooseAgain, "This name was erased already.")),
            NameKept::BelongsHere => {
                return Err(Fault::new(
                    Next::MendInput,
                    "This person belongs to a unit; state that they leave first, and erase the name when its retention ends.",
                ));
            }
        }
        let number = name.and_then(|name| name.number).ok_or_else(|| absent("person"))?;
        if request.number.trim() != number {
            return Err(Fault::new(
                Next::MendInput,
                "The staff number typed is another one; nothing was erased. Type the number of this person.",
            ));
        }
        // Only whoever holds the authority may do what nobody can undo.
        self.authority(&request.passphrase)?;
        self.ledger.erase_name(&request.person).map_err(ledger_fault)?;
        self.open_person(&OpenPerson { person: request.person.clone() }, now)
    }
}

/// Whether a person's name is kept, on a date.
pub(super) fn name_kept(facts: &Facts, person: &str, name: Option<&Name>, on: NaiveDate) -> NameKept {
    if name.is_none_or(|name| name.name.is_none()) {
        NameKept::Erased
    } else if facts.membership(person, on).is_some() {
        NameKept::BelongsHere
    } else {
        NameKept::MayBeErased
    }
}
