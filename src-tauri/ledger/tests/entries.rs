//! Sealed facts: written all or nothing, chained, signed, and never changed.

#[cfg(test)]
mod kit;

use chrono::TimeDelta;
use competency::{journal::Event, report::Outcome};
use evidence::{FacilityCreated, UnitAdded, digest};
use kit::{Hospital, OBSERVER, UNIT, WEARER, at, author, begin, day, person, sealed};
use ledger::{Deed, LedgerError, Moment, Reader};

#[test]
fn facts_come_back_as_they_were_written() {
    let mut hospital = Hospital::furnished();
    hospital.seal("d", Outcome::Competent);
    let hospital = hospital.reopen();
    let facts = hospital.ledger.reader().facts(None).unwrap();
    let today = day("2026-11-25");
    assert_eq!(facts.facility.as_ref().unwrap().1.name, "West");
    assert_eq!(facts.units[UNIT], "Ward West");
    assert_eq!(facts.members(Some(UNIT), today), [OBSERVER, WEARER]);
    assert_eq!(facts.members(Some(UNIT), day("2026-11-24")), Vec::<&String>::new());
    assert!(facts.requirement(WEARER, "doffing", today).is_some());
    assert!(facts.requirement(WEARER, "donning", today).is_none());
    let attempts = facts.attempts(WEARER, "doffing", today);
    assert_eq!(attempts.len(), 1);
    assert_eq!(attempts[0].sealed.valid_until, Some(day("2027-11-25")));
    let of_person = hospital.ledger.reader().facts_of(WEARER, None).unwrap();
    assert_eq!(of_person.people[WEARER], facts.people[WEARER]);
    assert_eq!(of_person.requirements, facts.requirements);
    assert!(!of_person.people.contains_key(OBSERVER));
}

#[test]
fn what_was_not_known_yet_is_left_out() {
    let mut hospital = Hospital::furnished();
    let tomorrow = at(24 * 3_600_000);
    hospital.write(tomorrow, UnitAdded { unit: "u-east".to_owned(), name: "Ward East".to_owned() }).unwrap();
    let reader = hospital.ledger.reader();
    assert_eq!(reader.facts(Some(day("2026-11-24"))).unwrap().units.len(), 0);
    assert_eq!(reader.facts(Some(day("2026-11-25"))).unwrap().units.len(), 1);
    assert_eq!(reader.facts(Some(day("2026-11-26"))).unwrap().units.len(), 2);
    assert_eq!(reader.facts(None).unwrap().units.len(), 2);
}

#[test]
fn what_is_kept_grows_to_what_a_fresh_look_finds() {
    let mut hospital = Hospital::furnished();
    let later = day("2026-11-26");
    hospital.ledger.reader().indexed(None).unwrap();
    hospital.ledger.reader().indexed(Some(later)).unwrap();
    let before = hospital.ledger.reader().facts(None).unwrap();
    hospital.seal("d", Outcome::Competent);
    hospital.write(at(1), UnitAdded { unit: "u-east".to_owned(), name: "Ward East".to_owned() }).unwrap();
    let fresh = Reader::open(hospital.folder.path()).unwrap();
    for known_at in [None, Some(later), Some(day("2026-11-24"))] {
        let (facts, index) = hospital.ledger.reader().indexed(known_at).unwrap();
        let (anew, anew_index) = fresh.indexed(known_at).unwrap();
        assert_eq!(facts, anew);
        let roster = index.roster(&facts, Some(UNIT), day("2026-11-25"));
        assert_eq!(roster, anew_index.roster(&anew, Some(UNIT), day("2026-11-25")));
    }
    assert_eq!(before.units.len(), 1, "whoever still reads what was before keeps it");
    assert_eq!(hospital.ledger.reader().facts(None).unwrap().units.len(), 2);
    assert_eq!(fresh.heads().unwrap(), hospital.ledger.reader().heads().unwrap());
}

