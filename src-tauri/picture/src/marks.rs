use crate::drawing::{Drawing, Paint, Pen, Point, Role, Shape, at};

/// How somebody stands with a procedure, as a roster shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// A filled circle.
    Current,
    /// A circle filled by half.
    DueSoon,
    /// A triangle.
    Overdue,
    /// A cross.
    NotYetCompetent,
    /// An empty ring.
    NeverValidated,
    /// Two upright bars.
    Suspended,
    /// A dash.
    NotRequired,
}

impl State {
    /// Every state.
    pub const ALL: [State; 7] = [
        State::Current,
        State::DueSoon,
        State::Overdue,
        State::NotYetCompetent,
        State::NeverValidated,
        State::Suspended,
        State::NotRequired,
    ];
}

/// How something stands in a drawing of one demonstration.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// As it should be: a dot.
    Well,
    /// There is nothing to judge, as with a step that nobody saw: a ring.
    Open,
    /// A finding that is not critical: a triangle.
    Warning,
    /// A critical finding: a diamond.
    Danger,
}

impl Mark {
    /// The role of its shape.
    pub fn role(self) -> Role {
        match self {
            Mark::Well => Role::Good,
            Mark::Open => Role::Quiet,
            Mark::Warning => Role::Warning,
            Mark::Danger => Role::Danger,
        }
    }

    /// Its shapes, in a square of side `size` around `centre`.
    pub fn shapes(self, centre: Point, size: f64) -> Vec<Shape> {
        let radius = size / 2.0;
        match self {
            Mark::Well => vec![dot(centre, radius * 0.8, self.role())],
            Mark::Open => vec![ring(centre, radius * 0.7, size * 0.14, self.role())],
            Mark::Warning => vec![triangle(centre, radius, self.role())],
            Mark::Danger => vec![Shape::Polyline {
                points: vec![
                    at(centre.x, centre.y - radius),
                    at(centre.x + radius, centre.y),
                    at(centre.x, centre.y + radius),
                    at(centre.x - radius, centre.y),
                ],
                closed: true,
                paint: Paint::fill(self.role()),
            }],
        }
    }
}

/// The mark of a state, `size` wide and high, to stand beside its word: it has no title of its own.
///
/// Each state has its own shape, so that it can be told without colour; all fill the same square.
pub fn state_mark(state: State, size: f64) -> Drawing {
    Drawing {
        width: size,
        height: size,
        title: String::new(),
        description: String::new(),
        shapes: state_shapes(state, at(size / 2.0, size / 2.0), size),
    }
}

/// The shapes of [`state_mark`] around a centre, for a drawing or a page that has more in it.
pub fn state_shapes(state: State, centre: Point, size: f64) -> Vec<Shape> {
    let radius = size * 0.42;
    let pen = size * 0.12;
    match state {
        State::Current => vec![dot(centre, radius, Role::Good)],
        State::DueSoon => vec![
            ring(centre, radius - pen / 2.0, pen, Role::Warning),
            left_half(centre, radius - pen / 2.0, Role::Warning),
        ],
        State::Overdue => vec![triangle(centre, size * 0.46, Role::Danger)],
        State::NotYetCompetent => cross(centre, size * 0.34, size * 0.18, Role::Danger),
        State::NeverValidated => vec![ring(centre, radius - pen / 2.0, pen, Role::Ink)],
        State::Suspended => [-0.22, 0.22]
            .into_iter()
            .map(|aside| Shape::Rect {
                at: at(centre.x + size * aside - size * 0.1, centre.y - size * 0.38),
                width: size * 0.2,
                height: size * 0.76,
                radius: size * 0.03,
                paint: Paint::fill(Role::Danger),
            })
            .collect(),
        State::NotRequired => vec![Shape::Line {
            from: at(centre.x - size * 0.28, centre.y),
            to: at(centre.x + size * 0.28, centre.y),
            pen: Pen::solid(Role::Quiet, pen),
        }],
    }
}

pub(crate) fn dot(centre: Point, radius: f64, role: Role) -> Shape {
    Shape::Circle { centre, radius, paint: Paint::fill(role) }
}

pub(crate) fn ring(centre: Point, radius: f64, width: f64, role: Role) -> Shape {
    Shape::Circle { centre, radius, paint: Paint::line(Pen::solid(role, width)) }
}

/// A triangle on its base, inside the square of half-side `reach` around the centre.
pub(crate) fn triangle(centre: Point, reach: f64, role: Role) -> Shape {
    Shape::Polyline {
        points: vec![
            at(centre.x, centre.y - reach * 0.92),
            at(centre.x + reach, centre.y + reach * 0.8),
            at(centre.x - reach, centre.y + reach * 0.8),
        ],
        closed: true,
        paint: Paint::fill(role),
    }
}

fn cross(centre: Point, reach: f64, width: f64, role: Role) -> Vec<Shape> {
    [1.0, -1.0]
        .into_iter()
        .map(|slope| Shape::Line {
            from: at(centre.x - reach, centre.y - reach * slope),
            to: at(centre.x + reach, centre.y + reach * slope),
            pen: Pen::solid(role, width),
        })
        .collect()
}

/// The left half of a disc. A quarter circle is drawn as one cubic curve with its handles at 0.5523 of the
/// radius, the usual approximation: nowhere off by more than 0.03 % of the radius (common practice).
fn left_half(centre: Point, radius: f64, role: Role) -> Shape {
    let handle = radius * 0.5523;
    let (x, y) = (centre.x, centre.y);
    Shape::Path {
        start: at(x, y - radius),
        curves: vec![
            [at(x - handle, y - radius), at(x - radius, y - handle), at(x - radius, y)],
            [at(x - radius, y + handle), at(x - handle, y + radius), at(x, y + radius)],
        ],
        closed: true,
        paint: Paint::fill(role),
    }
}
