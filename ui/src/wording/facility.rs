//! Words of home, the first start, people and procedures.

use super::counted;

pub(crate) mod home {
    pub(crate) const TITLE: &str = "Today";
    pub(crate) const UNFINISHED: &str = "Not finished";
    pub(crate) const UNFINISHED_HINT: &str = "Begun and not sealed. Everything that was logged is here.";
    pub(crate) const GO_ON: &str = "Go on";
    pub(crate) const REVIEW_AND_SIGN: &str = "Review and sign";
    pub(crate) const DUE: &str = "What falls due";
    pub(crate) const NOTHING_DUE: &str = "Nothing is overdue, and nothing falls due soon.";
    pub(crate) const LACKING: &str = "Required, and not held";
    pub(crate) const LACKING_SHOW: &str = "Show who on the roster";
    pub(crate) const COUNTS: &str = "How the facility stands";
    pub(crate) const LOAD: &str = "Validations that run out, month by month";
    pub(crate) const RECORD_SHOWS: &str =
        "A record shows what was observed on one day; it does not show protection against infection.";
    pub(crate) const START: &str = "Start a demonstration";
    pub(crate) const FIRST: &str = "What to do first";
    pub(crate) const FIRST_PEOPLE: &str = "Add the people of the unit";
    pub(crate) const FIRST_PEOPLE_WHY: &str =
        "A demonstration needs a person to observe and an observer who is somebody else.";
    pub(crate) const FIRST_PROCEDURES: &str = "Read the procedures";
    pub(crate) const FIRST_PROCEDURES_WHY: &str =
        "See what each one asks for, and check the sources against your own policy before you use it.";
    pub(crate) const FIRST_START: &str = "Watch the first demonstration";
    pub(crate) const FIRST_START_WHY: &str = "Choose practice to try it: it is scored and grants nothing.";

    pub(crate) const SET_ASIDE: &str = "Put aside when the program started";
    pub(crate) const SIGN_AGAIN: &str = "Review and sign again";
    pub(crate) const ASK_AGAIN: &str = "Ask for it again";
    pub(crate) const NO_RECORD: &str = "What was being written when the device stopped";
    pub(crate) const NOT_IN_LEDGER: &str = "A signed record that the ledger does not have";
    pub(crate) const NOT_IN_LEDGER_WHY: &str = "Nothing here knows its demonstration: either the ledger lost its last \
        entries, or the file was brought from somewhere else. Keep it, run the ledger check, and hold the ledger to \
        the latest backup before anybody relies on a roster.";

    pub(crate) fn lacking(count: u32) -> String {
        super::counted(usize::try_from(count).unwrap_or(usize::MAX), "validation", "validations")
    }

    pub(crate) fn aside_record(name: &str, procedure: &str) -> String {
        format!("Record of {name}: {procedure}")
    }

    pub(crate) fn aside_second(name: &str, procedure: &str) -> String {
        format!("Second signature of {name}: {procedure}")
    }

    pub(crate) const RECORD_WHY: &str = "The device stopped after this record was signed and before it was entered, \
        so it counts for nothing. Everything that was logged is here: review it, and sign again.";
    pub(crate) const SECOND_WHY: &str = "The device stopped before this signature was entered, so it counts for \
        nothing. The record itself is sealed; ask for the signature again.";
    pub(crate) const NO_RECORD_WHY: &str = "It is not a whole record and counts for nothing. If a demonstration below \
        waits to be signed, sign it; otherwise there is nothing to do.";

    pub(crate) fn lies(path: &str) -> String {
        format!("It was not deleted: {path}")
    }

    pub(crate) fn begun(begun: &str, lines: usize, ended: bool) -> String {
        let lines = super::counted(lines, "observation", "observations");
        if ended {
            format!("Begun {begun}, {lines}. It has ended and waits to be signed.")
        } else {
            format!("Begun {begun}, {lines}. It is still running.")
        }
    }
}

