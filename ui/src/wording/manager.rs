//! Words of what a unit manager does: requirements, people from a file, who may go in, sessions, reminders.

use super::counted;

pub(crate) const PLACES: &str = "Roster and what belongs to it";
pub(crate) const ROSTER: &str = "How people stand";
pub(crate) const GO_IN: &str = "Who may go in";
pub(crate) const SESSIONS: &str = "Sessions";
pub(crate) const REQUIREMENTS: &str = "Requirements";
pub(crate) const EVERYONE: &str = "The whole facility";
pub(crate) const UNIT: &str = "Unit";
pub(crate) const ROSTER_SAVED_WHOLE: &str =
    "Everyone of the unit, as of the dates above; each form says as of when, by which rules and how many.";

pub(crate) fn saved_as(path: &str) -> String {
    format!("Saved as {path}")
}

fn count(number: u32, one: &str, many: &str) -> String {
    counted(usize::try_from(number).unwrap_or(usize::MAX), one, many)
}

/// Numbers of days as people read them: `90, 60, 30 and 7 days`.
fn days(all: &[u32]) -> String {
    let numbers: Vec<String> = all.iter().map(u32::to_string).collect();
    format!("{} days", super::listed(&numbers, "and"))
}

pub(crate) mod requirements {
    use super::{count, days};

    pub(crate) const TITLE: &str = "Requirements";
    pub(crate) const LEAD: &str =
        "Who must hold which procedures. The roster counts what is required here, and reminds of it.";
    pub(crate) const NONE: &str = "Nothing is required of anybody yet. Set the first requirement below.";
    pub(crate) const NO_PROCEDURE: &str =
        "No procedure is in force, so that none can be required. Publish one under Procedures first.";
    pub(crate) const SET: &str = "Require a procedure";
    pub(crate) const PROCEDURE: &str = "Procedure";
    pub(crate) const OF_UNIT: &str = "Of the people of";
    pub(crate) const OF_ROLE: &str = "In the role";
    pub(crate) const EVERY_ROLE: &str = "Every role";
    pub(crate) const MONTHS: &str = "At least every so many months";
    pub(crate) const MONTHS_HINT: &str = "Empty: as long as the procedure says.";
    pub(crate) const LEADS: &str = "Remind so many days ahead";
    pub(crate) const LEADS_HINT: &str =
        "From the first of them on it counts as due soon. The usual ones are common practice.";
    pub(crate) const BAD_NUMBER: &str = "Write whole numbers, such as 90, 60, 30, 7.";
    pub(crate) const SET_GO: &str = "Require it from today on";
    pub(crate) const TAKE_BACK: &str = "Take back";
    pub(crate) const RULES: &str = "What the facility chose";
    pub(crate) const RULES_WHY: &str = "Where regulation and guidance leave it open. It holds from today on.";
    pub(crate) const STRICT: &str = "A year is 365 days at most";
    pub(crate) const STRICT_HINT: &str = "Otherwise a validation holds through the anniversary. OSHA's letters of 1998 and 2007 read \"annual\" either way.";
    pub(crate) const MEDICAL: &str = "Medical clearance is needed for a respirator";
    pub(crate) const MEDICAL_HINT: &str = "29 CFR 1910.134(e) asks for it before a respirator is used.";
    pub(crate) const LEAVE: &str = "Days away after which everything is shown again";
    pub(crate) const LEAVE_HINT: &str = "Empty: no leave ends a validation.";
    pub(crate) const RULES_GO: &str = "Choose so from today on";
    pub(crate) const EQUIPMENT: &str = "Other equipment came into use";
    pub(crate) const EQUIPMENT_WHY: &str =
        "A new respirator model, gown or hood: whoever showed it with the old one shows it again by a date.";
    pub(crate) const WHAT: &str = "What is new";
    pub(crate) const WHAT_HINT: &str = "Make and model.";
    pub(crate) const BY: &str = "Earlier validations hold through";
    pub(crate) const IN_PROCEDURES: &str = "In these procedures";
    pub(crate) const EQUIPMENT_GO: &str = "Ask for re-validation";
    pub(crate) const DONE: &str = "It is written down and holds from today on.";

