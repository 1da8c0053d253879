use competency::{
    model::Model,
    procedure::{Applies, By, Predecessor, Procedure, Step},
};
use picture::{Anchor, Paint, Pen, Point, Role, Shape};

use crate::{
    sheet::{Sheet, Style},
    table::{Cell, Column, Row, table, tick_box},
    words,
};

/// Side of a box to tick with a pen.
const TICK: f64 = 12.0;
/// Height of a box to write in.
const WRITE: f64 = 18.0;
const ORDER: f64 = 34.0;
const TIME: f64 = 54.0;
/// Room for a least duration to be written beside the time.
const TIMED: f64 = 46.0;

/// One row a step.
pub(super) fn draw(sheet: &mut Sheet, model: &Model) {
    let procedure = model.procedure();
    sheet.heading("Steps", 120.0);
    let columns = columns(sheet);
    let mut rows = Vec::new();
    let mut section = None;
    for (index, step) in procedure.steps.iter().enumerate() {
        if section != Some(&step.section) {
            section = Some(&step.section);
            rows.push(Row::Group(step.section.clone()));
        }
        rows.push(Row::Cells(cells(model, index, step)));
    }
    table(sheet, &columns, &rows);
}

fn columns(sheet: &Sheet) -> Vec<Column> {
    let ticks = [("Done", 32.0), ("Not done", 32.0), ("Not seen", 32.0), ("Prompted", 50.0)];
    let number = 26.0;
    let rest: f64 = number + ORDER + TIME + ticks.iter().map(|(_, width)| width).sum::<f64>();
    let column = |heading: &str, width: f64| Column { heading: heading.to_owned(), width };
    let mut columns = vec![
        column("No.", number),
        column("Step, and what to look for", sheet.format.text_width() - rest),
        column("Order", ORDER),
        column("Time", TIME),
    ];
    columns.extend(ticks.map(|(heading, width)| column(heading, width)));
    columns
}

fn cells(model: &Model, index: usize, step: &Step) -> Vec<Cell> {
    let procedure = model.procedure();
    let contact = procedure.equipment.contact_times.iter().any(|time| step.acts.contains(&time.act));
    let timed = contact || step.acts.iter().any(|act| procedure.least_seconds(step, act).is_some());
    let number = Cell::text("", Style::BODY).marked(numbered(index + 1, step.critical));
    let tick = || Cell::text("", Style::BODY).marked(vec![tick_box(Point { x: -3.0, y: -TICK / 2.0 }, TICK)]);
    let time =
        Cell::text("", Style::BODY).marked(time(timed)).at_least(if timed { TIMED } else { WRITE + 2.0 });
    let order = Cell::text("", Style::BODY).marked(vec![written(ORDER)]);
    vec![number, told(model, step), order, time, tick(), tick(), tick(), tick()]
}

/// Where a box to write in begins, from the middle of a mark.
fn write_box() -> Point {
    Point { x: -4.55, y: -6.25 }
}

fn written(column: f64) -> Shape {
    let paint = Paint::both(Role::Surface, Pen::solid(Role::Ink, 0.6));
    Shape::Rect { at: write_box(), width: column - 8.0, height: WRITE, radius: 0.0, paint }
}

/// A box for the time; under it one for how long it lasted, where that counts.
fn time(timed: bool) -> Vec<Shape> {
    let mut shapes = vec![written(TIME)];
    if timed {
        let Point { x, y } = write_box();
        let paint = Paint::both(Role::Surface, Pen::solid(Role::Ink, 0.6));
        let at = Point { x, y: y + WRITE + 4.0 };
        shapes.push(Shape::Rect { at, width: TIME - 8.0, height: WRITE, radius: 0.0, paint });
        shapes.push(Shape::Text {
            at: Point { x: x + TIME - 10.0, y: y + WRITE + 4.0 + WRITE - 4.0 },
            anchor: Anchor::End,
            size: Style::SMALL.size,
            weight: Style::SMALL.weight,
            role: Role::Quiet,
            text: "s".to_owned(),
        });
    }
    shapes
}

