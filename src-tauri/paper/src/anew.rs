use lopdf::Document;

use crate::{
    PaperError,
    archive::{About, finish},
    paint::paint,
    record::on_each_page,
    sheet::Sheet,
};

/// Papers that are drawn whenever somebody asks say so at the foot of each page, with whose they are.
pub(crate) fn drawn_anew(mut sheet: Sheet, about: &About<'_>) -> Result<Document, PaperError> {
    let stamp = format!("Drawn {}", about.when.format("%Y-%m-%d %H:%M %:z"));
    on_each_page(&mut sheet, &format!("{} · {}", about.subject, about.title), &stamp);
    finish(&paint(&sheet)?, &sheet, about)
}