pub(crate) mod create {
    pub(crate) const TITLE: &str = "Set Doorside up";
    pub(crate) const LEAD: &str = "This device has no facility yet. Choose how it begins.";
    pub(crate) const WAY: &str = "How this device begins";
    pub(crate) const WAY_CREATE: &str = "Create a facility";
    pub(crate) const WAY_CREATE_HINT: &str =
        "The first device of a hospital. It makes the authority that signs records.";
    pub(crate) const WAY_JOIN: &str = "Join a facility";
    pub(crate) const WAY_JOIN_HINT: &str =
        "Another device of the hospital has it already, and answers a request.";
    pub(crate) const WAY_RESTORE: &str = "Restore a backup";
    pub(crate) const WAY_RESTORE_HINT: &str =
        "A device was lost or is replaced, and there is a backup of it.";
    pub(crate) const CREATE_LEAD: &str =
        "Say what it is called and who observes first; everything else can be added later.";
    pub(crate) const PLACE: &str = "The facility";
    pub(crate) const NAME: &str = "Name of the facility";
    pub(crate) const UNIT: &str = "First unit";
    pub(crate) const UNIT_HINT: &str = "For example the ward where observation starts.";
    pub(crate) const OBSERVER: &str = "The first observer";
    pub(crate) const OBSERVER_WHY: &str = "Later observers are appointed from here. The first one needs evidence from \
        outside, such as a training certificate with its date.";
    pub(crate) const OBSERVER_NAME: &str = "Name";
    pub(crate) const OBSERVER_NUMBER: &str = "Staff number";
    pub(crate) const OBSERVER_ROLE: &str = "Role";
    pub(crate) const EVIDENCE: &str = "Evidence from outside";
    pub(crate) const EVIDENCE_HINT: &str = "What shows that this person may observe: course, issuer, date.";
    pub(crate) const SECRETS: &str = "Passphrase and PIN";
    pub(crate) const SECRETS_WHY: &str = "Nobody can look these up or set them back. Keep the passphrase where the facility keeps such things.";
    pub(crate) const PASSPHRASE: &str = "Passphrase of the facility's authority";
    pub(crate) const PASSPHRASE_AGAIN: &str = "The passphrase once more";
    pub(crate) const PASSPHRASE_DIFFERS: &str = "The two passphrases differ.";
    pub(crate) const PASSPHRASE_HINT: &str =
        "Needed to appoint observers. Twelve characters or more; several words are best.";
    pub(crate) const PIN: &str = "The observer's PIN";
    pub(crate) const PIN_HINT: &str =
        "Six digits or more, not one repeated or counted up or down. It signs records.";
    pub(crate) const PIN_AGAIN: &str = "The PIN once more";
    pub(crate) const PIN_DIFFERS: &str = "The two PINs differ.";
    pub(crate) const MISSING: &str = "Fill this in.";
    pub(crate) const GO: &str = "Create the facility";
    pub(crate) const GOING: &str = "Making the keys and the first entries";
}

pub(crate) mod people {
    pub(crate) const TITLE: &str = "People";
    pub(crate) const SEARCH: &str = "Find by name or staff number";
    pub(crate) const WHO: &str = "Whom to show";
    pub(crate) const EVERYONE: &str = "Everyone whose name is kept";
    pub(crate) const LEFT: &str = "Those who left";
    pub(crate) const NO_UNIT: &str = "In no unit now";
    pub(crate) const NOBODY_LEFT: &str = "Nobody has left whose name is still kept.";
    pub(crate) const NOBODY: &str = "Nobody is entered yet. Add the first person below.";
    pub(crate) const NO_MATCH: &str = "Nobody matches. Check the spelling, or add the person.";
    pub(crate) const ADD: &str = "Add a person";
    pub(crate) const NAME: &str = "Name";
    pub(crate) const NUMBER: &str = "Staff number";
    pub(crate) const UNIT: &str = "Unit";
    pub(crate) const UNIT_HINT: &str = "A new name makes a new unit.";
    pub(crate) const ROLE: &str = "Role";
    pub(crate) const ADD_GO: &str = "Add";
    pub(crate) const ADDING: &str = "Adding";
    pub(crate) const OBSERVER: &str = "Observer";
    pub(crate) const APPOINT: &str = "Appoint as observer";
    pub(crate) const APPOINT_GO: &str = "Appoint";
    pub(crate) const APPOINTING: &str = "Making the observer's key";
    pub(crate) const HISTORY: &str = "History";

    pub(crate) fn appoint_title(name: &str) -> String {
        format!("Appoint as observer: {name}")
    }

    pub(crate) fn appoint_name(name: &str) -> String {
        format!("Appoint as observer: {name}")
    }

