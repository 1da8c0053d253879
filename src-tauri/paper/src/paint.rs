use std::collections::BTreeMap;

use picture::{Anchor, Dash, Paint, Pen, Point, Role, Shape, Weight};
use printpdf::{
    Codepoint, Color, DictItem, FontId, Line, LineCapStyle, LineDashPattern, LinePoint, Op, PaintMode,
    ParsedFont, PdfDocument, PdfFont, PdfFontHandle, PdfPage, Polygon, PolygonRing, Pt, Rect, Rgb, TextItem,
    TextMatrix, TextRenderingMode, WindingOrder,
};

use crate::{
    PaperError,
    faces::{FaceId, Run},
    sheet::{Format, Item, Sheet},
};

/// What each role looks like on paper. Every ink has a contrast of at least 4.5:1 on white and on the
/// raised ground, also when printed in grey; no state is told by colour alone.
fn colour(role: Role) -> Color {
    let [r, g, b] = match role {
        Role::Ink => [0x16, 0x1b, 0x22],
        Role::Quiet => [0x4f, 0x57, 0x60],
        Role::Line => [0xb9, 0xbf, 0xc6],
        Role::Surface => [0xff, 0xff, 0xff],
        Role::Raised => [0xf1, 0xf3, 0xf5],
        Role::Accent => [0x1d, 0x4f, 0x8c],
        Role::Good => [0x1c, 0x66, 0x3d],
        Role::Warning => [0x8a, 0x55, 0x00],
        Role::Danger => [0xa6, 0x1b, 0x29],
    };
    let part = |byte: u8| rounded(f64::from(byte) / 255.0);
    Color::Rgb(Rgb::new(part(r), part(g), part(b), None))
}

/// A length as printpdf takes it. Three decimals are far below what any printer resolves.
#[expect(clippy::cast_possible_truncation, reason = "lengths on a page are small, and rounded before")]
fn rounded(length: f64) -> f32 {
    ((length * 1000.0).round() / 1000.0) as f32
}

fn pt(length: f64) -> Pt {
    Pt(rounded(length))
}

/// Name of a font in the document; the six letters mark a subset (ISO 32000-1, 9.6.4).
fn font_id(face: FaceId) -> FontId {
    FontId(
        match face {
            FaceId::Regular => "TEXTRG+NotoSans-Regular",
            FaceId::Bold => "TEXTBD+NotoSans-Bold",
            FaceId::ArabicRegular => "ARABRG+NotoSansArabic-Regular",
            FaceId::ArabicBold => "ARABBD+NotoSansArabic-Bold",
            FaceId::Han => "HANIRG+DroidSansFallback",
        }
        .to_owned(),
    )
}

/// For each font, at the place of a glyph in it, the glyph's number in the subset.
type Numbers = BTreeMap<FaceId, Vec<u16>>;

/// For each font, at the place of a glyph in it, what the glyph stands for where it is in use.
type Used<'run> = BTreeMap<FaceId, Vec<Option<&'run str>>>;

/// Paints all pages, and one more page that names every glyph in use: printpdf takes from it what fonts to embed and
/// what their glyphs stand for, and whoever finishes the document takes that page out. On the pages themselves a line
/// is one string, where printpdf would write and keep a string for each glyph.
///
/// # Errors
/// When a text has a character that the fonts do not have.
pub(crate) fn paint(sheet: &Sheet) -> Result<PdfDocument, PaperError> {
    let mut document = PdfDocument::new("");
    let mut numbers = Numbers::new();
    let mut glyphs: Vec<Op> = vec![Op::StartTextSection];
    let runs = runs(sheet)?;
    for (face, used) in used(&runs) {
        let kept: Vec<(u16, &str)> =
            (0..).zip(used).filter_map(|(glyph, text)| Some((glyph, text?))).collect();
        let glyph_ids: Vec<u16> = kept.iter().map(|(glyph, _)| *glyph).collect();
        let subset = sheet.faces.subset(face, &glyph_ids)?;
        let id = font_id(face);
        let mut font = ParsedFont::from_bytes(&subset, 0, &mut Vec::new())
            .ok_or_else(|| PaperError::Font("its subset cannot be read".to_owned()))?;
        font.font_name = Some(id.0.clone());
        glyphs.push(Op::SetFont { font: PdfFontHandle::External(id.clone()), size: pt(1.0) });
        document.resources.fonts.map.insert(id, PdfFont::new(font));
        let of_face = numbers.entry(face).or_default();
        let items = (1..).zip(kept).map(|(number, (glyph, text))| {
            put_at(of_face, glyph, number);
            Codepoint::with_cid(number, 0.0, text.to_owned())
        });
        glyphs.push(Op::ShowText { items: vec![TextItem::GlyphIds(items.collect())] });
    }
    glyphs.push(Op::EndTextSection);
    let painter = Painter { numbers, format: sheet.format };
    let mut runs = runs.iter();
    document.pages = sheet.pages.iter().map(|page| painter.page(&page.items, &mut runs)).collect();
    document.pages.push(painter.sized(glyphs));
    Ok(document)
}

