//! What is said, in plain sentences that an observer could say to the person. Screen, paper and
//! command line all take them from here.

mod live;

pub use live::warning;

use crate::model::Model;
use crate::procedure::Step;

/// The acts that satisfy a step, quoted: `“Alcohol hand rub” or “Soap and water”`.
pub(crate) fn acts_of(model: &Model, step: &Step) -> String {
    let labels: Vec<String> = step.acts.iter().map(|act| format!("“{}”", model.act_label(act))).collect();
    labels.join(" or ")
}

/// The text with a full stop, unless it ends a sentence already.
pub(crate) fn ended(text: &str) -> String {
    let text = text.trim();
    if text.is_empty() || text.ends_with(['.', '!', '?', '…', '。']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}
