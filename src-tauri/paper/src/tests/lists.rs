use competency::validity::State;
use lopdf::Document;

use super::{
    rosters::{drawn, roster},
    text_of,
};
use crate::{Coming, Notice, NoticeItem, SessionSheet, notices, sessions};

const DRAWN: &str = "2026-11-25T10:00:00+01:00";

fn notice(name: &str, procedure: &str) -> Notice {
    Notice {
        name: name.to_owned(),
        number: "1002".to_owned(),
        unit: "Ward 3".to_owned(),
        items: vec![NoticeItem {
            procedure: procedure.to_owned(),
            state: State::DueSoon,
            valid_until: "2026-12-20".parse().ok(),
            because: "Due soon: competent on 20 December 2025.".to_owned(),
        }],
    }
}

#[test]
fn each_person_has_a_notice_on_a_page_of_its_own() {
    let people = [notice("Ana Lind", "Putting on"), notice("Tomas Rehn", "Taking off")];
    let on = "2026-11-25".parse().unwrap();
    let pdf = notices(&people, "Harbour Hospital", on, DRAWN.parse().unwrap(), "Doorside 0.1.0").unwrap();
    let document = Document::load_mem(&pdf).unwrap();
    assert_eq!(document.get_pages().len(), 2);
    let first = document.extract_text(&[1]).unwrap();
    assert!(first.contains("Ana Lind") && !first.contains("Tomas Rehn"), "nobody reads another's: {first}");
    let second = document.extract_text(&[2]).unwrap();
    assert!(second.contains("Tomas Rehn") && second.contains("20 Dec 2026"), "{second}");
    let none = notices(&[], "Harbour Hospital", on, DRAWN.parse().unwrap(), "Doorside 0.1.0").unwrap();
    assert!(text_of(&none).contains("Nothing is overdue"));
}

/// Somebody whose validation has run out cannot show it "before the day on which it runs out".
#[test]
fn a_notice_says_what_to_do_about_what_holds_and_about_what_does_not() {
    let said = |states: &[State]| {
        let mut one = notice("Ana Lind", "Putting on");
        let item = one.items.remove(0);
        let valid_until = |state: State| item.valid_until.filter(|_| state != State::NeverValidated);
        one.items.extend(states.iter().map(|state| NoticeItem {
            state: *state,
            valid_until: valid_until(*state),
            ..item.clone()
        }));
        let on = "2026-11-25".parse().unwrap();
        let pdf = notices(&[one], "Harbour Hospital", on, DRAWN.parse().unwrap(), "Doorside 0.1.0").unwrap();
        let text = text_of(&pdf);
        ["before the day on which", "observer now to", "through 20 Dec 2026"].map(|part| text.contains(part))
    };
    assert_eq!(said(&[State::DueSoon]), [true, false, true]);
    assert_eq!(said(&[State::Overdue]), [false, true, true]);
    assert_eq!(said(&[State::NeverValidated]), [false, true, false], "there is no day to tell");
    assert_eq!(said(&[State::Overdue, State::DueSoon]), [true, true, true]);
}

#[test]
fn a_list_of_sessions_says_who_comes_where_and_when() {
    let session = SessionSheet {
        on: "2026-12-01".parse().unwrap(),
        when: "10:00 to 12:30".to_owned(),
        place: "Anteroom 2".to_owned(),
        observer: "Ines Odum".to_owned(),
        places: 6,
        people: ["1002", "1003"]
            .map(|number| Coming {
                name: "Tomas Rehn".to_owned(),
                number: number.to_owned(),
                unit: "Ward 3".to_owned(),
                procedure: "Taking off".to_owned(),
            })
            .into(),
    };
    let pdf = sessions(&[session], "Harbour Hospital", DRAWN.parse().unwrap(), "Doorside 0.1.0").unwrap();
    let text = text_of(&pdf);
    for said in [
        "1 December 2026, 10:00 to 12:30",
        "Anteroom 2 · observer: Ines Odum · 2 of 6 places",
        "Tomas Rehn",
        "1002",
        "1003",
    ] {
        assert!(text.contains(said), "{said:?} must stand in: {text}");
    }
}

#[test]
fn a_roster_says_by_which_rules_and_what_it_rests_on() {
    let text = text_of(&drawn(&roster(3, 2)));
    let said = "3 people, 2 procedures, 6 standings, by version 1 of the rules. It rests on 9 entries.";
    assert!(text.contains(said), "{text}");
}

/// "through" beside a suspension would be read as its end.
#[test]
fn a_roster_says_since_when_somebody_is_suspended_and_through_when_a_validation_holds() {
    let text = text_of(&drawn(&roster(9, 2)));
    for said in ["since 20 Nov 2026", "through 31 May 2027", "ran out 1 Nov 2026"] {
        assert!(text.contains(said), "{said:?} must stand in: {text}");
    }
    assert!(!text.contains("until"), "one word for one thing: {text}");
}
