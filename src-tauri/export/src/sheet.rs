use chrono::{DateTime, NaiveDate, Utc};
use competency::validity::State;
use contract::Roster;
use rust_xlsxwriter::{Color, DocProperties, Format, FormatAlign, Workbook, Worksheet, XlsxError};

use crate::{
    ExportError,
    roster::{evidence, lines},
};

/// A roster as an XLSX workbook of three sheets.
///
/// `Roster` has a row a person and a column a procedure, `Standings` a row a person and procedure with real
/// dates and filters, `About` says as of when, by which rules and how many. Header rows stay in view.
/// `made` is the workbook's creation date: the same roster at the same `made` gives the same bytes.
pub fn roster_xlsx(roster: &Roster, made: DateTime<Utc>) -> Result<Vec<u8>, ExportError> {
    workbook(roster, made).map_err(ExportError::Sheet)
}

/// Widths of columns, in characters.
const NARROW: f64 = 13.0;
const MEDIUM: f64 = 24.0;
const WIDE: f64 = 42.0;

fn workbook(roster: &Roster, made: DateTime<Utc>) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let title = format!("Roster of {} as of {}", roster.facility, roster.as_of);
    book.set_properties(&DocProperties::new().set_title(title).set_creation_datetime(&made));
    matrix(book.add_worksheet().set_name("Roster")?, roster)?;
    standings(book.add_worksheet().set_name("Standings")?, roster)?;
    about(book.add_worksheet().set_name("About")?, roster, made)?;
    book.save_to_buffer()
}

fn header() -> Format {
    Format::new()
        .set_bold()
        .set_text_wrap()
        .set_align(FormatAlign::Top)
        .set_background_color(Color::RGB(0x00E4_EAF0))
}

fn date() -> Format {
    Format::new().set_num_format("yyyy-mm-dd").set_align(FormatAlign::Left)
}

fn matrix(sheet: &mut Worksheet, roster: &Roster) -> Result<(), XlsxError> {
    let (bold, wrapped) = (header(), Format::new().set_text_wrap().set_align(FormatAlign::Top));
    let procedures = roster.procedures.iter().map(|procedure| procedure.title.as_str());
    for (column, name) in (0_u16..).zip(["Name", "Number", "Role", "Unit"].into_iter().chain(procedures)) {
        sheet.write_string_with_format(0, column, name, &bold)?.set_column_width(column, MEDIUM)?;
    }
    for (line, row) in (1_u32..).zip(&roster.rows) {
        let who = [&row.person.name, &row.person.number, &row.person.role, &row.person.unit_name];
        for (column, text) in (0_u16..).zip(who) {
            sheet.write_string(line, column, text)?;
        }
        for (column, standing) in (4_u16..).zip(&row.standings) {
            let said = match (standing.state, standing.valid_until) {
                (state, Some(until)) if state.runs_out() => format!("{}, through {until}", state.words()),
                (State::Suspended, _) => match standing.suspended_since {
                    Some(since) => format!("{} since {since}", standing.state.words()),
                    None => standing.state.words().to_owned(),
                },
                (state, _) => state.words().to_owned(),
            };
            sheet.write_string_with_format(line, column, said, &wrapped)?;
        }
    }
    sheet.set_freeze_panes(1, 1)?;
    Ok(())
}

fn standings(sheet: &mut Worksheet, roster: &Roster) -> Result<(), XlsxError> {
    let (bold, dated) = (header(), date());
    let columns = [
        ("Name", MEDIUM),
        ("Number", NARROW),
        ("Role", MEDIUM),
        ("Unit", MEDIUM),
        ("Procedure", WIDE),
        ("State", MEDIUM),
        ("Valid until", NARROW),
        ("Decided on", NARROW),
        ("Evidence", MEDIUM),
        ("Because", WIDE),
        ("Procedure id", MEDIUM),
    ];
    for (column, (name, width)) in (0_u16..).zip(columns) {
        sheet.write_string_with_format(0, column, name, &bold)?.set_column_width(column, width)?;
    }
    let mut last = 0;
    for (row, line) in (1_u32..).zip(lines(roster)) {
        let texts = [
            (0, &line.person.name),
            (1, &line.person.number),
            (2, &line.person.role),
            (3, &line.person.unit_name),
            (4, &line.procedure.title),
            (9, &line.standing.because),
            (10, &line.procedure.id),
        ];
        for (column, text) in texts {
            sheet.write_string(row, column, text)?;
        }
        sheet.write_string(row, 5, line.standing.state.words())?;
        sheet.write_string(row, 8, evidence(line.standing))?;
        for (column, day) in [(6, line.standing.valid_until), (7, line.standing.decided_on)] {
            if let Some(day) = day {
                write_day(sheet, row, column, day, &dated)?;
            }
        }
        last = row;
    }
    sheet.autofilter(0, 0, last, 10)?.set_freeze_panes(1, 1)?;
    Ok(())
}

fn about(sheet: &mut Worksheet, roster: &Roster, made: DateTime<Utc>) -> Result<(), XlsxError> {
    let (bold, dated) = (header(), date());
    sheet.set_column_width(0, MEDIUM)?.set_column_width(1, WIDE)?;
    let unit = roster.unit.as_deref().unwrap_or("the whole facility");
    let known =
        roster.known_at.map_or_else(|| "everything known when made".to_owned(), |day| day.to_string());
    let texts = [
        ("Facility", roster.facility.clone()),
        ("Unit", unit.to_owned()),
        ("Known by the end of", known),
        ("Made at", made.format("%Y-%m-%d %H:%M UTC").to_string()),
    ];
    let numbers = [
        ("People", roster.rows.len()),
        ("Procedures", roster.procedures.len()),
        ("Standings", lines(roster).len()),
        ("Version of the rules", usize::try_from(roster.rules).unwrap_or(usize::MAX)),
        ("Entries not understood", usize::try_from(roster.unknown_entries).unwrap_or(usize::MAX)),
    ];
    sheet.write_string_with_format(0, 0, "As of", &bold)?;
    write_day(sheet, 0, 1, roster.as_of, &dated)?;
    for (row, (name, text)) in (1_u32..).zip(texts) {
        sheet.write_string_with_format(row, 0, name, &bold)?.write_string(row, 1, text)?;
    }
    let left = Format::new().set_align(FormatAlign::Left);
    for (row, (name, number)) in (5_u32..).zip(numbers) {
        let number = u32::try_from(number).unwrap_or(u32::MAX);
        sheet
            .write_string_with_format(row, 0, name, &bold)?
            .write_number_with_format(row, 1, number, &left)?;
    }
    sheet.write_string_with_format(10, 0, "Rests on", &bold)?.write_string(10, 1, &roster.covers)?;
    sheet.write_string(
        12,
        0,
        "A state says what was observed on one day, not that a person is protected against infection.",
    )?;
    Ok(())
}

/// A real date; as text where a spreadsheet has no such date (before 1900 or after 9999).
fn write_day(
    sheet: &mut Worksheet,
    row: u32,
    column: u16,
    day: NaiveDate,
    format: &Format,
) -> Result<(), XlsxError> {
    match sheet.write_date_with_format(row, column, day, format) {
        Ok(_) => Ok(()),
        Err(XlsxError::DateTimeRangeError(_)) => sheet.write_string(row, column, day.to_string()).map(|_| ()),
        Err(error) => Err(error),
    }
}
