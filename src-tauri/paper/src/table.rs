use picture::{Anchor, Paint, Pen, Point, Role, Shape};

use crate::sheet::{Sheet, Style, Tag, panel, set};

/// One column: its heading and its width in points.
pub(crate) struct Column {
    pub(crate) heading: String,
    pub(crate) width: f64,
}

/// One cell: lines of text, with a mark before them where it has one.
#[derive(Default)]
pub(crate) struct Cell {
    pub(crate) parts: Vec<Part>,
    /// Shapes of a mark, around the origin.
    pub(crate) mark: Vec<Shape>,
    /// Its least height, for room to write in by hand.
    pub(crate) least: f64,
}

/// A text of a cell, with a box to tick by hand before it where it has one.
pub(crate) struct Part {
    text: String,
    style: Style,
    tick: bool,
}

impl Cell {
    pub(crate) fn text(text: impl Into<String>, style: Style) -> Cell {
        Cell::default().and(text, style)
    }

    pub(crate) fn and(mut self, text: impl Into<String>, style: Style) -> Cell {
        self.parts.push(Part { text: text.into(), style, tick: false });
        self
    }

    pub(crate) fn and_tick(mut self, text: impl Into<String>, style: Style) -> Cell {
        self.parts.push(Part { text: text.into(), style, tick: true });
        self
    }

    pub(crate) fn marked(mut self, mark: Vec<Shape>) -> Cell {
        self.mark = mark;
        self
    }

    pub(crate) fn at_least(mut self, height: f64) -> Cell {
        self.least = height;
        self
    }
}

/// A box to tick by hand, its top left corner at `at`.
pub(crate) fn tick_box(at: Point, side: f64) -> Shape {
    let paint = Paint::both(Role::Surface, Pen::solid(Role::Ink, 0.8));
    Shape::Rect { at, width: side, height: side, radius: 0.0, paint }
}

/// A row, or a line across all columns that heads the rows after it.
pub(crate) enum Row {
    Cells(Vec<Cell>),
    Group(String),
}

/// Free to the left and right of the text of a cell.
const PAD: f64 = 4.0;
/// Free above and below it.
const AIR: f64 = 2.5;
/// Room for a mark.
const MARK: f64 = 13.0;
/// Room for a box to tick before a text.
const TICK: f64 = 12.5;
/// Its side.
const TICK_SIDE: f64 = 8.5;

/// A table over the width of its columns. Rows stay whole; the headings are repeated on each page.
pub(crate) fn table(sheet: &mut Sheet, columns: &[Column], rows: &[Row]) {
    sheet.element(Tag::Table, |sheet| {
        head(sheet, columns);
        let mut rows = rows.iter().peekable();
        while let Some(row) = rows.next() {
            match row {
                Row::Cells(cells) => {
                    let laid = Laid::of(sheet, columns, cells);
                    if sheet.room(laid.height) {
                        head(sheet, columns);
                    }
                    body(sheet, columns, cells, &laid);
                }
                Row::Group(text) => {
                    let next = match rows.peek() {
                        Some(Row::Cells(cells)) => Laid::of(sheet, columns, cells).height,
                        Some(Row::Group(_)) | None => 0.0,
                    };
                    if sheet.room(Style::STRONG.leading + 2.0 * AIR + 4.0 + next) {
                        head(sheet, columns);
                    }
                    group(sheet, text);
                }
            }
        }
    });
}

fn head(sheet: &mut Sheet, columns: &[Column]) {
    let cells: Vec<Cell> =
        columns.iter().map(|column| Cell::text(column.heading.clone(), Style::SMALL)).collect();
    let laid = Laid::of(sheet, columns, &cells);
    sheet.element(Tag::Row, |sheet| draw(sheet, columns, &cells, &laid, Tag::HeadCell));
    sheet.space(laid.height);
    sheet.rule(Role::Line, 0.6);
}

fn body(sheet: &mut Sheet, columns: &[Column], cells: &[Cell], laid: &Laid) {
    separate(sheet, columns, cells, laid.height);
    sheet.element(Tag::Row, |sheet| draw(sheet, columns, cells, laid, Tag::Cell));
    sheet.space(laid.height);
    sheet.rule(Role::Line, 0.4);
}

/// A line before each cell that is there to be written in, so that the writing keeps to its column.
fn separate(sheet: &mut Sheet, columns: &[Column], cells: &[Cell], height: f64) {
    let mut x = sheet.format.margin;
    for (column, cell) in columns.iter().zip(cells) {
        let to_write_in = cell.least > 0.0 && cell.mark.is_empty();
        if to_write_in && x > sheet.format.margin {
            let from = Point { x, y: sheet.y + AIR };
            let to = Point { x, y: sheet.y + height - AIR };
            sheet.decorate([Shape::Line { from, to, pen: Pen::solid(Role::Line, 0.6) }]);
        }
        x += column.width;
    }
}

