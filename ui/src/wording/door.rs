//! Words of the demonstration itself: start, live form, steps without a tap.

use competency::{live::ActState, procedure::By};

use super::{by, counted, listed};

pub(crate) const OR: &str = "or";
pub(crate) const AND: &str = "and";

/// A contamination event in one line.
pub(crate) fn contamination_line(site: &str, from: &str) -> String {
    format!("Contamination: {site}, from {from}")
}

pub(crate) mod start {
    pub(crate) const MISSING_BEFORE: &str = "Missing before it is put on";
    pub(crate) const STATE_IT: &str = "State a fit test, a medical clearance or what else is known";
    pub(crate) const PAPER: &str = "Logged now, or from a paper form";
    pub(crate) const FROM_PAPER: &str = "Enter it from a paper form";
    pub(crate) const FROM_PAPER_WHY: &str = "Tap the acts in the order in which the form has them; add the times that \
        are written on it. The record says that it was transcribed, and counts from the form's date.";
    pub(crate) const FORM_DATE: &str = "Date on the form";
    pub(crate) const FORM_DATE_HINT: &str = "Year-month-day, such as 2026-11-25.";
    pub(crate) const NOT_FROM_PAPER: &str = "Log it now instead";
    pub(crate) const NAVIGATION: &str = "Start";
    pub(crate) const TITLE: &str = "Start a demonstration";
    pub(crate) const PERSON: &str = "Who is observed";
    pub(crate) const PERSON_SEARCH: &str = "Find the person by name or staff number";
    pub(crate) const PROCEDURE: &str = "Which procedure";
    pub(crate) const PROCEDURE_SEARCH: &str = "Find a procedure";
    pub(crate) const NO_PROCEDURE: &str = "No procedure matches. Look under Procedures for what is in force.";
    pub(crate) const PURPOSE: &str = "What it is for";
    pub(crate) const PRACTICE: &str = "It is scored and sealed, and grants nothing.";
    pub(crate) const VALIDATION: &str = "A competent outcome grants a validation.";
    pub(crate) const LIVE_CARE: &str = "Observed on the ward. It is scored and sealed, and grants nothing.";
    pub(crate) const MODE: &str = "How it is observed";
    pub(crate) const GUIDED: &str =
        "You read every step aloud and confirm it. A prompt is the method, never a fault.";
    pub(crate) const ASSESSED: &str = "The person works unaided. A prompt is counted.";
    pub(crate) const OBSERVER: &str = "Who observes";
    pub(crate) const OBSERVER_SEARCH: &str = "Find the observer";
    pub(crate) const ASSISTANT: &str = "Who assists, if anyone";
    pub(crate) const ASSISTANT_SEARCH: &str = "Find the assistant";
    pub(crate) const WITH_ASSISTANT: &str = "Somebody assists";
    pub(crate) const NEEDS_ASSISTANT: &str = "Some steps of this procedure are the assistant's.";
    pub(crate) const WORN: &str = "What is worn";
    pub(crate) const WORN_HINT: &str = "Mark what holds now. Steps that do not apply are left out.";
    pub(crate) const ANOTHER: &str = "Choose another";
    pub(crate) const GO: &str = "Begin";
    pub(crate) const GOING: &str = "Opening the journal";
    pub(crate) const NO_CERTIFICATE: &str = "Is not appointed as an observer";
    pub(crate) const NOBODY_ELSE: &str = "There is nobody here to choose. Add somebody under People.";
    pub(crate) const NOBODY_OBSERVES: &str = "Nobody here can observe. Add somebody under People who is not the person observed, and appoint them.";
    pub(crate) const TO_PEOPLE: &str = "Go to People";
    pub(crate) const LOCKED: &str = "Cannot be changed once it has begun.";

    pub(crate) fn more(hidden: usize) -> String {
        format!("{hidden} more. Type a few letters to narrow it down.")
    }

    pub(crate) fn does_not_validate(modes: &str) -> String {
        format!(
            "Observed this way it will be scored and sealed, but it grants no validation: this procedure \
             validates only when it is observed as {modes}."
        )
    }

    /// Beside the purpose, in place of what a validation grants otherwise.
    pub(crate) fn validates_only(modes: &str) -> String {
        format!("A competent outcome grants a validation only when it is observed as {modes}.")
    }

    /// What is still to be said before it can begin.
    pub(crate) fn missing(what: &[String]) -> String {
        format!("Still to choose: {}.", super::listed(what, "and"))
    }
}