/// The number; in a frame with cut corners where the step is critical, as in the drawing of the order.
fn numbered(number: usize, critical: bool) -> Vec<Shape> {
    const HALF: f64 = 9.0;
    const CUT: f64 = 4.0;
    let point = |x: f64, y: f64| Point { x: x + 4.0, y };
    let mut shapes = Vec::new();
    if critical {
        let (far, near) = (HALF, HALF - CUT);
        let corners = [
            (-near, -far),
            (near, -far),
            (far, -near),
            (far, near),
            (near, far),
            (-near, far),
            (-far, near),
            (-far, -near),
        ];
        shapes.push(Shape::Polyline {
            points: corners.map(|(x, y)| point(x, y)).to_vec(),
            closed: true,
            paint: Paint::both(Role::Raised, Pen::solid(Role::Ink, 1.4)),
        });
    }
    shapes.push(Shape::Text {
        at: point(0.0, 3.3),
        anchor: Anchor::Middle,
        size: Style::STRONG.size,
        weight: Style::STRONG.weight,
        role: Role::Ink,
        text: number.to_string(),
    });
    shapes
}

/// The step as it is read aloud, what to look for, what sets it apart, and what to tick.
fn told(model: &Model, step: &Step) -> Cell {
    let procedure = model.procedure();
    let mut cell = Cell::text(step.text.clone(), Style::STRONG);
    for point in &step.look_for {
        cell = cell.and(format!("– {point}"), Style::BODY);
    }
    for (note, style) in notes(procedure, step) {
        cell = cell.and(note, style);
    }
    if step.acts.len() > 1 {
        for act in &step.acts {
            cell = cell.and_tick(format!("by: {}", model.act_label(act)), Style::BODY);
        }
    }
    for fault in &step.technique_faults {
        let carries = if fault.contaminates { " (contaminates)" } else { "" };
        cell = cell.and_tick(format!("fault: {}{carries}", fault.text), Style::BODY);
    }
    cell.and("", Style::SMALL)
}

fn notes(procedure: &Procedure, step: &Step) -> Vec<(String, Style)> {
    const PLAIN: Style = Style::SMALL;
    const ORDER: Style = Style::SMALL.in_role(Role::Ink);
    let number = |id: &str| procedure.steps.iter().position(|listed| listed.id == id).map_or(0, |at| at + 1);
    let mut notes = Vec::new();
    if step.critical {
        let why = step.why.as_deref().map(|why| format!(" {why}")).unwrap_or_default();
        notes.push((format!("Critical.{why}"), PLAIN));
    }
    match step.by {
        By::Wearer => {}
        By::Assistant | By::Observer => notes.push((format!("By the {}.", words::by(step.by)), ORDER)),
    }
    let told = |id| procedure.condition_text(id).trim_end_matches('.');
    match step.applies() {
        Applies::Always => {}
        Applies::Where(id) => notes.push((format!("Only where this holds: {}.", told(id)), ORDER)),
        Applies::NotWhere(id) => notes.push((format!("Not where this holds: {}.", told(id)), ORDER)),
    }
    if step.optional {
        notes.push(("May be left out.".to_owned(), ORDER));
    }
    let mut after: Vec<usize> = step.after.iter().map(|one| number(one.step())).collect();
    after.sort_unstable();
    let after: Vec<String> = after.iter().map(ToString::to_string).collect();
    match after.as_slice() {
        [] => {}
        [one] => notes.push((format!("After step {one}."), ORDER)),
        all => notes.push((format!("After steps {}.", all.join(", ")), ORDER)),
    }
    if let Some(lead) = &step.immediately_after {
        notes.push((format!("Right after step {}.", number(lead)), ORDER));
    }
    let mut dangers: Vec<&Predecessor> = step.after.iter().filter(|one| one.danger()).collect();
    dangers.sort_by_key(|danger| number(danger.step()));
    for danger in dangers {
        let why = danger.why().map(|why| format!(": {why}")).unwrap_or_default();
        notes.push((format!("Dangerous before step {}{why}", number(danger.step())), ORDER));
    }
    for act in &step.acts {
        if let Some(seconds) = procedure.least_seconds(step, act) {
            let label = procedure.acts.get(act).unwrap_or(act);
            let text = format!("{label}: {seconds} seconds at least; write how long it lasted.");
            notes.push((text, ORDER));
        }
    }
    notes.extend(procedure.facility_notes(step).into_iter().map(|note| (note, ORDER)));
    notes
}
