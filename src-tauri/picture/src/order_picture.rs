use crate::{
    Lettering, Mark,
    drawing::{Anchor, Drawing, Paint, Pen, Point, Role, Shape, Weight, at, count},
    legend::{self, Entry},
    lettering::{fit, wrap},
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
const LABEL_LINE: f64 = 17.0;
const NOTE_LINE: f64 = 14.0;
/// Room between two rows.
const ROOM: f64 = 12.0;
const SMALL: f64 = 12.0;
const SIGN: f64 = 13.0;
const LEAST: f64 = 420.0;

/// Draws what was expected on the left, what was observed on the right, and a line between an act and the
/// step it is joined to: lines that cross show what was done in another order than the printed one, and
/// those that stand out were not allowed to be.
pub fn order_picture(picture: &OrderPicture, lettering: Lettering<'_>) -> Drawing {
    let words = lettering.words;
    let width = picture.width.max(LEAST);
    let between = width * 0.15;
    let column = (width - between - 2.0 * MARGIN) / 2.0;
    let room = column - SIGN * 1.2;
    let times = picture.observed.iter().map(|act| (lettering.measure)(&act.time, SMALL, Weight::Regular));
    let clock = times.fold(0.0, f64::max).min(room * 0.4);
    let aside = if clock > 0.0 { clock + 8.0 } else { 0.0 };
    let steps: Vec<Written> =
        picture.expected.iter().map(|step| Written::new(&step.label, &step.note, room, lettering)).collect();
    let acts: Vec<Written> = picture
        .observed
        .iter()
        .map(|act| Written::new(&act.label, &act.note, room - aside, lettering))
        .collect();
    let rows = picture.expected.len().max(picture.observed.len());
    let (middles, bottom) = middles(rows, &steps, &acts);
    let middle = |index: usize| middles.get(index).copied().unwrap_or(bottom);
    let (left, right) = (MARGIN + column, width - MARGIN - column);

    let mut shapes = Vec::new();
    joined(&mut shapes, picture, |step, act| (at(left, middle(step)), at(right, middle(act))));

    heading(&mut shapes, at(left - SIGN, MARGIN + 15.0), Anchor::End, words.expected);
    heading(&mut shapes, at(right + SIGN, MARGIN + 15.0), Anchor::Start, words.observed);
    for ((index, step), said) in picture.expected.iter().enumerate().zip(&steps) {
        shapes.extend(step.mark.shapes(at(left, middle(index)), SIGN));
        said.draw(&mut shapes, at(left - SIGN * 1.2, middle(index)), Anchor::End);
    }
    for ((index, act), said) in picture.observed.iter().enumerate().zip(&acts) {
        shapes.extend(act.mark.shapes(at(right, middle(index)), SIGN));
        let place = at(right + SIGN * 1.2, middle(index));
        shapes.push(Shape::Text {
            at: at(place.x, said.first_base(place.y)),
            anchor: Anchor::Start,
            size: SMALL,
            weight: Weight::Regular,
            role: Role::Quiet,
            text: fit(&act.time, clock, SMALL, Weight::Regular, lettering.measure),
        });
        said.draw(&mut shapes, at(place.x + aside, place.y), Anchor::Start);
    }

    let below = at(MARGIN, bottom + 12.0);
    let height = legend::draw(&mut shapes, &entries(picture, lettering), below, width, lettering) + MARGIN;
    Drawing { width, height, title: picture.title.clone(), description: said(picture, lettering), shapes }
}

/// The middle of each row, which is as high as the higher of its two sides, and the lower edge of the last.
fn middles(rows: usize, steps: &[Written], acts: &[Written]) -> (Vec<f64>, f64) {
    let mut top = MARGIN + HEAD;
    let middles = (0..rows)
        .map(|row| {
            let sides = [steps.get(row), acts.get(row)];
            let height = sides.into_iter().flatten().map(Written::height).fold(LABEL_LINE, f64::max) + ROOM;
            top += height;
            top - height / 2.0
        })
        .collect();
    (middles, top)
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

/// A label of at most two lines with its note under it.
struct Written {
    label: Vec<String>,
    note: String,
    weight: Weight,
}

impl Written {
    fn new(label: &str, note: &str, room: f64, lettering: Lettering<'_>) -> Written {
        let weight = if note.is_empty() { Weight::Regular } else { Weight::Bold };
        Written {
            label: wrap(label, room, 2, LABEL, weight, lettering.measure),
            note: fit(note, room, SMALL, Weight::Regular, lettering.measure),
            weight,
        }
    }

    fn height(&self) -> f64 {
        count(self.label.len()) * LABEL_LINE + if self.note.is_empty() { 0.0 } else { NOTE_LINE }
    }

    /// The base line of the first line of a label whose row has its middle at `middle`.
    fn first_base(&self, middle: f64) -> f64 {
        middle - self.height() / 2.0 + LABEL_LINE * 0.8
    }

    fn draw(&self, shapes: &mut Vec<Shape>, place: Point, anchor: Anchor) {
        let mut base = self.first_base(place.y);
        let mut line = |y: f64, size: f64, weight, text: &str| {
            let (role, text) = (Role::Ink, text.to_owned());
            shapes.push(Shape::Text { at: at(place.x, y), anchor, size, weight, role, text });
        };
        for text in &self.label {
            line(base, LABEL, self.weight, text);
            base += LABEL_LINE;
        }
        if !self.note.is_empty() {
            line(base - 1.0, SMALL, Weight::Regular, &self.note);
        }
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