fn group(sheet: &mut Sheet, text: &str) {
    let height = Style::STRONG.leading + 2.0 * AIR;
    sheet.space(4.0);
    let at = Point { x: sheet.format.margin, y: sheet.y };
    let width = sheet.format.text_width();
    sheet.decorate([panel(at, width, height, Role::Raised)]);
    sheet.element(Tag::Row, |sheet| {
        sheet.element(Tag::HeadCell, |sheet| {
            let lines: Vec<String> =
                sheet.lines(text, width - 2.0 * PAD, Style::STRONG).into_iter().take(1).collect();
            sheet.put(set(&lines, Point { x: at.x + PAD, y: at.y + AIR }, Anchor::Start, Style::STRONG));
        });
    });
    sheet.space(height);
}

/// A row set in lines, before it is known on which page it goes.
struct Laid {
    /// The lines of each part of each cell.
    cells: Vec<Vec<Vec<String>>>,
    height: f64,
}

impl Laid {
    fn of(sheet: &Sheet, columns: &[Column], cells: &[Cell]) -> Laid {
        let mut highest: f64 = 0.0;
        let lines_of = |(column, cell): (&Column, &Cell)| {
            let lines_of = |part: &Part| sheet.lines(&part.text, part_room(column, cell, part), part.style);
            let parts: Vec<Vec<String>> = cell.parts.iter().map(lines_of).collect();
            let height: f64 =
                parts.iter().zip(&cell.parts).map(|(lines, part)| tall(lines, part.style)).sum();
            highest = highest.max(height).max(cell.least);
            parts
        };
        let cells = columns.iter().zip(cells).map(lines_of).collect();
        Laid { cells, height: highest + 2.0 * AIR }
    }
}

fn tall(lines: &[String], style: Style) -> f64 {
    f64::from(u32::try_from(lines.len()).unwrap_or(u32::MAX)) * style.leading
}

fn room(column: &Column, cell: &Cell) -> f64 {
    column.width - 2.0 * PAD - if cell.mark.is_empty() { 0.0 } else { MARK }
}

fn part_room(column: &Column, cell: &Cell, part: &Part) -> f64 {
    room(column, cell) - if part.tick { TICK } else { 0.0 }
}

fn draw(sheet: &mut Sheet, columns: &[Column], cells: &[Cell], laid: &Laid, tag: Tag) {
    let mut x = sheet.format.margin;
    for ((column, cell), parts) in columns.iter().zip(cells).zip(&laid.cells) {
        let mut at = Point { x: x + PAD, y: sheet.y + AIR };
        let mut shapes = Vec::new();
        if !cell.mark.is_empty() {
            let leading = cell.parts.first().map_or(0.0, |part| part.style.leading);
            let centre = Point { x: at.x + MARK * 0.35, y: at.y + leading / 2.0 };
            shapes.extend(cell.mark.iter().map(|shape| crate::sheet::moved(shape, centre, 1.0)));
            at.x += MARK;
        }
        for (part, lines) in cell.parts.iter().zip(parts) {
            let style = part.style;
            let mut start = at;
            if part.tick {
                let top = at.y + (style.leading - TICK_SIDE) / 2.0;
                shapes.push(tick_box(Point { x: at.x, y: top }, TICK_SIDE));
                start.x += TICK;
            }
            shapes.extend(set(lines, start, Anchor::Start, style));
            at.y += tall(lines, style);
        }
        sheet.element(tag, |sheet| {
            if !shapes.is_empty() {
                sheet.put(shapes);
            }
        });
        x += column.width;
    }
}

/// Names and values side by side in as many columns of equal width, read row by row.
pub(crate) fn pairs(sheet: &mut Sheet, across: usize, pairs: &[(&str, String)]) {
    const GUTTER: f64 = 18.0;
    // Alone on its line, a name may be longer.
    let name_width = if across > 1 { 82.0 } else { 98.0 };
    let count = f64::from(u32::try_from(across.max(1)).unwrap_or(u32::MAX));
    let share = (sheet.format.text_width() + GUTTER) / count - GUTTER;
    let starts: Vec<f64> = (0..across.max(1))
        .map(|column| f64::from(u32::try_from(column).unwrap_or(u32::MAX)))
        .map(|column| sheet.format.margin + column * (share + GUTTER))
        .collect();
    sheet.element(Tag::Table, |sheet| {
        for two in pairs.chunks(across.max(1)) {
            let sides: Vec<(f64, Vec<String>, Vec<String>)> = two
                .iter()
                .zip(&starts)
                .map(|((name, value), &x)| {
                    let name = sheet.lines(name, name_width - PAD, Style::QUIET);
                    (x, name, sheet.lines(value, share - name_width, Style::BODY))
                })
                .collect();
            let lines = sides.iter().map(|(_, name, value)| name.len().max(value.len())).max().unwrap_or(0);
            let height = f64::from(u32::try_from(lines).unwrap_or(u32::MAX)) * Style::BODY.leading + 3.0;
            sheet.room(height);
            let y = sheet.y;
            sheet.element(Tag::Row, |sheet| {
                for (x, name, value) in &sides {
                    sheet.element(Tag::HeadCell, |sheet| {
                        sheet.put(set(name, Point { x: *x, y }, Anchor::Start, Style::QUIET));
                    });
                    sheet.element(Tag::Cell, |sheet| {
                        sheet.put(set(value, Point { x: x + name_width, y }, Anchor::Start, Style::BODY));
                    });
                }
            });
            sheet.space(height);
        }
    });
}
