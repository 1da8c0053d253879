//! Names that are erased when their retention ends.

use contract::{About, EraseName, Fault, NameKept, OpenPerson, PersonFile, StateAbout};

use super::*;

const PASSPHRASE: &str = "seven grey herons over the quay";

impl Ward {
    fn erase(&self, number: &str, passphrase: &str) -> Result<PersonFile, Fault> {
        let (number, passphrase) = (number.to_owned(), passphrase.to_owned());
        let request = EraseName { person: self.colleague.clone(), number, passphrase };
        self.desk.erase_name(&request, &at(5))
    }
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
