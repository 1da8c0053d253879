//! Names beside the entries.

#[cfg(test)]
mod kit;

use kit::{Hospital, WEARER, at, author, person};
use ledger::Deed;

#[cfg(test)]
#[track_caller]
fn found(hospital: &Hospital, search: &str) -> Vec<String> {
    let found = hospital.ledger.reader().search_names(search).unwrap();
    let mut found: Vec<String> = found.into_iter().filter_map(|name| name.name).collect();
    found.sort();
    found
}

#[test]
fn names_and_numbers_are_found_in_any_case_and_alphabet() {
    let hospital = Hospital::furnished();
    assert_eq!(found(&hospital, "MÜLL"), ["Ada Müller"]);
    assert_eq!(found(&hospital, "άννα"), Vec::<String>::new(), "an accent is a different letter");
    assert_eq!(found(&hospital, "αννα"), ["ΑΝΝΑ Παππά"]);
    assert_eq!(found(&hospital, " 1002 "), ["ΑΝΝΑ Παππά"]);
    assert_eq!(found(&hospital, ""), ["Ada Müller", "ΑΝΝΑ Παππά"]);
    assert_eq!(found(&hospital, "r1"), Vec::<String>::new(), "a search never runs over from name to number");
    assert_eq!(found(&hospital, "%"), Vec::<String>::new(), "no letter is a wildcard");
}

#[test]
fn an_erased_name_is_gone_and_its_number_free() {
    let mut hospital = Hospital::furnished();
    hospital.ledger.erase_name(WEARER).unwrap();
    assert_eq!(found(&hospital, "müller"), Vec::<String>::new());
    let name = hospital.ledger.reader().name(WEARER).unwrap().unwrap();
    assert_eq!((name.name, name.number, name.salt), (None, None, None));
    let deed = Deed::add_person(author(), person("p-new", "Bo", "1001")).unwrap();
    hospital.stamped(at(1), |ledger, stamp| ledger.write(&[deed], stamp)).unwrap();
    assert_eq!(found(&hospital, "1001"), ["Bo"]);
}

#[test]
fn a_new_name_takes_the_place_of_the_old_one_and_is_bound_to_its_entry() {
    let mut hospital = Hospital::furnished();
    let renamed = |name: &str, number: &str| {
        let (name, number) = (name.to_owned(), number.to_owned());
        Deed::rename_person(author(), WEARER.to_owned(), name, number, uuid::Uuid::from_u128(77)).unwrap()
    };
    let deed = renamed("Ada Nowak", "1001");
    hospital.stamped(at(1), |ledger, stamp| ledger.write(&[deed], stamp)).unwrap();
    assert_eq!(found(&hospital, "müller"), Vec::<String>::new());
    assert_eq!(found(&hospital, "nowak"), ["Ada Nowak"]);
    let name = hospital.ledger.reader().name(WEARER).unwrap().unwrap();
    let facts = hospital.ledger.reader().facts(None).unwrap();
    let digest = evidence::name_digest(name.salt.unwrap(), "Ada Nowak", "1001").unwrap();
    assert_eq!(facts.people[WEARER].name_digest, Some(digest));
    let other = renamed("Ada Nowak", "1002");
    let refused = hospital.stamped(at(2), |ledger, stamp| ledger.write(&[other], stamp));
    assert!(matches!(refused, Err(ledger::LedgerError::NameMissing)), "a number stays with its person");
}