#[test]
fn a_clock_set_back_keeps_the_order_of_entries() {
    let mut hospital = Hospital::furnished();
    let renamed = |name: &str| UnitAdded { unit: UNIT.to_owned(), name: name.to_owned() };
    hospital.write(at(10_000), renamed("second name")).unwrap();
    let an_hour_back = Moment { wall: at(0).wall - TimeDelta::hours(1), ..at(20_000) };
    hospital.write(an_hour_back, renamed("third name")).unwrap();
    assert_eq!(hospital.ledger.reader().facts(None).unwrap().units[UNIT], "third name");
}

#[test]
fn a_facility_is_created_once_and_comes_first() {
    let mut hospital = Hospital::empty();
    let unit = UnitAdded { unit: UNIT.to_owned(), name: "Ward".to_owned() };
    assert!(matches!(hospital.write(at(0), unit), Err(LedgerError::NoFacility)));

    let mut hospital = Hospital::furnished();
    let facility = FacilityCreated { name: "Two".to_owned(), zone: "Etc/UTC".to_owned(), authority: None };
    let again =
        hospital.stamped(at(1), |ledger, stamp| ledger.create_facility(author(), facility, &[], stamp));
    assert!(matches!(again, Err(LedgerError::FacilityExists)));
}

#[test]
fn a_number_belongs_to_one_person_and_nothing_is_half_written() {
    let mut hospital = Hospital::furnished();
    let before = hospital.ledger.reader().next_place().unwrap();
    let deeds = [
        Deed::new(author(), UnitAdded { unit: "u-east".to_owned(), name: "Ward East".to_owned() }),
        Deed::add_person(author(), person("p-third", "Bo", "1001")).unwrap(),
    ];
    let taken = hospital.stamped(at(1), |ledger, stamp| ledger.write(&deeds, stamp));
    assert!(matches!(taken, Err(LedgerError::NumberTaken)));
    assert_eq!(hospital.ledger.reader().next_place().unwrap(), before);
    assert_eq!(hospital.ledger.reader().facts(None).unwrap().units.len(), 1);
}

#[test]
fn a_person_needs_a_name_beside() {
    let mut hospital = Hospital::furnished();
    let bare = evidence::PersonAdded {
        person: "p-third".to_owned(),
        unit: UNIT.to_owned(),
        role: "Nurse".to_owned(),
        from: day("2026-11-25"),
        name_digest: digest(b""),
    };
    assert!(matches!(hospital.write(at(1), bare), Err(LedgerError::NameMissing)));
}

#[test]
fn an_entry_that_cannot_be_signed_is_not_written() {
    let mut hospital = Hospital::furnished();
    let before = hospital.ledger.reader().next_place().unwrap();
    let unit = Deed::new(author(), UnitAdded { unit: "u-east".to_owned(), name: "East".to_owned() });
    let refused = hospital.stamped(at(1), |ledger, stamp| {
        let mut locked = |_: &evidence::Entry, _: &[u8]| Err("the key is locked".into());
        let mut stamp = ledger::Stamp {
            moment: stamp.moment,
            device: stamp.device,
            program: stamp.program,
            ids: &mut *stamp.ids,
            sign: &mut locked,
        };
        ledger.write(&[unit], &mut stamp)
    });
    assert!(matches!(refused, Err(LedgerError::Sign(_))));
    assert_eq!(hospital.ledger.reader().next_place().unwrap(), before);
}

#[test]
fn a_seal_stands_at_the_place_its_record_was_drawn_with() {
    let mut hospital = Hospital::furnished();
    hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    let old = hospital.ledger.reader().next_place().unwrap();
    let (sealed, record) = sealed(&hospital.ledger, &old, "d", Outcome::Competent);
    hospital.write(at(1), UnitAdded { unit: "u-east".to_owned(), name: "East".to_owned() }).unwrap();
    let seal = |place| {
        let (sealed, record) = (&sealed, &record);
        move |ledger: &ledger::Ledger, stamp: &mut ledger::Stamp<'_>| {
            ledger.seal(&place, author(), sealed, record, &[], stamp)
        }
    };
    assert!(matches!(hospital.stamped(at(2), seal(old)), Err(LedgerError::PlaceTaken)));
    assert_eq!(hospital.ledger.reader().record("d").unwrap(), None, "nothing was half sealed");
    let place = hospital.ledger.reader().next_place().unwrap();
    assert_eq!(hospital.stamped(at(2), seal(place)).unwrap().place, place);
    let next = hospital.ledger.reader().next_place().unwrap();
    assert!(matches!(hospital.stamped(at(3), seal(next)), Err(LedgerError::AlreadySealed)));
    let filed = hospital.ledger.reader().record("d").unwrap().unwrap();
    assert_eq!((filed.file.as_str(), filed.pdf), ("d.pdf", record.pdf));
}

