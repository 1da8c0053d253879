//! Words for what is said around an act: notes, contamination, the team, how the form is held.

use competency::{log::Call, procedure::By};

use super::{by, counted, door::OR, listed};

/// Asks which of several acts was seen.
pub(crate) fn which(labels: &[String]) -> String {
    format!("{}: choose which was seen.", listed(labels, OR))
}

/// What an undo takes back, under the word itself.
pub(crate) mod undone {
    pub(crate) const PROMPT: &str = "prompt";
    pub(crate) const FAULT: &str = "technique fault";
    pub(crate) const CALL: &str = "call";
    pub(crate) const NOTE: &str = "note";
    pub(crate) const TIMER: &str = "end of timing";
    pub(crate) const CORRECTION: &str = "correction";
    pub(crate) const LINE: &str = "last line";
}

pub(crate) mod note {
    pub(crate) const NAME: &str = "Note";
    pub(crate) const OWN: &str = "In your own words, no patient data";
    pub(crate) const KEEP: &str = "Keep the note";
    pub(crate) const EMPTY: &str = "Write something first, or choose one.";

    /// What is often worth a note; all of it is talked about afterwards.
    pub(crate) const READY: [&str; 4] = ["Hesitated", "Rushed", "Did it well", "Talk about it afterwards"];
}

pub(crate) mod correct {
    pub(crate) const NAME: &str = "Was another act";
    pub(crate) const ASK: &str = "What was it? Its time stays.";
}

pub(crate) mod body {
    pub(crate) const FRONT: &str = "Front";
    pub(crate) const BACK: &str = "Behind";
    pub(crate) const LIST: &str = "List";
    pub(crate) const FIGURE: &str = "Figure";
    pub(crate) const HAIR: &str = "Hair or head";
    pub(crate) const EYES: &str = "Eyes, nose or mouth";
    pub(crate) const FACE: &str = "Face or neck";
    pub(crate) const ARM_RIGHT: &str = "Right arm";
    pub(crate) const ARM_LEFT: &str = "Left arm";
    pub(crate) const FOREARM_RIGHT: &str = "Right forearm";
    pub(crate) const FOREARM_LEFT: &str = "Left forearm";
    pub(crate) const HAND_RIGHT: &str = "Right hand";
    pub(crate) const HAND_LEFT: &str = "Left hand";
    pub(crate) const TRUNK: &str = "Clothes, front";
    pub(crate) const LEGS: &str = "Legs or shoes";
    pub(crate) const HEAD_BEHIND: &str = "Back of the head";
    pub(crate) const NECK_BEHIND: &str = "Back of the neck";
    pub(crate) const SHOULDERS_BEHIND: &str = "Shoulders, back";
    pub(crate) const TRUNK_BEHIND: &str = "Clothes, back";
    pub(crate) const LEGS_BEHIND: &str = "Legs or shoes, back";
}

/// After a contamination event. First aid of this kind is common practice, from memory; the facility's
/// exposure plan decides.
pub(crate) mod exposure {
    pub(crate) const TITLE: &str = "What to do now";
    pub(crate) const STOP: &str = "Everybody stops. Deal with it before the next step.";
    pub(crate) const SKIN: &str = "Skin: wash with soap and water, or rub, as your plan says.";
    pub(crate) const EYES: &str = "Eyes, nose, mouth: leave the area safely and rinse with water.";
    pub(crate) const PLAN: &str = "Follow the facility's exposure plan at once.";
    pub(crate) const OCCUPATIONAL: &str =
        "Tell occupational health today. They decide what follows, not this form.";

    pub(crate) fn then(acts: &str) -> String {
        format!("Must come next: {acts}.")
    }
}

pub(crate) mod team {
    pub(crate) const NAME: &str = "Observer's or assistant's error";
    pub(crate) const WHO: &str = "Whose own error?";
    pub(crate) const WHAT: &str = "What went wrong?";

    /// What goes wrong in a team; common practice, no source.
    pub(crate) const READY: [&str; 6] = [
        "Read the wrong step",
        "Spoke up too late",
        "Looked away",
        "Touched the person observed",
        "Stood too close",
        "Handed over the wrong item",
    ];
}

pub(crate) mod hand_over {
    pub(crate) const NAME: &str = "Hand over";
    pub(crate) const ASK: &str = "Who observes from now on? They will sign.";
    pub(crate) const NOBODY: &str = "Nobody else here is appointed as an observer.";

    pub(crate) fn line(to: &str) -> String {
        format!("Handed over to {to}")
    }
}

pub(crate) mod held {
    pub(crate) const MORE: &str = "More";
    pub(crate) const LOCK: &str = "Lock to wipe";
    pub(crate) const LOCKED: &str = "Locked for wiping";
    pub(crate) const LOCKED_HINT: &str =
        "The time goes on, and nothing can be tapped. Hold the button for two seconds to unlock.";
    pub(crate) const UNLOCK: &str = "Hold to unlock";
    pub(crate) const SETTINGS: &str = "How the form is held";
    pub(crate) const HAND: &str = "Log beside the";
    pub(crate) const RIGHT: &str = "Right hand";
    pub(crate) const LEFT: &str = "Left hand";
    pub(crate) const TEXT: &str = "Size of the text";
    pub(crate) const LIGHT: &str = "Surroundings";
    pub(crate) const AS_DEVICE: &str = "As the device";
    pub(crate) const BRIGHT: &str = "Bright";
    pub(crate) const DIM: &str = "Dim";
    pub(crate) const KEYS: &str =
        "Keys: Ctrl+Enter confirms the next act, Ctrl+Z undoes, Ctrl+E ends or stops.";

