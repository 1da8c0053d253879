//! Names that are erased when their retention ends.

use competency::procedure::Precaution;
use contract::{
    About, EraseName, Fault, NameKept, OpenPerson, OpenRoster, OpenRosterPage, PersonFile, RosterSort,
    StateAbout, WhoMayGoIn,
};

use super::*;

const PASSPHRASE: &str = "seven grey herons over the quay";

impl Ward {
    fn erase(&self, number: &str, passphrase: &str) -> Result<PersonFile, Fault> {
        let (number, passphrase) = (number.to_owned(), passphrase.to_owned());
        let request = EraseName { person: self.colleague.clone(), number, passphrase };
        self.desk.erase_name(&request, &at(5))
    }
}

/// By code points É and Ö stand after Z, and whoever looks under E or O finds nobody.
#[test]
fn names_stand_where_they_are_read_on_every_list() {
    let ward = Ward::new();
    for (name, number) in [("Zoë Quay", "7"), ("Özlem Reed", "8"), ("Émilie Fen", "9"), ("Oskar Dell", "6")]
    {
        let unit = "Isolation ward".to_owned();
        let person =
            AddPerson { name: name.to_owned(), number: number.to_owned(), unit, role: String::from("Nurse") };
        ward.desk.add_person(&person, &at(0)).unwrap();
    }
    let sorted = ["Émilie Fen", "Ines Odum", "Oskar Dell", "Özlem Reed", "Tomas Rehn", "Zoë Quay"];
    let everyone = ListPeople { search: String::new(), left: false, first: 0, most: 9 };
    let people = ward.desk.list_people(&everyone, &at(1)).unwrap().found;
    assert_eq!(people.iter().map(|person| person.name.as_str()).collect::<Vec<_>>(), sorted);
    let roster = OpenRoster { unit: None, as_of: None, known_at: None };
    let all = ward.desk.books().roster(&roster, &at(1)).unwrap().rows;
    assert_eq!(all.iter().map(|row| row.person.name.as_str()).collect::<Vec<_>>(), sorted);
    let page = OpenRosterPage {
        roster,
        search: String::new(),
        state: None,
        sort: RosterSort::Name,
        first: 0,
        most: 9,
    };
    let page = ward.desk.open_roster(&page, &at(1)).unwrap().roster.rows;
    assert_eq!(page.iter().map(|row| row.person.name.as_str()).collect::<Vec<_>>(), sorted);
    let (unit, search, precaution) = (None, String::new(), Precaution::Standard);
    let go_in = WhoMayGoIn { unit, precaution, on: None, search, first: 0, most: 9 };
    let lines = ward.desk.who_may_go_in(&go_in, &at(1)).unwrap().lines;
    assert_eq!(lines.iter().map(|(person, _)| person.name.as_str()).collect::<Vec<_>>(), sorted);
}

#[test]
fn a_name_is_erased_once_its_person_has_left_and_the_chain_stays_whole() {
    let ward = Ward::new();
    ward.competent("a", 1);
    let open = OpenPerson { person: ward.colleague.clone() };
    assert_eq!(ward.desk.open_person(&open, &at(2)).unwrap().name_kept, NameKept::BelongsHere);
    assert!(ward.erase("1002", PASSPHRASE).unwrap_err().text.contains("belongs to a unit"));
    let leaves = About::Moved { unit: None, role: "Nurse".to_owned(), from: date("2026-03-05") };
    let leaves = StateAbout { person: ward.colleague.clone(), what: leaves, signed: None };
    assert_eq!(ward.desk.state_about(&leaves, &at(4)).unwrap().name_kept, NameKept::MayBeErased);

    assert!(ward.erase("1001", PASSPHRASE).unwrap_err().text.contains("is another one"));
    assert!(ward.erase("1002", "not the passphrase").is_err());
    assert_eq!(ward.desk.open_person(&open, &at(5)).unwrap().person.name, "Tomas Rehn", "refused is refused");

    let before = ward.standing(FIRST, 5);
    let erased = ward.erase(" 1002 ", PASSPHRASE).unwrap();
    assert_eq!(erased.name_kept, NameKept::Erased);
    assert_eq!((erased.person.name.as_str(), erased.person.number.as_str()), ("(name erased)", ""));
    assert_eq!(ward.standing(FIRST, 5), before, "what was observed stays");
    let open = OpenHistory { person: ward.colleague.clone(), as_of: None, known_at: None };
    assert_eq!(ward.desk.open_history(&open, &at(5)).unwrap().person.name, "(name erased)");
    let search = ListPeople { search: "rehn".to_owned(), left: false, first: 0, most: 5 };
    assert_eq!(ward.desk.list_people(&search, &at(5)).unwrap().of, 0, "nobody finds it");
    assert!(ward.erase("1002", PASSPHRASE).unwrap_err().text.contains("erased already"));
    ward.is_whole();
}
