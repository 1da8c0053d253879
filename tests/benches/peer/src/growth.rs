//! How the time of scoring grows, as a picture.

use std::collections::BTreeSet;
use std::error::Error;
use std::path::Path;

use competency::score::score;
use plotters::coord::Shift;
use plotters::prelude::*;

use crate::cases::{Case, Chance, Step};
use crate::{percentile, timed};

/// One curve: what it is measured against, and the times in microseconds.
struct Curve {
    title: &'static str,
    against: &'static str,
    points: Vec<(usize, f64)>,
}

pub fn draw(path: &Path) -> Result<(), Box<dyn Error>> {
    let steps = |steps| Case::chains(steps, 4, 1);
    let width = |width| Case::chains(48, width, 1);
    let repeats = |repeats| Case::chains(48, 1, repeats);
    let curves = [
        curve("4 chains of distinct acts", "steps", &[8, 16, 24, 40, 56, 72, 88, 104, 128], steps),
        curve("48 steps, distinct acts", "chains side by side", &[1, 2, 3, 4, 6, 8, 12, 16, 24, 48], width),
        curve("48 steps in one chain", "steps that share an act", &[1, 2, 3, 4, 6, 8, 12, 16, 24], repeats),
    ];
    let root = SVGBackend::new(path, (960, 300)).into_drawing_area();
    root.fill(&WHITE)?;
    for (area, curve) in root.split_evenly((1, 3)).iter().zip(&curves) {
        panel(area, curve)?;
    }
    root.present()?;
    Ok(())
}

fn panel(area: &DrawingArea<SVGBackend<'_>, Shift>, curve: &Curve) -> Result<(), Box<dyn Error>> {
    let most = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0_f64, f64::max);
    let right = curve.points.iter().map(|&(at, _)| at).max().unwrap_or(1);
    let top = 1.1 * most(&mut curve.points.iter().map(|&(_, time)| time));
    let mut chart = ChartBuilder::on(area)
        .caption(curve.title, ("sans-serif", 15))
        .margin(10)
        .x_label_area_size(36)
        .y_label_area_size(46)
        .build_cartesian_2d(0..right, 0.0..top)?;
    chart
        .configure_mesh()
        .light_line_style(WHITE)
        .x_labels(6)
        .y_labels(6)
        .x_desc(curve.against)
        .y_desc("microseconds")
        .draw()?;
    chart.draw_series(LineSeries::new(curve.points.iter().copied(), BLUE.stroke_width(2)))?;
    let dots = curve.points.iter().map(|&point| Circle::new(point, 3, BLUE.filled()));
    chart.draw_series(dots)?;
    Ok(())
}

fn curve(
    title: &'static str,
    against: &'static str,
    sizes: &[usize],
    shape: impl Fn(usize) -> Case,
) -> Curve {
    let mut chance = Chance(1);
    let mut point = |&size: &usize| {
        let mut times = Vec::new();
        for _ in 0..40 {
            let mut case = shape(size);
            case.spoil(&mut chance, 5);
            let (model, log) = (case.model(), case.log());
            for _ in 0..10 {
                times.push(timed(|| score(&model, &log)));
            }
        }
        let micros = percentile(&mut times, 50).as_secs_f64() * 1e6;
        println!("{title}, {size} {against}: {micros:.1} microseconds");
        (size, micros)
    };
    Curve { title, against, points: sizes.iter().map(&mut point).collect() }
}

impl Case {
    /// So many steps in so many chains side by side; in a chain `repeats` steps share each act.
    fn chains(steps: usize, width: usize, repeats: usize) -> Case {
        let acts = steps / repeats;
        let steps: Vec<Step> = (0..steps)
            .map(|number| Step {
                acts: vec![format!("act {}", number % acts)],
                optional: false,
                before: (0..number)
                    .rev()
                    .filter(|before| number % width == before % width)
                    .collect::<BTreeSet<_>>(),
            })
            .collect();
        let trace = steps.iter().map(|step| step.acts[0].clone()).collect();
        Case { steps, free: Vec::new(), trace }
    }
}