    pub(crate) fn percent(percent: u32) -> String {
        format!("{percent} %")
    }
}

/// An error of the team in one line of the log.
pub(crate) fn team_error_line(who: By, what: &str) -> String {
    format!("{}'s own error: {what}", by(who))
}

/// What an act lacked of its least duration, while it can still be mended.
pub(crate) fn short(act: &str, lasted_ms: i64, least: u32) -> String {
    let lasted = match lasted_ms.max(0) / 1000 {
        1 => "1 second".to_owned(),
        seconds => format!("{seconds} seconds"),
    };
    format!("{act} lasted {lasted} of {least}.")
}

pub(crate) const TOO_SHORT: &str = "Too short";
pub(crate) const GOES_ON: &str = "Not ended yet";

const LONG_ENOUGH: &str = "long enough";

/// A timed act has reached its least duration.
pub(crate) fn long_enough(act: &str) -> String {
    format!("{act}: {LONG_ENOUGH}")
}

/// How much is left of a running timer.
pub(crate) fn left(ms: i64, least: u32) -> String {
    let left = (i64::from(least) * 1000 - ms.max(0)).max(0);
    // Rounded up: `0 s to go` is said only once there is nothing to go.
    match (left + 999) / 1000 {
        0 => LONG_ENOUGH.to_owned(),
        seconds => format!("{seconds} s to go"),
    }
}

/// Where a long demonstration stands: what is done, of how much, and what is left.
pub(crate) fn where_we_are(done: usize, of: usize) -> String {
    format!("{done} of {} · {} left", counted(of, "step", "steps"), of.saturating_sub(done))
}

/// Over the sections of a guided demonstration.
pub(crate) const WAY: &str = "Where we are";

/// The number of the step that is read aloud.
pub(crate) fn step_of(number: usize, of: usize) -> String {
    format!("Step {number} of {of}")
}

/// A line of an act with what was said about it since.
pub(crate) fn amended(line: String, called: Option<Call>, corrected: bool, notes: usize) -> String {
    let mut parts = vec![line];
    parts.extend(called.map(|called| call(called).to_owned()));
    if corrected {
        parts.push("corrected".to_owned());
    }
    if notes > 0 {
        parts.push(counted(notes, "note", "notes"));
    }
    parts.join(", ")
}

/// How an act stood to the call.
fn call(call: Call) -> &'static str {
    match call {
        Call::Before => "before the call",
        Call::Wrong => "after a wrong call",
    }
}

pub(crate) mod second {
    pub(crate) const TITLE: &str = "Second observer";
    pub(crate) const LEAD: &str = "Somebody else may log the same demonstration on their own, from a replay: play it back \
        and tap along. Both logs are kept to be compared; the second one grants nothing.";
    pub(crate) const WHO: &str = "Who logs it";
    pub(crate) const GO: &str = "Log it from the replay";
    pub(crate) const NOT_ENDED: &str = "Not ended: go on with it";
    pub(crate) const REPLAY: &str = "Second log";

    pub(crate) fn log(observer: &str, on: &str, observations: usize) -> String {
        format!("{observer}, {on}: {}", super::counted(observations, "observation", "observations"))
    }
}

pub(crate) mod decision {
    pub(crate) const TITLE: &str = "Your decision";
    pub(crate) const LEAD: &str = "You may decide stricter than the rule, never milder. Your reason stands on the first page of the record.";
    pub(crate) const WHY: &str = "Why not yet competent";
    pub(crate) const WHY_MISSING: &str = "Say why; the person observed will read it.";
    pub(crate) const DECIDE: &str = "Decide: not yet competent";
    pub(crate) const TAKE_BACK: &str = "Take the decision back";
    pub(crate) const COACHING: &str = "Coaching, and watched again";
    pub(crate) const WHAT: &str = "What will be coached";
    pub(crate) const WHAT_MISSING: &str = "Say what will be coached.";
    pub(crate) const AGAIN: &str = "Watched again by";
    pub(crate) const AGAIN_HINT: &str = "Year-month-day, such as 2026-12-02; may stay empty.";
    pub(crate) const AGAIN_WRONG: &str = "This is no date; write it as 2026-12-02.";
    pub(crate) const PLAN: &str = "Keep the plan";

    pub(crate) fn decided(rule: &str, why: &str) -> String {
        format!("By the rule it is {rule}. You decided stricter, because: {why}")
    }

    pub(crate) fn planned(what: &str, again: Option<&str>) -> String {
        match again {
            Some(again) => format!("{what} To be watched again by {again}."),
            None => what.to_owned(),
        }
    }
}

pub(crate) mod again {
    pub(crate) const TITLE: &str = "To be watched again";

    pub(crate) fn by(date: &str) -> String {
        format!("by {date}")
    }
}

pub(crate) mod changed {
    pub(crate) const TITLE: &str = "Changed after the answers";
    pub(crate) const WHY: &str = "Why an answer is changed now";
    pub(crate) const WHY_HINT: &str = "Everything had its answer. What changes from here on stands on the first page of the record, with this reason.";
    pub(crate) const WHY_MISSING: &str = "Say why first.";
    pub(crate) const NO_REASON: &str = "no reason given yet";
}

/// A line of the log with its time, as it is told elsewhere.
pub(crate) fn at(when: &str, text: &str) -> String {
    format!("{when} {text}")
}
