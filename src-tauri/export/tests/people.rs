//! A personnel system's export: how it is read, and what an import of it would change.
#![expect(clippy::expect_used, reason = "helpers of tests fail loudly")]

use chrono::NaiveDate;
use export::people::{Columns, DryRun, Encoding, Known, dry_run, read_people};

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

fn columns() -> Columns {
    Columns {
        number: 0,
        name: vec![2, 1],
        unit: 3,
        role: 4,
        since: Some(5),
        last_day: Some(6),
        day_first: None,
    }
}

fn known(number: &str, name: &str, unit: Option<&str>) -> Known {
    Known {
        person: format!("p{number}"),
        number: number.to_owned(),
        name: name.to_owned(),
        unit: unit.map(str::to_owned),
        role: "Nurse".to_owned(),
        since: date("2026-01-01"),
    }
}

/// The import of these rows on 25 November 2026 into a facility with two units and three people.
fn run(rows: &[&str], everybody: bool) -> DryRun {
    let header = "Number;Family name;Given name;Unit;Role;Since;Last day";
    let text = [&[header], rows].concat().join("\r\n");
    let file = read_people(text.as_bytes(), None).expect("a table");
    let people = [
        known("007", "Ada Berg", Some("West")),
        known("8", "Bo Carl", Some("East")),
        known("9", "Cy Dahl", None),
    ];
    let units = ["West", "East"].map(str::to_owned);
    let refused = |text: &str| text.contains('☺').then(|| "a smile".to_owned());
    dry_run(&file, &columns(), &people, &units, date("2026-11-25"), everybody, &refused)
}

/// Each bad row of these, as `line: why`.
fn bad(rows: &[&str]) -> Vec<String> {
    run(rows, false).bad.iter().map(|bad| format!("{}: {}", bad.line, bad.why)).collect()
}

#[test]
fn every_common_encoding_and_separator_is_found() {
    let text = "Nummer;Name;Station\r\n1;Zoë Müller;Süd\r\n2;\"Weiß; Åsa\";Nord\r\n";
    let utf16 = |bytes: fn(u16) -> [u8; 2]| text.encode_utf16().flat_map(bytes).collect::<Vec<u8>>();
    let with_mark = |mark: &[u8], bytes: Vec<u8>| [mark, bytes.as_slice()].concat();
    let latin: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
    for (bytes, encoding) in [
        (text.as_bytes().to_vec(), Encoding::Utf8),
        (with_mark(&[0xEF, 0xBB, 0xBF], text.as_bytes().to_vec()), Encoding::Utf8),
        (with_mark(&[0xFF, 0xFE], utf16(u16::to_le_bytes)), Encoding::Utf16Le),
        (with_mark(&[0xFE, 0xFF], utf16(u16::to_be_bytes)), Encoding::Utf16Be),
        (utf16(u16::to_le_bytes), Encoding::Utf16Le),
        (utf16(u16::to_be_bytes), Encoding::Utf16Be),
        (latin, Encoding::Windows1252),
    ] {
        let file = read_people(&bytes, None).unwrap();
        assert_eq!((file.encoding, file.separator), (encoding, ';'));
        assert_eq!(file.header, ["Nummer", "Name", "Station"]);
        let rows: Vec<_> = file.rows.iter().map(|row| (row.line, row.cells.join("|"))).collect();
        assert_eq!(rows, [(2, "1|Zoë Müller|Süd".to_owned()), (3, "2|Weiß; Åsa|Nord".to_owned())]);
    }
    for separator in [';', ',', '\t', '|'] {
        let rows = [["Number", "Name", "Unit"], ["1", "\"A, B; C\"", "West"], ["2", "D", "East"]];
        let text = rows.map(|row| row.join(&separator.to_string())).join("\n");
        let file = read_people(text.as_bytes(), None).unwrap();
        assert_eq!(file.separator, separator);
        assert_eq!(file.rows[0].cells, ["1", "A, B; C", "West"]);
    }
}

