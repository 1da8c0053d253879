//! Words for entering a paper form.

use chrono::NaiveDate;

use super::short_date;

pub(crate) const TIME: &str = "Time on the form";
pub(crate) const LASTED: &str = "Lasted, in seconds";
pub(crate) const KEEP: &str = "Keep";
pub(crate) const SPAN: &str = "Begun and ended";
pub(crate) const BEGUN: &str = "Begun at";
pub(crate) const ENDED: &str = "Ended at";
pub(crate) const SPAN_HINT: &str = "As written on the form: hours and minutes, with seconds if they are there. Leave empty what is not written.";
pub(crate) const FIRST: &str =
    "Tap the acts in the order that is written on the form. Add the times that are on it; none is asked for.";
pub(crate) const ALL_DONE_HINT: &str = "End it once everything that is on the form has been entered.";
/// In place of a time where the form has none.
pub(crate) const NO_TIME: &str = "\u{2013}";
/// What an undo takes back.
pub(crate) const UNDONE: &str = "time";
pub(crate) const ON_PAPER: &str = "on paper";

/// In place of the running time.
pub(crate) fn form_of(date: NaiveDate) -> String {
    format!("Form of {}", short_date(date))
}

/// An act with how long the form says it lasted.
pub(crate) fn lasted(act: &str, ms: i64) -> String {
    format!("{act}, {} s", ms / 1000)
}
