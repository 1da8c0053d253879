use chrono::{DateTime, FixedOffset, NaiveDate};
use competency::validity::State;

use crate::{
    PaperError,
    anew::drawn_anew,
    archive::{About, written},
    faces::Faces,
    roster::mark,
    sheet::{Format, Sheet, Style, Tag},
    table::{Cell, Column, Row, table},
    words,
};

/// What one person is told falls due, or is to be shown for the first time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// Their name.
    pub name: String,
    /// Their staff number.
    pub number: String,
    /// Name of their unit.
    pub unit: String,
    /// What falls due, the earliest first.
    pub items: Vec<NoticeItem>,
}

/// One validation that falls due, is overdue, or is not held yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoticeItem {
    /// The procedure's title.
    pub procedure: String,
    /// How the person stands with it.
    pub state: State,
    /// Valid through this date; `None` where nothing ever was, or was ended.
    pub valid_until: Option<NaiveDate>,
    /// Why, in one sentence.
    pub because: String,
}

/// A printed notice for each person, each on a page of its own, so that nobody reads another one's.
///
/// # Errors
/// When a name has a character that no font of the program has.
pub fn notices(
    notices: &[Notice],
    facility: &str,
    as_of: NaiveDate,
    drawn: DateTime<FixedOffset>,
    program: &str,
) -> Result<Vec<u8>, PaperError> {
    let mut sheet = Sheet::new(Faces::load()?, Format::UPRIGHT);
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    let title = format!("Validations due, as of {}", words::date(as_of));
    if notices.is_empty() {
        sheet.paragraph(Tag::Title, &title, x, width, Style::TITLE);
        sheet.paragraph(
            Tag::Paragraph,
            "Nothing is overdue, nothing falls due, and nobody is still to be validated.",
            x,
            width,
            Style::BODY,
        );
    }
    for (number, notice) in notices.iter().enumerate() {
        if number > 0 {
            sheet.room(sheet.format.height);
        }
        one(&mut sheet, notice, facility, &title);
    }
    let about = About {
        title: &title,
        subject: facility,
        when: drawn,
        program,
        layout: "Notice, layout 1",
        attachments: Vec::new(),
    };
    written(drawn_anew(sheet, &about)?)
}

fn one(sheet: &mut Sheet, notice: &Notice, facility: &str, title: &str) {
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    sheet.paragraph(Tag::Paragraph, facility, x, width, Style::QUIET);
    sheet.paragraph(Tag::Title, &notice.name, x, width, Style::TITLE);
    let under = format!("{} · {}", notice.number, notice.unit);
    sheet.paragraph(Tag::Paragraph, &under, x, width, Style::QUIET);
    sheet.space(10.0);
    sheet.paragraph(Tag::Heading, title, x, width, Style::HEADING);
    sheet.space(4.0);
    let columns = [
        Column { heading: "Procedure".to_owned(), width: 190.0 },
        Column { heading: "State".to_owned(), width: 110.0 },
        Column { heading: "Why".to_owned(), width: width - 300.0 },
    ];
    let rows: Vec<Row> = notice
        .items
        .iter()
        .map(|item| {
            let state = Cell::text(words::standing(item.state), Style::STRONG);
            let state = match item.valid_until {
                Some(until) => state.and(format!("through {}", words::short_date(until)), Style::SMALL),
                None => state,
            };
            let state = state.marked(mark(item.state));
            Row::Cells(vec![
                Cell::text(item.procedure.clone(), Style::STRONG),
                state,
                Cell::text(item.because.clone(), Style::BODY),
            ])
        })
        .collect();
    table(sheet, &columns, &rows);
    for said in what_to_do(notice) {
        sheet.space(10.0);
        sheet.paragraph(Tag::Paragraph, said, x, width, Style::BODY);
    }
}

/// What somebody is asked to do: at once about what does not hold, and in time about what does.
fn what_to_do(notice: &Notice) -> impl Iterator<Item = &'static str> {
    let any = |lapsed: bool| notice.items.iter().any(|item| item.state.lapsed() == lapsed);
    let now = "Until you have shown what is overdue, not yet competent or never validated, you must not be sent into a \
               room that asks for it. Please arrange with a trained observer now to demonstrate it.";
    let in_time = "Please arrange with a trained observer to demonstrate what is due soon before the day on which it runs \
                   out. After that day you must not be sent into a room that asks for it until you have.";
    [(true, now), (false, in_time)].into_iter().filter(move |(lapsed, _)| any(*lapsed)).map(|(_, said)| said)
}
