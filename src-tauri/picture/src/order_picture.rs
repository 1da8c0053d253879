use crate::{
    Lettering, Mark,
    drawing::{Anchor, Drawing, Paint, Pen, Point, Role, Shape, Weight, at, count},
    legend::{self, Entry},
    lettering::fit,
};

/// What was expected of a demonstration, and what was observed.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderPicture {
    /// Title of the drawing.
    pub title: String,
    /// The steps that applied, in printed order.
    pub expected: Vec<Expected>,
    /// The acts, in the order they happened.
    pub observed: Vec<Observed>,
    /// Width of the drawing, in points; 420 at least.
    pub width: f64,
}

/// One step expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Expected {
    /// What it is called.
    pub label: String,
    /// How it stands.
    pub mark: Mark,
    /// A word or two under it, such as why nothing counts as it; may be empty.
    pub note: String,
}

/// One act observed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Observed {
    /// When, as it is to be read; may be empty.
    pub time: String,
    /// What it is called.
    pub label: String,
    /// Index of the step it is joined to.
    pub counts_as: Option<usize>,
    /// It was that step's act, but not in its order: its line stands out.
    pub displaced: bool,
    /// How it stands.
    pub mark: Mark,
    /// A word or two under it; may be empty.
    pub note: String,
}

const MARGIN: f64 = 12.0;
const HEAD: f64 = 34.0;
const LABEL: f64 = 14.0;
const SMALL: f64 = 11.5;
const SIGN: f64 = 13.0;
const LEAST: f64 = 420.0;

/// Draws what was expected on the left, what was observed on the right, and a line between an act and the
/// step it is joined to: lines that cross show what was done in another order than the printed one, and
/// those that stand out were not allowed to be.
pub fn order_picture(picture: &OrderPicture, lettering: Lettering<'_>) -> Drawing {
    let words = lettering.words;
    let width = picture.width.max(LEAST);
    let between = width * 0.18;
    let column = (width - between - 2.0 * MARGIN) / 2.0;
    let noted =
        picture.expected.iter().map(|step| &step.note).chain(picture.observed.iter().map(|act| &act.note));
    let row = if noted.clone().any(|note| !note.is_empty()) { 40.0 } else { 28.0 };
    let middle = |index: usize| MARGIN + HEAD + row * (count(index) + 0.5);
    let (left, right) = (MARGIN + column, width - MARGIN - column);

    let mut shapes = Vec::new();
    joined(&mut shapes, picture, |step, act| (at(left, middle(step)), at(right, middle(act))));

    heading(&mut shapes, at(left - SIGN, MARGIN + 15.0), Anchor::End, words.expected);
    heading(&mut shapes, at(right + SIGN, MARGIN + 15.0), Anchor::Start, words.observed);
    let room = column - SIGN * 1.2;
    for (index, step) in picture.expected.iter().enumerate() {
        shapes.extend(step.mark.shapes(at(left, middle(index)), SIGN));
        let place = at(left - SIGN * 1.2, middle(index));
        written(&mut shapes, place, Anchor::End, room, &step.label, &step.note, lettering);
    }
    let times = picture.observed.iter().map(|act| (lettering.measure)(&act.time, SMALL, Weight::Regular));
    let clock = times.fold(0.0, f64::max).min(room * 0.4);
    let aside = if clock > 0.0 { clock + 8.0 } else { 0.0 };
    for (index, act) in picture.observed.iter().enumerate() {
        shapes.extend(act.mark.shapes(at(right, middle(index)), SIGN));
        let place = at(right + SIGN * 1.2, middle(index));
        shapes.push(Shape::Text {
            at: at(place.x, base(place.y, &act.note)),
            anchor: Anchor::Start,
            size: SMALL,
            weight: Weight::Regular,
            role: Role::Quiet,
            text: fit(&act.time, clock, SMALL, Weight::Regular, lettering.measure),
        });
        let place = at(place.x + aside, place.y);
        written(&mut shapes, place, Anchor::Start, room - aside, &act.label, &act.note, lettering);
    }

    let rows = picture.expected.len().max(picture.observed.len());
    let below = at(MARGIN, MARGIN + HEAD + row * count(rows) + 12.0);
    let height = legend::draw(&mut shapes, &entries(picture, lettering), below, width, lettering) + MARGIN;
    Drawing { width, height, title: picture.title.clone(), description: said(picture, lettering), shapes }
}

