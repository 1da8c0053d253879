use std::collections::BTreeMap;

use crate::{
    Lettering,
    drawing::{Anchor, Dash, Drawing, Paint, Pen, Point, Role, Shape, Weight, at, count},
    layering::{Part, layered},
    legend::{self, Entry},
    lettering::{fit, wrap},
};

/// The steps of a procedure and what comes before what.
#[derive(Debug, Clone, PartialEq)]
pub struct StepGraph {
    /// Title of the drawing.
    pub title: String,
    /// The steps, in printed order.
    pub steps: Vec<GraphStep>,
    /// Only direct precedences (a transitive reduction): every one given is drawn.
    pub precedences: Vec<Precedence>,
    /// The width to keep to, in points. Boxes become narrower to keep to it, down to a readable least; a
    /// graph that is wider even so is drawn in its own width.
    pub widest: f64,
}

/// One step of a graph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GraphStep {
    /// Names it in precedences; not shown.
    pub id: String,
    /// What it is called; at most six lines of it are shown.
    pub label: String,
    /// The section it belongs to; may be empty.
    pub section: String,
    /// It must be done.
    pub critical: bool,
    /// It may be skipped freely.
    pub optional: bool,
    /// It is required only under a condition.
    pub conditional: bool,
    /// What the step that it must follow at once is called here, such as its number.
    pub right_after: Option<String>,
}

/// One step comes before another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Precedence {
    /// Id of the step that comes first.
    pub from: String,
    /// Id of the step that comes after it.
    pub to: String,
    /// Breaking this order exposes the person.
    pub danger: bool,
}

/// Widths of a box that are tried, in points.
const WIDTHS: [f64; 3] = [188.0, 156.0, 128.0];
const PAD: f64 = 11.0;
const MARGIN: f64 = 12.0;
/// Height between two ranks, where the lines run.
const BETWEEN_RANKS: f64 = 40.0;
const BETWEEN_PARTS: f64 = 40.0;
const LABEL: f64 = 14.0;
/// The least that is read without effort on a tablet: 12 CSS pixels (common practice, no source).
const SMALL: f64 = 12.0;
/// Of a label: what guidance lists as alternatives may take several.
const MOST_LINES: usize = 6;
/// How much of a critical box's corners is cut off.
const CUT: f64 = 9.0;

/// Draws the order of the steps, first at the top; steps side by side are free in order.
///
/// A precedence with an unknown step, or one that would close a circle, is left out: a procedure that has
/// one is refused long before it is drawn.
pub fn step_graph(graph: &StepGraph, lettering: Lettering<'_>) -> Drawing {
    let edges = edges(graph);
    let pairs: Vec<(usize, usize)> = edges.keys().copied().collect();
    let (box_width, parts) = chosen(graph, &pairs);
    let boxes: Vec<Card> = graph.steps.iter().map(|step| Card::new(step, box_width, lettering)).collect();

    let mut shapes = Vec::new();
    let (mut left, mut top, mut bottom, mut right) = (MARGIN, MARGIN, MARGIN, MARGIN);
    for part in &parts {
        if left > MARGIN && left + part.width + MARGIN > graph.widest {
            (left, top) = (MARGIN, bottom + BETWEEN_PARTS);
        }
        let rows = rows(part, &boxes, top);
        lines(&mut shapes, part, &edges, &boxes, &rows, left);
        for placed in &part.boxes {
            let (Some(card), Some(row)) = (boxes.get(placed.node), rows.get(placed.rank)) else { continue };
            card.draw(&mut shapes, at(left + placed.x - box_width / 2.0, row.top));
        }
        bottom = rows.last().map_or(bottom, |row| row.bottom.max(bottom));
        right = right.max(left + part.width);
        left += part.width + BETWEEN_PARTS;
    }
    let entries = entries(graph, lettering);
    let width = (right + MARGIN).max(legend::least_width(&entries, MARGIN, lettering));
    let height = legend::draw(&mut shapes, &entries, at(MARGIN, bottom + 26.0), width, lettering);
    Drawing {
        width,
        height: height + MARGIN,
        title: graph.title.clone(),
        description: said(graph, lettering),
        shapes,
    }
}

