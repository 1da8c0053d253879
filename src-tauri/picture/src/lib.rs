//! Drawings as plain shapes in points, one source for the screen and for paper.
//!
//! A drawing says *what* stands where and in which [`Role`]; whoever shows it maps roles to its own
//! colours, so a dim screen, a light screen and a printed page share every line of this crate.
//!
//! What this crate does *not* hold: no colour, no font file, no clock, no file, no rule of the trade,
//! nothing of any other crate of the project. What a person reads comes in as data or as [`Words`].
//! The same input gives the same shapes on every platform. State is never told by role alone: each
//! mark has a shape of its own, and a word beside it.
#![expect(
    clippy::float_arithmetic,
    reason = "lengths on a canvas are fractions of a point; nothing is decided by them"
)]

mod drawing;
mod due_load;
mod layering;
mod legend;
mod lettering;
mod marks;
mod order_picture;
mod step_graph;
mod svg;
mod time_line;
mod words;

pub use drawing::{Anchor, Dash, Drawing, Paint, Pen, Point, Role, Shape, Weight};
pub use due_load::{DueLoad, DueWeeks, Week, due_load, due_weeks};
pub use lettering::{Lettering, Measure, fit, typical_width, wrap};
pub use marks::{Mark, State, state_mark, state_shapes};
pub use order_picture::{Expected, Observed, OrderPicture, order_picture};
pub use step_graph::{GraphStep, Precedence, StepGraph, step_graph};
pub use svg::svg;
pub use time_line::{TimeLine, TimedEvent, time_line};
pub use words::Words;