    pub(crate) fn of(unit: Option<&str>, role: Option<&str>) -> String {
        match (unit, role) {
            (None, None) => "Everyone".to_owned(),
            (Some(unit), None) => format!("Everyone in {unit}"),
            (None, Some(role)) => format!("{role}, in every unit"),
            (Some(unit), Some(role)) => format!("{role} in {unit}"),
        }
    }

    pub(crate) fn how_often(months: Option<u32>, lead_days: &[u32]) -> String {
        let often = months.map_or_else(
            || "as often as the procedure says".to_owned(),
            |months| format!("every {}", count(months, "month", "months")),
        );
        format!("{often}; reminders {} ahead", days(lead_days))
    }

    pub(crate) fn procedure(title: &str, months: u32) -> String {
        format!("{title} ({})", count(months, "month", "months"))
    }

    pub(crate) fn since(date: &str) -> String {
        format!("since {date}")
    }

    pub(crate) fn hold(hold: u32, means: u32) -> String {
        if means == 0 { "means nobody today".to_owned() } else { format!("{hold} of {means} hold it") }
    }

    pub(crate) fn take_back(what: &str, of: &str) -> String {
        format!("Take back: {what}, {of}")
    }
}

pub(crate) mod import {
    use contract::ImportKind;

    pub(crate) const TITLE: &str = "People from a file";
    pub(crate) const LEAD: &str = "A table as the personnel system saves it: CSV, with any common separator and encoding. Nothing is changed before you have seen what would change.";
    pub(crate) const OPEN: &str = "Bring people from a file";
    pub(crate) const FILE: &str = "The file";
    pub(crate) const FILE_HINT: &str = "Its first row names the columns.";
    pub(crate) const ENCODING: &str = "Encoding";
    pub(crate) const FOUND: &str = "Found by itself";
    pub(crate) const COLUMNS: &str = "What the columns mean";
    pub(crate) const NONE: &str = "Not in the file";
    pub(crate) const NUMBER: &str = "Staff number";
    pub(crate) const NAME: &str = "Name, or first name";
    pub(crate) const LAST_NAME: &str = "Last name";
    pub(crate) const UNIT: &str = "Unit";
    pub(crate) const ROLE: &str = "Role";
    pub(crate) const SINCE: &str = "Since when in this unit and role";
    pub(crate) const LAST_DAY: &str = "Last day";
    pub(crate) const DATES: &str = "Dates with slashes";
    pub(crate) const FILE_TELLS: &str = "The file has to tell";
    pub(crate) const DAY_FIRST: &str = "The day comes first";
    pub(crate) const MONTH_FIRST: &str = "The month comes first";
    pub(crate) const EVERYBODY: &str = "The file is of everybody";
    pub(crate) const EVERYBODY_HINT: &str = "Whoever is missing from it leaves today.";
    pub(crate) const TRY: &str = "Show what would change";
    pub(crate) const WOULD: &str = "What would change";
    pub(crate) const NOTHING: &str = "Nothing would change.";
    pub(crate) const LINE: &str = "Line";
    pub(crate) const WHAT: &str = "What";
    pub(crate) const WHO: &str = "Who";
    pub(crate) const BEFORE: &str = "So far";
    pub(crate) const AFTER: &str = "Then";
    pub(crate) const FROM: &str = "From";
    pub(crate) const BAD: &str = "Rows that cannot be taken";
    pub(crate) const LEFT_BEFORE: &str = "Left before, not taken";
    pub(crate) const DESPITE: &str = "Take the others without them";
    pub(crate) const CONFIRM: &str = "Change it so";
    pub(crate) const MISSING: &str = "missing";
    pub(crate) const FIRST_ROWS: &str = "The first rows";
    pub(crate) const SMALL: &str = "Choose a smaller file: at most 16 megabytes are read.";