/// Every text of the sheet as glyphs, in the order in which they are drawn.
fn runs(sheet: &Sheet) -> Result<Vec<Run>, PaperError> {
    let texts = sheet.pages.iter().flat_map(|page| &page.items).filter_map(|item| match item {
        Item::Shape(Shape::Text { weight, text, .. }) => Some((text, *weight)),
        Item::Shape(_) | Item::Begin(..) | Item::Decoration | Item::End => None,
    });
    texts
        .map(|(text, weight)| {
            let run = sheet.faces.run(text, weight);
            run.missing.map_or(Ok(run), |character| Err(PaperError::NoGlyph { character }))
        })
        .collect()
}

/// What a glyph stands for is what it stood for first.
fn used(runs: &[Run]) -> Used<'_> {
    let mut used = Used::new();
    for (face, word) in runs.iter().flat_map(Run::words) {
        let of_face = used.entry(face).or_default();
        for placed in word {
            if of_face.get(usize::from(placed.glyph)).is_none_or(Option::is_none) {
                put_at(of_face, placed.glyph, Some(placed.text.as_str()));
            }
        }
    }
    used
}

/// Puts a value at the place of a glyph, after nothings for the glyphs before it.
fn put_at<T: Clone + Default>(list: &mut Vec<T>, glyph: u16, value: T) {
    let at = usize::from(glyph);
    if list.len() <= at {
        list.resize(at + 1, T::default());
    }
    if let Some(place) = list.get_mut(at) {
        *place = value;
    }
}

struct Painter {
    numbers: Numbers,
    format: Format,
}

impl Painter {
    /// The runs are those of the texts that are still to be drawn.
    fn page<'run>(&self, items: &[Item], runs: &mut impl Iterator<Item = &'run Run>) -> PdfPage {
        let mut ops = Ops::default();
        for item in items {
            match item {
                Item::Begin(tag, number) => {
                    let number = i64::try_from(*number).unwrap_or(i64::MAX);
                    let map = BTreeMap::from([("MCID".to_owned(), DictItem::Int(number))]);
                    ops.list.push(Op::BeginMarkedContentWithProperties {
                        tag: tag.name().to_owned(),
                        properties: DictItem::Dict { map },
                    });
                }
                Item::Decoration => ops.list.push(Op::BeginMarkedContent { tag: "Artifact".to_owned() }),
                Item::End => ops.list.push(Op::EndMarkedContent),
                Item::Shape(Shape::Text { at, anchor, size, weight, role, .. }) => {
                    let Some(run) = runs.next() else { continue };
                    Text { painter: self, run, size: *size, bold: *weight == Weight::Bold, role: *role }
                        .draw(&mut ops, *at, *anchor);
                }
                Item::Shape(shape) => self.shape(&mut ops, shape),
            }
        }
        self.sized(ops.list)
    }

    fn sized(&self, ops: Vec<Op>) -> PdfPage {
        let size = Rect::from_wh(pt(self.format.width), pt(self.format.height));
        PdfPage { media_box: size.clone(), trim_box: size.clone(), crop_box: size, ops }
    }

    fn shape(&self, ops: &mut Ops, shape: &Shape) {
        match shape {
            Shape::Rect { at, width, height, radius, paint: Paint { fill: Some(role), line: None } }
                if *radius <= 0.0 =>
            {
                ops.fill(*role);
                let corner = self.place(Point { x: at.x, y: at.y + height });
                let mut rectangle = Rect::from_xywh(corner.x, corner.y, pt(*width), pt(*height));
                rectangle.mode = Some(PaintMode::Fill);
                ops.list.push(Op::DrawRectangle { rectangle });
            }
            Shape::Rect { at, width, height, radius, paint } => {
                self.area(ops, &rounded_box(*at, *width, *height, *radius), true, *paint);
            }
            Shape::Line { from, to, pen } => {
                self.area(ops, &[(*from, false), (*to, false)], false, Paint::line(*pen));
            }
            Shape::Polyline { points, closed, paint } => {
                let points: Vec<_> = points.iter().map(|point| (*point, false)).collect();
                self.area(ops, &points, *closed, *paint);
            }
            Shape::Path { start, curves, closed, paint } => {
                let ends = curves.iter().flat_map(|[a, b, end]| [(*a, true), (*b, true), (*end, false)]);
                let points: Vec<_> = std::iter::once((*start, false)).chain(ends).collect();
                self.area(ops, &points, *closed, *paint);
            }
            Shape::Circle { centre, radius, paint } => {
                let corner = Point { x: centre.x - radius, y: centre.y - radius };
                self.area(ops, &rounded_box(corner, radius * 2.0, radius * 2.0, *radius), true, *paint);
            }
            // Drawn with its run, by the page.
            Shape::Text { .. } => {}
        }
    }

    /// Points with `true` are handles of a curve.
    fn area(&self, ops: &mut Ops, points: &[(Point, bool)], closed: bool, paint: Paint) {
        let points: Vec<LinePoint> = points
            .iter()
            .map(|(point, bezier)| LinePoint { p: self.place(*point), bezier: *bezier })
            .collect();
        if let Some(fill) = paint.fill {
            ops.fill(fill);
            ops.list.push(polygon(points.clone(), PaintMode::Fill));
        }
        if let Some(pen) = paint.line {
            ops.pen(pen);
            ops.list.push(if closed {
                polygon(points, PaintMode::Stroke)
            } else {
                Op::DrawLine { line: Line { points, is_closed: false } }
            });
        }
    }

    /// PDF measures from the bottom edge.
    fn place(&self, point: Point) -> printpdf::Point {
        printpdf::Point { x: pt(point.x), y: pt(self.format.height - point.y) }
    }
}

