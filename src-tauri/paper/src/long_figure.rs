//! A drawing that is longer than a page, cut where no box is.

use picture::{Drawing, Paint, Point, Shape};

use crate::sheet::{Sheet, Style, Tag, moved};

/// How much smaller than the page allows a drawing may come out.
const SMALLER: [f64; 5] = [1.0, 0.94, 0.88, 0.82, 0.76];
/// The smallest scale at which a drawing for the screen is still easy to read on paper: its letters are
/// 14 points high and come out as 8.
const LEAST: f64 = 0.58;
/// Room for the heading over it.
const HEADING: f64 = 42.0;
/// Room for the line that says that it goes on.
const NOTE: f64 = 12.0;
/// How far a curve is followed by straight pieces.
const PIECES: u32 = 16;

impl Sheet {
    /// A drawing under its title, as wide as the text at most, and never larger than it is. Where it is longer than what
    /// is left of the page, it goes on over pages; lines that lead on are cut, nothing else.
    pub(crate) fn long_figure(&mut self, drawing: &Drawing) {
        let whole = self.format.bottom() - self.format.margin - NOTE;
        let widest = (self.format.text_width() / drawing.width).min(1.0);
        let solid = intervals(&drawing.shapes);
        let scales = || SMALLER.map(|smaller| widest * smaller).into_iter().filter(|scale| *scale >= LEAST);
        let cuts = |first: f64, scale: f64| cuts(&solid, drawing.height, first / scale, whole / scale);
        let fewest = |first: f64| scales().map(|scale| cuts(first, scale).len()).min();
        let headed = |y: f64| self.format.bottom() - y - HEADING - NOTE;
        if fewest(headed(self.format.margin)) < fewest(headed(self.y)) {
            self.room(f64::INFINITY);
        }
        self.heading(&drawing.title, 200.0);
        let first = self.format.bottom() - self.y - NOTE;
        // A little smaller and on fewer pages is easier to follow; among equals the largest.
        let scale = scales().min_by_key(|scale| cuts(first, *scale).len()).unwrap_or(widest);
        let left = self.format.margin + (self.format.text_width() - drawing.width * scale) / 2.0;
        let mut top = 0.0;
        let mut said = format!("{}. {}", drawing.title, drawing.description);
        for bottom in cuts(first, scale) {
            if top > 0.0 {
                self.room(f64::INFINITY);
            }
            let at = Point { x: left, y: self.y - top * scale };
            let shapes: Vec<Shape> = drawing
                .shapes
                .iter()
                .flat_map(|shape| within(shape, top, bottom))
                .map(|shape| moved(&shape, at, scale))
                .collect();
            // Said once, with the first piece; the others belong to it.
            let said = std::mem::replace(&mut said, "The drawing continues.".to_owned());
            self.described(Tag::Figure, Some(said), |sheet| sheet.put(shapes));
            self.space((bottom - top) * scale);
            top = bottom;
            if top < drawing.height {
                let (x, width) = (self.format.margin, self.format.text_width());
                self.paragraph(
                    Tag::Paragraph,
                    "The drawing continues on the next page.",
                    x,
                    width,
                    Style::SMALL,
                );
            }
        }
    }
}

/// Where each piece ends: as few pieces as fit, and as even as the boxes allow, so that the last page is
/// not left with a remnant. The first piece has less room than the others.
fn cuts(solid: &[(f64, f64)], height: f64, first: f64, whole: f64) -> Vec<f64> {
    let greedy = |share: f64| {
        let mut ends = Vec::new();
        let (mut top, mut room) = (0.0, first);
        while height - top > room {
            let bottom = cut(solid, top, top + room * share).unwrap_or(top + room);
            ends.push(bottom);
            (top, room) = (bottom, whole);
        }
        ends.push(height);
        ends
    };
    let fewest = greedy(1.0);
    let evener = [0.6, 0.7, 0.8, 0.9].into_iter().map(greedy);
    evener.filter(|ends| ends.len() == fewest.len()).find(|ends| !ends.is_empty()).unwrap_or(fewest)
}

/// Top and bottom of a shape that must stay whole; none for a line that may be cut.
fn extent(shape: &Shape) -> Option<(f64, f64)> {
    match shape {
        Shape::Rect { at, height, .. } => Some((at.y, at.y + height)),
        Shape::Circle { centre, radius, .. } => Some((centre.y - radius, centre.y + radius)),
        Shape::Text { at, size, .. } => Some((at.y - size, at.y + size * 0.3)),
        Shape::Polyline { points, closed: true, .. } => {
            let ys = points.iter().map(|point| point.y);
            Some((ys.clone().fold(f64::INFINITY, f64::min), ys.fold(f64::NEG_INFINITY, f64::max)))
        }
        Shape::Path { start, curves, closed: true, .. } => {
            let ys = curves.iter().flatten().map(|point| point.y).chain([start.y]);
            Some((ys.clone().fold(f64::INFINITY, f64::min), ys.fold(f64::NEG_INFINITY, f64::max)))
        }
        Shape::Line { .. } | Shape::Polyline { closed: false, .. } | Shape::Path { closed: false, .. } => {
            None
        }
    }
}

fn intervals(shapes: &[Shape]) -> Vec<(f64, f64)> {
    shapes.iter().filter_map(extent).collect()
}