    pub(crate) fn kind(kind: ImportKind) -> &'static str {
        match kind {
            ImportKind::Joins => "joins",
            ImportKind::Moves => "moves",
            ImportKind::Renamed => "is called otherwise",
            ImportKind::Leaves => "leaves",
        }
    }

    pub(crate) fn read(rows: u32, encoding: &str, separator: &str) -> String {
        let separator = if separator == "\t" { "tab" } else { separator };
        format!("{}, read as {encoding}, with the separator {separator}", super::count(rows, "row", "rows"))
    }

    pub(crate) fn summary(changes: usize, unchanged: u32, left: usize, bad: usize) -> String {
        let left = match left {
            0 => String::new(),
            left => format!("{} not taken since they left before, ", super::counted(left, "is", "are")),
        };
        format!(
            "{}, {} as they are, {left}{}.",
            super::counted(changes, "change", "changes"),
            super::count(unchanged, "person stays", "people stay"),
            super::counted(bad, "row cannot be taken", "rows cannot be taken")
        )
    }

    pub(crate) fn left_before(line: u64, name: &str, last: &str) -> String {
        format!("{LINE} {line}: {name}, last day {last}")
    }

    pub(crate) fn shown(shown: usize, of: usize) -> String {
        format!("The first {shown} of {of} are shown; all are taken.")
    }

    pub(crate) fn new_units(units: &[String]) -> String {
        format!("New units: {}.", units.join(", "))
    }

    pub(crate) fn done(changes: usize) -> String {
        format!("Done: {} written.", super::counted(changes, "change was", "changes were"))
    }
}

pub(crate) mod go_in {
    pub(crate) const TITLE: &str = "Who may go in";
    pub(crate) const PRECAUTIONS: &str = "Under these precautions";
    pub(crate) const ON: &str = "On the day";
    pub(crate) const ON_HINT: &str = "Year-month-day. Empty for today.";
    pub(crate) const NOBODY: &str = "Nobody belongs to this unit on that day.";
    pub(crate) const NO_MATCH: &str = "Nobody matches. Change what is looked for, or the unit.";
    pub(crate) const MAY: &str = "May go in";
    pub(crate) const MAY_NOT: &str = "May not go in yet";
    pub(crate) const CAUTION: &str = "It says what was shown and tested, not that anybody is protected. Local policy and the equipment's instructions decide.";

    pub(crate) fn counts(may: u32, of: u32) -> String {
        format!("{may} of {of} may go in")
    }

    pub(crate) fn models(models: &[String]) -> String {
        format!("With: {}", models.join(", "))
    }
}

pub(crate) mod sessions {
    pub(crate) const TITLE: &str = "Sessions";
    pub(crate) const LOAD: &str = "Validations that run out, week by week";
    pub(crate) const HELD: &str = "Sessions to come";
    pub(crate) const NONE: &str = "No session is set. Set one below, and the plan fills it.";
    pub(crate) const SET: &str = "Set a session";
    pub(crate) const ON: &str = "Day";
    pub(crate) const FROM: &str = "From";
    pub(crate) const TO: &str = "To";
    pub(crate) const TIME_HINT: &str = "Such as 10:30. Empty for the whole day.";
    pub(crate) const PLACE: &str = "Where";
    pub(crate) const OBSERVER: &str = "Observer";
    pub(crate) const PLACES: &str = "Demonstrations there is time for";
    pub(crate) const PROCEDURES: &str = "Only for";
    pub(crate) const PROCEDURES_HINT: &str =
        "None ticked: every required procedure that the observer may observe.";
    pub(crate) const NO_OBSERVER: &str = "Nobody may observe yet. Appoint an observer under People.";
    pub(crate) const SET_GO: &str = "Set the session";
    pub(crate) const TAKE_BACK: &str = "Does not take place";
    pub(crate) const TAKE_BACK_NOW: &str = "It does not take place";
    pub(crate) const KEEP: &str = "Keep the session";
    pub(crate) const PLAN: &str = "Who comes to which session";
    pub(crate) const NOBODY: &str = "Nobody falls due before the last session.";
    pub(crate) const SESSION: &str = "Session";
    pub(crate) const PLAN_DECIDES: &str = "As the plan has it";
    pub(crate) const NO_SESSION: &str = "No session";
    pub(crate) const GIVE: &str = "Give the places so";
    pub(crate) const GIVEN: &str = "The places are given as the plan has them.";
    pub(crate) const CALENDAR: &str = "Invitations as a calendar file";
    pub(crate) const LIST: &str = "A list to print";
    pub(crate) const TABLE: &str = "A table";
    pub(crate) const SAVE: &str = "Save the places that were given";
    pub(crate) const BAD_PLACES: &str = "Write a whole number of places.";
    pub(crate) const BY_HAND: &str = "chosen by hand";