/// One text about to be drawn.
struct Text<'a> {
    painter: &'a Painter,
    run: &'a Run,
    size: f64,
    bold: bool,
    role: Role,
}

impl Text<'_> {
    fn draw(&self, ops: &mut Ops, at: Point, anchor: Anchor) {
        let Some((mut face, _)) = self.run.words().next() else { return };
        let thousandth = self.size / 1000.0;
        let before = match anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => self.run.width * thousandth / 2.0,
            Anchor::End => self.run.width * thousandth,
        };
        ops.fill(self.role);
        ops.list.push(Op::StartTextSection);
        ops.font(face, self.size);
        let mut pen = at.x - before;
        let mut start = Point { x: pen, y: at.y };
        let mut line = Glyphs::default();
        for (of, word) in self.run.words() {
            if of != face {
                self.show(ops, face, start, std::mem::take(&mut line));
                (face, start.x) = (of, pen);
                ops.font(face, self.size);
            }
            let numbers = self.painter.numbers.get(&face).map(Vec::as_slice).unwrap_or_default();
            for placed in word {
                let number = numbers.get(usize::from(placed.glyph)).copied().unwrap_or_default();
                let (aside, up) = placed.offset;
                if up == 0.0 || rounded(up * thousandth) == 0.0 {
                    // Kerning is told as what to go back after the glyph.
                    line.back(-aside);
                    line.add(number);
                    line.back(aside + placed.natural - placed.advance);
                } else {
                    self.show(ops, face, start, std::mem::take(&mut line));
                    let mut alone = Glyphs::default();
                    alone.add(number);
                    let lifted = Point { x: pen + aside * thousandth, y: at.y - up * thousandth };
                    self.show(ops, face, lifted, alone);
                    start.x = pen + placed.advance * thousandth;
                }
                pen += placed.advance * thousandth;
            }
        }
        self.show(ops, face, start, line);
        ops.list.push(Op::EndTextSection);
    }

    fn show(&self, ops: &mut Ops, face: FaceId, at: Point, glyphs: Glyphs) {
        if glyphs.is_empty() {
            return;
        }
        let thick = face == FaceId::Han && self.bold;
        if thick {
            ops.pen(Pen::solid(self.role, self.size * BOLDER));
            ops.list.push(Op::SetTextRenderingMode { mode: TextRenderingMode::FillStroke });
        }
        let place = self.painter.place(at);
        ops.list.push(Op::SetTextMatrix { matrix: TextMatrix::Translate(place.x, place.y) });
        ops.list.push(glyphs.shown());
        if thick {
            ops.list.push(Op::SetTextRenderingMode { mode: TextRenderingMode::Fill });
        }
    }
}

