use std::collections::{BTreeMap, BTreeSet};

use picture::{Anchor, Dash, Paint, Pen, Point, Role, Shape, Weight};
use printpdf::{
    Codepoint, Color, DictItem, FontId, Line, LineCapStyle, LineDashPattern, LinePoint, Op, PaintMode,
    ParsedFont, PdfDocument, PdfFont, PdfFontHandle, PdfPage, Polygon, PolygonRing, Pt, Rect, Rgb, TextItem,
    TextMatrix, TextRenderingMode, WindingOrder,
};

use crate::{
    PaperError,
    faces::{FaceId, Faces},
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

/// The glyphs in use, with their numbers in the subset of their font.
type Numbers = BTreeMap<(FaceId, u16), u16>;

/// Paints all pages.
///
/// # Errors
/// When a text has a character that the fonts do not have.
pub(crate) fn paint(sheet: &Sheet) -> Result<PdfDocument, PaperError> {
    let mut document = PdfDocument::new("");
    let mut numbers = Numbers::new();
    for (face, used) in used(sheet)? {
        let subset = sheet.faces.subset(face, &used)?;
        let id = font_id(face);
        let mut font = ParsedFont::from_bytes(&subset, 0, &mut Vec::new())
            .ok_or_else(|| PaperError::Font("its subset cannot be read".to_owned()))?;
        font.font_name = Some(id.0.clone());
        document.resources.fonts.map.insert(id, PdfFont::new(font));
        numbers.extend(used.into_iter().map(|glyph| (face, glyph)).zip(1..));
    }
    let painter = Painter { faces: &sheet.faces, numbers, format: sheet.format };
    document.pages = sheet.pages.iter().map(|page| painter.page(&page.items)).collect();
    Ok(document)
}

fn used(sheet: &Sheet) -> Result<BTreeMap<FaceId, BTreeSet<u16>>, PaperError> {
    let mut used: BTreeMap<FaceId, BTreeSet<u16>> = BTreeMap::new();
    for item in sheet.pages.iter().flat_map(|page| &page.items) {
        let Item::Shape(Shape::Text { weight, text, .. }) = item else { continue };
        let run = sheet.faces.run(text, *weight);
        if let Some(character) = run.missing {
            return Err(PaperError::NoGlyph { character });
        }
        for (face, placed) in run.glyphs() {
            used.entry(face).or_default().insert(placed.glyph);
        }
    }
    Ok(used)
}

struct Painter<'a> {
    faces: &'a Faces,
    numbers: Numbers,
    format: Format,
}

impl Painter<'_> {
    fn page(&self, items: &[Item]) -> PdfPage {
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
                Item::Shape(shape) => self.shape(&mut ops, shape),
            }
        }
        let size = Rect::from_wh(pt(self.format.width), pt(self.format.height));
        PdfPage { media_box: size.clone(), trim_box: size.clone(), crop_box: size, ops: ops.list }
    }

    fn shape(&self, ops: &mut Ops, shape: &Shape) {
        match shape {
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
            Shape::Text { at, anchor, size, weight, role, text } => {
                self.text(ops, *at, *anchor, *size, *weight, *role, text);
            }
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

    #[expect(clippy::too_many_arguments, reason = "the fields of one shape")]
    fn text(
        &self,
        ops: &mut Ops,
        at: Point,
        anchor: Anchor,
        size: f64,
        weight: Weight,
        role: Role,
        text: &str,
    ) {
        let run = self.faces.run(text, weight);
        let Some((mut face, _)) = run.glyphs().next() else { return };
        let thousandth = size / 1000.0;
        let before = match anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => run.width * thousandth / 2.0,
            Anchor::End => run.width * thousandth,
        };
        ops.fill(role);
        ops.list.push(Op::StartTextSection);
        let set = |ops: &mut Ops, face: FaceId| {
            ops.list.push(Op::SetFont { font: PdfFontHandle::External(font_id(face)), size: pt(size) });
        };
        set(ops, face);
        let mut pen = at.x - before;
        let mut line: Vec<Codepoint> = Vec::new();
        let mut start = pen;
        let show = |ops: &mut Ops, face: FaceId, x: f64, y: f64, glyphs: Vec<Codepoint>| {
            if glyphs.is_empty() {
                return;
            }
            let thick = face == FaceId::Han && weight == Weight::Bold;
            if thick {
                ops.pen(Pen::solid(role, size * BOLDER));
                ops.list.push(Op::SetTextRenderingMode { mode: TextRenderingMode::FillStroke });
            }
            let place = self.place(Point { x, y });
            ops.list.push(Op::SetTextMatrix { matrix: TextMatrix::Translate(place.x, place.y) });
            ops.list.push(Op::ShowText { items: vec![TextItem::GlyphIds(glyphs)] });
            if thick {
                ops.list.push(Op::SetTextRenderingMode { mode: TextRenderingMode::Fill });
            }
        };
        for (of, placed) in run.glyphs() {
            if of != face {
                show(ops, face, start, at.y, std::mem::take(&mut line));
                (face, start) = (of, pen);
                set(ops, face);
            }
            let number = self.numbers.get(&(face, placed.glyph)).copied().unwrap_or_default();
            let (aside, up) = placed.offset;
            let upright = aside == 0.0 && up == 0.0;
            // Kerning is told as what to go back after the glyph.
            let back = if upright { rounded(placed.natural - placed.advance) } else { 0.0 };
            let glyph = Codepoint::with_cid(number, back, placed.text.clone());
            if upright {
                line.push(glyph);
            } else {
                show(ops, face, start, at.y, std::mem::take(&mut line));
                show(ops, face, pen + aside * thousandth, at.y - up * thousandth, vec![glyph]);
                start = pen + placed.advance * thousandth;
            }
            pen += placed.advance * thousandth;
        }
        show(ops, face, start, at.y, line);
        ops.list.push(Op::EndTextSection);
    }
}

/// How thick the outline is that makes a letter bolder which has one weight only, in parts of its size.
const BOLDER: f64 = 0.035;

/// What is drawn on one page, in order, with the colour and the pen that hold so far: a reader keeps them, so that
/// they are said only where they change.
#[derive(Default)]
struct Ops {
    list: Vec<Op>,
    fill: Option<Role>,
    pen: Option<Pen>,
}

impl Ops {
    fn fill(&mut self, role: Role) {
        if self.fill.replace(role) != Some(role) {
            self.list.push(Op::SetFillColor { col: colour(role) });
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