/// The lines, those that stand out above the others.
fn joined(shapes: &mut Vec<Shape>, picture: &OrderPicture, ends: impl Fn(usize, usize) -> (Point, Point)) {
    for displaced in [false, true] {
        for (index, act) in picture.observed.iter().enumerate().filter(|(_, act)| act.displaced == displaced)
        {
            let Some(step) = act.counts_as.filter(|step| *step < picture.expected.len()) else { continue };
            let (from, to) = ends(step, index);
            let pen = if displaced { Pen::solid(act.mark.role(), 3.0) } else { Pen::solid(Role::Quiet, 1.3) };
            let bend = (to.x - from.x) * 0.4;
            shapes.push(Shape::Path {
                start: from,
                curves: vec![[at(from.x + bend, from.y), at(to.x - bend, to.y), to]],
                closed: false,
                paint: Paint::line(pen),
            });
        }
    }
}

fn heading(shapes: &mut Vec<Shape>, place: Point, anchor: Anchor, text: &str) {
    shapes.push(Shape::Text {
        at: place,
        anchor,
        size: LABEL,
        weight: Weight::Bold,
        role: Role::Ink,
        text: text.to_owned(),
    });
}

/// The base line of a label whose row has its middle at `middle`.
fn base(middle: f64, note: &str) -> f64 {
    middle + if note.is_empty() { LABEL * 0.35 } else { -2.0 }
}

/// A label with its note under it, around the middle of a row.
fn written(
    shapes: &mut Vec<Shape>,
    place: Point,
    anchor: Anchor,
    room: f64,
    label: &str,
    note: &str,
    lettering: Lettering<'_>,
) {
    let weight = if note.is_empty() { Weight::Regular } else { Weight::Bold };
    let mut line = |y: f64, size: f64, weight, text: &str| {
        shapes.push(Shape::Text {
            at: at(place.x, y),
            anchor,
            size,
            weight,
            role: Role::Ink,
            text: fit(text, room, size, weight, lettering.measure),
        });
    };
    line(base(place.y, note), LABEL, weight, label);
    if !note.is_empty() {
        line(place.y + 12.5, SMALL, Weight::Regular, note);
    }
}

/// What the marks mean; only those that the drawing has.
fn entries(picture: &OrderPicture, lettering: Lettering<'_>) -> Vec<Entry> {
    let words = lettering.words;
    let marks =
        picture.expected.iter().map(|step| step.mark).chain(picture.observed.iter().map(|act| act.mark));
    legend::marks(marks, words)
        .into_iter()
        .chain(picture.observed.iter().any(|act| act.displaced).then(|| {
            Entry::new(words.displaced_means, |shapes, middle| {
                let ends = [at(middle.x - 14.0, middle.y + 5.0), at(middle.x + 14.0, middle.y - 5.0)];
                let [from, to] = ends;
                shapes.push(Shape::Line { from, to, pen: Pen::solid(Role::Danger, 3.0) });
            })
        }))
        .collect()
}

/// The drawing in words.
fn said(picture: &OrderPicture, lettering: Lettering<'_>) -> String {
    let joined = |step: usize| picture.observed.iter().any(|act| act.counts_as == Some(step));
    let alone: Vec<&str> = picture
        .expected
        .iter()
        .enumerate()
        .filter(|(index, _)| !joined(*index))
        .map(|(_, step)| step.label.as_str())
        .collect();
    let displaced: Vec<&str> =
        picture.observed.iter().filter(|act| act.displaced).map(|act| act.label.as_str()).collect();
    (lettering.words.order_said)(picture.expected.len(), picture.observed.len(), &alone, &displaced)
}