    pub(crate) fn overdue(count: u32) -> String {
        match count {
            0 => "Nothing required is overdue or was never validated.".to_owned(),
            count => format!(
                "{} overdue, not yet competent or never validated now.",
                super::count(count, "validation is", "validations are")
            ),
        }
    }

    /// What becomes of somebody who is renewed too late or not at all.
    pub(crate) fn without(holds_now: bool) -> &'static str {
        if holds_now { "lapses" } else { "not valid now" }
    }

    pub(crate) fn filled(filled: u32, places: u32) -> String {
        format!("{filled} of {places} places")
    }

    pub(crate) fn changed(count: u32) -> String {
        format!("{} from what was given.", super::count(count, "place differs", "places differ"))
    }

    pub(crate) fn session(day: &str, at: Option<&(String, String)>, place: &str) -> String {
        match at {
            Some((from, to)) => format!("{day}, {from} to {to}, {place}"),
            None => format!("{day}, {place}"),
        }
    }

    pub(crate) fn choose(name: &str, procedure: &str) -> String {
        format!("Session of {name} for {procedure}")
    }

    /// Before a session is taken back.
    pub(crate) fn sure(filled: u32) -> String {
        match filled {
            0 => "Nobody has a place in it. It cannot be set again; a new one can.".to_owned(),
            filled => format!(
                "{} in it, and the plan gives them another one where it can. Save the invitations again, so that calendars take this one out.",
                super::count(filled, "place is planned", "places are planned")
            ),
        }
    }

    pub(crate) fn take_back(what: &str) -> String {
        format!("Does not take place: {what}")
    }

    pub(crate) fn until(state: &str, date: Option<&str>) -> String {
        date.map_or_else(|| state.to_owned(), |date| format!("{state}, through {date}"))
    }
}

pub(crate) mod reminders {
    pub(crate) const TITLE: &str = "Remind";
    pub(crate) const WHY: &str = "Of everything that is overdue or runs out within 90 days; letters and notices also go to whoever is required to hold something and does not. That each was sent is written down.";
    pub(crate) const CALENDAR: &str = "Calendar file";
    pub(crate) const TABLE: &str = "Table for letters";
    pub(crate) const NOTICES: &str = "Notices to print";

    pub(crate) fn reminded(on: &str) -> String {
        format!("reminded {on}")
    }
}

pub(crate) mod notices {
    pub(crate) const TITLE: &str = "Notifications on this device";
    pub(crate) const WHY: &str = "Once a day the system shows how many validations are overdue or run out soon. It names nobody, since anybody may see it.";
    pub(crate) const WANTED: &str = "Show a notification when something is due";

    pub(crate) fn came(last: Option<&str>, due: bool) -> String {
        match (last, due) {
            (Some(day), _) => format!("Last shown on {day}."),
            (None, true) => "None was shown yet.".to_owned(),
            (None, false) => "Nothing is due, so there is none to show.".to_owned(),
        }
    }
}

pub(crate) mod findings {
    pub(crate) const TITLE: &str = "Which steps go wrong most";
    pub(crate) const WHY: &str = "Of the people observed in the last twelve months, how many had a finding at a step. Nobody is named.";
    pub(crate) const NONE: &str = "No finding at any step that enough people were observed in.";

    pub(crate) fn left_out(procedures: u32, least: u32) -> String {
        format!(
            "{} left out: fewer than {least} people were observed in it, in this unit or outside of it, and a share would tell who they were.",
            super::count(procedures, "procedure is", "procedures are")
        )
    }

    pub(crate) fn too_few(people: u32, least: u32) -> String {
        format!(
            "{} observed in the last twelve months. With fewer than {least} a share would tell who it was, so none is shown.",
            super::count(people, "person was", "people were")
        )
    }
}
