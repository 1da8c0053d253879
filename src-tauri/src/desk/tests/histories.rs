//! A history in its two times, and what it says of what was put right.

use contract::{About, Amended, Change, History, HistoryForm, SaveHistory, SignedBy, StateAbout};

use super::*;

impl Ward {
    fn history_known(&self, known_at: Option<&str>, day: i64) -> History {
        let known_at = known_at.map(date);
        let open = OpenHistory { person: self.colleague.clone(), as_of: None, known_at };
        self.desk.open_history(&open, &at(day)).unwrap()
    }
}

/// Sealed on 11 March 2026 (a Wednesday), corrected on 12 March to the 9th.
#[test]
fn a_corrected_date_shows_both_and_only_once_it_was_known() {
    let ward = Ward::new();
    ward.competent("a", 9);
    let entry = ward.line("a", 9).entry;
    ward.correct(&entry, Change::Date(date("2026-03-09")), "by the duty roster", 10).unwrap();
    let now = ward.history_known(None, 11);
    let today = date("2026-03-13");
    assert_eq!((now.as_of, now.known_at), (today, today), "today, and it says so");
    assert_eq!(ward.history_known(Some("2090-01-01"), 11).known_at, today, "nothing is known of tomorrow");
    let line = &now.demonstrations[0];
    assert_eq!((line.sealed_on, line.on), (date("2026-03-11"), date("2026-03-09")));
    let from = date("2026-03-11");
    let right = Amended::Date { from, on: date("2026-03-09"), valid_until: Some(date("2027-03-09")) };
    assert_eq!((&line.amendments[0].what, line.amendments[0].on), (&right, date("2026-03-12")));

    let then = ward.history_known(Some("2026-03-11"), 11);
    let line = &then.demonstrations[0];
    assert_eq!((line.sealed_on, line.on, line.amendments.len()), (from, from, 0), "nobody knew it yet");
    assert_eq!(then.known_at, date("2026-03-11"));
    let open =
        OpenHistory { person: ward.colleague.clone(), as_of: None, known_at: Some(date("2026-03-01")) };
    let before = ward.desk.open_history(&open, &at(11)).unwrap_err().text;
    assert!(before.contains("by the end of 1 March 2026"), "{before}");
    assert!(ward.history_known(Some("2026-03-10"), 11).demonstrations.is_empty(), "nor the record itself");

    let save = SaveHistory {
        person: ward.colleague.clone(),
        as_of: None,
        known_at: Some(date("2026-03-11")),
        form: HistoryForm::Csv,
    };
    let path = ward.desk.save_history(&save, &at(11)).unwrap().path;
    assert!(path.contains("-known-2026-03-11"), "{path}");
    let table = fs::read_to_string(path).unwrap();
    assert!(table.contains("2026-03-13,2026-03-11,") && !table.contains("date put right from"), "{table}");
}

/// Nothing requires it and nothing was observed here; it was accepted all the same.
#[test]
fn a_history_tells_what_rests_on_evidence_from_elsewhere_alone() {
    let ward = Ward::new();
    let what = About::OutsideEvidence {
        procedure: SECOND.to_owned(),
        source: "Harbour Hospital, course of May".to_owned(),
        on: date("2026-03-01"),
        valid_until: date("2027-02-28"),
    };
    let signed = Some(SignedBy { observer: ward.observer.clone(), pin: PIN.to_owned() });
    ward.desk.state_about(&StateAbout { person: ward.colleague.clone(), what, signed }, &at(1)).unwrap();
    assert_eq!(ward.standing(SECOND, 2).state, State::Current);
}

#[test]
fn a_voided_record_holds_nothing_and_contradicts_nothing() {
    let ward = Ward::new();
    ward.competent("a", 1);
    ward.correct(&ward.line("a", 2).entry, Change::Void, "the wrong person was chosen", 2).unwrap();
    let said = ward.standing(FIRST, 3).because;
    assert!(said.starts_with("Never validated: no completed attempt counts."), "{said}");
    assert!(said.contains("was voided on"), "{said}");
}
