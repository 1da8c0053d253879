use crate::{
    Lettering, Mark, Words,
    drawing::{Anchor, Point, Role, Shape, Weight, at},
    lettering::fit,
};

/// Draws a sign around a middle.
type Sign = Box<dyn Fn(&mut Vec<Shape>, Point)>;

/// One sign and what it means.
pub(crate) struct Entry {
    means: &'static str,
    sign: Sign,
}

impl Entry {
    /// `sign` draws around a middle, no further than 14 points from it.
    pub(crate) fn new(means: &'static str, sign: impl Fn(&mut Vec<Shape>, Point) + 'static) -> Entry {
        Entry { means, sign: Box::new(sign) }
    }
}

/// What the marks of a drawing mean, in the order from good to bad, each once.
pub(crate) fn marks(used: impl Iterator<Item = Mark>, words: &Words) -> Vec<Entry> {
    let used: Vec<Mark> = used.collect();
    let all = [
        (Mark::Well, words.well_means),
        (Mark::Open, words.open_means),
        (Mark::Warning, words.warning_means),
        (Mark::Danger, words.critical_finding_means),
    ];
    all.into_iter()
        .filter(|(mark, _)| used.contains(mark))
        .map(|(mark, means)| {
            Entry::new(means, move |shapes, middle| shapes.extend(mark.shapes(middle, 13.0)))
        })
        .collect()
}

const SIZE: f64 = 12.5;
const ROW: f64 = 30.0;
const SIGN: f64 = 36.0;
const GAP: f64 = 22.0;

/// The width with which no entry is cut short, with a margin at each side.
pub(crate) fn least_width(entries: &[Entry], margin: f64, lettering: Lettering<'_>) -> f64 {
    let widths = entries.iter().map(|entry| (lettering.measure)(entry.means, SIZE, Weight::Regular));
    // A hair more, so that the entry that decides it fits beyond all rounding.
    widths.fold(0.0, f64::max) + SIGN + 2.0 * margin + 1.0
}

/// Draws the entries from `corner` on, in as many rows as `width` asks for; answers the lower edge.
pub(crate) fn draw(
    shapes: &mut Vec<Shape>,
    entries: &[Entry],
    corner: Point,
    width: f64,
    lettering: Lettering<'_>,
) -> f64 {
    if entries.is_empty() {
        return corner.y;
    }
    let (mut x, mut y) = (corner.x, corner.y);
    for entry in entries {
        let text = fit(entry.means, width - 2.0 * corner.x - SIGN, SIZE, Weight::Regular, lettering.measure);
        let needs = SIGN + (lettering.measure)(&text, SIZE, Weight::Regular);
        if x > corner.x && x + needs + corner.x > width {
            (x, y) = (corner.x, y + ROW);
        }
        (entry.sign)(shapes, at(x + 14.0, y + ROW / 2.0));
        shapes.push(Shape::Text {
            at: at(x + SIGN, y + ROW / 2.0 + SIZE * 0.35),
            anchor: Anchor::Start,
            size: SIZE,
            weight: Weight::Regular,
            role: Role::Ink,
            text,
        });
        x += needs + GAP;
    }
    y + ROW
}
