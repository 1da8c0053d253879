//! Who is moved or added: the role that they get, and the unit that they come into.

use contract::{About, StateAbout};

use super::*;

#[test]
fn a_role_of_a_move_is_filled_in_and_can_be_printed() {
    let ward = Ward::new();
    let unit = ward.desk.person(&ward.colleague, &at(1)).unwrap().unit;
    let moved = |unit: Option<&str>, role: &str| {
        let what =
            About::Moved { unit: unit.map(str::to_owned), role: role.to_owned(), from: date("2026-03-05") };
        let request = StateAbout { person: ward.colleague.clone(), what, signed: None };
        ward.desk.state_about(&request, &at(3)).map(|file| file.person.role)
    };
    let empty = moved(Some(&unit), " ").unwrap_err().text;
    assert!(empty.starts_with("The role is empty"), "what is required by role would not apply: {empty}");
    let hebrew = moved(Some(&unit), "\u{5d0}\u{5d7}\u{5d5}\u{5ea}").unwrap_err().text;
    assert!(hebrew.starts_with("The role has"), "else it fails when a record is sealed: {hebrew}");
    assert_eq!(moved(Some(&unit), " Sister ").unwrap(), "Sister");
    assert_eq!(moved(None, "").unwrap(), "", "whoever leaves has no role");
}

#[test]
fn a_unit_is_the_same_in_any_case_and_with_any_space() {
    let ward = Ward::new();
    let add = |number: &str, unit: &str| {
        let person = AddPerson {
            name: format!("Person {number}"),
            number: number.to_owned(),
            unit: unit.to_owned(),
            role: "Nurse".to_owned(),
        };
        ward.desk.add_person(&person, &at(1)).unwrap().unit
    };
    let first = add("2001", "ICU West");
    assert_eq!(add("2002", "icu  WEST"), first);
    assert_ne!(add("2003", "ICU East"), first);
    let asked = contract::OpenRoster { unit: Some("ICU \u{a0}west".to_owned()), as_of: None, known_at: None };
    assert_eq!(ward.desk.books().roster(&asked, &at(1)).unwrap().rows.len(), 2);
}
