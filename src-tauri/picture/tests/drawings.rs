//! Every drawing stays inside its canvas, hides nothing behind a box, and is the same each time.
#![expect(
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "helpers of tests fail loudly"
)]

use picture::{
    Anchor, Drawing, DueLoad, DueWeeks, Expected, GraphStep, Lettering, Mark, Observed, OrderPicture, Point,
    Precedence, Shape, StepGraph, TimeLine, TimedEvent, Week, Weight, due_load, due_weeks, order_picture,
    step_graph, svg, time_line, typical_width,
};
use proptest::prelude::*;

/// Left, top, right and bottom.
type Bounds = (f64, f64, f64, f64);

fn around(points: &[Point]) -> Bounds {
    points.iter().fold((f64::MAX, f64::MAX, f64::MIN, f64::MIN), |(left, top, right, bottom), p| {
        (left.min(p.x), top.min(p.y), right.max(p.x), bottom.max(p.y))
    })
}

#[expect(clippy::float_arithmetic, reason = "bounds of shapes")]
fn bounds(shape: &Shape) -> Bounds {
    match shape {
        Shape::Rect { at, width, height, .. } => (at.x, at.y, at.x + width, at.y + height),
        Shape::Line { from, to, .. } => around(&[*from, *to]),
        Shape::Polyline { points, .. } => around(points),
        Shape::Path { start, curves, .. } => {
            let points: Vec<Point> = [*start].into_iter().chain(curves.iter().flatten().copied()).collect();
            around(&points)
        }
        Shape::Circle { centre, radius, .. } => {
            (centre.x - radius, centre.y - radius, centre.x + radius, centre.y + radius)
        }
        Shape::Text { at, anchor, size, weight, text, .. } => {
            let width = typical_width(text, *size, *weight);
            let left = match anchor {
                Anchor::Start => at.x,
                Anchor::Middle => at.x - width / 2.0,
                Anchor::End => at.x - width,
            };
            (left, at.y - size * 0.75, left + width, at.y + size * 0.22)
        }
    }
}

fn overlap(a: Bounds, b: Bounds) -> bool {
    a.0 < b.2 && b.0 < a.2 && a.1 < b.3 && b.1 < a.3
}

/// All that holds for every drawing.
#[track_caller]
fn sound(drawing: &Drawing) {
    for shape in &drawing.shapes {
        let (left, top, right, bottom) = bounds(shape);
        assert!(
            left >= 0.0 && top >= 0.0 && right <= drawing.width && bottom <= drawing.height,
            "{shape:?} leaves the canvas of {} x {}",
            drawing.width,
            drawing.height
        );
    }
    let texts: Vec<&Shape> =
        drawing.shapes.iter().filter(|shape| matches!(shape, Shape::Text { .. })).collect();
    for (i, one) in texts.iter().enumerate() {
        for other in &texts[..i] {
            assert!(!overlap(bounds(one), bounds(other)), "{one:?} is written over {other:?}");
        }
    }
    assert!(!drawing.title.is_empty() && !drawing.description.is_empty());
    let out = svg(drawing, "x");
    assert!(!out.contains("style") && !out.contains("NaN") && !out.contains("inf"), "{out}");
}

/// The boxes of the steps: what has its section written in it.
fn boxes(drawing: &Drawing) -> Vec<Bounds> {
    let sections: Vec<Bounds> = drawing
        .shapes
        .iter()
        .filter(|shape| matches!(shape, Shape::Text { text, .. } if text.starts_with('§')))
        .map(bounds)
        .collect();
    let closed = |shape: &&Shape| match shape {
        Shape::Rect { .. } => true,
        Shape::Polyline { points, .. } => points.len() == 8,
        Shape::Line { .. } | Shape::Path { .. } | Shape::Circle { .. } | Shape::Text { .. } => false,
    };
    drawing
        .shapes
        .iter()
        .filter(closed)
        .map(bounds)
        .filter(|frame| sections.iter().any(|section| overlap(*frame, *section)))
        .collect()
}

fn step(number: usize, flags: u8) -> GraphStep {
    let labels = [
        "Hand rub",
        "Left glove off, held in the gloved hand",
        "Respirator off by the straps, front not touched",
    ];
    GraphStep {
        id: format!("s{number}"),
        label: format!("{} {number}", labels[number % labels.len()]),
        section: format!("§ {}", number / 8),
        critical: flags & 1 > 0,
        optional: flags & 2 > 0,
        conditional: flags & 4 > 0,
        right_after: (flags & 7 == 7).then(|| "1".to_owned()),
    }
}

