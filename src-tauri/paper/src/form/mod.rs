mod events;
mod head;
mod order;
mod signing;
mod steps;

use std::rc::Rc;

use chrono::{DateTime, FixedOffset};
use competency::{model::Model, procedure::Procedure, sentence::CAUTIONS};

use crate::{
    PaperError,
    archive::{About, finish, written},
    faces::Faces,
    paint::paint,
    record::{cautions, on_each_page, sources},
    sheet::{Format, Sheet},
};

/// Where a form comes from: what a page needs besides its procedure.
#[derive(Debug, Clone, Copy)]
pub struct FormOrigin<'a> {
    /// The facility's name.
    pub facility: &'a str,
    /// SHA-256 of the procedure's canonical JSON, hexadecimal.
    pub hash: &'a str,
    /// The moment that it says it was drawn at.
    pub drawn: DateTime<FixedOffset>,
    /// Name and version of the program.
    pub program: &'a str,
}

/// An empty observation form of a procedure, for when no tablet is at hand: everything an observer taps
/// has a place to be written by hand, and can be entered afterwards from it. The order of the steps is
/// drawn at the end.
///
/// # Errors
/// When a text has a character that no font of the program has.
pub fn form(procedure: &Procedure, origin: &FormOrigin<'_>) -> Result<Vec<u8>, PaperError> {
    let faces = Faces::load()?;
    let mut sheet = Sheet::new(Rc::clone(&faces), Format::UPRIGHT);
    let model = Model::new(procedure.clone());
    head::draw(&mut sheet, procedure, origin);
    steps::draw(&mut sheet, &model);
    events::draw(&mut sheet, &model);
    signing::draw(&mut sheet, procedure);
    cautions(&mut sheet, CAUTIONS);
    sources(&mut sheet, procedure);
    order::draw(&mut sheet, &model, &faces);
    let title = format!("Observation form: {}, version {}", procedure.title, procedure.version);
    // Loose sheets are put together again by these.
    let whose = format!("Person no. __________  Date __________  ·  {}", procedure.title);
    let hash = origin.hash.get(..12).unwrap_or(origin.hash);
    let identity = format!("version {} · {hash}…", procedure.version);
    on_each_page(&mut sheet, &whose, &identity);
    let about = About {
        title: &title,
        subject: origin.facility,
        when: origin.drawn,
        program: origin.program,
        layout: "Observation form, layout 1",
        attachments: Vec::new(),
    };
    written(finish(&paint(&sheet)?, &sheet, &about)?)
}
