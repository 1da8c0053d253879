use chrono::{DateTime, FixedOffset};
use competency::validity::{Standing, State};
use contract::Roster;
use picture::{Point, Role, Shape, state_shapes};

use crate::{
    PaperError,
    anew::drawn_anew,
    archive::{About, written},
    faces::Faces,
    sheet::{Format, Sheet, Style, Tag},
    table::{Cell, Column, Row, table},
    words,
};

/// Columns of a page; more procedures than this go on to a second table.
const MOST_COLUMNS: usize = 6;
const NAME: f64 = 170.0;

/// A roster as a PDF: one row a person, one column a procedure, each state told by its shape and its
/// word, so that it can be read in grey. `drawn` is the moment that it says it was drawn at.
///
/// # Errors
/// When a name has a character that no font of the program has.
pub fn roster(roster: &Roster, drawn: DateTime<FixedOffset>, program: &str) -> Result<Vec<u8>, PaperError> {
    let mut sheet = Sheet::new(Faces::load()?, Format::ACROSS);
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    let unit = roster.unit.as_deref().unwrap_or("All units");
    let title = format!("Roster: {unit}, as of {}", words::date(roster.as_of));
    sheet.paragraph(Tag::Paragraph, &roster.facility, x, width, Style::QUIET);
    sheet.paragraph(Tag::Title, &title, x, width, Style::TITLE);
    if let Some(known) = roster.known_at {
        let known = format!("As it was known at the end of {}.", words::date(known));
        sheet.paragraph(Tag::Paragraph, &known, x, width, Style::BODY);
    }
    if roster.unknown_entries > 0 {
        let said = format!(
            "This roster may be incomplete: {} of a kind that this program does not know.",
            words::count(
                usize::try_from(roster.unknown_entries).unwrap_or(usize::MAX),
                "entry is",
                "entries are"
            ),
        );
        sheet.paragraph(Tag::Paragraph, &said, x, width, Style::STRONG.in_role(Role::Danger));
    }
    // On the first page, which may be the only one that is put up.
    let how_many = format!(
        "{} people, {} procedures, {} standings, by version {} of the rules. {}",
        roster.rows.len(),
        roster.procedures.len(),
        roster.standings,
        roster.rules,
        roster.covers
    );
    sheet.paragraph(Tag::Paragraph, &how_many, x, width, Style::SMALL);
    sheet.paragraph(
        Tag::Paragraph,
        "A validation shows what was observed on one day, not protection against infection. A date is the \
         last day on which it holds.",
        x,
        width,
        Style::SMALL,
    );
    sheet.space(8.0);
    summary(&mut sheet, roster);
    if roster.rows.is_empty() {
        sheet.paragraph(Tag::Paragraph, "Nobody belongs to this unit on that date.", x, width, Style::BODY);
    } else if roster.procedures.is_empty() {
        sheet.paragraph(Tag::Paragraph, "Nothing is required here on that date.", x, width, Style::BODY);
    }
    for first in (0..roster.procedures.len()).step_by(MOST_COLUMNS) {
        if first > 0 {
            sheet.space(16.0);
        }
        matrix(&mut sheet, roster, first);
    }
    let about = About {
        title: &title,
        subject: &roster.facility,
        when: drawn,
        program,
        layout: "Roster, layout 1",
        attachments: Vec::new(),
    };
    written(drawn_anew(sheet, &about)?)
}

/// How many standings are in each state.
fn summary(sheet: &mut Sheet, roster: &Roster) {
    const STATES: [State; 6] = [
        State::Overdue,
        State::NotYetCompetent,
        State::Suspended,
        State::NeverValidated,
        State::DueSoon,
        State::Current,
    ];
    let all = || roster.rows.iter().flat_map(|row| &row.standings);
    let counted: Vec<String> = STATES
        .into_iter()
        .map(|state| (state, all().filter(|standing| standing.state == state).count()))
        .filter(|(_, count)| *count > 0)
        .map(|(state, count)| format!("{}: {count}", words::standing(state)))
        .collect();
    if counted.is_empty() {
        return;
    }
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    sheet.paragraph(Tag::Paragraph, &counted.join("   ·   "), x, width, Style::STRONG);
    sheet.space(8.0);
}

fn matrix(sheet: &mut Sheet, roster: &Roster, first: usize) {
    let shown = roster.procedures.len().saturating_sub(first).min(MOST_COLUMNS);
    let share = f64::from(u32::try_from(shown.max(1)).unwrap_or(u32::MAX));
    // Few columns do not spread over the page: the eye would lose the row.
    let width = ((sheet.format.text_width() - NAME) / share).min(190.0);
    let mut columns = vec![Column { heading: "Person".to_owned(), width: NAME }];
    columns.extend(
        roster
            .procedures
            .iter()
            .skip(first)
            .take(shown)
            .map(|procedure| Column { heading: procedure.title.clone(), width }),
    );
    let rows: Vec<Row> = roster
        .rows
        .iter()
        .map(|row| {
            let mut who = vec![row.person.number.as_str(), row.person.role.as_str()];
            // Of one unit the title names it.
            if roster.unit.is_none() {
                who.insert(1, &row.person.unit_name);
            }
            who.retain(|part| !part.is_empty());
            let who = who.join(" · ");
            let mut cells = vec![Cell::text(row.person.name.clone(), Style::STRONG).and(who, Style::SMALL)];
            let put_right = row.put_right.iter().chain(std::iter::repeat(&None));
            let standings = row.standings.iter().zip(put_right).skip(first).take(shown);
            cells.extend(standings.map(|(standing, put_right)| match put_right {
                Some(what) => cell(standing).and(what.words(), Style::SMALL),
                None => cell(standing),
            }));
            Row::Cells(cells)
        })
        .collect();
    table(sheet, &columns, &rows);
}

fn cell(standing: &Standing) -> Cell {
    let style = match standing.state {
        State::NotRequired => Style::QUIET,
        State::Current | State::DueSoon => Style::BODY,
        State::Overdue | State::NotYetCompetent | State::NeverValidated | State::Suspended => Style::STRONG,
    };
    let cell = Cell::text(words::standing(standing.state), style).marked(mark(standing.state));
    match (standing.state, standing.valid_until) {
        (State::Current | State::DueSoon, Some(until)) => {
            cell.and(format!("through {}", words::short_date(until)), Style::SMALL)
        }
        (State::Overdue, Some(until)) => {
            cell.and(format!("ran out {}", words::short_date(until)), Style::SMALL)
        }
        (State::NotYetCompetent, _) => match standing.decided_on {
            Some(on) => cell.and(format!("on {}", words::short_date(on)), Style::SMALL),
            None => cell,
        },
        (State::Suspended, _) => match standing.suspended_since {
            Some(since) => cell.and(format!("since {}", words::short_date(since)), Style::SMALL),
            None => cell,
        },
        (_, _) => cell,
    }
}

pub(crate) fn mark(state: State) -> Vec<Shape> {
    let state = match state {
        State::Current => picture::State::Current,
        State::DueSoon => picture::State::DueSoon,
        State::Overdue => picture::State::Overdue,
        State::NotYetCompetent => picture::State::NotYetCompetent,
        State::NeverValidated => picture::State::NeverValidated,
        State::Suspended => picture::State::Suspended,
        State::NotRequired => picture::State::NotRequired,
    };
    state_shapes(state, Point { x: 0.0, y: 0.0 }, 8.5)
}