fn before(from: usize, to: usize, danger: bool) -> Precedence {
    Precedence { from: format!("s{from}"), to: format!("s{to}"), danger }
}

fn graph(steps: Vec<GraphStep>, precedences: Vec<Precedence>) -> StepGraph {
    StepGraph { title: "Order of the steps".to_owned(), steps, precedences, widest: 1100.0 }
}

#[track_caller]
fn whole(graph: &StepGraph) -> Drawing {
    let drawing = step_graph(graph, Lettering::PLAIN);
    sound(&drawing);
    let frames = boxes(&drawing);
    assert_eq!(frames.len(), graph.steps.len(), "a step has no box of its own");
    for (i, one) in frames.iter().enumerate() {
        for other in &frames[..i] {
            assert!(!overlap(*one, *other), "{one:?} lies over {other:?}");
        }
    }
    assert_eq!(drawing, step_graph(graph, Lettering::PLAIN), "the same graph is drawn the same");
    drawing
}

/// The upper edge of the box in which a label begins.
fn top(drawing: &Drawing, label: &str) -> f64 {
    let said = |shape: &&Shape| matches!(shape, Shape::Text { text, .. } if text == label);
    let text = bounds(drawing.shapes.iter().find(said).unwrap_or_else(|| panic!("{label} is not drawn")));
    boxes(drawing).into_iter().find(|frame| overlap(*frame, text)).expect("a box around it").1
}

fn doffing() -> StepGraph {
    let named = |id: &str, label: &str, critical| GraphStep {
        id: id.to_owned(),
        label: label.to_owned(),
        section: "§ Removal".to_owned(),
        critical,
        optional: id == "rub",
        conditional: id == "apron",
        right_after: (id == "rub").then(|| "4".to_owned()),
    };
    let order =
        |from: &str, to: &str, danger| Precedence { from: from.to_owned(), to: to.to_owned(), danger };
    graph(
        vec![
            named("apron", "Apron off", false),
            named("gloves", "Gloves off", true),
            named("rub", "Hand rub", false),
            named("gown", "Gown off", true),
            named("eyes", "Eye protection off", true),
            named("mask", "Respirator off", true),
        ],
        vec![
            order("apron", "gloves", false),
            order("gloves", "gown", true),
            order("gloves", "eyes", true),
            order("gloves", "rub", false),
            order("gown", "mask", false),
            order("eyes", "mask", false),
            order("gloves", "mask", true),
        ],
    )
}

#[test]
fn what_comes_first_stands_above_and_what_is_free_stands_side_by_side() {
    let drawing = whole(&doffing());
    for (first, then) in
        [("Apron off", "Gloves off"), ("Gloves off", "Gown off"), ("Gown off", "Respirator off")]
    {
        assert!(top(&drawing, first) < top(&drawing, then), "{first} stands above {then}");
    }
    assert!((top(&drawing, "Gown off") - top(&drawing, "Eye protection off")).abs() < 0.01);
    for word in ["critical", "optional", "only if it applies", "The other way round exposes the person"] {
        let said = |shape: &Shape| matches!(shape, Shape::Text { text, .. } if text == word);
        assert!(drawing.shapes.iter().any(said), "{word:?} is written on it");
    }
    assert!(drawing.description.contains("Gloves off before Respirator off"), "{}", drawing.description);
    insta::assert_snapshot!(svg(&drawing, "doffing"));
}

#[test]
fn a_graph_without_order_wraps_and_an_empty_one_is_empty() {
    let drawing = whole(&graph((0..13).map(|n| step(n, 0)).collect(), vec![]));
    assert!(drawing.width <= 1100.0, "{}", drawing.width);
    whole(&graph(vec![], vec![]));
}

#[test]
fn a_circle_or_an_unknown_step_does_not_stop_the_drawing() {
    let steps: Vec<GraphStep> = (0..4).map(|n| step(n, 1)).collect();
    let edges = [(0, 1), (1, 2), (2, 0), (2, 3), (3, 3), (3, 9)];
    whole(&graph(steps, edges.into_iter().map(|(from, to)| before(from, to, true)).collect()));
}

