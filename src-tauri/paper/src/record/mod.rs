mod changed;
mod code;
mod findings;
mod foot;
mod head;
mod order;
mod rest;
mod seen;
mod steps;

use std::rc::Rc;

use chrono::{DateTime, FixedOffset};
use evidence::{Record, digest};
use lopdf::Document;
use picture::{Lettering, Words, order_picture};

use crate::{
    PaperError,
    archive::{About, Attachment, finish},
    faces::Faces,
    paint::paint,
    sheet::{Format, Sheet},
    words,
};
pub(crate) use foot::on_each_page;
pub(crate) use rest::{cautions, paragraph, pass_rule, sources};
use seen::Seen;

/// The layout of this version of the program; goes up when the page of a record changes, so that a
/// later program does not call an old page changed.
pub(crate) const LAYOUT: &str = "Competency record, layout 8";

/// The competency record as a PDF to be signed: what was demonstrated, step by step, what was found and
/// why it matters, the outcome and how long it holds, with `record.json` attached; `signed` is the moment of the
/// signature that it is drawn for.
///
/// The same record signed at the same moment gives the same document. `sealing` signs it before it is written, since
/// reading it again would take a tenth of the time.
///
/// # Errors
/// When a text has a character that no font of the program has.
pub fn record(record: &Record, signed: DateTime<FixedOffset>) -> Result<Document, PaperError> {
    let data = record.to_bytes()?;
    let name = digest(&data).to_string();
    let faces = Faces::load()?;
    let mut sheet = Sheet::new(Rc::clone(&faces), Format::UPRIGHT);
    let seen = Seen::of(record);
    head::draw(&mut sheet, record);
    findings::draw(&mut sheet, &seen);
    rest::remark(&mut sheet, record);
    steps::draw(&mut sheet, &seen);
    let measure = |text: &str, size: f64, weight| faces.measure(text, size, weight);
    let lettering = Lettering { words: &Words::ENGLISH, measure: &measure };
    sheet.long_figure(&order_picture(&order::picture(&seen), lettering));
    order::over_time(&mut sheet, &seen, lettering);
    rest::rules(&mut sheet, record);
    cautions(&mut sheet, record.cautions.iter().map(String::as_str));
    sources(&mut sheet, &record.procedure);
    rest::signatures(&mut sheet, record, signed);
    rest::place(&mut sheet, record, &name);
    code::draw(&mut sheet, &name)?;
    foot::draw(&mut sheet, record, &name);
    let title = format!("Competency record: {}, {}", record.person.name, record.procedure.title);
    let subject = format!("{}, {}", words::outcome(record.outcome()), words::date(record.on));
    let about = About {
        title: &title,
        subject: &subject,
        when: signed,
        program: &record.program,
        layout: LAYOUT,
        attachments: vec![Attachment {
            name: "record.json",
            said: "The data of this record: observations, procedure and score",
            kind: "application/json",
            belongs: "Source",
            bytes: &data,
        }],
    };
    finish(&paint(&sheet)?, &sheet, &about)
}
