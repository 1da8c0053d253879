use std::rc::Rc;

use picture::{Anchor, Drawing, Paint, Pen, Point, Role, Shape, Weight, wrap};

use crate::faces::Faces;

/// Pages being written, from the top of the first to the end of the last. Lengths are points; y grows
/// downwards from the top edge of a page.
///
/// Everything drawn is a shape of `picture`, so a page and a drawing on it share one painter. Beside
/// the shapes grows the tree of elements by which assistive technology reads the document; what is
/// drawn outside of any element is decoration.
pub(crate) struct Sheet {
    pub(crate) faces: Rc<Faces>,
    pub(crate) format: Format,
    pub(crate) pages: Vec<Page>,
    pub(crate) elements: Vec<Element>,
    open: Vec<usize>,
    /// Where the next block begins.
    pub(crate) y: f64,
}

/// A paragraph of so many lines is not torn by the end of a page.
const KEPT_WHOLE: usize = 6;

/// Size of a page and what is kept free around the text.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Format {
    pub(crate) width: f64,
    pub(crate) height: f64,
    pub(crate) margin: f64,
    /// Room for the foot, inside of the bottom margin.
    pub(crate) foot: f64,
}

impl Format {
    /// ISO 216 A4, upright: 210 x 297 mm.
    pub(crate) const UPRIGHT: Format = Format { width: 595.28, height: 841.89, margin: 48.0, foot: 30.0 };
    /// The same on its side.
    pub(crate) const ACROSS: Format = Format { width: 841.89, height: 595.28, margin: 40.0, foot: 30.0 };

    pub(crate) fn text_width(self) -> f64 {
        self.width - 2.0 * self.margin
    }

    pub(crate) fn bottom(self) -> f64 {
        self.height - self.margin - self.foot
    }
}

#[derive(Default)]
pub(crate) struct Page {
    pub(crate) items: Vec<Item>,
    /// Marked pieces on this page so far; numbers them.
    marked: usize,
}

pub(crate) enum Item {
    Shape(Shape),
    /// A piece of the element begins; the number is that of the piece on its page.
    Begin(Tag, usize),
    /// Decoration begins.
    Decoration,
    End,
}

/// Standard structure types of ISO 32000-1, 14.8.4.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tag {
    Title,
    Heading,
    Paragraph,
    Figure,
    Table,
    Row,
    HeadCell,
    Cell,
}

impl Tag {
    pub(crate) fn name(self) -> &'static str {
        match self {
            Tag::Title => "H1",
            Tag::Heading => "H2",
            Tag::Paragraph => "P",
            Tag::Figure => "Figure",
            Tag::Table => "Table",
            Tag::Row => "TR",
            Tag::HeadCell => "TH",
            Tag::Cell => "TD",
        }
    }
}

pub(crate) struct Element {
    pub(crate) tag: Tag,
    pub(crate) parent: Option<usize>,
    /// Page and number of each piece.
    pub(crate) pieces: Vec<(usize, usize)>,
    /// In words, where it is a picture.
    pub(crate) said: Option<String>,
}

/// How a text is set. The leading is the distance of base lines.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Style {
    pub(crate) size: f64,
    pub(crate) leading: f64,
    pub(crate) weight: Weight,
    pub(crate) role: Role,
}

/// The one scale of type.
impl Style {
    pub(crate) const BIG: Style = Style::new(25.0, 30.0, Weight::Bold, Role::Ink);
    pub(crate) const TITLE: Style = Style::new(16.0, 20.0, Weight::Bold, Role::Ink);
    pub(crate) const HEADING: Style = Style::new(11.5, 15.0, Weight::Bold, Role::Ink);
    pub(crate) const BODY: Style = Style::new(9.25, 12.5, Weight::Regular, Role::Ink);
    pub(crate) const STRONG: Style = Style::new(9.25, 12.5, Weight::Bold, Role::Ink);
    pub(crate) const QUIET: Style = Style::new(9.25, 12.5, Weight::Regular, Role::Quiet);
    pub(crate) const SMALL: Style = Style::new(7.75, 10.5, Weight::Regular, Role::Quiet);

    const fn new(size: f64, leading: f64, weight: Weight, role: Role) -> Style {
        Style { size, leading, weight, role }
    }