/// Glyphs that follow each other, as the operator `TJ` takes them (ISO 32000-1, 9.4.3): strings of numbers of two
/// bytes, and between them what to go back, in thousandths of the size.
#[derive(Default)]
struct Glyphs {
    parts: Vec<DictItem>,
    string: Vec<u8>,
}

impl Glyphs {
    fn is_empty(&self) -> bool {
        self.parts.is_empty() && self.string.is_empty()
    }

    fn add(&mut self, number: u16) {
        self.string.extend(number.to_be_bytes());
    }

    fn back(&mut self, thousandths: f64) {
        if thousandths == 0.0 {
            return;
        }
        let back = rounded(thousandths);
        if back != 0.0 {
            self.close();
            self.parts.push(DictItem::Real(back));
        }
    }

    fn close(&mut self) {
        if !self.string.is_empty() {
            self.parts.push(DictItem::String { data: std::mem::take(&mut self.string), literal: true });
        }
    }

    fn shown(mut self) -> Op {
        self.close();
        Op::Unknown { key: "TJ".to_owned(), value: vec![DictItem::Array(self.parts)] }
    }
}

/// How thick the outline is that makes a letter bolder which has one weight only, in parts of its size.
const BOLDER: f64 = 0.035;

/// What is drawn on one page, in order, with the colour, the pen and the font that hold so far: a reader keeps them,
/// so that they are said only where they change.
#[derive(Default)]
struct Ops {
    list: Vec<Op>,
    fill: Option<Role>,
    pen: Option<Pen>,
    font: Option<(FaceId, f64)>,
}

impl Ops {
    fn fill(&mut self, role: Role) {
        if self.fill.replace(role) != Some(role) {
            self.list.push(Op::SetFillColor { col: colour(role) });
        }
    }

    fn font(&mut self, face: FaceId, size: f64) {
        if self.font.replace((face, size)) != Some((face, size)) {
            self.list.push(Op::SetFont { font: PdfFontHandle::External(font_id(face)), size: pt(size) });
        }
    }

    fn pen(&mut self, pen: Pen) {
        if self.pen.replace(pen) == Some(pen) {
            return;
        }
        let dash = match pen.dash {
            Dash::Solid => LineDashPattern::solid(),
            Dash::Dashed => LineDashPattern::new(0.0, &[rounded(Dash::ON), rounded(Dash::OFF)]),
        };
        self.list.push(Op::SetOutlineColor { col: colour(pen.role) });
        self.list.push(Op::SetOutlineThickness { pt: pt(pen.width) });
        self.list.push(Op::SetLineCapStyle { cap: LineCapStyle::Butt });
        self.list.push(Op::SetLineDashPattern { dash });
    }
}

fn polygon(points: Vec<LinePoint>, mode: PaintMode) -> Op {
    let polygon = Polygon { rings: vec![PolygonRing { points }], mode, winding_order: WindingOrder::NonZero };
    Op::DrawPolygon { polygon }
}

/// The outline of a box, its corners rounded by quarter circles as one cubic curve each, whose handles
/// stand at 0.5523 of the radius (common practice).
fn rounded_box(at: Point, width: f64, height: f64, radius: f64) -> Vec<(Point, bool)> {
    let radius = radius.min(width / 2.0).min(height / 2.0);
    let (left, top, right, bottom) = (at.x, at.y, at.x + width, at.y + height);
    let corner = |x, y| (Point { x, y }, false);
    if radius <= 0.0 {
        return vec![corner(left, top), corner(right, top), corner(right, bottom), corner(left, bottom)];
    }
    let rest = radius * (1.0 - 0.5523);
    let handle = |x, y| (Point { x, y }, true);
    vec![
        corner(left + radius, top),
        corner(right - radius, top),
        handle(right - rest, top),
        handle(right, top + rest),
        corner(right, top + radius),
        corner(right, bottom - radius),
        handle(right, bottom - rest),
        handle(right - rest, bottom),
        corner(right - radius, bottom),
        corner(left + radius, bottom),
        handle(left + rest, bottom),
        handle(left, bottom - rest),
        corner(left, bottom - radius),
        corner(left, top + radius),
        handle(left, top + rest),
        handle(left + rest, top),
        corner(left + radius, top),
    ]
}
