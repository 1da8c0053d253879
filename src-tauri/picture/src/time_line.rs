use crate::{
    Lettering, Mark,
    drawing::{Anchor, Drawing, Pen, Role, Shape, Weight, at, count},
    legend,
    lettering::fit,
};

/// The acts of a demonstration over time.
#[derive(Debug, Clone, PartialEq)]
pub struct TimeLine {
    /// Title of the drawing.
    pub title: String,
    /// The acts whose time is known, in the order they happened.
    pub events: Vec<TimedEvent>,
    /// When the demonstration ended, in milliseconds since it began.
    pub ended_ms: i64,
    /// Width of the drawing, in points; 420 at least.
    pub width: f64,
    /// At most so many names stand above each other. Where that is not enough for all, those of acts that went well
    /// are left out first, then those of findings that are not critical, then all.
    pub most_lanes: usize,
}

/// One act with its time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TimedEvent {
    /// Milliseconds since the demonstration began.
    pub at_ms: i64,
    /// When it ended, where that is known: it is drawn as a bar as long as it took.
    pub until_ms: Option<i64>,
    /// What it is called.
    pub label: String,
    /// How it stands.
    pub mark: Mark,
}

const MARGIN: f64 = 14.0;
const LANE: f64 = 20.0;
const LABEL: f64 = 12.5;
const TICK: f64 = 12.0;
const SIGN: f64 = 12.0;
const LEAST: f64 = 420.0;
/// Distances between ticks that read well, in seconds.
const STEPS: [u32; 10] = [5, 10, 15, 30, 60, 120, 300, 600, 1800, 3600];

/// Draws time from left to right, each act at its moment with its name above it.
pub fn time_line(line: &TimeLine, lettering: Lettering<'_>) -> Drawing {
    let width = line.width.max(LEAST);
    let room = (width * 0.2).min(170.0);
    let latest = line.events.iter().filter_map(|event| event.until_ms.or(Some(event.at_ms))).max();
    let span = seconds(latest.unwrap_or_default().max(line.ended_ms)).max(1.0);
    let reach = width - 2.0 * MARGIN - room;
    let x = |ms: i64| MARGIN + SIGN / 2.0 + seconds(ms) / span * (reach - SIGN);

    let mut events: Vec<(f64, String, &TimedEvent)> = line
        .events
        .iter()
        .map(|event| {
            let label = fit(&event.label, room - SIGN, LABEL, Weight::Regular, lettering.measure);
            (x(event.at_ms), label, event)
        })
        .collect();
    events.sort_by(|a, b| a.0.total_cmp(&b.0));
    let lanes = fitting(&events, line.most_lanes, lettering);
    let high = lanes.iter().flatten().max().map_or(0, |highest| highest + 1);
    let axis = MARGIN + count(high) * LANE + 14.0;

    let mut shapes = vec![Shape::Line {
        from: at(MARGIN, axis),
        to: at(MARGIN + reach, axis),
        pen: Pen::solid(Role::Quiet, 1.5),
    }];
    ticks(&mut shapes, axis, span, reach, &x, lettering);
    for ((start, label, event), lane) in events.iter().zip(&lanes) {
        if let Some(lane) = lane {
            let base = axis - 14.0 - count(*lane) * LANE;
            shapes.push(Shape::Line {
                from: at(*start, axis),
                to: at(*start, base - LABEL),
                pen: Pen::solid(Role::Line, 1.0),
            });
            shapes.push(Shape::Text {
                at: at(start + 4.0, base),
                anchor: Anchor::Start,
                size: LABEL,
                weight: Weight::Regular,
                role: Role::Ink,
                text: label.clone(),
            });
        }
        if let Some(until) = event.until_ms.filter(|until| *until > event.at_ms) {
            let (from, to) = (at(*start, axis), at(x(until), axis));
            shapes.push(Shape::Line { from, to, pen: Pen::solid(event.mark.role(), 5.0) });
        }
    }
    for (start, _, event) in &events {
        shapes.extend(event.mark.shapes(at(*start, axis), SIGN));
    }
    let entries = legend::marks(events.iter().map(|(_, _, event)| event.mark), lettering.words);
    let height = legend::draw(&mut shapes, &entries, at(MARGIN, axis + 36.0), width, lettering) + MARGIN;
    let description = (lettering.words.time_said)(events.len(), &clock(span));
    Drawing { width, height, title: line.title.clone(), description, shapes }
}

/// The lane of each name, `None` where it is left out: as many as find room in so many lanes, what matters most first.
fn fitting(
    events: &[(f64, String, &TimedEvent)],
    most: usize,
    lettering: Lettering<'_>,
) -> Vec<Option<usize>> {
    let weight = |event: &TimedEvent| match event.mark {
        Mark::Well | Mark::Open => 0,
        Mark::Warning => 1,
        Mark::Danger => 2,
    };
    let tried = (0..=2_u8).map(|least| lanes(events, |event| weight(event) >= least, lettering));
    let mut fitting = tried.filter(|lanes| lanes.iter().flatten().all(|lane| *lane < most));
    fitting.next().unwrap_or_else(|| vec![None; events.len()])
}

/// The lane of each name, 0 the lowest: one above every later name whose upright line would cut through it.
fn lanes(
    events: &[(f64, String, &TimedEvent)],
    named: impl Fn(&TimedEvent) -> bool,
    lettering: Lettering<'_>,
) -> Vec<Option<usize>> {
    let mut lanes: Vec<Option<usize>> = Vec::new();
    for (index, (start, label, event)) in events.iter().enumerate().rev() {
        if !named(event) {
            lanes.push(None);
            continue;
        }
        let end = start + 10.0 + (lettering.measure)(label, LABEL, Weight::Regular);
        let later = events.iter().skip(index + 1).zip(lanes.iter().rev());
        let under =
            later.filter(|((x, _, _), _)| *x <= end).filter_map(|(_, lane)| lane.map(|lane| lane + 1));
        lanes.push(Some(under.max().unwrap_or_default()));
    }
    lanes.reverse();
    lanes
}

/// Ticks with their times, at most one every 60 points.
fn ticks(
    shapes: &mut Vec<Shape>,
    axis: f64,
    span: f64,
    reach: f64,
    x: &impl Fn(i64) -> f64,
    lettering: Lettering<'_>,
) {
    let most = reach / 60.0;
    let Some(step) = STEPS.into_iter().find(|step| span / f64::from(*step) <= most) else { return };
    for second in (0..).map(|tick| tick * step).take_while(|second| f64::from(*second) <= span) {
        let place = x(i64::from(second) * 1000);
        shapes.push(Shape::Line {
            from: at(place, axis + 8.0),
            to: at(place, axis + 13.0),
            pen: Pen::solid(Role::Quiet, 1.0),
        });
        let text = clock(f64::from(second));
        let half = (lettering.measure)(&text, TICK, Weight::Regular) / 2.0;
        shapes.push(Shape::Text {
            at: at(place.max(half), axis + 26.0),
            anchor: Anchor::Middle,
            size: TICK,
            weight: Weight::Regular,
            role: Role::Quiet,
            text,
        });
    }
}

/// Milliseconds as seconds; a time before the beginning counts as the beginning.
fn seconds(ms: i64) -> f64 {
    f64::from(u32::try_from(ms.max(0)).unwrap_or(u32::MAX)) / 1000.0
}

/// Seconds as minutes and seconds, rounded down.
fn clock(seconds: f64) -> String {
    let (minutes, rest) = ((seconds / 60.0).floor(), (seconds % 60.0).floor());
    format!("{minutes:.0}:{rest:02.0}")
}