    pub(crate) const fn in_role(self, role: Role) -> Style {
        Style { role, ..self }
    }
}

impl Sheet {
    pub(crate) fn new(faces: Rc<Faces>, format: Format) -> Self {
        let y = format.margin;
        Sheet { faces, format, pages: vec![Page::default()], elements: Vec::new(), open: Vec::new(), y }
    }

    /// Begins a new page where less than this is left; says whether it did.
    pub(crate) fn room(&mut self, height: f64) -> bool {
        let full = self.y + height > self.format.bottom() && self.y > self.format.margin;
        if full {
            self.pages.push(Page::default());
            self.y = self.format.margin;
        }
        full
    }

    pub(crate) fn space(&mut self, height: f64) {
        self.y += height;
    }

    /// Whatever is written inside belongs to one element.
    pub(crate) fn element(&mut self, tag: Tag, write: impl FnOnce(&mut Self)) {
        self.described(tag, None, write);
    }

    pub(crate) fn described(&mut self, tag: Tag, said: Option<String>, write: impl FnOnce(&mut Self)) {
        let parent = self.open.last().copied();
        self.open.push(self.elements.len());
        self.elements.push(Element { tag, parent, pieces: Vec::new(), said });
        write(self);
        self.open.pop();
    }

    /// Puts shapes on the present page: a piece of the element that is open, or decoration.
    pub(crate) fn put(&mut self, shapes: impl IntoIterator<Item = Shape>) {
        let number = self.pages.len().saturating_sub(1);
        let element = self.open.last().and_then(|open| self.elements.get_mut(*open));
        let Some(page) = self.pages.last_mut() else { return };
        page.items.push(match element {
            Some(element) => {
                element.pieces.push((number, page.marked));
                page.marked += 1;
                Item::Begin(element.tag, page.marked - 1)
            }
            None => Item::Decoration,
        });
        page.items.extend(shapes.into_iter().map(Item::Shape));
        page.items.push(Item::End);
    }

    /// Puts decoration on the present page, whatever element is open.
    pub(crate) fn decorate(&mut self, shapes: impl IntoIterator<Item = Shape>) {
        let open = std::mem::take(&mut self.open);
        self.put(shapes);
        self.open = open;
    }

    /// Decoration on any page, for what can only be known in the end.
    pub(crate) fn decorate_page(&mut self, page: usize, shapes: Vec<Shape>) {
        if let Some(page) = self.pages.get_mut(page) {
            page.items.push(Item::Decoration);
            page.items.extend(shapes.into_iter().map(Item::Shape));
            page.items.push(Item::End);
        }
    }

    /// The text in lines no wider than `width`; line breaks in it are kept.
    pub(crate) fn lines(&self, text: &str, width: f64, style: Style) -> Vec<String> {
        let measure = |text: &str, size: f64, weight| self.faces.measure(text, size, weight);
        text.lines()
            .flat_map(|line| wrap(line, width, usize::MAX, style.size, style.weight, &measure))
            .collect()
    }

    /// A paragraph from `x` on; a short one stays whole, a long one goes on to the next page where it must.
    pub(crate) fn paragraph(&mut self, tag: Tag, text: &str, x: f64, width: f64, style: Style) {
        let lines = self.lines(text, width, style);
        if lines.len() <= KEPT_WHOLE {
            self.room(f64::from(u32::try_from(lines.len()).unwrap_or(u32::MAX)) * style.leading);
        }
        self.element(tag, |sheet| {
            let mut lines = lines.as_slice();
            while !lines.is_empty() {
                sheet.room(style.leading);
                let mut fitting = 0;
                let mut end = sheet.y;
                while fitting < lines.len() && (fitting == 0 || end + style.leading <= sheet.format.bottom())
                {
                    fitting += 1;
                    end += style.leading;
                }
                let (now, later) = lines.split_at_checked(fitting).unwrap_or((lines, &[]));
                let shapes = set(now, Point { x, y: sheet.y }, Anchor::Start, style);
                sheet.put(shapes);
                sheet.y = end;
                lines = later;
            }
        });
    }