    pub(crate) fn history_name(name: &str) -> String {
        format!("History of {name}")
    }

    pub(crate) fn line(number: &str, unit: &str, role: &str) -> String {
        [number, unit, role].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" · ")
    }

    pub(crate) fn added(name: &str) -> String {
        format!("{name} was added.")
    }

    pub(crate) fn appointed(name: &str) -> String {
        format!("{name} may observe and sign from now on.")
    }

    pub(crate) fn found(of: u32) -> String {
        super::counted(usize::try_from(of).unwrap_or(usize::MAX), "person", "people")
    }
}

pub(crate) mod authority {
    pub(crate) const TITLE: &str = "The facility's authority";
    pub(crate) const WHY: &str = "Records are signed under it. Whoever checks them must trust its certificate once: hand \
        them the file, and tell them the fingerprint by another way.";
    pub(crate) const SAVE: &str = "Save its certificate";
    pub(crate) const FINGERPRINT: &str = "SHA-256 fingerprint";

    pub(crate) fn saved(path: &str) -> String {
        format!("Saved as {path}")
    }
}

pub(crate) mod procedures {
    pub(crate) const TITLE: &str = "Procedures";
    pub(crate) const NONE: &str =
        "No procedure is in force. Ask whoever looks after Doorside to install one.";
    pub(crate) const RETIRED: &str = "Retired procedures";
    pub(crate) const NONE_RETIRED: &str = "No procedure was retired.";
    pub(crate) const FROM_MEMORY: &str = "Check before use";
    pub(crate) const FROM_MEMORY_LONG: &str = "Parts of this procedure rest on sources given from memory. Check them \
        against the current text of the source, and against your own policy, before anyone is validated on it.";
    pub(crate) const ORDER: &str = "The order of the steps";
    pub(crate) const ORDER_WHY: &str = "What stands above must be done before what an arrow leads to. Steps that no \
        arrow joins are free in order.";
    pub(crate) const STEPS: &str = "Step by step";
    pub(crate) const LOOK_FOR: &str = "Look for";
    pub(crate) const WHY: &str = "Why";
    pub(crate) const SOURCE: &str = "Source";
    pub(crate) const FAULTS: &str = "Done badly";
    pub(crate) const CONTAMINATES: &str = "contaminates";
    pub(crate) const CRITICAL: &str = "Critical";
    pub(crate) const OPTIONAL: &str = "May be left out";
    pub(crate) const RULES: &str = "When it is good enough";
    pub(crate) const SOURCES: &str = "Sources";
    pub(crate) const RESPONSES: &str = "What must come next if it happens";
    pub(crate) const CONTAMINATION: &str = "After a contamination event";
    pub(crate) const MUST_NOT: &str = "Must not happen";
    pub(crate) const BACK: &str = "All procedures";
    pub(crate) const PARTS: &str = "Parts of this page";

    pub(crate) fn line(steps: u32, critical: u32) -> String {
        format!("{steps} steps, {critical} of them critical")
    }

    pub(crate) fn when(condition: &str) -> String {
        format!("Only if: {condition}")
    }

    pub(crate) fn unless(condition: &str) -> String {
        format!("Not if: {condition}")
    }

    pub(crate) fn version(version: &str) -> String {
        format!("Version {version}")
    }

    pub(crate) fn before(step: &str) -> String {
        format!("After: {step}")
    }

    pub(crate) fn right_after(step: &str) -> String {
        format!("At once, right after: {step}")
    }

    pub(crate) fn danger_before(step: &str) -> String {
        format!("After, or the person is exposed: {step}")
    }

    pub(crate) fn pass(most: u32, percent: Option<u32>, months: u32) -> String {
        let share =
            percent.map_or_else(String::new, |least| format!(" and a score of at least {least} percent"));
        format!(
            "No critical finding, no more than {}{share}. A validation holds {months} months. Guidance \
             publishes no pass mark: this one is the facility's to set.",
            super::counted(usize::try_from(most).unwrap_or(usize::MAX), "other finding", "other findings")
        )
    }

    pub(crate) fn validates(modes: &str) -> String {
        format!("A validation counts when observed this way: {modes}.")
    }

    pub(crate) fn seconds(act: &str, least: u32) -> String {
        format!("{act}: at least {least} seconds")
    }
}
