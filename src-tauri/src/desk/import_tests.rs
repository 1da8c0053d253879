//! People from a personnel system's export.

use contract::{
    About, ConfirmImport, ImportKind, ListPeople, PeopleColumns, Person, ReadPeopleFile, TryImport,
};

use super::tests::{Ward, at, date};

fn file(text: &str, everybody: bool) -> TryImport {
    let columns = PeopleColumns {
        number: Some(0),
        name: vec![1],
        unit: Some(2),
        role: Some(3),
        since: Some(4),
        last_day: Some(5),
        day_first: None,
    };
    let file = ReadPeopleFile { bytes: text.as_bytes().to_vec(), encoding: None };
    TryImport { file, columns, everybody }
}

#[test]
fn people_are_taken_from_a_file_exactly_as_it_was_told() {
    let ward = Ward::new();
    let text = "number;name;unit;role;since;last day\n\
        1001;Ines Odum;Isolation ward;Nurse;;\n\
        1002;Tomas Rehn-Moe;Emergency;Nurse;2026-03-10;\n\
        1003;Ana Núñez;Emergency;Porter;2026-03-01;2026-12-31\n\
        ;Nobody;Emergency;Porter;;\n\
        1004;Uma Berg;emergency ;Porter;;2026-02-01\n";
    let table = super::Desk::read_people_file(&file(text, false).file).unwrap();
    assert_eq!((table.rows, table.separator.as_str(), table.encoding.as_str()), (5, ";", "UTF-8"));
    assert_eq!((table.guess.number, table.guess.last_day), (Some(0), Some(5)));
    let told = ward.desk.try_import(&file(text, false), &at(5)).unwrap();
    let kinds: Vec<ImportKind> = told.changes.iter().map(|change| change.kind).collect();
    assert_eq!(kinds, [ImportKind::Joins, ImportKind::Moves, ImportKind::Renamed, ImportKind::Leaves]);
    assert_eq!(told.left_before, [(6, "Uma Berg".to_owned(), date("2026-02-01"))]);
    assert_eq!(told.changes[1].from, Some(date("2026-03-10")));
    assert_eq!((told.unchanged, told.new_units.as_slice()), (1, ["Emergency".to_owned()].as_slice()));
    assert_eq!(told.bad, [(5, "The number is missing.".to_owned())]);
    let before = ward
        .desk
        .list_people(&ListPeople { search: String::new(), left: false, first: 0, most: 9 }, &at(5))
        .unwrap();
    assert_eq!(before.of, 2, "trying changes nothing");

    let confirm = |told: &str, despite_bad| {
        let import = file(text, false);
        ward.desk.confirm_import(&ConfirmImport { import, told: told.to_owned(), despite_bad }, &at(5))
    };
    assert!(confirm(&told.told, false).unwrap_err().text.contains("Some rows cannot be taken"));
    assert!(confirm("something else", true).unwrap_err().text.contains("is not what was shown"));
    assert!(confirm(&told.told, true).unwrap().done);
    let found = |search: &str, day| {
        let request = ListPeople { search: search.to_owned(), left: false, first: 0, most: 9 };
        ward.desk.list_people(&request, &at(day)).unwrap().found.remove(0)
    };
    assert_eq!(
        (found("1002", 5).unit_name.as_str(), found("1002", 8).unit_name.as_str()),
        ("Isolation ward", "Emergency")
    );
    assert_eq!(found("1002", 5).name, "Tomas Rehn-Moe");
    assert_eq!(
        (found("1003", 5).role.as_str(), found("1003", 5).unit_name.as_str()),
        ("Porter", "Emergency")
    );

    let again = ward.desk.try_import(&file(text, false), &at(6)).unwrap();
    assert_eq!(again.changes, Vec::new(), "what was stated once is not stated again");
    assert_eq!(found("1003", 306).unit_name, "", "gone the day after the last day");
}

fn found(ward: &Ward, number: &str, day: i64) -> Person {
    let request = ListPeople { search: number.to_owned(), left: false, first: 0, most: 9 };
    ward.desk.list_people(&request, &at(day)).unwrap().found.remove(0)
}

/// Takes a file, and says how many changes it made.
fn take(ward: &Ward, text: &str, day: i64) -> usize {
    let import = file(text, false);
    let told = ward.desk.try_import(&import, &at(day)).unwrap();
    let changes = told.changes.len();
    let confirm = ConfirmImport { import, told: told.told, despite_bad: false };
    assert!(ward.desk.confirm_import(&confirm, &at(day)).unwrap().done);
    changes
}

#[test]
fn a_file_is_taken_again_on_the_same_day_where_it_says_something_else() {
    let ward = Ward::new();
    let before = found(&ward, "1002", 5).unit;
    let text =
        |unit: &str, role: &str| format!("no;name;unit;role;since;last\n1002;Tomas Rehn;{unit};{role};;\n");
    assert_eq!(take(&ward, &text("Emergency", "Grade 5"), 5), 1);
    // The wrong column was chosen for the role.
    assert_eq!(take(&ward, &text("Emergency", "Nurse"), 5), 1);
    assert_eq!(found(&ward, "1002", 5).role, "Nurse");
    assert_eq!(take(&ward, &text("Emergency", "Nurse"), 5), 0);
    // Moved by hand since, and put back by the file.
    let (role, from) = ("Nurse".to_owned(), at(5).wall.date_naive());
    ward.state(About::Moved { unit: Some(before), role, from }, false, 5).unwrap();
    assert_eq!(found(&ward, "1002", 5).unit_name, "Isolation ward");
    assert_eq!(take(&ward, &text("Emergency", "Nurse"), 5), 1);
    assert_eq!(found(&ward, "1002", 5).unit_name, "Emergency");
}
