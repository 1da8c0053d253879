//! Handing over, deciding stricter, changing an answer afterwards, and a second log of the same demonstration.

use competency::journal::TapId;
use contract::{AppointObserver, Fault, OpenDemonstration};

use super::*;

const SECOND_PIN: &str = "771204";

impl Ward {
    /// Somebody else who may observe.
    fn second_observer(&self) -> String {
        let ada = AddPerson {
            name: "Ada Brill".to_owned(),
            number: "1003".to_owned(),
            unit: "Isolation ward".to_owned(),
            role: "Nurse".to_owned(),
        };
        let person = self.desk.add_person(&ada, &at(0)).unwrap().id;
        let appoint = AppointObserver {
            person: person.clone(),
            evidence: "Course certificate".to_owned(),
            passphrase: "seven grey herons over the quay".to_owned(),
            pin: SECOND_PIN.to_owned(),
        };
        self.desk.appoint_observer(&appoint, &at(0)).unwrap();
        person
    }

    fn say(&self, demonstration: &str, id: &str, event: Event, day: i64) -> Result<TapId, Fault> {
        let tap = Tap { demonstration: demonstration.to_owned(), id: id.to_owned(), event };
        self.desk.tap(&tap, &at(day)).map(|acknowledged| acknowledged.line.id)
    }

    fn try_to_seal(&self, id: &str, pin: &str, day: i64) -> Result<contract::Sealed, Fault> {
        let request =
            SealDemonstration { demonstration: id.to_owned(), pin: pin.to_owned(), remark: String::new() };
        self.desk.seal_demonstration(&request, &noon(day))
    }
}

#[test]
fn whoever_took_over_signs_and_both_stand_on_the_record() {
    let ward = Ward::new();
    let ada = ward.second_observer();
    ward.carry_out("d", FIRST, None, &AS_PRINTED, 1);
    let over = |to: &str| Event::HandedOver { to: to.to_owned() };
    let wearer = ward.say("d", "to-wearer", over(&ward.colleague), 1).unwrap_err();
    assert_eq!(wearer.text, "Nobody observes themselves; choose another observer.");
    ward.say("d", "over", over(&ada), 1).unwrap();
    let opened =
        ward.desk.open_demonstration(&OpenDemonstration { demonstration: "d".to_owned() }, &at(1)).unwrap();
    assert_eq!(opened.took_over[&ada], "Ada Brill");
    assert!(ward.try_to_seal("d", PIN, 1).is_err(), "the first observer's PIN opens another key");
    ward.try_to_seal("d", SECOND_PIN, 1).unwrap();
    let filed = ward.desk.reader().record("d").unwrap().unwrap();
    let record = ::evidence::Record::read(&filed.json).unwrap();
    assert_eq!(record.observer.name, "Ada Brill");
    let before: Vec<&str> = record.observers_before.iter().map(|party| party.name.as_str()).collect();
    assert_eq!(before, ["Ines Odum"]);
}