pub(crate) mod live {
    /// What was seen and why it must not happen.
    pub(crate) fn forbidden(act: &str, why: Option<String>) -> String {
        match why {
            Some(why) => format!("\u{201c}{act}\u{201d}. {why}"),
            None => format!("\u{201c}{act}\u{201d}. Speak up."),
        }
    }

    pub(crate) const ELAPSED: &str = "Elapsed";
    pub(crate) const LEAVE: &str = "Leave";
    pub(crate) const LEAVE_NAME: &str = "Leave; everything logged is kept and can be gone on with";
    pub(crate) const HOLD: &str = "Hold";
    pub(crate) const RESUME: &str = "Resume";
    pub(crate) const STOP: &str = "Stop";
    pub(crate) const END: &str = "End or stop";
    pub(crate) const ON_HOLD: &str = "On hold";
    pub(crate) const ON_HOLD_HINT: &str = "The time goes on. Acts can still be logged.";
    pub(crate) const SECTIONS: &str = "Sections";
    pub(crate) const ANY_TIME: &str = "At any time";
    pub(crate) const WORD_NOW: &str = "Now";
    pub(crate) const ALL_DONE: &str = "Every step has a tap";
    pub(crate) const NO_TAP_YET: &str = "No tap yet";
    pub(crate) const ALL_DONE_HINT: &str = "End the demonstration once the person has finished.";
    pub(crate) const TOO_EARLY: &str = "Too early";
    pub(crate) const MUST_NOT_HAPPEN: &str = "Must not happen";
    pub(crate) const PROMPTED: &str = "Prompted";
    pub(crate) const DONE_NOT_LOGGED: &str = "Done, not logged";
    pub(crate) const NOT_SEEN: &str = "Not seen";
    pub(crate) const BACK: &str = "Back";
    pub(crate) const UNDO: &str = "Undo";
    pub(crate) const BRING_BACK: &str = "Bring back";
    pub(crate) const FAULT: &str = "Technique fault";
    pub(crate) const NO_FAULTS: &str = "This line has no technique faults to choose from.";
    pub(crate) const CONTAMINATES: &str = "contaminates";
    pub(crate) const BEFORE_CALL: &str = "Before the call";
    pub(crate) const WRONG_CALL: &str = "I called wrongly";
    pub(crate) const LAST: &str = "Last line";
    pub(crate) const NOTHING_YET: &str = "Nothing logged yet";
    pub(crate) const FIRST_TAP: &str = "Tap an act as you see it.";
    pub(crate) const LOG: &str = "Log";
    pub(crate) const CONTAMINATION: &str = "Contamination";
    pub(crate) const CONTAMINATION_WHERE: &str = "Contamination: where on the body?";
    pub(crate) const FROM: &str = "From what?";
    pub(crate) const NOTICED: &str = "Who noticed it?";
    pub(crate) const NOBODY: &str = "Nobody at the time";
    pub(crate) const SURFACE: &str = "A surface";
    pub(crate) const HOW_ENDED: &str = "How does it end?";
    pub(crate) const SAVING: &str = "Saving";
    pub(crate) const SAVED: &str = "Saved";
    pub(crate) const NOT_SAVED: &str = "Not saved yet. Trying again.";
    pub(crate) const CANNOT_SAVE: &str = "This tap was refused.";
    pub(crate) const UNSAVED_ELSEWHERE: &str = "Taps of another demonstration are not saved yet.";
    pub(crate) const UNSAVED_ELSEWHERE_HINT: &str =
        "They are being sent again. Go back to that demonstration first, so that none of them is lost.";
    pub(crate) const UNSAVED: &str = "Taps are not saved yet, and would be missing here.";
    pub(crate) const UNSAVED_HINT: &str = "They are being sent again, and this goes on as soon as they are saved. What keeps them is said in the form.";
    pub(crate) const TO_UNSAVED: &str = "Go to that demonstration";
    pub(crate) const TRY_NOW: &str = "Try now";
    pub(crate) const SET_ASIDE: &str = "Set it aside";
    pub(crate) const ALL_ACTS: &str = "All acts";
    pub(crate) const NEXT_STEP: &str = "Next step";
    pub(crate) const READ_ALOUD: &str = "Read aloud";
    pub(crate) const STEP_NOT_SEEN: &str = "Could not see it";
    pub(crate) const SEEN_DONE: &str = "Seen done";
    pub(crate) const TIMER_END: &str = "It has ended";
    pub(crate) const EXPOSURE: &str =
        "After a suspected exposure, follow the facility's exposure plan at once.";
    pub(crate) const TAKEN_BACK: &str = "Taken back";
    pub(crate) const HAPPENED: &str = "If it happens";
    pub(crate) const TIMING: &str = "Timing";
    pub(crate) const NEXT_MUST_COME: &str = "Must come next";
}

