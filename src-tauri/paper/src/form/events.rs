use competency::{log::HowEnded, model::Model, procedure::Ask, sentence};

use crate::{
    blanks::choices,
    record::paragraph,
    sheet::{Sheet, Style},
    table::{Cell, Column, Row, table},
    words,
};

/// Height of an empty row to write in.
const HAND: f64 = 22.0;

/// What happened beside the steps, and how it ended.
pub(super) fn draw(sheet: &mut Sheet, model: &Model) {
    happened(sheet, model);
    forbidden(sheet, model);
    contamination(sheet, model);
    extra(sheet);
    let ends = [HowEnded::Completed, HowEnded::StoppedExposure, HowEnded::StoppedSafety, HowEnded::Abandoned];
    sheet.heading("How it ended", 40.0);
    choices(sheet, "Ended", &ends.map(words::ended).map(str::to_owned));
}

fn columns(sheet: &Sheet, first: &str, others: &[(&str, f64)]) -> Vec<Column> {
    let taken: f64 = others.iter().map(|(_, width)| width).sum();
    let mut columns = vec![Column { heading: first.to_owned(), width: sheet.format.text_width() - taken }];
    columns.extend(
        others.iter().map(|(heading, width)| Column { heading: (*heading).to_owned(), width: *width }),
    );
    columns
}

fn empty() -> Cell {
    Cell::default().at_least(HAND)
}

/// Conditions that may come up at any time, with what must come next.
fn happened(sheet: &mut Sheet, model: &Model) {
    let procedure = model.procedure();
    let label = |act: &str| model.act_label(act).to_owned();
    let conditions = procedure.conditions.iter().filter(|condition| condition.ask == Ask::Anytime);
    let rows: Vec<Row> = conditions
        .map(|condition| {
            let response = procedure.responses.iter().find(|response| response.to == condition.id);
            let mut told = Cell::default().and_tick(condition.text.clone(), Style::STRONG);
            let mut done = empty();
            if let Some(response) = response {
                let critical = if response.critical { "Critical. " } else { "" };
                let acts = sentence::in_turn(&response.acts, label);
                told = told.and(format!("{critical}Must come next: {acts}."), Style::BODY);
                if let Some(why) = &response.why {
                    told = told.and(why.clone(), Style::SMALL);
                }
                done = done.and_tick("Done next", Style::BODY).and_tick("Done late", Style::BODY);
                done = done.and_tick("Not done", Style::BODY);
            }
            Row::Cells(vec![told, empty(), done])
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    sheet.heading("If this happens", 70.0);
    let columns = columns(sheet, "What happened", &[("Order, time", 100.0), ("Response", 84.0)]);
    table(sheet, &columns, &rows);
}

fn forbidden(sheet: &mut Sheet, model: &Model) {
    let procedure = model.procedure();
    if procedure.forbidden_acts.is_empty() {
        return;
    }
    let number = |id: &str| procedure.steps.iter().position(|step| step.id == id).map_or(0, |at| at + 1);
    let rows: Vec<Row> = procedure
        .forbidden_acts
        .iter()
        .map(|forbidden| {
            let until = match &forbidden.until {
                Some(step) => format!("Not before step {} is done.", number(step)),
                None => "Not at any time.".to_owned(),
            };
            let why = forbidden.why.as_deref().map(|why| format!(" {why}")).unwrap_or_default();
            let told = Cell::default()
                .and_tick(model.act_label(&forbidden.act), Style::STRONG)
                .and(format!("{until}{why}"), Style::BODY);
            Row::Cells(vec![told, empty()])
        })
        .collect();
    sheet.heading("Must not happen", 60.0);
    let columns = columns(sheet, "Tick what was seen", &[("Order, time, each time it was seen", 184.0)]);
    table(sheet, &columns, &rows);
}

fn contamination(sheet: &mut Sheet, model: &Model) {
    let response = &model.procedure().contamination_response;
    sheet.heading("Contamination", 150.0);
    if !response.is_empty() {
        let next = format!(
            "Must come next: {}.",
            sentence::in_turn(response, |act| model.act_label(act).to_owned())
        );
        paragraph(sheet, &next, Style::BODY);
        sheet.space(3.0);
    }
    let row = || {
        let noticed = Cell::default()
            .and_tick("wearer", Style::BODY)
            .and_tick("observer", Style::BODY)
            .and_tick("assistant", Style::BODY)
            .and_tick("nobody at the time", Style::BODY);
        let done = Cell::default()
            .and_tick("Done next", Style::BODY)
            .and_tick("Done late", Style::BODY)
            .and_tick("Not done", Style::BODY);
        Row::Cells(vec![empty(), empty(), empty(), noticed, done])
    };
    let columns = columns(
        sheet,
        "What was touched (face, neck, hair …)",
        &[
            ("By what (glove, sleeve …)", 110.0),
            ("Order, time", 66.0),
            ("Noticed by", 104.0),
            ("Response", 72.0),
        ],
    );
    table(sheet, &columns, &[row(), row(), row()]);
}

/// Acts that no step calls for, or that were done once more.
fn extra(sheet: &mut Sheet) {
    sheet.heading("Anything else that was done", 120.0);
    let rows: Vec<Row> = (0..4).map(|_| Row::Cells(vec![empty(), empty(), empty(), empty()])).collect();
    let columns = columns(sheet, "Act", &[("By whom", 90.0), ("Order", 50.0), ("Time", 70.0)]);
    table(sheet, &columns, &rows);
}
