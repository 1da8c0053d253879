//! Words of the workbench, where an educator makes a published procedure the facility's own.

use super::counted;

pub(crate) const TITLE: &str = "Workbench";
pub(crate) const DRAFTS: &str = "Being worked on";
pub(crate) const NO_DRAFT: &str = "Nothing is being worked on. Open a procedure and choose what to make of it, or bring \
    a procedure file.";
pub(crate) const BRING: &str = "Bring a procedure file";
pub(crate) const BRING_HINT: &str = "A JSON file as Doorside saves it. It becomes a draft; nothing is in force until it \
    is published.";
pub(crate) const NEXT_VERSION: &str = "Work on the next version";
pub(crate) const COPY: &str = "Make one of our own from it";
pub(crate) const SAVE_FILE: &str = "Save as a file";
pub(crate) const SAVE_FORM: &str = "Save the paper form";
pub(crate) const WORKING: &str = "Making the draft";
pub(crate) const PARTS: &str = "Parts of the draft";
pub(crate) const HEAD: &str = "Head";
pub(crate) const STEPS: &str = "Steps";
pub(crate) const HAPPENINGS: &str = "Acts and events";
pub(crate) const VALUES: &str = "Facility values";
pub(crate) const TRY: &str = "Try it";
pub(crate) const PUBLISH: &str = "Check and publish";
pub(crate) const KEPT: &str = "Kept";
pub(crate) const KEEPING: &str = "Keeping";
pub(crate) const REFUSED: &str = "Not changed";
pub(crate) const SEEN: &str = "I have read it";

pub(crate) const NAME: &str = "Title";
pub(crate) const PHASE: &str = "Putting on or taking off";
pub(crate) const FAMILY: &str = "Family";
pub(crate) const FAMILY_HINT: &str = "Procedures that are accepted alternatives of one another have the same family. \
    Empty where it has none.";
pub(crate) const PRECAUTIONS: &str = "Precautions";
pub(crate) const ENSEMBLE: &str = "Equipment, one item a line";
pub(crate) const VALIDATES: &str = "A validation counts when observed this way";
pub(crate) const SOURCES: &str = "Sources";
pub(crate) const SOURCE_TITLE: &str = "Title of the source";
pub(crate) const PUBLISHER: &str = "Publisher";
pub(crate) const YEAR: &str = "Year";
pub(crate) const LOCATOR: &str = "Where in it, or where to find it";
pub(crate) const FOOTING: &str = "How it was read";
pub(crate) const ADD_SOURCE: &str = "Add a source";
pub(crate) const NEW_SOURCE: &str = "Local policy";

pub(crate) const CHOOSE_STEP: &str = "Choose a step to work on it.";
pub(crate) const ADD_STEP: &str = "Add a step";
pub(crate) const NEW_STEP: &str = "New step";
pub(crate) const EARLIER: &str = "Print it earlier";
pub(crate) const LATER: &str = "Print it later";
pub(crate) const REMOVE_STEP: &str = "Take the step out";
pub(crate) const STEP_TEXT: &str = "The step in one sentence, as it is read aloud";
pub(crate) const SECTION: &str = "Section";
pub(crate) const STEP_ACTS: &str = "Any one of these acts satisfies it";
pub(crate) const NEW_ACT: &str = "A new act";
pub(crate) const ADD_ACT: &str = "Add the act";
pub(crate) const CRITICAL: &str = "Critical: it must be done";
pub(crate) const OPTIONAL: &str = "It may be left out freely";
pub(crate) const DONE_BY: &str = "Done by";
pub(crate) const WHEN: &str = "Required";
pub(crate) const ALWAYS: &str = "Always";
pub(crate) const LOOK_FOR: &str = "What to look for, one point a line";
pub(crate) const WHY: &str = "Why it matters";
pub(crate) const SOURCE: &str = "Source";
pub(crate) const NO_SOURCE: &str = "None named";
pub(crate) const FAULTS: &str = "How it is done badly";
pub(crate) const FAULT: &str = "What is seen";
pub(crate) const CONTAMINATES: &str = "It contaminates";
pub(crate) const ADD_FAULT: &str = "Add a fault";
pub(crate) const NEW_FAULT: &str = "New fault";
pub(crate) const REMOVE: &str = "Take out";
pub(crate) const BEFORE: &str = "What must come before it";
pub(crate) const BEFORE_WHY: &str =
    "Tick only what is dangerous or wrong the other way round; all else stays free.";
