//! Sessions, the plan and its places, and reminders.

use std::fs;

use contract::{
    About, Chosen, Fault, GivePlaces, InvitationForm, Next, Notified, NotifyDue, OpenHome, OpenSessions,
    ReminderForm, SaveInvitations, SaveReminders, SetSession,
};

use super::tests::{FIRST, Ward, at, date};

fn session(id: &str, on: &str, observer: &str, places: u32, held: bool) -> SetSession {
    SetSession {
        session: id.to_owned(),
        on: date(on),
        at: Some(("10:00".to_owned(), "12:30".to_owned())),
        place: "Anteroom 2".to_owned(),
        observer: observer.to_owned(),
        places,
        procedures: vec![FIRST.to_owned()],
        held,
    }
}

fn unfolded(path: &str) -> String {
    fs::read_to_string(path).unwrap().replace("\r\n ", "")
}

#[test]
fn sessions_are_planned_given_moved_and_taken_back() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let opened = ward.desk.open_sessions(&OpenSessions { chosen: Vec::new() }, &at(2)).unwrap();
    assert_eq!((opened.weeks.len(), opened.sessions.len()), (52, 0));
    assert_eq!(
        opened.weeks.iter().map(|(_, due)| due).sum::<u32>(),
        0,
        "3 March 2027 is just beyond a year of weeks"
    );
    let refused = session("s", "2027-02-20", &ward.observer, 0, true);
    assert!(ward.desk.set_session(&refused, &at(2)).unwrap_err().text.contains("1 to 200 places"));
    let mut late = session("s", "2027-02-20", &ward.observer, 1, true);
    late.at = Some(("12:30".to_owned(), "10:00".to_owned()));
    assert!(ward.desk.set_session(&late, &at(2)).unwrap_err().text.contains("ends before it begins"));

    ward.desk.set_session(&session("s", "2027-02-20", &ward.observer, 1, true), &at(2)).unwrap();
    let two = ward.desk.set_session(&session("t", "2027-01-10", &ward.observer, 1, true), &at(2)).unwrap();
    assert_eq!(two.sessions.iter().map(|one| one.session.as_str()).collect::<Vec<_>>(), ["t", "s"]);
    let placed = |sessions: &contract::Sessions| {
        let line = sessions
            .plan
            .iter()
            .find(|line| line.person == ward.colleague && line.procedure == FIRST)
            .unwrap();
        (line.session.clone(), line.by_hand, line.lapses, line.because.clone())
    };
    let because = "On 20 February 2027, 11 days before it runs out on 3 March 2027.".to_owned();
    assert_eq!(placed(&two), (Some("s".to_owned()), false, false, because), "the later one gives less away");
    assert!(
        two.plan.iter().all(|line| line.person != ward.observer || line.session.is_none()),
        "nobody observes themselves"
    );

    let given = ward.desk.give_places(&GivePlaces { chosen: Vec::new() }, &at(2)).unwrap();
    assert_eq!(given.changed, 0);
    let calendar = |day| {
        let shown = ward
            .desk
            .save_invitations(&SaveInvitations { form: InvitationForm::Calendar }, &at(day))
            .unwrap();
        unfolded(&shown.path)
    };
    let first = calendar(2);
    assert!(first.contains("DTSTART:20270220T090000Z"), "ten o'clock in Berlin in winter: {first}");
    assert!(first.contains("SEQUENCE:0") && first.contains("STATUS:CONFIRMED"), "{first}");

    let chosen = vec![Chosen {
        person: ward.colleague.clone(),
        procedure: FIRST.to_owned(),
        session: Some("t".to_owned()),
    }];
    let by_hand = ward.desk.give_places(&GivePlaces { chosen }, &at(3)).unwrap();
    assert_eq!((placed(&by_hand).0, placed(&by_hand).1), (Some("t".to_owned()), true), "it stands");
    let moved = calendar(3);
    assert!(moved.contains("DTSTART:20270110T090000Z") && moved.contains("SEQUENCE:1"), "{moved}");
    let uid = |text: &str| text.lines().find(|line| line.starts_with("UID:")).unwrap().to_owned();
    assert_eq!(uid(&first), uid(&moved), "the entry moves");

    let gone = ward.desk.set_session(&session("t", "2027-01-10", &ward.observer, 1, false), &at(4)).unwrap();
    assert_eq!(gone.sessions.len(), 1);
    let cancelled = calendar(4);
    assert!(cancelled.contains("SEQUENCE:2") && cancelled.contains("STATUS:CANCELLED"), "{cancelled}");
    ward.desk.give_places(&GivePlaces { chosen: Vec::new() }, &at(5)).unwrap();
    let again = calendar(5);
    assert!(again.contains("SEQUENCE:3") && again.contains("DTSTART:20270220T090000Z"), "{again}");
    for form in [InvitationForm::List, InvitationForm::Table] {
        let saved = ward.desk.save_invitations(&SaveInvitations { form }, &at(5)).unwrap();
        assert!(fs::metadata(saved.path).unwrap().len() > 100, "{form:?}");
    }
}