#[test]
fn a_seal_and_its_record_must_agree() {
    let mut hospital = Hospital::furnished();
    hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    let place = hospital.ledger.reader().next_place().unwrap();
    let (good, record) = sealed(&hospital.ledger, &place, "d", Outcome::Competent);
    for wrong in [
        evidence::DemonstrationSealed { pdf: digest(b"other"), ..good.clone() },
        evidence::DemonstrationSealed { record: digest(b"other"), ..good.clone() },
        evidence::DemonstrationSealed { person: OBSERVER.to_owned(), ..good.clone() },
        evidence::DemonstrationSealed { observer: WEARER.to_owned(), ..good.clone() },
    ] {
        let refused = hospital
            .stamped(at(1), |ledger, stamp| ledger.seal(&place, author(), &wrong, &record, &[], stamp));
        assert!(matches!(refused, Err(LedgerError::Disagree(_))));
    }
}

/// A tap may be on its way while the record is drawn and signed.
#[test]
fn what_was_logged_since_it_was_drawn_is_not_left_out_of_a_record() {
    let mut hospital = Hospital::furnished();
    hospital.ledger.begin(&begin("d"), &at(0)).unwrap();
    let place = hospital.ledger.reader().next_place().unwrap();
    let (drawn, record) = sealed(&hospital.ledger, &place, "d", Outcome::Competent);
    hospital
        .ledger
        .append("d", &"late".to_owned(), &Event::Note { text: "late".to_owned(), of: None }, &at(1))
        .unwrap();
    let refused =
        hospital.stamped(at(2), |ledger, stamp| ledger.seal(&place, author(), &drawn, &record, &[], stamp));
    assert!(matches!(refused, Err(LedgerError::LoggedSince)));
    let (drawn, record) = sealed(&hospital.ledger, &place, "d", Outcome::Competent);
    hospital
        .stamped(at(3), |ledger, stamp| ledger.seal(&place, author(), &drawn, &record, &[], stamp))
        .unwrap();
}

#[test]
fn triggers_forbid_change_and_deletion() {
    let mut hospital = Hospital::furnished();
    hospital.seal("d", Outcome::Competent);
    let file = hospital.folder.path().join("ledger.sqlite");
    let connection = rusqlite::Connection::open(file).unwrap();
    for (table, column) in [
        ("entry", "kind"),
        ("signature", "key"),
        ("demonstration", "mode"),
        ("line", "event"),
        ("record", "file"),
    ] {
        let change = connection.execute(&format!("UPDATE {table} SET {column} = 'x'"), []);
        assert!(change.unwrap_err().to_string().contains("never changes"), "{table} must not change");
        let delete = connection.execute(&format!("DELETE FROM {table}"), []);
        assert!(delete.unwrap_err().to_string().contains("never deleted"), "{table} must not lose rows");
    }
}

#[test]
fn files_that_no_record_refers_to_are_listed() {
    let mut hospital = Hospital::furnished();
    hospital.seal("d", Outcome::Competent);
    assert_eq!(hospital.ledger.reader().orphans().unwrap(), Vec::<std::path::PathBuf>::new());
    let place = hospital.ledger.reader().next_place().unwrap();
    sealed(&hospital.ledger, &place, "never-sealed", Outcome::Competent);
    let orphans = hospital.ledger.reader().orphans().unwrap();
    assert_eq!(orphans, [hospital.ledger.reader().records_folder().join("never-sealed.pdf")]);
}
