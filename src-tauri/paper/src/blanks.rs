//! Room to write in by hand: lines with a name, and boxes to tick.

use picture::{Anchor, Pen, Point, Role, Shape};

use crate::{
    sheet::{Sheet, Style, Tag, set},
    table::tick_box,
};

/// Room above a line, enough for handwriting: 8 mm from line to line at least is common practice, no
/// source.
const HAND: f64 = 25.0;
const GUTTER: f64 = 14.0;

/// Names over lines to write on, side by side; each takes its share of the width.
pub(crate) fn blanks(sheet: &mut Sheet, fields: &[(&str, f64)]) {
    let style = Style::SMALL;
    let height = style.leading + HAND;
    sheet.room(height);
    let shares: f64 = fields.iter().map(|(_, share)| share).sum();
    let gutters = GUTTER * f64::from(u32::try_from(fields.len().saturating_sub(1)).unwrap_or(0));
    let unit = (sheet.format.text_width() - gutters) / shares;
    let (mut x, y) = (sheet.format.margin, sheet.y);
    for (name, share) in fields {
        let width = unit * share;
        let lines: Vec<String> = sheet.lines(name, width, style).into_iter().take(1).collect();
        sheet.element(Tag::Paragraph, |sheet| sheet.put(set(&lines, Point { x, y }, Anchor::Start, style)));
        let base = y + height - 3.0;
        sheet.decorate([Shape::Line {
            from: Point { x, y: base },
            to: Point { x: x + width, y: base },
            pen: Pen::solid(Role::Quiet, 0.7),
        }]);
        x += width + GUTTER;
    }
    sheet.space(height);
}

/// A name, and what may be ticked behind it.
pub(crate) fn choices(sheet: &mut Sheet, name: &str, of: &[String]) {
    const NAME: f64 = 82.0;
    const SIDE: f64 = 9.5;
    let style = Style::BODY;
    let (left, right) = (sheet.format.margin, sheet.format.width - sheet.format.margin);
    let leading = style.leading + 3.0;
    let name = sheet.lines(name, NAME - 4.0, Style::QUIET);
    sheet.room(leading);
    sheet.element(Tag::Paragraph, |sheet| {
        let at = Point { x: left, y: sheet.y };
        sheet.put(set(&name, at, Anchor::Start, Style::QUIET));
        let mut x = left + NAME;
        for choice in of {
            let room = right - left - NAME - SIDE - 5.0;
            let lines = sheet.lines(choice, room, style);
            let width = lines.iter().map(|line| sheet.faces.measure(line, style.size, style.weight));
            let width = width.fold(0.0, f64::max);
            if x > left + NAME && x + SIDE + 5.0 + width > right {
                x = left + NAME;
                sheet.space(leading);
                sheet.room(leading);
            }
            let y = sheet.y;
            let mut shapes = vec![tick_box(Point { x, y: y + (style.leading - SIDE) / 2.0 }, SIDE)];
            shapes.extend(set(&lines, Point { x: x + SIDE + 5.0, y }, Anchor::Start, style));
            sheet.put(shapes);
            let more = f64::from(u32::try_from(lines.len().saturating_sub(1)).unwrap_or(0));
            sheet.space(more * style.leading);
            x += SIDE + 5.0 + width + 18.0;
        }
    });
    sheet.space(leading);
}
