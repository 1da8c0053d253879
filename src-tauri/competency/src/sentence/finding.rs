//! One plain sentence for each kind of finding: what, when, what should have come first or next, and
//! why it matters.

use super::{acts_of, ended, first_sentence, with_importance, with_reason, within};
use crate::log::{Contamination, Observation, What};
use crate::model::Model;
use crate::procedure::{By, Step};

/// What a sentence is told from.
pub(crate) struct Told<'a> {
    pub(crate) model: &'a Model,
    pub(crate) clock: &'a dyn Fn(i64) -> String,
    /// Times are those of a paper form; what has none there was not entered late for that.
    pub(crate) transcribed: bool,
}

impl Told<'_> {
    /// An act with its time: `“Gown off” at 2:03`.
    pub(crate) fn act_at(&self, act: &str, seen: &Observation) -> String {
        format!("“{}”{}", self.model.act_label(act), self.when(seen))
    }

    pub(crate) fn when(&self, seen: &Observation) -> String {
        match seen.at_ms {
            Some(at) if self.transcribed => format!(" at {}", super::time_of_day(at)),
            Some(at) => format!(" at {}", (self.clock)(at)),
            None if self.transcribed => String::new(),
            None => " (entered afterwards)".to_owned(),
        }
    }

    /// What a response was owed to.
    pub(crate) fn cause(&self, seen: &Observation) -> String {
        let when = self.when(seen);
        match &seen.what {
            What::Act(act) => format!("the contaminating fault of “{}”{when}", self.model.act_label(act)),
            What::Contamination(event) => format!("the contamination{when} ({})", event.site),
            What::Condition(id) => format!("“{}”{when}", self.model.procedure().condition_text(id)),
            What::NotSeen(id) | What::TeamError(id) => format!("“{id}”{when}"),
        }
    }
}

/// Another act that stood on the wrong side.
pub(crate) struct Reversal {
    pub(crate) act: String,
    /// It should have come first and came later; else it should have come later and came first.
    pub(crate) should_come_first: bool,
}

pub(crate) fn out_of_order(act: &str, others: &[Reversal], why: Option<&str>) -> String {
    let list = |first: bool| {
        let acts: Vec<&str> =
            others.iter().filter(|o| o.should_come_first == first).map(|o| o.act.as_str()).collect();
        joined(&acts)
    };
    let (first, later) = (list(true), list(false));
    let said = match (first.as_str(), later.as_str()) {
        ("", later) => format!("{act} came too late: it should have come before {later}"),
        (first, "") => format!("{act} came too early: {first} should have come first"),
        (first, later) => {
            format!("{act} came out of order: {first} should have come first, and {later} only afterwards")
        }
    };
    with_reason(&said, why)
}

fn joined(acts: &[&str]) -> String {
    match acts {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        all => all.concat(),
    }
}

pub(crate) fn not_immediate(act: &str, first: &str, between: &str, why: Option<&str>) -> String {
    let said = format!("{act} should have followed directly on {first}, but {between} came between");
    with_importance(&said, why)
}

/// What is known of a step that was not done.
pub(crate) struct Missed<'a> {
    /// The first act that was seen of those that come after it.
    pub(crate) before: Option<&'a str>,
    /// The act that came too late for it.
    pub(crate) late: Option<&'a str>,
    pub(crate) why: Option<&'a str>,
}

pub(crate) fn missed(model: &Model, step: &Step, missed: Missed<'_>) -> String {
    let acts = acts_of(model, step);
    let step = first_sentence(&step.text);
    match (missed.before, missed.late) {
        (Some(before), Some(late)) => {
            let said = format!(
                "{late} came too late for the step “{step}”: {acts} should have come before {before}"
            );
            with_reason(&said, missed.why)
        }
        (Some(before), None) => {
            let said =
                format!("{acts} was not done for the step “{step}”: it should have come before {before}");
            with_reason(&said, missed.why)
        }
        (None, _) => with_importance(&format!("{acts} was not done for the step “{step}”"), missed.why),
    }
}