#[test]
fn what_is_told_is_heeded() {
    let file = read_people(b"sep=|\r\nNumber|Name; first, last\r\n\r\n1|A\r\n", None).unwrap();
    assert_eq!((file.separator, file.rows[0].line), ('|', 4));
    let cyrillic = [b"1;2\r\n\xC0;\xC1\r\n".as_slice()].concat();
    let file = read_people(&cyrillic, Encoding::named("windows-1251")).unwrap();
    assert_eq!(file.rows[0].cells, ["А", "Б"]);
    assert_eq!(file.encoding.name(), "windows-1251");
    assert_eq!(Encoding::named("no such"), None);
    let error = read_people(b"1;\xFF", Some(Encoding::Utf8)).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the file is not text in the encoding UTF-8; choose the one it was saved in"
    );
    let book = b"PK\x03\x04\x14\x00\x06\x00;1;2\n;3;4\n".as_slice();
    for none in [book, b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1;1\n"] {
        let error = read_people(none, None).unwrap_err().to_string();
        assert!(error.contains("save it as CSV"), "{error}");
    }
    for none in ["", "one column\nof words\n"] {
        assert!(read_people(none.as_bytes(), None).is_err(), "{none:?}");
    }
}

#[test]
fn joining_moving_renaming_leaving_and_returning_are_told_with_their_days() {
    let result = run(
        &[
            "007;Berg;Ada;East;Nurse;1.12.2026;",
            "8;Carl;Bob;East;Nurse;;2026-12-31",
            "9;Dahl;Cy;West;Porter;;",
            "10;Ek;Di;South;Nurse;2026-11-01;",
            "11;Falk;Ed;South;Nurse;;",
            "12;Gran;Flo;West;Nurse;;2026-10-31",
        ],
        true,
    );
    let told = |changes: &[export::people::Change]| -> Vec<String> {
        let told = changes.iter().map(|one| {
            let before = one.before.clone().map(|(unit, role)| (unit.unwrap_or_default(), role));
            format!("{} {} {before:?} {} {} {}", one.line, one.name, one.unit, one.role, one.from)
        });
        told.collect()
    };
    assert_eq!(
        told(&result.added),
        ["5 Di Ek None South Nurse 2026-11-01", "6 Ed Falk None South Nurse 2026-11-25"],
        "and not whoever had left already"
    );
    assert_eq!(
        told(&result.moved),
        [
            "2 Ada Berg Some((\"West\", \"Nurse\")) East Nurse 2026-12-01",
            "4 Cy Dahl Some((\"\", \"Nurse\")) West Porter 2026-11-25"
        ]
    );
    assert_eq!(result.new_units, ["South"]);
    let renamed: Vec<_> = result.renamed.iter().map(|one| (&*one.before, &*one.name)).collect();
    assert_eq!(renamed, [("Bo Carl", "Bob Carl")]);
    let leaving: Vec<_> = result.leaving.iter().map(|one| (one.line, &*one.person, one.from)).collect();
    assert_eq!(leaving, [(Some(3), "p8", date("2027-01-01"))], "the day after the last");
    assert_eq!((result.unchanged, result.bad.len()), (0, 0));
    let left: Vec<_> = result.left_before.iter().map(|one| (one.line, &*one.name, one.last_day)).collect();
    assert_eq!(left, [(7, "Flo Gran", date("2026-10-31"))], "whoever is not taken is told");
}

#[test]
fn whoever_joins_for_a_time_leaves_again() {
    let result = run(&["020004;Berg;Uma;West;Nurse;;30.11.2026", "9;Dahl;Cy;West;Nurse;;2026-12-31"], false);
    let gone: Vec<_> = result.added.iter().map(|one| (&*one.number, one.gone_from)).collect();
    assert_eq!(gone, [("020004", Some(date("2026-12-01")))]);
    let leaving: Vec<_> = result.leaving.iter().map(|one| (&*one.person, one.from)).collect();
    assert_eq!(leaving, [("p9", date("2027-01-01"))], "and whoever returns for a time");
}

