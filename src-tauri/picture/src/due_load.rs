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
/// The least room of a week's bar: a year of them is as wide as a tablet that is held upright.
const NARROW: f64 = 13.0;
/// From this room on every bar has its number.
const WIDE: f64 = 22.0;
/// The size of a number over a narrow bar.
const SMALL: f64 = 12.0;

/// One bar, and what is written below and above it.
struct Bar<'l> {
    label: &'l str,
    due: u32,
    /// How many slots wide the label may be.
    room: usize,
}

/// Draws a bar a month, its number above it; the tallest bar is the busiest month.
pub fn due_load(load: &DueLoad, lettering: Lettering<'_>) -> Drawing {
    let months: Vec<(&str, u32)> = load.months.iter().map(|(month, due)| (month.as_str(), *due)).collect();
    let bars: Vec<Bar<'_>> = months.iter().map(|(label, due)| Bar { label, due: *due, room: 1 }).collect();
    let said = (lettering.words.load_said)(&months);
    bars_drawn(&load.title, said, load.width.max(LEAST), &bars, lettering)
}

/// How many validations run out in each week.
#[derive(Debug, Clone, PartialEq)]
pub struct DueWeeks {
    /// Title of the drawing.
    pub title: String,
    /// The weeks, in order.
    pub weeks: Vec<Week>,
    /// Width of the drawing, in points; 13 for each week at least.
    pub width: f64,
}

/// One week of a [`DueWeeks`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Week {
    /// What names it in words, such as its Monday.
    pub name: String,
    /// The month's short name, where it is the first week of one.
    pub month: Option<String>,
    /// How many run out in it.
    pub due: u32,
}

/// Draws a bar a week, with the month's name below its first week, and no number over an empty week. A number
/// that has no room beside that of a busier week is left out.
pub fn due_weeks(load: &DueWeeks, lettering: Lettering<'_>) -> Drawing {
    let weeks: Vec<(&str, u32)> = load.weeks.iter().map(|week| (week.name.as_str(), week.due)).collect();
    let bars: Vec<Bar<'_>> = load
        .weeks
        .iter()
        .enumerate()
        .map(|(at, week)| {
            let unnamed = load.weeks.iter().skip(at + 1).take_while(|later| later.month.is_none());
            Bar { label: week.month.as_deref().unwrap_or_default(), due: week.due, room: 1 + unnamed.count() }
        })
        .collect();
    let said = (lettering.words.weeks_said)(&weeks);
    let least = 2.0 * MARGIN + NARROW * count(bars.len());
    bars_drawn(&load.title, said, load.width.max(least), &bars, lettering)
}

fn bars_drawn(
    title: &str,
    description: String,
    width: f64,
    bars: &[Bar<'_>],
    lettering: Lettering<'_>,
) -> Drawing {
    let slot = (width - 2.0 * MARGIN) / count(bars.len().max(1));
    let most = bars.iter().map(|bar| bar.due).max().unwrap_or_default();
    let axis = MARGIN + NUMBER + 8.0 + TALL;
    let size = if slot < WIDE { SMALL } else { NUMBER };
    let numbered = numbered(bars, slot, size, lettering);
    let mut shapes = Vec::new();
    for (index, Bar { label, due, room }) in bars.iter().enumerate() {
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
        let weight = if busiest { Weight::Bold } else { Weight::Regular };
        let role = if *due > 0 { Role::Ink } else { Role::Quiet };
        if numbered.get(index).copied().unwrap_or_default() {
            let text = due.to_string();
            shapes.push(Shape::Text {
                at: at(middle, axis - tall - 6.0),
                anchor: Anchor::Middle,
                size,
                weight,
                role,
                text,
            });
        }
        if !label.is_empty() {
            let (x, anchor, wide) = if *room > 1 {
                // It begins with its bar, a little into its slot, and must not reach the next one.
                (middle - bar / 2.0, Anchor::Start, slot * (count(*room) - 0.5))
            } else {
                (middle, Anchor::Middle, slot)
            };
            let text = fit(label, wide - 2.0, MONTH, Weight::Regular, lettering.measure);
            // A month of which only the last week is left has no room for its name, and half of it says nothing.
            if text == *label || slot >= WIDE {
                shapes.push(Shape::Text {
                    at: at(x, axis + 18.0),
                    anchor,
                    size: MONTH,
                    weight: Weight::Regular,
                    role: Role::Ink,
                    text,
                });
            }
        }
    }
    shapes.push(Shape::Line {
        from: at(MARGIN, axis),
        to: at(width - MARGIN, axis),
        pen: Pen::solid(Role::Quiet, 1.25),
    });
    Drawing { width, height: axis + 18.0 + MARGIN, title: title.to_owned(), description, shapes }
}

/// Over which bars there is a number: the busiest first, and each that has room beside those. Over half a hundred empty
/// weeks, noughts would hide the others.
fn numbered(bars: &[Bar<'_>], slot: f64, size: f64, lettering: Lettering<'_>) -> Vec<bool> {
    let mut busiest: Vec<usize> = (0..bars.len()).collect();
    busiest.sort_by_key(|at| std::cmp::Reverse(bars.get(*at).map(|bar| bar.due)));
    let mut numbered = vec![false; bars.len()];
    let mut taken: Vec<(f64, f64)> = Vec::new();
    for at in busiest {
        let Some(bar) = bars.get(at).filter(|bar| bar.due > 0 || slot >= WIDE) else { continue };
        let half = (lettering.measure)(&bar.due.to_string(), size, Weight::Bold) / 2.0 + 1.0;
        let middle = slot * (count(at) + 0.5);
        let room = (middle - half, middle + half);
        let inside = room.0 >= -MARGIN && room.1 <= slot * count(bars.len()) + MARGIN;
        if inside && taken.iter().all(|other| room.1 <= other.0 || other.1 <= room.0) {
            taken.push(room);
            if let Some(place) = numbered.get_mut(at) {
                *place = true;
            }
        }
    }
    numbered
}