pub(crate) const DANGER: &str = "The other way round exposes the person";
pub(crate) const ORDER_WHY: &str = "Why this order";
pub(crate) const AT_ONCE: &str = "It must follow at once after";
pub(crate) const NOTHING: &str = "Nothing in particular";
pub(crate) const NO_OTHER_STEP: &str = "There is no other step yet.";

pub(crate) const ACTS: &str = "Acts that the observer can tap";
pub(crate) const ACT: &str = "Act, as the observer taps it";
pub(crate) const FREE: &str = "May be repeated freely";
pub(crate) const FORBIDDEN: &str = "Must not happen";
pub(crate) const UNTIL: &str = "Until this step is done";
pub(crate) const THROUGHOUT: &str = "Throughout";
pub(crate) const CONDITIONS: &str = "What may hold or happen";
pub(crate) const CONDITION: &str = "The statement";
pub(crate) const ASK: &str = "When it is asked";
pub(crate) const AT_START: &str = "Before the first act";
pub(crate) const ANYTIME: &str = "It may happen at any time";
pub(crate) const ADD_CONDITION: &str = "Add a condition";
pub(crate) const NEW_CONDITION: &str = "New condition";
pub(crate) const RESPONSE: &str = "What must come next when it happens";
pub(crate) const RESPONSE_HINT: &str =
    "In turn; where several acts stand in one line, any one of them will do.";
pub(crate) const FIRST: &str = "Add what must come first";
pub(crate) const THEN: &str = "Add what must come then";
pub(crate) const OR_ELSE: &str = "Add another that will do";
pub(crate) const RESPONSE_CRITICAL: &str = "Leaving the response out is critical";
pub(crate) const CONTAMINATION: &str = "What must come next after a contamination event";

pub(crate) const VALUES_WHY: &str = "Guidance leaves these to the facility. They are versioned with the procedure, and \
    shown wherever they are used. No critical finding is ever allowed; how many others are, and whether a score is \
    asked for, is yours to set. Empty where no score is asked for.";
pub(crate) const ELSEWHERE: &str = "The same in other procedures";
pub(crate) const ELSEWHERE_WHY: &str = "A product, a respirator model or a contact time that is entered here is put into \
    the next versions of other procedures with the same acts. Each of them is then looked over and published for itself.";
pub(crate) const FIND_ELSEWHERE: &str = "Find where else they are used";
pub(crate) const LOOKING: &str = "Looking through the procedures";
pub(crate) const NOWHERE_ELSE: &str = "No other procedure in force would change.";
pub(crate) const PUT_ELSEWHERE: &str = "Put them into the next versions";
pub(crate) const PUT_DONE: &str = "These are being worked on now; look each over and publish it:";
pub(crate) const MONTHS: &str = "Months a validation holds";
pub(crate) const MOST_OTHER: &str = "Most other findings";
pub(crate) const LEAST_PERCENT: &str = "Least score in percent";
pub(crate) const ACCEPTS_FAMILY: &str =
    "The other sequences of its family are accepted too; the best fit is kept";
pub(crate) const CONTACT_TIMES: &str = "Contact times, from the label of the product";
pub(crate) const PRODUCT: &str = "Product";
pub(crate) const SECONDS: &str = "Seconds";
pub(crate) const GLOVES: &str = "Glove products";
pub(crate) const RESPIRATORS: &str = "Respirator models";
pub(crate) const PRODUCTS_HINT: &str = "One a line.";
pub(crate) const WHERE_USED: &str = "Shown beside these acts";
pub(crate) const ADD_BESIDE: &str = "Add an act";

pub(crate) const TRY_WHY: &str = "Tap the acts as an observer would, and see what scoring makes of them: ten seconds \
    apart, and each as long as the procedure asks for. Nothing of it is kept.";
pub(crate) const TRY_MODE: &str = "Observed this way";
pub(crate) const TRY_EVENTS: &str = "What may happen at any time";
pub(crate) const TRY_CONTAMINATION: &str = "Contamination seen";
pub(crate) const TRY_SITE: &str = "hands";
pub(crate) const TRY_FROM: &str = "equipment";
pub(crate) const TRY_LAST: &str = "About the last act";
pub(crate) const TAPPED: &str = "What was tapped";
pub(crate) const TRY_FLAWED: &str =
    "The draft has flaws; mend them under \u{201c}Check and publish\u{201d} first, then try it.";
pub(crate) const START_OVER: &str = "Start over";
pub(crate) const TAKE_BACK: &str = "Take back";
pub(crate) const NO_TAP: &str = "No act yet.";
pub(crate) const SCORE: &str = "What scoring says";

