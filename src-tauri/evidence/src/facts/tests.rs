use proptest::prelude::*;

use super::*;
use crate::{Hlc, PersonAdded, PersonMoved, RecordVoided, UnitAdded, digest, entry::tests::entry};

pub(super) fn day(n: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, n).unwrap()
}

/// The entry number `n`, written on day `written`.
pub(super) fn stated(n: u32, written: u32, body: impl Into<Body>) -> Entry {
    let mut entry = entry(body.into());
    entry.id = Uuid::from_u128(n.into());
    entry.place.seq = n.into();
    entry.hlc = Hlc { ms: n.into(), n: 0 };
    entry.wall = format!("2026-11-{written:02}T23:30:00+01:00").parse().unwrap();
    entry
}

pub(super) fn joined(person: &str, unit: &str, from: u32) -> PersonAdded {
    PersonAdded {
        person: person.to_owned(),
        unit: unit.to_owned(),
        role: "Nurse".to_owned(),
        from: day(from),
        name_digest: digest(b"name"),
    }
}

fn moved(person: &str, unit: Option<&str>, from: u32) -> PersonMoved {
    PersonMoved {
        person: person.to_owned(),
        unit: unit.map(str::to_owned),
        role: "Nurse".to_owned(),
        from: day(from),
    }
}

pub(super) fn required(unit: Option<&str>, required: bool, lead_days: u32, from: u32) -> RequirementSet {
    RequirementSet {
        procedure: "doffing".to_owned(),
        unit: unit.map(str::to_owned),
        role: None,
        required,
        months: None,
        lead_days: vec![lead_days],
        from: day(from),
    }
}

pub(super) fn accepted() -> OutsideEvidenceAccepted {
    OutsideEvidenceAccepted {
        person: "p".to_owned(),
        procedure: "doffing".to_owned(),
        source: "letter".to_owned(),
        on: day(1),
        valid_until: day(30),
    }
}

pub(super) fn appointed() -> ObserverAppointed {
    ObserverAppointed {
        person: "p".to_owned(),
        procedures: Some(vec!["doffing".to_owned()]),
        evidence: "course".to_owned(),
        from: day(10),
        until: Some(day(12)),
    }
}

fn history() -> Vec<Entry> {
    let voided = RecordVoided {
        entry: Uuid::from_u128(5),
        person: "p".to_owned(),
        reason: "another person's letter".to_owned(),
    };
    let unknown = Body::Unknown { kind: "later".to_owned(), kind_version: 1, body: serde_json::Value::Null };
    vec![
        stated(1, 2, UnitAdded { unit: "west".to_owned(), name: "Ward West".to_owned() }),
        stated(2, 2, joined("p", "west", 3)),
        stated(3, 4, moved("p", Some("east"), 10)),
        stated(4, 5, required(None, true, 30, 4)),
        stated(5, 6, accepted()),
        stated(6, 7, required(Some("east"), true, 60, 12)),
        stated(7, 8, UnitAdded { unit: "west".to_owned(), name: "Ward North".to_owned() }),
        stated(8, 9, voided),
        stated(9, 20, moved("p", None, 20)),
        stated(10, 21, unknown),
    ]
}

#[test]
fn where_a_person_belongs_depends_on_the_date() {
    let facts = Facts::fold(history(), None);
    let unit = |on| facts.membership("p", day(on)).and_then(|membership| membership.unit.as_deref());
    let expected =
        [(2, None), (3, Some("west")), (9, Some("west")), (10, Some("east")), (19, Some("east")), (20, None)];
    for (on, expected) in expected {
        assert_eq!(unit(on), expected, "on day {on}");
    }
    assert_eq!(facts.members(Some("east"), day(15)), ["p"]);
    assert_eq!(facts.members(Some("west"), day(15)), Vec::<&String>::new());
    assert_eq!(facts.members(None, day(20)), Vec::<&String>::new(), "who has left is not on the roster");
}

#[test]
fn what_is_required_depends_on_the_unit_and_the_date() {
    let facts = Facts::fold(history(), None);
    let lead = |on| facts.requirement("p", "doffing", day(on)).map(RequirementSet::due_soon_days);
    assert_eq!([lead(2), lead(3), lead(4), lead(11), lead(12)], [None, None, Some(30), Some(30), Some(60)]);
    let mut taken_back = history();
    taken_back.push(stated(11, 21, required(None, false, 0, 14)));
    taken_back.push(stated(12, 21, required(Some("east"), false, 0, 15)));
    let facts = Facts::fold(taken_back, None);
    let lead = |on| facts.requirement("p", "doffing", day(on)).map(RequirementSet::due_soon_days);
    assert_eq!([lead(13), lead(14), lead(15)], [Some(60), Some(60), None]);
}

#[test]
fn what_was_true_and_what_was_known_are_two_dates() {
    let known = |on| Facts::fold(history(), Some(day(on)));
    assert!(known(1).people.is_empty());
    let unit = |facts: &Facts| facts.membership("p", day(15)).and_then(|one| one.unit.clone());
    assert_eq!(unit(&known(3)).as_deref(), Some("west"), "the move was not known yet");
    assert_eq!(unit(&known(4)).as_deref(), Some("east"));
    assert!(known(8).counts(Uuid::from_u128(5)), "not yet taken back");
    assert!(!known(9).counts(Uuid::from_u128(5)));
    assert_eq!(known(7).units["west"], "Ward West");
    assert_eq!(known(8).units["west"], "Ward North");
    assert_eq!((known(20).unknown, known(21).unknown), (0, 1), "said, not hidden");
}

#[test]
fn an_appointment_holds_from_and_through_its_days() {
    let facts = Facts::fold([stated(1, 1, appointed())], None);
    let holds = |procedure, on| facts.people["p"].appointment(procedure, day(on)).is_some();
    let days = [9, 10, 12, 13].map(|on| holds("doffing", on));
    assert_eq!(days, [false, true, true, false]);
    assert!(!holds("donning", 11));
}

proptest! {
    #[test]
    fn the_order_of_arrival_does_not_matter(
        entries in Just(history()).prop_shuffle(),
        twice in prop::collection::vec(0_usize..10, 0..4),
    ) {
        let mut arrived = entries.clone();
        arrived.extend(twice.into_iter().map(|n| entries[n].clone()));
        prop_assert_eq!(Facts::fold(arrived, None), Facts::fold(history(), None));
    }
}