/// `counted` says that the same act counts as a step at another time.
pub(crate) fn extra(act: &str, counted: bool) -> String {
    if counted {
        format!("{act} was done once more than the procedure asks for.")
    } else {
        format!("No step called for {act}.")
    }
}

/// Told with the step's own text: several steps may ask for the act that ends the ban.
pub(crate) fn forbidden(act: &str, until: Option<&Step>, why: Option<&str>) -> String {
    let said = match until {
        Some(step) => {
            format!("{act} must not happen before the step “{}” is done", first_sentence(&step.text))
        }
        None => format!("{act} must not happen"),
    };
    with_reason(&said, why)
}

pub(crate) fn too_short(act: &str, timed: bool, most_ms: i64, least_ms: i64) -> String {
    let at_most = if timed { "" } else { "at most " };
    // Rounded down, so that a rub just short of the least never reads as if it had been long enough.
    format!("{act} took {at_most}{} s; it needs at least {} s.", most_ms / 1000, least_ms / 1000)
}

pub(crate) fn prompted(act: &str, step: Option<&Step>) -> String {
    let why = step.filter(|step| step.critical).and_then(|step| step.why.as_deref());
    with_importance(&format!("{act} had to be prompted"), why)
}

pub(crate) fn before_the_call(act: &str) -> String {
    format!("{act} came before it was called; wait for each call.")
}

pub(crate) fn wrong_call(act: &str) -> String {
    format!("{act} followed a wrong call: that is the observer's, not the wearer's.")
}

/// `dealt_with` is there where the fault carries contamination: whether its response followed at once.
pub(crate) fn technique(act: &str, fault: &str, dealt_with: Option<bool>) -> String {
    let said = format!("{act}: {}", within(fault));
    match dealt_with {
        None => ended(&said),
        Some(true) => {
            format!("{said}, which carries contamination to the person, and what must follow did follow.")
        }
        Some(false) => {
            format!("{said}, which carries contamination to the person and was not dealt with at once.")
        }
    }
}

/// `dealt_with` is there where the procedure asks for a response: whether it followed at once.
pub(crate) fn contamination(
    told: &Told<'_>,
    event: &Contamination,
    seen: &Observation,
    dealt_with: Option<bool>,
) -> String {
    let by = match event.recognised_by {
        Some(By::Wearer) => Some("the wearer"),
        Some(By::Assistant) => Some("the assistant"),
        Some(By::Observer) => Some("the observer"),
        None => None,
    };
    let said = match (by, dealt_with) {
        (Some(by), None) => format!("recognised by {by}"),
        (Some(by), Some(true)) => format!("recognised by {by}, and what must follow did follow"),
        (Some(by), Some(false)) => format!("recognised by {by}, but not dealt with at once"),
        (None, None) => "nobody recognised it at the time".to_owned(),
        (None, Some(true)) => {
            "nobody recognised it at the time, though what followed dealt with it".to_owned()
        }
        (None, Some(false)) => {
            "nobody recognised it at the time, and it was not dealt with at once".to_owned()
        }
    };
    let (site, from) = (event.site.trim(), event.from.trim());
    format!("Contamination{} ({site}, from {from}): {said}.", told.when(seen))
}

/// `missing` is everything that was still owed when something else came, in turn.
pub(crate) fn response_missed(
    cause: &str,
    missing: &str,
    between: Option<&str>,
    why: Option<&str>,
) -> String {
    let owed = owed(cause, missing, why);
    match between {
        Some(between) => format!("{owed}, but {between} came instead."),
        None => format!("{owed}, and never did."),
    }
}

pub(crate) fn response_late(cause: &str, answer: &str, between: &str, why: Option<&str>) -> String {
    format!("{}, but {between} came first.", owed(cause, answer, why))
}

fn owed(cause: &str, answer: &str, why: Option<&str>) -> String {
    let owed = with_reason(&format!("After {cause}, {answer} should have come next"), why);
    within(&owed).to_owned()
}
