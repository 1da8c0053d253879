//! What is said, in plain sentences that an observer could say to the person. Screen, paper and
//! command line all take them from here.

mod cautions;
mod finding;
mod live;
mod summary;
mod team;
mod terms;

pub use cautions::{CAUTIONS, SIGNED_AS};
pub use live::warning;
pub use summary::{
    ahead, finding_kind, headline, minutes, mode, outcome, outcome_reason, purpose, second_signature,
    severity, step_state, time_of_day,
};
pub use terms::{by, footing, in_turn, precaution};

pub(crate) use finding::{
    Missed, Reversal, Told, before_the_call, contamination, extra, forbidden, missed, not_immediate,
    out_of_order, prompted, response_late, response_missed, technique, too_short, wrong_call,
};

pub(crate) use team::team_error;

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

/// One sentence: what is said, and why it had to be so.
fn with_reason(said: &str, why: Option<&str>) -> String {
    linked(said, "because", why)
}

/// One sentence: what is said, and why the step that it is about matters.
fn with_importance(said: &str, why: Option<&str>) -> String {
    linked(said, "which matters because", why)
}

fn linked(said: &str, link: &str, why: Option<&str>) -> String {
    match why.map(reason).filter(|why| !why.is_empty()) {
        Some(why) => ended(&format!("{said}, {link} {why}")),
        None => ended(said),
    }
}

/// A reason as it is said within a sentence: without its full stop, and with a small letter at its start
/// unless it begins with an abbreviation or a name such as N95.
pub(crate) fn reason(why: &str) -> String {
    let why = within(why);
    let mut letters = why.chars();
    match (letters.next(), letters.next()) {
        (Some(first), second) if second.is_none_or(|second| second.is_lowercase() || second == ' ') => {
            first.to_lowercase().chain(why.chars().skip(1)).collect()
        }
        _ => why.to_owned(),
    }
}

/// The first sentence of a text, as it stands within another: what follows is how, and not what.
fn first_sentence(text: &str) -> &str {
    let text = text.trim();
    within(text.split_once(". ").map_or(text, |(first, _)| first))
}

/// A text as it stands within a sentence: without its full stop.
fn within(text: &str) -> &str {
    text.trim().trim_end_matches(['.', '。'])
}