#[test]
fn a_label_in_another_script_or_with_markup_is_kept() {
    let mut one = step(0, 1);
    one.label = "כפפות <b>&\"off\"".to_owned();
    let out = svg(&whole(&graph(vec![one], vec![])), "x");
    assert!(out.contains("כפפות &lt;b&gt;&amp;&quot;off&quot;"), "{out}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn any_order_is_drawn_without_overlap(
        flags in prop::collection::vec(0_u8..8, 1..31),
        links in prop::collection::vec((0_usize..30, 0_usize..30, any::<bool>()), 0..45),
    ) {
        let steps: Vec<GraphStep> = flags.iter().enumerate().map(|(n, flags)| step(n, *flags)).collect();
        let precedences = links
            .into_iter()
            .filter(|(from, to, _)| from < to)
            .map(|(from, to, danger)| before(from, to, danger))
            .collect();
        whole(&graph(steps, precedences));
    }

    #[test]
    fn any_log_is_drawn_in_order(
        steps in 0_usize..30,
        acts in prop::collection::vec((prop::option::of(0_usize..32), any::<bool>(), ".{0,60}"), 0..40),
        width in 0.0..1200.0_f64,
    ) {
        let expected = (0..steps)
            .map(|n| Expected { label: step(n, 0).label, mark: Mark::Open, note: "missed".repeat(n % 3) })
            .collect();
        let observed = acts
            .into_iter()
            .map(|(counts_as, displaced, label)| Observed {
                time: "10:02:03".to_owned(), note: label.clone(), label, counts_as, displaced, mark: Mark::Warning,
            })
            .collect();
        let picture = OrderPicture { title: "Order".to_owned(), expected, observed, width };
        sound(&order_picture(&picture, Lettering::PLAIN));
    }

    #[test]
    fn any_times_are_drawn_without_names_over_each_other(
        times in prop::collection::vec((0_i64..900_000, prop::option::of(0_i64..60_000)), 0..40),
        width in 0.0..1400.0_f64,
        most in 0_u8..6,
    ) {
        let events = times
            .into_iter()
            .enumerate()
            .map(|(n, (at_ms, long))| TimedEvent {
                at_ms,
                until_ms: long.map(|long| at_ms + long),
                label: step(n, 0).label,
                mark: [Mark::Well, Mark::Warning, Mark::Well, Mark::Danger][n % 4],
            })
            .collect();
        let mut line =
            TimeLine { title: "Times".to_owned(), events, ended_ms: 1000, width, most_lanes: usize::MAX };
        let mut height = |most_lanes| {
            line.most_lanes = most_lanes;
            let drawing = time_line(&line, Lettering::PLAIN);
            sound(&drawing);
            drawing.height
        };
        let (whole, bare, limited) = (height(usize::MAX), height(0), height(usize::from(most)));
        let one_more = f64::from(most + 1).mul_add(20.0, bare);
        prop_assert!(limited <= whole && limited < one_more, "{limited}");
    }

    #[test]
    fn any_load_is_drawn(load in prop::collection::vec(0_u32..100_000, 0..14), width in 0.0..1400.0_f64) {
        let months = load.into_iter().map(|due| ("Nov".to_owned(), due)).collect();
        sound(&due_load(&DueLoad { title: "Load".to_owned(), months, width }, Lettering::PLAIN));
    }

    #[test]
    fn any_load_of_weeks_is_drawn(
        load in prop::collection::vec((0_u32..100_000, 0_u8..4), 0..60),
        width in 0.0..1400.0_f64,
    ) {
        let weeks = load
            .into_iter()
            .map(|(due, month)| Week {
                name: "2 November".to_owned(),
                month: (month == 0).then(|| "Nov".to_owned()),
                due,
            })
            .collect();
        sound(&due_weeks(&DueWeeks { title: "Load".to_owned(), weeks, width }, Lettering::PLAIN));
    }
}