/// The lowest place below `top` and not below `bottom` that cuts nothing whole.
fn cut(solid: &[(f64, f64)], top: f64, bottom: f64) -> Option<f64> {
    let free = |y: f64| y > top + 1.0 && y <= bottom && !solid.iter().any(|(from, to)| *from < y && y < *to);
    let candidates = solid.iter().map(|(from, _)| from - 4.0).chain([bottom]);
    candidates
        .filter(|y| free(*y))
        .fold(None, |best: Option<f64>, y| Some(best.map_or(y, |best| best.max(y))))
}

/// What of a shape is between two heights.
fn within(shape: &Shape, top: f64, bottom: f64) -> Vec<Shape> {
    if let Some((from, _)) = extent(shape) {
        // What is not cut belongs to the piece in which it begins.
        return if from >= top && from < bottom { vec![shape.clone()] } else { Vec::new() };
    }
    let (points, paint) = match shape {
        Shape::Line { from, to, pen } => (vec![*from, *to], Paint::line(*pen)),
        Shape::Polyline { points, paint, .. } => (points.clone(), *paint),
        Shape::Path { start, curves, paint, .. } => (followed(*start, curves), *paint),
        Shape::Rect { .. } | Shape::Circle { .. } | Shape::Text { .. } => return vec![shape.clone()],
    };
    if points.iter().all(|point| (top..=bottom).contains(&point.y)) {
        return vec![shape.clone()];
    }
    clipped(&points, top, bottom)
        .into_iter()
        .map(|points| Shape::Polyline { points, closed: false, paint })
        .collect()
}

fn followed(start: Point, curves: &[[Point; 3]]) -> Vec<Point> {
    let mut points = vec![start];
    let mut from = start;
    for [one, two, to] in curves {
        for piece in 1..=PIECES {
            let t = f64::from(piece) / f64::from(PIECES);
            let u = 1.0 - t;
            let mix = |a: f64, b: f64, c: f64, d: f64| {
                u * u * u * a + 3.0 * u * u * t * b + 3.0 * u * t * t * c + t * t * t * d
            };
            points.push(Point { x: mix(from.x, one.x, two.x, to.x), y: mix(from.y, one.y, two.y, to.y) });
        }
        from = *to;
    }
    points
}

/// The parts of a line of points between two heights.
fn clipped(points: &[Point], top: f64, bottom: f64) -> Vec<Vec<Point>> {
    let mut parts: Vec<Vec<Point>> = Vec::new();
    let mut open: Vec<Point> = Vec::new();
    for (from, to) in points.iter().zip(points.iter().skip(1)) {
        let at = |y: f64| {
            let (height, width) = (to.y - from.y, to.x - from.x);
            // A level piece is inside or outside as a whole and is never cut.
            let share = if height.abs() < f64::EPSILON { 0.0 } else { (y - from.y) / height };
            Point { x: from.x + width * share, y }
        };
        let inside = |point: &Point| (top..=bottom).contains(&point.y);
        let (low, high) = (from.y.min(to.y), from.y.max(to.y));
        if high < top || low > bottom {
            parts.extend((open.len() > 1).then(|| std::mem::take(&mut open)));
            open.clear();
            continue;
        }
        if open.is_empty() {
            open.push(if inside(from) { *from } else { at(from.y.clamp(top, bottom)) });
        }
        open.push(if inside(to) { *to } else { at(to.y.clamp(top, bottom)) });
        if !inside(to) {
            parts.push(std::mem::take(&mut open));
        }
    }
    parts.extend((open.len() > 1).then_some(open));
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawing_is_cut_evenly_and_through_no_box() {
        let solid: Vec<(f64, f64)> =
            (0..20).map(|row| f64::from(row) * 90.0).map(|top| (top, top + 50.0)).collect();
        for (first, whole) in [(400.0, 700.0), (700.0, 700.0), (120.0, 500.0)] {
            let ends = cuts(&solid, 1800.0, first, whole);
            assert_eq!(ends.last(), Some(&1800.0));
            let mut top = 0.0;
            for (piece, bottom) in ends.iter().enumerate() {
                assert!(*bottom > top && *bottom - top <= if piece == 0 { first } else { whole }, "{ends:?}");
                let whole = solid.iter().all(|(from, to)| *bottom <= *from || *bottom >= *to);
                assert!(whole, "{bottom} cuts a box: {ends:?}");
                top = *bottom;
            }
        }
        assert_eq!(cuts(&solid, 1800.0, 2000.0, 2000.0), [1800.0]);
    }

    #[test]
    fn a_line_is_kept_where_it_is_inside_and_cut_where_it_leaves() {
        let at = |x: f64, y: f64| Point { x, y };
        let line = [at(0.0, 0.0), at(10.0, 10.0), at(20.0, 0.0), at(30.0, 20.0)];
        let kept = clipped(&line, 5.0, 15.0);
        assert_eq!(
            kept,
            [vec![at(5.0, 5.0), at(10.0, 10.0), at(15.0, 5.0)], vec![at(22.5, 5.0), at(27.5, 15.0)]]
        );
        assert_eq!(clipped(&line, -1.0, 21.0), [line.to_vec()]);
        assert!(clipped(&line, 30.0, 40.0).is_empty());
    }
}
