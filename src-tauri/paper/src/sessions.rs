use chrono::{DateTime, FixedOffset, NaiveDate};

use crate::{
    PaperError,
    anew::drawn_anew,
    archive::{About, written},
    faces::Faces,
    sheet::{Format, Sheet, Style, Tag},
    table::{Cell, Column, Row, table},
    words,
};

/// One session, as it is put up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SessionSheet {
    /// Its day.
    pub on: NaiveDate,
    /// From when to when, in words; empty for the whole day.
    pub when: String,
    /// Where.
    pub place: String,
    /// Name of the observer.
    pub observer: String,
    /// How many demonstrations there is time for.
    pub places: u32,
    /// Who comes.
    pub people: Vec<Coming>,
}

/// Somebody who comes to a session.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Coming {
    /// Their name.
    pub name: String,
    /// Their staff number, which tells namesakes apart.
    pub number: String,
    /// Name of their unit.
    pub unit: String,
    /// The procedure's title.
    pub procedure: String,
}

/// Least height of a row, in points, so that somebody can sign in it.
const ROW: f64 = 26.0;

/// The sessions as a list to print, with room to sign.
///
/// # Errors
/// When a name has a character that no font of the program has.
pub fn sessions(
    sessions: &[SessionSheet],
    facility: &str,
    drawn: DateTime<FixedOffset>,
    program: &str,
) -> Result<Vec<u8>, PaperError> {
    let mut sheet = Sheet::new(Faces::load()?, Format::UPRIGHT);
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    let title = "Sessions".to_owned();
    sheet.paragraph(Tag::Paragraph, facility, x, width, Style::QUIET);
    sheet.paragraph(Tag::Title, &title, x, width, Style::TITLE);
    if sessions.is_empty() {
        sheet.paragraph(Tag::Paragraph, "No place in a session was given.", x, width, Style::BODY);
    }
    for session in sessions {
        one(&mut sheet, session);
    }
    let about = About {
        title: &title,
        subject: facility,
        when: drawn,
        program,
        layout: "Sessions, layout 1",
        attachments: Vec::new(),
    };
    written(drawn_anew(sheet, &about)?)
}

fn one(sheet: &mut Sheet, session: &SessionSheet) {
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    let when = if session.when.is_empty() { String::new() } else { format!(", {}", session.when) };
    sheet.heading(&format!("{}{when}", words::date(session.on)), 60.0);
    let under = format!(
        "{} · observer: {} · {} of {} places",
        session.place,
        session.observer,
        session.people.len(),
        session.places
    );
    sheet.paragraph(Tag::Paragraph, &under, x, width, Style::BODY);
    let columns = [
        Column { heading: "Name".to_owned(), width: 130.0 },
        Column { heading: "Unit".to_owned(), width: 100.0 },
        Column { heading: "Procedure".to_owned(), width: width - 330.0 },
        Column { heading: "Came".to_owned(), width: 100.0 },
    ];
    let rows: Vec<Row> = session
        .people
        .iter()
        .map(|one| {
            Row::Cells(vec![
                Cell::text(one.name.clone(), Style::STRONG).and(one.number.clone(), Style::SMALL),
                Cell::text(one.unit.clone(), Style::BODY),
                Cell::text(one.procedure.clone(), Style::BODY),
                Cell::default().at_least(ROW),
            ])
        })
        .collect();
    table(sheet, &columns, &rows);
}