/// The edges by the indices of their steps, with whether they are dangerous.
fn edges(graph: &StepGraph) -> BTreeMap<(usize, usize), bool> {
    let index: BTreeMap<&str, usize> =
        graph.steps.iter().enumerate().map(|(at, step)| (step.id.as_str(), at)).collect();
    let mut edges = BTreeMap::new();
    for precedence in &graph.precedences {
        let ends = (index.get(precedence.from.as_str()), index.get(precedence.to.as_str()));
        if let (Some(&from), Some(&to)) = ends
            && from != to
        {
            *edges.entry((from, to)).or_insert(false) |= precedence.danger;
        }
    }
    edges
}

/// The widest boxes with which the graph keeps to its width, or the narrowest.
fn chosen(graph: &StepGraph, pairs: &[(usize, usize)]) -> (f64, Vec<Part>) {
    let lay = |width: f64| (width, layered(graph.steps.len(), width, pairs));
    let fits = |parts: &[Part]| parts.iter().all(|part| part.width + 2.0 * MARGIN <= graph.widest);
    let [wide, medium, narrow] = WIDTHS;
    [wide, medium].into_iter().map(lay).find(|(_, parts)| fits(parts)).unwrap_or_else(|| lay(narrow))
}

struct Row {
    top: f64,
    bottom: f64,
}

fn rows(part: &Part, boxes: &[Card], top: f64) -> Vec<Row> {
    let ranks = part.boxes.iter().map(|placed| placed.rank + 1).max().unwrap_or_default();
    let mut next = top;
    (0..ranks)
        .map(|rank| {
            let here = part.boxes.iter().filter(|placed| placed.rank == rank);
            let height =
                here.filter_map(|placed| boxes.get(placed.node)).map(Card::height).fold(0.0, f64::max);
            let row = Row { top: next, bottom: next + height };
            next = row.bottom + BETWEEN_RANKS;
            row
        })
        .collect()
}

/// Draws the lines of a part, the dangerous ones above the others.
fn lines(
    shapes: &mut Vec<Shape>,
    part: &Part,
    edges: &BTreeMap<(usize, usize), bool>,
    boxes: &[Card],
    rows: &[Row],
    left: f64,
) {
    let ends: Vec<((usize, usize), bool)> = edges.iter().map(|(ends, danger)| (*ends, *danger)).collect();
    let placed: BTreeMap<usize, (f64, usize)> =
        part.boxes.iter().map(|placed| (placed.node, (left + placed.x, placed.rank))).collect();
    let mut drawn: Vec<(bool, Line)> = Vec::new();
    for route in &part.routes {
        let Some(&((from, to), danger)) = ends.get(route.edge) else { continue };
        let (Some(&(from_x, from_rank)), Some(&(to_x, to_rank))) = (placed.get(&from), placed.get(&to))
        else {
            continue;
        };
        let passages: Vec<f64> = route.passages.iter().map(|x| left + x).collect();
        let above = passages.last().copied().unwrap_or(from_x);
        let below = passages.first().copied().unwrap_or(to_x);
        drawn.push((danger, Line { from, to, from_x, from_rank, to_x, to_rank, passages, above, below }));
    }
    let ports_out = ports(&drawn, |line| (line.from, line.below));
    let ports_in = ports(&drawn, |line| (line.to, line.above));
    let mut order: Vec<usize> = (0..drawn.len()).collect();
    order.sort_by_key(|at| drawn.get(*at).is_some_and(|(danger, _)| *danger));
    for at in order {
        let (Some((danger, line)), Some(out), Some(into)) =
            (drawn.get(at), ports_out.get(at), ports_in.get(at))
        else {
            continue;
        };
        let height = boxes.get(line.from).map_or(0.0, Card::height);
        line.draw(shapes, rows, height, (*out, *into), *danger);
    }
}

/// A line from box to box, in points of the canvas.
struct Line {
    from: usize,
    to: usize,
    from_x: f64,
    from_rank: usize,
    to_x: f64,
    to_rank: usize,
    passages: Vec<f64>,
    /// Where it comes from just above its end, and goes just below its beginning.
    above: f64,
    below: f64,
}