#[test]
fn a_unit_is_recognised_in_any_case_and_with_any_space() {
    let result = run(
        &[
            "007;Berg;Ada;WEST ;Nurse;;",
            "8;Carl;Bo;east;Nurse;;",
            "10;Ek;Di;New  wing;Nurse;;",
            "11;Falk;Ed;new wing;Nurse;;",
        ],
        false,
    );
    assert_eq!((result.moved.len(), result.unchanged), (0, 2));
    assert_eq!(result.new_units, ["New  wing"], "one, as it was written first");
    assert!(result.added.iter().all(|one| one.unit == "New  wing"), "{:?}", result.added);
}

#[test]
fn who_is_missing_leaves_only_where_the_file_is_of_everybody() {
    let rows = ["007;Berg;Ada;West;Nurse;2020-01-01;", "8;Carl;Bo"];
    assert_eq!(run(&rows[..1], false).leaving, []);
    let leaving = run(&rows[..1], true).leaving;
    assert_eq!((leaving.len(), leaving[0].line, leaving[0].from), (1, None, date("2026-11-25")));
    assert_eq!(run(&rows, true).leaving, [], "a row that cannot be read is not a person who is missing");
    assert_eq!(run(&rows[..1], false).unchanged, 1, "an earlier day for what is known anyway is no change");
}

#[test]
fn bad_rows_have_their_line_and_reason_and_the_others_stay() {
    let rows = [
        "1;A;B;West;Nurse;;",
        "2;A;B;West;;;",
        ";A;B;West;Nurse;;",
        "3;A;B;West;Nurse",
        "4;A;B;West;Nurse;31.2.2026;",
        "5;A;B;West;Nurse;;",
        "5;C;D;East;Nurse;;",
        "6;A;B;West;Nurse;2026-05-02;2026-05-01",
        "007;Berg;Ada;East;Nurse;2025-12-31;",
        "13;\"A\r\nB\";C;West;Nurse;;",
        "14;;;West;Nurse;;",
    ];
    assert_eq!(
        bad(&rows),
        [
            "3: The role is missing.",
            "4: The number is missing.",
            "5: The row has 5 cells, the first row 7.",
            "6: \"31.2.2026\" is not a date.",
            "7: The number 5 also stands on line 8.",
            "8: The number 5 also stands on line 7.",
            "9: The last day, 1 May 2026, is before the first, 2 May 2026.",
            "10: The change on 31 December 2025 is not after 1 January 2026, since when the unit West is known.",
            "13: The name is missing.",
        ]
    );
    assert_eq!(run(&rows, false).added.len(), 2);
}

#[test]
fn a_date_that_can_be_read_two_ways_is_not_guessed() {
    let open = "\"3/5/2026\" may begin with the day or with the month: choose which, and show again what would change.";
    assert_eq!(bad(&["1;A;B;West;Nurse;3/5/2026;"]), [format!("2: {open}")]);
    let from = |other: &str| {
        let rows = ["1;A;B;West;Nurse;3/5/2026;".to_owned(), format!("2;A;B;West;Nurse;{other};")];
        run(&rows.each_ref().map(String::as_str), false).added.first().map(|one| one.from)
    };
    assert_eq!(from("31/1/2026"), Some(date("2026-05-03")));
    assert_eq!(from("1/31/2026"), Some(date("2026-03-05")));
    assert!(bad(&["1;A;B;West;Nurse;31/1/2026;", "2;A;B;West;Nurse;1/31/2026;"]).len() == 2);
    assert_eq!(bad(&["1;A;B;West;Nurse;5/5/2026;"]), Vec::<String>::new());
}

#[test]
fn a_row_that_a_paper_could_not_carry_is_told_with_its_line() {
    let rows = ["1;Ross;Al;West;Nurse;;", "2;Smith;Bo ☺;West;Nurse;;", "3;Lee;Cy;West ☺;Nurse;;"];
    assert_eq!(bad(&rows), ["3: The name has a smile.", "4: The unit has a smile."]);
    assert_eq!(run(&rows, false).added.len(), 1);
}