#[test]
fn the_order_picture_tells_what_was_missed_and_what_stood_out() {
    let expected =
        |label: &str, mark, note: &str| Expected { label: label.to_owned(), mark, note: note.to_owned() };
    let observed = |label: &str, counts_as, displaced, mark| Observed {
        time: "10:02:03".to_owned(),
        label: label.to_owned(),
        counts_as,
        displaced,
        mark,
        note: String::new(),
    };
    let picture = OrderPicture {
        title: "Expected against observed".to_owned(),
        expected: vec![
            expected("Gloves off", Mark::Well, ""),
            expected("Gown off", Mark::Danger, "out of order"),
            expected("Hand rub", Mark::Warning, "missed"),
        ],
        observed: vec![
            observed("Gown off", Some(1), true, Mark::Danger),
            observed("Gloves off", Some(0), false, Mark::Well),
            observed("Touched the face", None, false, Mark::Danger),
        ],
        width: 720.0,
    };
    let drawing = order_picture(&picture, Lettering::PLAIN);
    sound(&drawing);
    assert_eq!(drawing.shapes.iter().filter(|shape| matches!(shape, Shape::Path { .. })).count(), 2);
    assert_eq!(
        drawing.description,
        "3 steps expected, 3 acts observed. Nothing was observed for: Hand rub. Out of order: Gown off."
    );
    insta::assert_snapshot!(svg(&drawing, "order"));
}

#[test]
fn a_bar_is_as_high_as_its_number() {
    let months = [("Nov", 3), ("Dec", 0), ("Jan", 12)].map(|(month, due)| (month.to_owned(), due)).to_vec();
    let drawing = due_load(&DueLoad { title: "Load".to_owned(), months, width: 320.0 }, Lettering::PLAIN);
    sound(&drawing);
    let heights: Vec<f64> = drawing
        .shapes
        .iter()
        .filter_map(|shape| if let Shape::Rect { height, .. } = shape { Some(*height) } else { None })
        .collect();
    let [small, large] = heights[..] else { panic!("two bars, none for a month without any: {heights:?}") };
    assert!((large - 4.0 * small).abs() < 0.001, "12 is four times 3");
    assert_eq!(drawing.description, "Nov: 3, Dec: 0, Jan: 12.");
}

#[test]
fn a_year_of_weeks_names_its_months_and_leaves_noughts_out() {
    let week = |at: u32| Week {
        name: format!("week {at}"),
        month: at.is_multiple_of(4).then(|| format!("M{at}")),
        due: if at == 7 { 12 } else { 0 },
    };
    let load = DueWeeks { title: "Load".to_owned(), weeks: (0..52).map(week).collect(), width: 880.0 };
    let drawing = due_weeks(&load, Lettering::PLAIN);
    sound(&drawing);
    let texts = drawing
        .shapes
        .iter()
        .filter_map(|shape| if let Shape::Text { text, .. } = shape { Some(text.as_str()) } else { None });
    let texts: Vec<&str> = texts.collect();
    assert_eq!(texts.len(), 14, "{texts:?}");
    assert!(texts.contains(&"12") && texts.contains(&"M48"));
    assert_eq!(drawing.description, "12 run out in 52 weeks. Week of week 7: 12.");
}

#[test]
fn numbers_of_narrow_bars_are_whole_and_never_lie_on_each_other() {
    let week = |at: u32| Week { name: format!("week {at}"), month: None, due: 100 + at };
    let load = DueWeeks { title: "Load".to_owned(), weeks: (0..53).map(week).collect(), width: 720.0 };
    let drawing = due_weeks(&load, Lettering::PLAIN);
    sound(&drawing);
    let mut numbers: Vec<(f64, &str, f64)> = Vec::new();
    for shape in &drawing.shapes {
        if let Shape::Text { at, size, text, .. } = shape {
            assert!(*size >= 12.0, "{text} is as large as the months");
            numbers.push((at.x, text, typical_width(text, *size, Weight::Bold)));
        }
    }
    let busiest = numbers.iter().any(|(_, text, _)| *text == "152");
    assert!(
        busiest && numbers.len() > 20,
        "as many as there is room for, the busiest among them: {numbers:?}"
    );
    assert!(numbers.iter().all(|(_, text, _)| text.parse::<u32>().is_ok()), "no number is cut: {numbers:?}");
    for pair in numbers.windows(2) {
        assert!(pair[0].0 + pair[0].2 / 2.0 <= pair[1].0 - pair[1].2 / 2.0, "{pair:?}");
    }
}

#[test]
fn a_measure_of_the_callers_own_decides_what_fits() {
    let narrow = |text: &str, size: f64, _: Weight| typical_width(text, size, Weight::Bold) * 4.0;
    let lettering = Lettering { measure: &narrow, ..Lettering::PLAIN };
    let out = svg(&step_graph(&doffing(), lettering), "x");
    assert!(out.contains('…') && !out.contains("Eye protection off</text>"), "{out}");
}