/// Whoever is suspended, or is asked for nothing any more, is not told that it is not due.
#[test]
fn a_place_that_is_taken_back_says_why() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    ward.desk.set_session(&session("s", "2027-02-20", &ward.observer, 1, true), &at(2)).unwrap();
    let give = |day| ward.desk.give_places(&GivePlaces { chosen: Vec::new() }, &at(day)).unwrap();
    let because = || {
        let facts = ward.desk.reader().facts(None).unwrap();
        facts.people[&ward.colleague].places.last().map(|place| place.because.clone()).unwrap()
    };
    give(2);
    let suspended =
        About::Suspended { procedure: None, why: "An incident.".to_owned(), from: date("2026-03-05") };
    let file = ward.state(suspended, true, 3).unwrap();
    give(3);
    assert_eq!(because(), "Suspended since 5 March 2026.", "and not why, which others may read");
    let lifted = |suspension: &str| About::Lifted {
        suspension: suspension.to_owned(),
        why: "Talked over.".to_owned(),
    };
    ward.state(lifted(&file.suspensions[0].suspension), true, 4).unwrap();
    give(5);
    assert!(because().starts_with("On 20 February 2027"), "{}", because());
    let left = About::Moved { unit: None, role: String::new(), from: date("2026-03-08") };
    ward.state(left, false, 6).unwrap();
    give(6);
    assert_eq!(because(), "It is not required any more.");
}

/// Dates come from outside; the calendar ends in the year 262142.
#[test]
fn a_session_on_the_last_day_of_the_calendar_is_planned() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let set = session("s", "+262142-12-30", &ward.observer, 1, true);
    let opened = ward.desk.set_session(&SetSession { at: None, ..set }, &at(2)).unwrap();
    assert!(opened.plan.iter().any(|line| line.person == ward.colleague), "{opened:?}");
}

#[test]
fn a_notification_tells_how_many_once_a_day_and_names_nobody() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let told = std::cell::RefCell::new(Vec::new());
    let show = |title: &str, text: &str| {
        told.borrow_mut().push(format!("{title}: {text}"));
        Ok(())
    };
    let notify = |day| ward.desk.notify_due(&NotifyDue {}, &at(day), show).unwrap();
    assert_eq!(notify(2), Notified { last: None, due: false }, "nothing is due");
    let refused = |_: &str, _: &str| Err(Fault::new(Next::TryAgain, "none was shown"));
    assert!(ward.desk.notify_due(&NotifyDue {}, &at(300), refused).is_err());
    let today = Notified { last: Some(date("2026-12-27")), due: true };
    assert_eq!(notify(300), today, "what was not shown does not count as shown");
    assert_eq!(notify(300), today);
    assert_eq!(notify(301).last, Some(date("2026-12-28")), "and again when the day changes");
    let one = "Re-validation: 1 due soon. Open Today in Doorside to see what to do.";
    assert_eq!(*told.borrow(), [one, one]);
    let log = fs::read_to_string(ward.desk.folder().notices()).unwrap();
    assert_eq!(log, "2026-12-27 1 due soon\n2026-12-28 1 due soon\n");
}

#[test]
fn each_reminder_is_written_down_and_taken_back_once_renewed() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let remind = |form, day| {
        let shown = ward.desk.save_reminders(&SaveReminders { within_days: 90, form }, &at(day)).unwrap();
        shown.path
    };
    let due = |day| ward.desk.open_home(&OpenHome {}, &at(day)).unwrap().due;
    assert_eq!(due(300)[0].reminded, None);
    let calendar = unfolded(&remind(ReminderForm::Calendar, 300));
    assert!(calendar.contains("DTSTART;VALUE=DATE:20270303"), "{calendar}");
    assert_eq!(calendar.matches("BEGIN:VALARM").count(), 4, "at each lead time");
    assert_eq!(due(300)[0].reminded, Some(date("2026-12-27")));
    let notice = fs::read(remind(ReminderForm::Notice, 300)).unwrap();
    assert!(notice.starts_with(b"%PDF-"));
    let table = fs::read_to_string(remind(ReminderForm::Table, 300)).unwrap();
    assert!(table.contains("Tomas Rehn"), "{table}");
    let facts = ward.desk.reader().facts(None).unwrap();
    let sent = facts.people[&ward.colleague].reminders.iter().filter(|sent| sent.procedure == FIRST);
    assert_eq!(sent.count(), 3, "one entry each time it was sent");

    ward.competent_on("again", 301);
    let taken_back = unfolded(&remind(ReminderForm::Calendar, 302));
    assert!(taken_back.contains("STATUS:CANCELLED") && !taken_back.contains("BEGIN:VALARM"), "{taken_back}");
    let nothing_more = unfolded(&remind(ReminderForm::Calendar, 303));
    assert!(!nothing_more.contains("BEGIN:VEVENT"), "it is taken back once: {nothing_more}");
}
