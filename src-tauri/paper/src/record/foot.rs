use evidence::Record;
use picture::{Anchor, Pen, Point, Role, Shape};

use crate::{
    sheet::{Sheet, Style, set},
    words,
};

/// At the foot of each page: whose record it is, which page of how many, and the digest of its data, so
/// that loose sheets find each other again.
pub(super) fn draw(sheet: &mut Sheet, record: &Record, name: &str) {
    let whose = format!("{} · {} · {}", record.person.name, record.procedure.title, words::date(record.on));
    let short = name.get(..16).unwrap_or(name);
    let identity = format!("Data {short}…");
    on_each_page(sheet, &whose, &identity);
}

/// Draws the foot of every page of a sheet.
pub(crate) fn on_each_page(sheet: &mut Sheet, whose: &str, identity: &str) {
    let format = sheet.format;
    let style = Style::SMALL;
    let y = format.height - format.margin - style.leading;
    let (left, right) = (format.margin, format.width - format.margin);
    let pages = sheet.pages.len();
    for page in 0..pages {
        let number = format!("{identity} · page {} of {pages}", page + 1);
        let room = format.text_width() - sheet.faces.measure(&number, style.size, style.weight) - 16.0;
        let whose: Vec<String> = sheet.lines(whose, room, style).into_iter().take(1).collect();
        let mut shapes = vec![Shape::Line {
            from: Point { x: left, y: y - 4.0 },
            to: Point { x: right, y: y - 4.0 },
            pen: Pen::solid(Role::Line, 0.5),
        }];
        shapes.extend(set(&whose, Point { x: left, y }, Anchor::Start, style));
        shapes.extend(set(&[number], Point { x: right, y }, Anchor::End, style));
        sheet.decorate_page(page, shapes);
    }
}
