use crate::{
    Lettering,
    drawing::{Anchor, Drawing, Paint, Pen, Role, Shape, Weight, at, count},
    lettering::fit,
};

/// How many validations run out in each month.
#[derive(Debug, Clone, PartialEq)]
pub struct DueLoad {
    /// Title of the drawing.
    pub title: String,
    /// Each month's short name and number, in order.
    pub months: Vec<(String, u32)>,
    /// Width of the drawing, in points; 320 at least.
    pub width: f64,
}

const MARGIN: f64 = 12.0;
const TALL: f64 = 120.0;
const NUMBER: f64 = 14.0;
const MONTH: f64 = 12.0;
const LEAST: f64 = 320.0;

/// Draws a bar a month, its number above it; the tallest bar is the busiest month.
pub fn due_load(load: &DueLoad, lettering: Lettering<'_>) -> Drawing {
    let width = load.width.max(LEAST);
    let slot = (width - 2.0 * MARGIN) / count(load.months.len().max(1));
    let most = load.months.iter().map(|(_, due)| *due).max().unwrap_or_default();
    let axis = MARGIN + NUMBER + 8.0 + TALL;
    let mut shapes = Vec::new();
    for (index, (month, due)) in load.months.iter().enumerate() {
        let middle = MARGIN + slot * (count(index) + 0.5);
        let tall = TALL * f64::from(*due) / f64::from(most.max(1));
        let bar = (slot * 0.62).min(56.0);
        if *due > 0 {
            shapes.push(Shape::Rect {
                at: at(middle - bar / 2.0, axis - tall),
                width: bar,
                height: tall,
                radius: 3.0_f64.min(tall / 2.0),
                paint: Paint::fill(Role::Accent),
            });
        }
        let busiest = *due == most && most > 0;
        let mut text = |y: f64, size: f64, weight, role, text: &str| {
            shapes.push(Shape::Text {
                at: at(middle, y),
                anchor: Anchor::Middle,
                size,
                weight,
                role,
                text: fit(text, slot - 2.0, size, weight, lettering.measure),
            });
        };
        let weight = if busiest { Weight::Bold } else { Weight::Regular };
        let role = if *due > 0 { Role::Ink } else { Role::Quiet };
        text(axis - tall - 6.0, NUMBER, weight, role, &due.to_string());
        text(axis + 18.0, MONTH, Weight::Regular, Role::Ink, month);
    }
    shapes.push(Shape::Line {
        from: at(MARGIN, axis),
        to: at(width - MARGIN, axis),
        pen: Pen::solid(Role::Quiet, 1.25),
    });
    let months: Vec<(&str, u32)> = load.months.iter().map(|(month, due)| (month.as_str(), *due)).collect();
    Drawing {
        width,
        height: axis + 18.0 + MARGIN,
        title: load.title.clone(),
        description: (lettering.words.load_said)(&months),
        shapes,
    }
}