pub(crate) const FLAWS: &str = "To mend before it can be published";
pub(crate) const NO_FLAW: &str = "No flaw was found.";
pub(crate) const ODD: &str = "Legal, but worth a second look";
pub(crate) const CHANGES: &str = "What changes for people";
pub(crate) const FIRST_VERSION: &str = "This procedure was never published; everything in it is new.";
pub(crate) const NO_CHANGE: &str = "Nothing differs from the published version.";
pub(crate) const DECIDE: &str = "Must people be validated again?";
pub(crate) const PROPOSED: &str = "Proposed";
pub(crate) const HOLDS_ON: &str = "No, earlier validations hold on";
pub(crate) const HOLDS_ON_HINT: &str =
    "People are told what changed, and show it at their next re-validation.";
pub(crate) const AGAIN: &str = "Yes, by a date";
pub(crate) const AGAIN_HINT: &str = "Earlier validations end on that date at the latest.";
pub(crate) const AGAIN_BY: &str = "Earlier validations hold through";
pub(crate) const AGAIN_BY_HINT: &str = "Year-month-day, such as 2027-02-28.";
pub(crate) const AGAIN_WHY: &str = "Why, as people will read it";
pub(crate) const APPROVED_BY: &str = "Who approves it";
pub(crate) const APPROVER_SEARCH: &str = "Find the person by name or staff number";
pub(crate) const PUBLISH_GO: &str = "Publish";
pub(crate) const PUBLISH_WHY: &str = "It is in force from today on, and this version never changes again.";
pub(crate) const PUBLISHING: &str = "Publishing";
pub(crate) const DROP: &str = "Throw the draft away";
pub(crate) const DROP_SURE: &str = "Throw it away for good";
pub(crate) const WRONG_DATE: &str = "Enter a date as year-month-day.";
pub(crate) const CHOOSE_APPROVER: &str = "Choose who approves it.";
pub(crate) const SAY_WHY: &str = "Say why, in a sentence.";

pub(crate) const WAS: &str = "Was";
pub(crate) const IS: &str = "Now";
pub(crate) const NO_WORDS: &str = "nothing";
pub(crate) const PASSPHRASE_WHY: &str = "Whoever opens the facility's authority acts for it: the approver, or somebody in \
    their presence.";

pub(crate) const VERSIONS: &str = "Versions";
pub(crate) const WITH_PROGRAM: &str = "came with the program";
pub(crate) const COMPARE: &str = "Compare with the version before";
pub(crate) const RETIRE: &str = "Retire it";
pub(crate) const RETIRE_WHY: &str = "Why it is retired";
pub(crate) const RETIRE_HINT: &str = "It can no longer be demonstrated and is required of nobody; what was demonstrated \
    stays.";
pub(crate) const RETIRE_GO: &str = "Retire it from today on";

pub(crate) fn kept(when: &str) -> String {
    format!("Last kept {when}")
}

pub(crate) fn becomes(version: &str) -> String {
    format!("Becomes version {version}")
}

pub(crate) fn unchanged(version: &str) -> String {
    format!("Nothing differs from version {version} yet")
}

pub(crate) fn implied(through: &str) -> String {
    format!("Follows already from: {through}")
}

pub(crate) fn take_out(act: &str) -> String {
    format!("Take out {act}")
}

pub(crate) fn least_seconds(act: &str) -> String {
    format!("Least seconds: {act}")
}

pub(crate) fn retired(date: &str, why: &str) -> String {
    format!("Retired on {date}: {why}")
}

pub(crate) fn approved(name: &str, date: &str) -> String {
    format!("approved by {name} on {date}")
}

pub(crate) fn revalidate(date: &str, why: &str) -> String {
    format!("earlier validations hold through {date}: {why}")
}

pub(crate) fn flaws(count: usize) -> String {
    counted(count, "flaw", "flaws")
}

pub(crate) fn too_large(megabytes: usize) -> String {
    format!(
        "The file has {megabytes} megabytes, and a procedure file has a few thousand characters; choose the file that \
         Doorside saved. Nothing was changed."
    )
}

/// Above what changed between two versions.
pub(crate) fn changed(old: &str, new: &str) -> String {
    format!("What changed from version {old} to version {new}")
}

pub(crate) fn published(title: &str, version: &str) -> String {
    format!("\u{201c}{title}\u{201d}, version {version}, is published and in force from today on.")
}

pub(crate) fn saved(path: &str) -> String {
    format!("Saved as {path}")
}