/// How far beside the middle of its box each line begins or ends, so that neighbours do not share a point.
fn ports(drawn: &[(bool, Line)], end: impl Fn(&Line) -> (usize, f64)) -> Vec<f64> {
    let mut by_box: BTreeMap<usize, Vec<(usize, f64)>> = BTreeMap::new();
    for (at, (_, line)) in drawn.iter().enumerate() {
        let (node, x) = end(line);
        by_box.entry(node).or_default().push((at, x));
    }
    let mut offsets = vec![0.0; drawn.len()];
    for lines in by_box.values_mut() {
        lines.sort_by(|a, b| a.1.total_cmp(&b.1));
        let gap = (80.0 / count(lines.len())).min(24.0);
        let middle = (count(lines.len()) - 1.0) / 2.0;
        for (place, (line, _)) in lines.iter().enumerate() {
            if let Some(offset) = offsets.get_mut(*line) {
                *offset = (count(place) - middle) * gap;
            }
        }
    }
    offsets
}

impl Line {
    fn draw(&self, shapes: &mut Vec<Shape>, rows: &[Row], height: f64, ports: (f64, f64), danger: bool) {
        let (Some(first), Some(last)) = (rows.get(self.from_rank), rows.get(self.to_rank)) else { return };
        let start = at(self.from_x + ports.0, first.top + height);
        let head = if danger { 11.0 } else { 9.0 };
        let tip = at(self.to_x + ports.1, last.top);
        let mut here = at(start.x, first.bottom);
        let mut curves = vec![straight(start, here)];
        for (x, row) in self.passages.iter().zip(rows.iter().skip(self.from_rank + 1)) {
            curves.push(bent(here, at(*x, row.top)));
            curves.push(straight(at(*x, row.top), at(*x, row.bottom)));
            here = at(*x, row.bottom);
        }
        curves.push(bent(here, at(tip.x, tip.y - head + 1.0)));
        precedence(shapes, start, curves, danger);
        arrow(shapes, tip, head, danger);
    }
}

/// A line of precedence: a double one where its order is dangerous.
fn precedence(shapes: &mut Vec<Shape>, start: Point, curves: Vec<[Point; 3]>, danger: bool) {
    let pens: &[(Role, f64)] =
        if danger { &[(Role::Danger, 6.0), (Role::Surface, 2.4)] } else { &[(Role::Quiet, 1.6)] };
    for (role, width) in pens {
        let paint = Paint::line(Pen::solid(*role, *width));
        shapes.push(Shape::Path { start, curves: curves.clone(), closed: false, paint });
    }
}

fn arrow(shapes: &mut Vec<Shape>, tip: Point, size: f64, danger: bool) {
    let half = size * if danger { 0.7 } else { 0.5 };
    let points = vec![tip, at(tip.x - half, tip.y - size), at(tip.x + half, tip.y - size)];
    let role = if danger { Role::Danger } else { Role::Quiet };
    shapes.push(Shape::Polyline { points, closed: true, paint: Paint::fill(role) });
}

fn straight(from: Point, to: Point) -> [Point; 3] {
    [from, to, to]
}

/// A curve that leaves and arrives upright.
fn bent(from: Point, to: Point) -> [Point; 3] {
    let middle = f64::midpoint(from.y, to.y);
    [at(from.x, middle), at(to.x, middle), to]
}

/// A step's box and what is written in it.
struct Card {
    width: f64,
    section: String,
    label: Vec<String>,
    tags: Vec<String>,
    critical: bool,
    loose: bool,
}

impl Card {
    fn new(step: &GraphStep, width: f64, lettering: Lettering<'_>) -> Card {
        let room = width - 2.0 * PAD;
        let words = lettering.words;
        let said = |applies: bool, word: &str| applies.then(|| word.to_owned());
        let tags = [
            said(step.critical, words.critical),
            said(step.optional, words.optional),
            said(step.conditional, words.conditional),
            step.right_after.as_deref().map(words.right_after),
        ];
        Card {
            width,
            section: fit(&step.section, room, SMALL, Weight::Regular, lettering.measure),
            label: wrap(&step.label, room, MOST_LINES, LABEL, Weight::Bold, lettering.measure),
            tags: tags
                .into_iter()
                .flatten()
                .map(|word| fit(&word, room, SMALL, Weight::Bold, lettering.measure))
                .collect(),
            critical: step.critical,
            loose: step.optional || step.conditional,
        }
    }