    /// A heading, kept with at least `follows` of what comes after it.
    pub(crate) fn heading(&mut self, text: &str, follows: f64) {
        self.space(14.0);
        self.room(Style::HEADING.leading + 4.0 + follows);
        let (x, width) = (self.format.margin, self.format.text_width());
        self.paragraph(Tag::Heading, text, x, width, Style::HEADING);
        self.space(2.0);
        self.rule(Role::Ink, 0.8);
        self.space(5.0);
    }

    /// A line across the text at the present height.
    pub(crate) fn rule(&mut self, role: Role, width: f64) {
        let (left, right, y) = (self.format.margin, self.format.width - self.format.margin, self.y);
        self.decorate([Shape::Line {
            from: Point { x: left, y },
            to: Point { x: right, y },
            pen: Pen::solid(role, width),
        }]);
    }

    /// A drawing under its title, on the same page.
    pub(crate) fn titled_figure(&mut self, drawing: &Drawing) {
        self.heading(&drawing.title, drawing.height * self.scale(drawing));
        self.figure(drawing);
    }

    /// How large a drawing comes out.
    fn scale(&self, drawing: &Drawing) -> f64 {
        let most = self.format.bottom() - self.format.margin;
        (self.format.text_width() / drawing.width).min(most / drawing.height)
    }

    /// A drawing, as wide as the text or as small as the page asks for.
    pub(crate) fn figure(&mut self, drawing: &Drawing) {
        let scale = self.scale(drawing);
        self.room(drawing.height * scale);
        let left = self.format.margin + (self.format.text_width() - drawing.width * scale) / 2.0;
        let at = Point { x: left, y: self.y };
        let said = format!("{}. {}", drawing.title, drawing.description);
        self.described(Tag::Figure, Some(said), |sheet| {
            sheet.put(drawing.shapes.iter().map(|shape| moved(shape, at, scale)));
        });
        self.space(drawing.height * scale);
    }
}

/// Lines of text, the first one right under `at`.
pub(crate) fn set(lines: &[String], at: Point, anchor: Anchor, style: Style) -> Vec<Shape> {
    // The base line stands so that a line looks centred in its leading.
    let mut y = at.y + f64::midpoint(style.leading, style.size * 0.72);
    let mut shapes = Vec::new();
    for line in lines {
        shapes.push(Shape::Text {
            at: Point { x: at.x, y },
            anchor,
            size: style.size,
            weight: style.weight,
            role: style.role,
            text: line.clone(),
        });
        y += style.leading;
    }
    shapes
}

/// A filled rectangle.
pub(crate) fn panel(at: Point, width: f64, height: f64, role: Role) -> Shape {
    Shape::Rect { at, width, height, radius: 0.0, paint: Paint::fill(role) }
}

/// The shape at another place and in another size.
pub(crate) fn moved(shape: &Shape, by: Point, scale: f64) -> Shape {
    let point = |point: &Point| Point { x: by.x + point.x * scale, y: by.y + point.y * scale };
    let pen = |pen: &Pen| Pen { width: pen.width * scale, ..*pen };
    let paint = |paint: &Paint| Paint { fill: paint.fill, line: paint.line.as_ref().map(pen) };
    match shape {
        Shape::Rect { at, width, height, radius, paint: painted } => Shape::Rect {
            at: point(at),
            width: width * scale,
            height: height * scale,
            radius: radius * scale,
            paint: paint(painted),
        },
        Shape::Line { from, to, pen: drawn } => {
            Shape::Line { from: point(from), to: point(to), pen: pen(drawn) }
        }
        Shape::Polyline { points, closed, paint: painted } => Shape::Polyline {
            points: points.iter().map(point).collect(),
            closed: *closed,
            paint: paint(painted),
        },
        Shape::Path { start, curves, closed, paint: painted } => Shape::Path {
            start: point(start),
            curves: curves.iter().map(|curve| curve.each_ref().map(point)).collect(),
            closed: *closed,
            paint: paint(painted),
        },
        Shape::Circle { centre, radius, paint: painted } => {
            Shape::Circle { centre: point(centre), radius: radius * scale, paint: paint(painted) }
        }
        Shape::Text { at, anchor, size, weight, role, text } => Shape::Text {
            at: point(at),
            anchor: *anchor,
            size: size * scale,
            weight: *weight,
            role: *role,
            text: text.clone(),
        },
    }
}
