use competency::validity::{Origin, Standing, State};
use contract::{Person, Roster, RosterColumn, RosterRow};
use export::{roster_csv, roster_xlsx};
use serde::Deserialize;
use suite::python;

use crate::{day, made};

const NAMES: [&str; 4] = ["Ana Núñez", "=1+1", "@SUM(A1:A9)", "山田, \"花子\""];

fn roster() -> Roster {
    let standing = |state, valid_until: Option<&str>| Standing {
        state,
        valid_until: valid_until.map(day),
        decided_on: valid_until.map(|_| day("2026-02-28")),
        evidence: valid_until.map(|_| Origin::Here),
        suspended_since: None,
        because: "Validated, and it holds.\nTwo lines.".to_owned(),
    };
    let row = |name: &str| RosterRow {
        put_right: Vec::new(),
        person: Person {
            id: format!("id {name}"),
            name: name.to_owned(),
            number: "0042".to_owned(),
            unit: "u1".to_owned(),
            unit_name: "Ward 5".to_owned(),
            role: "Nurse".to_owned(),
            observes: false,
        },
        standings: vec![standing(State::Current, Some("2028-02-29")), standing(State::NeverValidated, None)],
    };
    let column = |id: &str, title: &str| RosterColumn { id: id.to_owned(), title: title.to_owned() };
    Roster {
        facility: "Höhenklinik".to_owned(),
        unit: Some("Ward 5".to_owned()),
        as_of: day("2026-11-25"),
        known_at: Some(day("2026-11-24")),
        procedures: vec![column("donning", "Putting on"), column("doffing", "Taking off")],
        rows: NAMES.into_iter().map(row).collect(),
        unknown_entries: 3,
        rules: 1,
        standings: 8,
        covers: "It rests on 9 entries.".to_owned(),
    }
}

const READ_SHEET: &str = r#"
import datetime, io, json, sys
from openpyxl import load_workbook
book = load_workbook(io.BytesIO(bytes(json.load(sys.stdin))))
def tell(value):
    if isinstance(value, datetime.datetime):
        return "date " + value.isoformat()
    return value
rows = lambda name: [[tell(value) for value in row] for row in book[name].iter_rows(values_only=True)]
standings = book["Standings"]
json.dump({
    "sheets": book.sheetnames, "created": book.properties.created.isoformat(),
    "frozen": [standings.freeze_panes, book["Roster"].freeze_panes], "filter": standings.auto_filter.ref,
    "formulas": sum(cell.data_type == "f" for sheet in book for row in sheet.iter_rows() for cell in row),
    "standings": rows("Standings"), "roster": rows("Roster"), "about": rows("About"),
}, sys.stdout)
"#;

type Rows = Vec<Vec<serde_json::Value>>;

#[derive(Deserialize)]
struct Book {
    sheets: Vec<String>,
    created: String,
    frozen: Vec<String>,
    filter: String,
    formulas: usize,
    standings: Rows,
    roster: Rows,
    about: Rows,
}

#[test]
fn a_workbook_has_real_dates_names_as_text_and_filters() {
    let bytes = roster_xlsx(&roster(), made()).expect("a workbook");
    let book: Book = python::ask(READ_SHEET, &bytes);
    assert_eq!(book.sheets, ["Roster", "Standings", "About"]);
    assert_eq!(book.created, "2026-11-25T10:02:03");
    assert_eq!(book.frozen, ["B2", "B2"], "the header and the names stay in view");
    assert_eq!(book.filter, "A1:K9");
    assert_eq!(book.formulas, 0);
    assert_eq!(book.standings.len(), 9, "a header and four people times two procedures");
    for (pair, name) in book.standings[1..].chunks(2).zip(NAMES) {
        assert_eq!(pair[0][0], name);
        assert_eq!(pair[0][1], "0042", "a staff number keeps its noughts");
        assert_eq!(pair[0][5], "current");
        assert_eq!(pair[0][6], "date 2028-02-29T00:00:00");
        assert_eq!(pair[0][7], "date 2026-02-28T00:00:00");
        assert_eq!((&pair[0][8], &pair[1][8]), (&"here".into(), &serde_json::Value::Null));
        assert_eq!(pair[1][5], "never validated");
        assert!(pair[1][6].is_null(), "no date where there is none");
    }
    assert_eq!(book.roster[0], ["Name", "Number", "Role", "Unit", "Putting on", "Taking off"]);
    assert_eq!(book.roster[1][1], "0042", "two people of one name are told apart");
    assert_eq!(book.roster[1][4], "current, through 2028-02-29");
    let about = |name: &str| book.about.iter().find(|row| row[0] == name).map(|row| row[1].clone());
    assert_eq!(about("As of"), Some("date 2026-11-25T00:00:00".into()));
    assert_eq!(about("Known by the end of"), Some("2026-11-24".into()));
    assert_eq!(about("Standings"), Some(8.into()));
    assert_eq!(about("Entries not understood"), Some(3.into()));
    assert_eq!(about("Rests on"), Some("It rests on 9 entries.".into()));
}

const READ_TABLE: &str = r#"
import csv, io, json, sys
raw = bytes(json.load(sys.stdin))
text = raw.decode("utf-8-sig")
json.dump({
    "bom": raw[:3] == b"\xef\xbb\xbf",
    "rows": list(csv.DictReader(io.StringIO(text, newline=""), strict=True)),
}, sys.stdout)
"#;

#[derive(Deserialize)]
struct Table {
    bom: bool,
    rows: Vec<std::collections::BTreeMap<String, String>>,
}

#[test]
fn a_table_is_read_back_whole_and_begins_no_formula() {
    let bytes = roster_csv(&roster()).expect("a table");
    let table: Table = python::ask(READ_TABLE, &bytes);
    assert!(table.bom, "a spreadsheet program knows the encoding");
    assert_eq!(table.rows.len(), 8);
    for (index, row) in table.rows.iter().enumerate() {
        assert_eq!(row["row"], (index + 1).to_string());
        assert_eq!(row["of rows"], "8");
        assert_eq!((row["as of"].as_str(), row["known by"].as_str()), ("2026-11-25", "2026-11-24"));
        assert_eq!(row["evidence"], if index % 2 == 0 { "here" } else { "" });
        assert_eq!(row["because"], "Validated, and it holds.\nTwo lines.");
        let name = NAMES[index / 2];
        let expected = if name.starts_with(['=', '@']) { format!("'{name}") } else { name.to_owned() };
        assert_eq!(row["name"], expected);
    }
}