#[test]
fn a_stricter_decision_grants_nothing_and_a_repeat_names_the_first_attempt() {
    let ward = Ward::new();
    let review = ward.carry_out("d", FIRST, None, &AS_PRINTED, 1);
    assert_eq!(review.outcome, Outcome::Competent);
    let why = "The gown was pulled over the head".to_owned();
    ward.say("d", "stricter", Event::StricterDecision { why }, 1).unwrap();
    let plan = Event::Coaching { what: "The gown again".to_owned(), again_by: Some(date("2026-03-10")) };
    ward.say("d", "plan", plan, 1).unwrap();
    assert_eq!(ward.seal("d", 1).valid_until, None);
    let planned = || ward.desk.open_home(&contract::OpenHome {}, &at(2)).unwrap().watch_again;
    let told: Vec<_> = planned().into_iter().map(|one| (one.name, one.coached, one.by)).collect();
    assert_eq!(told, [("Tomas Rehn".to_owned(), "The gown again".to_owned(), Some(date("2026-03-10")))]);
    assert_eq!(ward.standing(FIRST, 2).state, State::NotYetCompetent);
    // The rule still says what it says; the decision stands beside it.
    let filed = ward.desk.reader().record("d").unwrap().unwrap();
    let record = ::evidence::Record::read(&filed.json).unwrap();
    assert_eq!((record.report.outcome, record.outcome()), (Outcome::Competent, Outcome::NotYetCompetent));

    ward.carry_out("again", FIRST, None, &AS_PRINTED, 3);
    assert_eq!(planned(), [], "it is being watched again");
    ward.seal("again", 3);
    let filed = ward.desk.reader().record("again").unwrap().unwrap();
    let record = ::evidence::Record::read(&filed.json).unwrap();
    assert_eq!(record.first_attempt.as_deref(), Some("d"));
    ward.carry_out("later", FIRST, None, &AS_PRINTED, 4);
    let begun = ward.desk.reader().begun("later").unwrap().unwrap();
    assert_eq!(begun.begin.first_attempt, None, "after a competent one it is no repeat");
}

#[test]
fn a_change_after_the_answers_is_not_sealed_without_its_reason() {
    let ward = Ward::new();
    ward.carry_out("d", FIRST, None, &AS_PRINTED, 1);
    ward.say("d", "settled", Event::Settled, 1).unwrap();
    ward.say("d", "prompted", Event::Prompted { of: "d-0".to_owned() }, 1).unwrap();
    let refused = ward.try_to_seal("d", PIN, 1).unwrap_err();
    assert!(refused.text.contains("say why"), "{}", refused.text);
    let because = Event::Because { of: "prompted".to_owned(), why: "Remembered at the review".to_owned() };
    ward.say("d", "because", because, 1).unwrap();
    ward.try_to_seal("d", PIN, 1).unwrap();
}

#[test]
fn a_second_log_is_another_observer_s_and_grants_nothing() {
    let ward = Ward::new();
    let ada = ward.second_observer();
    ward.carry_out("d", FIRST, None, &AS_PRINTED, 1);
    let begin = |observer: &str| BeginDemonstration {
        demonstration: "second".to_owned(),
        person: String::new(),
        observer: observer.to_owned(),
        assistant: None,
        procedure: String::new(),
        version: String::new(),
        purpose: Purpose::Practice,
        mode: Mode::Guided,
        conditions: Vec::new(),
        paper_form: None,
        second_of: Some("d".to_owned()),
    };
    let own = ward.desk.begin_demonstration(&begin(&ward.observer), &at(2)).unwrap_err();
    assert!(own.text.contains("by somebody else"), "{}", own.text);
    let opened = ward.desk.begin_demonstration(&begin(&ada), &at(2)).unwrap();
    assert_eq!((opened.mode, opened.procedure.id.as_str()), (Mode::Assessed, FIRST), "as the first was");
    assert!(opened.lines.is_empty(), "it is independent of the first");
    assert_eq!(ward.desk.reader().unfinished().unwrap().len(), 2);
    ward.say("second", "s1", Event::Act { act: "remove-gloves".to_owned(), by: By::Wearer }, 2).unwrap();
    ward.say("second", "s2", Event::End { how: HowEnded::Completed }, 2).unwrap();
    assert_eq!(ward.desk.reader().unfinished().unwrap().len(), 1, "it is finished once it has ended");
    assert!(ward.try_to_seal("second", SECOND_PIN, 2).is_err(), "it is kept and never sealed");

    let review = ReviewDemonstration { demonstration: "d".to_owned(), review: "r".to_owned() };
    let logs = ward.desk.review_demonstration(&review, &at(2)).unwrap().second_logs;
    let told: Vec<(&str, usize, bool)> =
        logs.iter().map(|log| (log.observer.as_str(), log.observations, log.ended)).collect();
    assert_eq!(told, [("Ada Brill", 1, true)]);
    ward.seal("d", 2);
    assert_eq!(ward.standing(FIRST, 3).state, State::Current);
}
