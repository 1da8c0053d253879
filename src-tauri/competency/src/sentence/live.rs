//! What the live form says.

use crate::live::{ComesFirst, Warning};
use crate::model::Model;

/// The warning that an act came too early, in one or two sentences.
pub fn warning(model: &Model, warning: &Warning) -> String {
    let act = model.act_label(&warning.act);
    let Some(nearest) = warning.first.first() else { return format!("“{act}” came too early.") };
    let others = match warning.first.len() {
        1 => String::new(),
        2 => ", and one more step before that".to_owned(),
        more => format!(", and {} more steps before that", more - 1),
    };
    let why = nearest.why.as_deref().map(super::ended).unwrap_or_default();
    format!("“{act}” came too early: first {}{others}. {why}", step_name(model, nearest))
        .trim_end()
        .to_owned()
}

fn step_name(model: &Model, first: &ComesFirst) -> String {
    let step = model.step_number(&first.step).and_then(|number| model.step(number));
    step.map_or_else(|| first.step.clone(), |step| super::acts_of(model, step))
}
