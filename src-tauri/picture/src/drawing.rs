/// A drawing: shapes in the order they are painted, on a canvas whose origin is its top left corner.
///
/// Lengths are points on paper and CSS pixels on screen; y grows downwards.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// Width of the canvas.
    pub width: f64,
    /// Height of the canvas.
    pub height: f64,
    /// What it is, in a few words; an empty one says that it only repeats what is written beside it.
    pub title: String,
    /// What it shows, for people who cannot see it.
    pub description: String,
    /// Its shapes, from the lowest to the topmost.
    pub shapes: Vec<Shape>,
}

/// A place on the canvas.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Distance from the left edge.
    pub x: f64,
    /// Distance from the top edge.
    pub y: f64,
}

/// One shape.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A rectangle.
    Rect {
        /// Its top left corner.
        at: Point,
        /// Its width.
        width: f64,
        /// Its height.
        height: f64,
        /// Radius of its corners; 0 for sharp ones.
        radius: f64,
        /// How it is painted.
        paint: Paint,
    },
    /// A straight line.
    Line {
        /// One end.
        from: Point,
        /// The other end.
        to: Point,
        /// How it is drawn.
        pen: Pen,
    },
    /// Straight lines from point to point.
    Polyline {
        /// At least two points.
        points: Vec<Point>,
        /// Whether the last point is joined to the first.
        closed: bool,
        /// How it is painted.
        paint: Paint,
    },
    /// Cubic curves, one after the other.
    Path {
        /// Where the first curve begins.
        start: Point,
        /// Each curve's two control points and its end.
        curves: Vec<[Point; 3]>,
        /// Whether it is closed.
        closed: bool,
        /// How it is painted.
        paint: Paint,
    },
    /// A circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius.
        radius: f64,
        /// How it is painted.
        paint: Paint,
    },
    /// One line of text.
    Text {
        /// Where its base line begins, has its middle or ends, as `anchor` says.
        at: Point,
        /// Which part of the text stands at `at`.
        anchor: Anchor,
        /// Size of the letters.
        size: f64,
        /// Weight of the letters.
        weight: Weight,
        /// Its colour.
        role: Role,
        /// What it says; never broken into lines.
        text: String,
    },
}

/// What a shape is there for; whoever shows it decides the colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Text and marks that carry the meaning.
    Ink,
    /// Text that explains.
    Quiet,
    /// Hairlines, frames and axes.
    Line,
    /// The ground of the drawing.
    Surface,
    /// A box that stands out from the ground; ink and quiet text must be readable on it.
    Raised,
    /// What to look at first, without judging it.
    Accent,
    /// As it should be.
    Good,
    /// A fault that is not critical, or something to act on soon.
    Warning,
    /// A critical fault or a danger.
    Danger,
}

impl Role {
    /// Every role, to hold a palette to.
    pub const ALL: [Role; 9] = [
        Role::Ink,
        Role::Quiet,
        Role::Line,
        Role::Surface,
        Role::Raised,
        Role::Accent,
        Role::Good,
        Role::Warning,
        Role::Danger,
    ];

    /// Its name, as in the classes of [`crate::svg`].
    pub fn name(self) -> &'static str {
        match self {
            Role::Ink => "ink",
            Role::Quiet => "quiet",
            Role::Line => "line",
            Role::Surface => "surface",
            Role::Raised => "raised",
            Role::Accent => "accent",
            Role::Good => "good",
            Role::Warning => "warning",
            Role::Danger => "danger",
        }
    }
}

/// How an area is painted; with neither, it cannot be seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Paint {
    /// What fills it.
    pub fill: Option<Role>,
    /// What draws its outline.
    pub line: Option<Pen>,
}

impl Paint {
    /// Filled, without an outline.
    pub fn fill(role: Role) -> Paint {
        Paint { fill: Some(role), line: None }
    }

    /// An outline alone.
    pub fn line(pen: Pen) -> Paint {
        Paint { fill: None, line: Some(pen) }
    }

    /// Filled, with an outline.
    pub fn both(role: Role, pen: Pen) -> Paint {
        Paint { fill: Some(role), line: Some(pen) }
    }
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pen {
    /// Its colour.
    pub role: Role,
    /// Its width.
    pub width: f64,
    /// Whether it is broken.
    pub dash: Dash,
}

impl Pen {
    /// An unbroken line.
    pub fn solid(role: Role, width: f64) -> Pen {
        Pen { role, width, dash: Dash::Solid }
    }
}

/// Whether a line is broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Dashes of [`Dash::ON`] with gaps of [`Dash::OFF`].
    Dashed,
}

impl Dash {
    /// Length of a dash, in points.
    pub const ON: f64 = 5.0;
    /// Length of the gap after it, in points.
    pub const OFF: f64 = 4.0;
}

/// Which part of a text stands at its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end, whatever the script.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// Weight of letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// Regular.
    Regular,
    /// Bold.
    Bold,
}

/// Shorthand for a point.
pub(crate) fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

/// A count as a length; counts here are far below 2^32.
pub(crate) fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}
