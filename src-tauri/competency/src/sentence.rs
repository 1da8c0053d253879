//! What is said, in plain sentences that an observer could say to the person. Screen, paper and
//! command line all take them from here.

mod cautions;
mod finding;
mod live;
mod summary;
mod terms;

pub use cautions::CAUTIONS;
pub use live::warning;
pub use summary::{
    finding_kind, headline, minutes, mode, outcome, outcome_reason, purpose, severity, step_state,
};
pub use terms::{by, footing, precaution};

pub(crate) use finding::{
    Missed, Reversal, Told, before_the_call, contamination, extra, forbidden, missed, not_immediate,
    out_of_order, prompted, response_late, response_missed, technique, too_short, wrong_call,
};

use crate::model::Model;
use crate::procedure::{ActId, Step};

/// The acts that satisfy a step, quoted: `“Alcohol hand rub” or “Soap and water”`.
pub(crate) fn acts_of(model: &Model, step: &Step) -> String {
    any_of(model, &step.acts)
}

/// Any of these acts, quoted.
pub(crate) fn any_of(model: &Model, acts: &[ActId]) -> String {
    let labels: Vec<String> = acts.iter().map(|act| format!("“{}”", model.act_label(act))).collect();
    match labels.as_slice() {
        [first @ .., last] if !first.is_empty() => format!("{} or {last}", first.join(", ")),
        all => all.concat(),
    }
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

/// What is said, then why it matters.
fn with_reason(said: String, why: Option<&str>) -> String {
    match why.map(ended) {
        Some(why) if !why.is_empty() => format!("{said} {why}"),
        Some(_) | None => said,
    }
}
