//! Reminders: what a calendar is told over time, and who is reminded at all.

use std::fs;

use contract::{About, OpenPerson, ReminderForm, SaveReminders};

use super::tests::{Ward, at, date};

impl Ward {
    /// What a file of reminders of that day holds.
    fn reminded(&self, form: ReminderForm, within_days: u32, day: i64) -> String {
        let shown = self.desk.save_reminders(&SaveReminders { within_days, form }, &at(day)).unwrap();
        fs::read_to_string(shown.path).unwrap().replace("\r\n ", "")
    }
}

/// The number and the status of the only entry of a calendar.
#[track_caller]
fn told(file: &str) -> (u32, bool) {
    assert_eq!(file.matches("BEGIN:VEVENT").count(), 1, "{file}");
    let sequence = file.lines().find_map(|line| line.strip_prefix("SEQUENCE:")).unwrap();
    (sequence.trim_end().parse().unwrap(), file.contains("STATUS:CANCELLED"))
}

/// RFC 5545, 3.8.7.4: a calendar may pass over an entry whose SEQUENCE fell.
#[test]
fn a_calendar_takes_back_what_ended_and_nothing_that_still_holds() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let calendar = |within, day| ward.reminded(ReminderForm::Calendar, within, day);
    assert_eq!(told(&calendar(400, 2)), (0, false));
    assert!(!calendar(30, 3).contains("BEGIN:VEVENT"), "it lies further ahead, and still holds");
    assert_eq!(told(&calendar(400, 4)), (0, false), "nothing changed");

    let noted = "Gown off over the head.".to_owned();
    ward.state(About::LossOfSkill { procedure: None, noted }, true, 5).unwrap();
    assert_eq!(told(&calendar(400, 5)), (1, false), "an earlier day is a later state");
    let suspended = About::Suspended { procedure: None, why: "Unsafe.".to_owned(), from: date("2026-03-08") };
    let file = ward.state(suspended, true, 6).unwrap();
    let cancelled = calendar(400, 6);
    assert_eq!(told(&cancelled), (2, true));
    assert!(cancelled.contains("SUMMARY:Re-validation due: Tomas Rehn"), "{cancelled}");
    let lifted =
        About::Lifted { suspension: file.suspensions[0].suspension.clone(), why: "Coached.".to_owned() };
    ward.state(lifted, true, 7).unwrap();
    assert_eq!(told(&calendar(400, 7)), (3, false));
    assert_eq!(
        ward.desk
            .open_person(&OpenPerson { person: ward.colleague.clone() }, &at(7))
            .unwrap()
            .suspensions
            .len(),
        0
    );
}

#[test]
fn who_is_required_and_holds_nothing_is_reminded_too() {
    let ward = Ward::new();
    let table = ward.reminded(ReminderForm::Table, 90, 2);
    assert!(table.contains("Tomas Rehn,1002,Nurse,Isolation ward,"), "{table}");
    assert!(table.contains(",never validated,,,"), "there is no day: {table}");
    assert!(!ward.reminded(ReminderForm::Calendar, 90, 2).contains("BEGIN:VEVENT"));
    let facts = ward.desk.reader().facts(None).unwrap();
    let sent = &facts.people[&ward.colleague].reminders;
    assert!(!sent.is_empty(), "that it was sent is written down");
    assert!(sent.iter().all(|one| one.valid_until.is_none() && one.form == ReminderForm::Table), "{sent:?}");
}