    fn height(&self) -> f64 {
        let small = count(self.tags.len()) + if self.section.is_empty() { 0.0 } else { 1.0 };
        2.0 * PAD + count(self.label.len()) * 18.0 + small * 15.0
    }

    fn draw(&self, shapes: &mut Vec<Shape>, corner: Point) {
        shapes.push(frame(corner, self.width, self.height(), self.critical, self.loose));
        let mut base = corner.y + PAD;
        let mut write = |text: &str, step: f64, size: f64, weight, role| {
            base += step;
            shapes.push(Shape::Text {
                at: at(corner.x + PAD, base - step * 0.26),
                anchor: Anchor::Start,
                size,
                weight,
                role,
                text: text.to_owned(),
            });
        };
        if !self.section.is_empty() {
            write(&self.section, 15.0, SMALL, Weight::Regular, Role::Quiet);
        }
        for line in &self.label {
            write(line, 18.0, LABEL, Weight::Bold, Role::Ink);
        }
        for tag in &self.tags {
            write(tag, 15.0, SMALL, Weight::Regular, Role::Ink);
        }
    }
}

/// A box: cut corners and a thick edge where critical, a broken edge where it may be left out.
fn frame(corner: Point, width: f64, height: f64, critical: bool, loose: bool) -> Shape {
    let (left, top, right, bottom) = (corner.x, corner.y, corner.x + width, corner.y + height);
    let pen = Pen {
        role: if critical { Role::Ink } else { Role::Quiet },
        width: if critical { 2.5 } else { 1.25 },
        dash: if loose { Dash::Dashed } else { Dash::Solid },
    };
    let paint = Paint::both(Role::Raised, pen);
    if !critical {
        return Shape::Rect { at: corner, width, height, radius: 8.0, paint };
    }
    let cut = CUT.min(height / 3.0);
    let points = vec![
        at(left + cut, top),
        at(right - cut, top),
        at(right, top + cut),
        at(right, bottom - cut),
        at(right - cut, bottom),
        at(left + cut, bottom),
        at(left, bottom - cut),
        at(left, top + cut),
    ];
    Shape::Polyline { points, closed: true, paint }
}

/// What the marks mean; only those that the drawing has.
fn entries(graph: &StepGraph, lettering: Lettering<'_>) -> Vec<Entry> {
    let words = lettering.words;
    let line = |danger: bool| {
        move |shapes: &mut Vec<Shape>, middle: Point| {
            let (start, end) = (at(middle.x, middle.y - 11.0), at(middle.x, middle.y + 3.0));
            precedence(shapes, start, vec![straight(start, end)], danger);
            arrow(shapes, at(middle.x, middle.y + 11.0), if danger { 11.0 } else { 9.0 }, danger);
        }
    };
    let sample = |critical: bool, loose: bool| {
        move |shapes: &mut Vec<Shape>, middle: Point| {
            shapes.push(frame(at(middle.x - 13.0, middle.y - 9.0), 26.0, 18.0, critical, loose));
        }
    };
    let any = |applies: fn(&GraphStep) -> bool| graph.steps.iter().any(applies);
    let danger = graph.precedences.iter().any(|precedence| precedence.danger);
    let safe = graph.precedences.iter().any(|precedence| !precedence.danger);
    let all: [(bool, Entry); 4] = [
        (any(|step| step.critical), Entry::new(words.critical_means, sample(true, false))),
        (any(|step| step.optional || step.conditional), Entry::new(words.loose_means, sample(false, true))),
        (safe, Entry::new(words.before_means, line(false))),
        (danger, Entry::new(words.danger_means, line(true))),
    ];
    all.into_iter().filter(|(applies, _)| *applies).map(|(_, entry)| entry).collect()
}

/// The drawing in words.
fn said(graph: &StepGraph, lettering: Lettering<'_>) -> String {
    let label =
        |id: &str| graph.steps.iter().find(|step| step.id == id).map_or("", |step| step.label.as_str());
    let dangers: Vec<(&str, &str)> = graph
        .precedences
        .iter()
        .filter(|precedence| precedence.danger)
        .map(|precedence| (label(&precedence.from), label(&precedence.to)))
        .collect();
    let critical = graph.steps.iter().filter(|step| step.critical).count();
    (lettering.words.graph_said)(graph.steps.len(), critical, &dangers)
}