/// The word of an act's mark.
pub(crate) fn mark(state: ActState) -> &'static str {
    match state {
        ActState::MayCome => "May come now",
        ActState::Skipped => "Skipped",
        ActState::NotYet => "Not yet",
        ActState::Done => "Done",
        ActState::Free => "Any time",
        ActState::Forbidden => "Forbidden",
        ActState::Allowed => "Allowed now",
        ActState::NotCalledFor => "Not needed",
    }
}

/// In place of a time, on a tile.
pub(crate) const LATE: &str = "late";

/// An act's mark in the few letters a tile has room for: the word, when it was last seen, how often.
pub(crate) fn tile(word: &str, last: Option<&str>, times: usize, too_early: bool) -> String {
    let word = if too_early { live::TOO_EARLY } else { word };
    match (last, times) {
        (None, _) | (_, 0) | (Some(""), 1) => word.to_owned(),
        (Some(""), _) => format!("{word} ×{times}"),
        (Some(when), 1) => format!("{word} {when}"),
        (Some(when), _) => format!("{word} {when} ×{times}"),
    }
}

/// A running timer: `12 s of 20 s`.
pub(crate) fn running(ms: i64, least: u32) -> String {
    format!("{} s of {least} s", ms.max(0) / 1000)
}

/// How much of a section is done.
pub(crate) fn section_done(done: usize, of: usize) -> String {
    format!("{done} of {of}")
}

/// Taps that are not durable yet.
pub(crate) fn waiting(taps: usize) -> String {
    format!("{} to save", counted(taps, "tap", "taps"))
}

/// The mark of an act that is somebody else's to do, in the few letters a tile has room for.
pub(crate) fn by_other(who: By, state: ActState) -> String {
    match state {
        ActState::MayCome => format!("{}: now", by(who)),
        ActState::NotYet => format!("{}: not yet", by(who)),
        ActState::Skipped => format!("{}: skipped", by(who)),
        ActState::Done
        | ActState::Free
        | ActState::Forbidden
        | ActState::Allowed
        | ActState::NotCalledFor => mark(state).to_owned(),
    }
}

/// A line of the log that is an act, with what was said about it.
pub(crate) fn act_line(label: &str, prompted: bool, faults: usize, late: bool) -> String {
    let mut parts = vec![label.to_owned()];
    if late {
        parts.push("entered late".to_owned());
    }
    if prompted {
        parts.push("prompted".to_owned());
    }
    if faults > 0 {
        parts.push(counted(faults, "technique fault", "technique faults"));
    }
    parts.join(", ")
}

pub(crate) mod settle {
    pub(crate) const TITLE: &str = "No tap for these";
    pub(crate) const LEAD: &str = "Before the score, say for each what happened. What is added now is marked as \
        entered late in the record.";
    pub(crate) const NOTHING: &str = "Every step has a tap or an answer.";
    pub(crate) const DONE: &str = "It was done";
    pub(crate) const NOT_DONE: &str = "Not done";
    pub(crate) const NOT_SEEN: &str = "Could not see it";
    pub(crate) const PLACE: &str = "When it was done";
    pub(crate) const AT_END: &str = "After everything else";
    pub(crate) const CHOOSE_PLACE: &str = "Choose when";
    pub(crate) const SAY_WHEN: &str = "Say first when it was done.";
    pub(crate) const ANSWER_FIRST: &str = "Answer for every step; the review comes then.";
    pub(crate) const TO_REVIEW: &str = "See the review";
    pub(crate) const CRITICAL: &str = "Critical";
    pub(crate) const STILL_RUNNING: &str = "This demonstration has not ended.";
    pub(crate) const GO_BACK: &str = "Back to the form";
    pub(crate) const NOT_ENDED: &str = "It has not ended: go on";
    pub(crate) const ANSWERED: &str = "Answered";

    pub(crate) fn before(label: &str, when: &str) -> String {
        format!("Before: {label}, {when}")
    }

    /// Beside a step that has no tap although a later one was seen; `before` is how its place is told.
    pub(crate) fn should_have_come(before: &str) -> String {
        format!(
            "It had not been logged when the later act was. Choose \u{201c}{before}\u{201d} only if you saw it done \
             before that."
        )
    }

    pub(crate) fn left(count: usize) -> String {
        format!("{} left to answer", super::counted(count, "step", "steps"))
    }
}
