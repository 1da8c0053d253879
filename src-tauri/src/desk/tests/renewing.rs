//! A key that is renewed, and a key that is elsewhere.

use contract::{AppointObserver, Next, RollAuthorityOver};
use sealing::Certificate;

use super::*;

const OTHER_PIN: &str = "731904";

impl Ward {
    fn appoint(&self, person: &str, pin: &str, day: i64) {
        let request = AppointObserver {
            person: person.to_owned(),
            evidence: "Course certificate".to_owned(),
            passphrase: PASSPHRASE.to_owned(),
            pin: pin.to_owned(),
        };
        self.desk.appoint_observer(&request, &at(day)).unwrap();
    }

    fn sealed_with(&self, id: &str, pin: &str, day: i64) -> Result<contract::Sealed, contract::Fault> {
        let request =
            SealDemonstration { demonstration: id.to_owned(), pin: pin.to_owned(), remark: String::new() };
        self.desk.seal_demonstration(&request, &noon(day))
    }

    /// Where the observer's key lies, below the name that it has in each place.
    fn key_place(&self) -> String {
        let facts = self.desk.reader().facts(None).unwrap();
        let issued = facts.certificate(&self.observer).unwrap();
        let certificate = Certificate::read(issued.certificate.as_bytes()).unwrap();
        format!("{}/{}", self.observer, certificate.key_fingerprint().unwrap())
    }

    fn kept(&self, name: &str) -> Option<Vec<u8>> {
        self.desk.reader().key(name).unwrap()
    }

    fn refused_to_begin(&self, observer: &str, day: i64) -> contract::Fault {
        let begin = BeginDemonstration {
            demonstration: "refused".to_owned(),
            person: self.colleague.clone(),
            observer: observer.to_owned(),
            assistant: None,
            procedure: FIRST.to_owned(),
            version: "1.0.0".to_owned(),
            purpose: Purpose::Practice,
            mode: Mode::Assessed,
            conditions: Vec::new(),
            paper_form: None,
            second_of: None,
        };
        self.desk.begin_demonstration(&begin, &at(day)).unwrap_err()
    }
}

/// The device is full, or the program is ended, between the key and the entry that names it.
#[test]
fn a_renewal_that_did_not_come_to_its_entry_leaves_the_earlier_key_in_use() {
    let ward = Ward::new();
    let desk = &ward.desk;
    let authority = desk.authority(PASSPHRASE).unwrap();
    let renewed =
        desk.enrol(&authority, &ward.observer, "Ines Odum", "Course certificate", OTHER_PIN, &at(1)).unwrap();
    desk.keep_observer_key(&ward.observer, &renewed).unwrap();
    ward.carry_out("a", FIRST, None, &AS_PRINTED, 1);
    assert!(ward.sealed_with("a", OTHER_PIN, 1).is_err(), "nothing says that the new one is theirs");
    ward.sealed_with("a", PIN, 1).unwrap();
}

#[test]
fn a_renewal_leaves_one_key_and_the_next_authority_finds_it() {
    let ward = Ward::new();
    let before = ward.key_place();
    ward.appoint(&ward.observer, OTHER_PIN, 1);
    assert_ne!(ward.key_place(), before);
    for name in [format!("observer/{before}"), format!("observer-device/{before}")] {
        assert_eq!(ward.kept(&name), None, "what no certificate needs is not kept");
    }
    ward.carry_out("a", FIRST, None, &AS_PRINTED, 1);
    assert!(ward.sealed_with("a", PIN, 1).is_err());
    ward.sealed_with("a", OTHER_PIN, 1).unwrap();
    let over = RollAuthorityOver {
        passphrase: PASSPHRASE.to_owned(),
        new_passphrase: "another long passphrase".to_owned(),
        reason: "it is known to others".to_owned(),
    };
    ward.desk.roll_authority_over(&over, &at(2)).unwrap();
    ward.carry_out("b", FIRST, None, &AS_PRINTED, 3);
    ward.sealed_with("b", OTHER_PIN, 3).unwrap();
}

/// As versions before this one kept it: one key for each person, under no name of its own.
#[test]
fn a_key_that_an_earlier_version_kept_is_found_and_gives_way_to_the_next_one() {
    let ward = Ward::new();
    let place = ward.key_place();
    for kind in ["observer", "observer-device"] {
        let blob = ward.kept(&format!("{kind}/{place}")).unwrap();
        ward.desk.ledger.put_key(&format!("{kind}/{}", ward.observer), &blob).unwrap();
        ward.desk.ledger.drop_keys(&format!("{kind}/{place}"), "").unwrap();
    }
    ward.carry_out("a", FIRST, None, &AS_PRINTED, 1);
    ward.sealed_with("a", PIN, 1).unwrap();
    ward.appoint(&ward.observer, OTHER_PIN, 2);
    assert_eq!(ward.kept(&format!("observer/{}", ward.observer)), None);
    ward.carry_out("b", FIRST, None, &AS_PRINTED, 3);
    ward.sealed_with("b", OTHER_PIN, 3).unwrap();
}

/// A key that was made on another device: its certificate came with the ledger, and nothing here opens it.
#[test]
fn whoever_cannot_sign_on_this_device_begins_nothing_on_it() {
    let ward = Ward::new();
    let third = AddPerson {
        name: "Ada Brill".to_owned(),
        number: "1003".to_owned(),
        unit: "Isolation ward".to_owned(),
        role: "Nurse".to_owned(),
    };
    let third = ward.desk.add_person(&third, &at(0)).unwrap().id;
    ward.appoint(&third, OTHER_PIN, 0);
    let elsewhere = format!("observer-device/{}", ward.key_place());
    ward.desk.ledger.put_key(&elsewhere, b"another device").unwrap();
    let refused = ward.refused_to_begin(&ward.observer, 1);
    assert_eq!(refused.next, Next::MendInput);
    assert!(refused.text.contains("signing key is not on this device"), "{}", refused.text);
    assert!(refused.text.contains("under People"), "it says what to do: {}", refused.text);

    // Nor is one handed over to them, but their own log of it is signed by nobody.
    let first = ward.observer.clone();
    let ward = Ward { observer: third, ..ward };
    ward.carry_out("a", FIRST, None, &AS_PRINTED[..1], 1);
    let begin = BeginDemonstration {
        demonstration: "second".to_owned(),
        person: ward.colleague.clone(),
        observer: first.clone(),
        assistant: None,
        procedure: FIRST.to_owned(),
        version: "1.0.0".to_owned(),
        purpose: Purpose::Validation,
        mode: Mode::Assessed,
        conditions: Vec::new(),
        paper_form: None,
        second_of: Some("a".to_owned()),
    };
    ward.desk.begin_demonstration(&begin, &at(1)).unwrap();
    let event = Event::HandedOver { to: first.clone() };
    let over = Tap { demonstration: "a".to_owned(), id: "over".to_owned(), event };
    assert!(ward.desk.tap(&over, &at(1)).unwrap_err().text.contains("not on this device"));
    // Once they are appointed here they may.
    ward.appoint(&first, PIN, 2);
    let ward = Ward { observer: first, ..ward };
    ward.carry_out("b", FIRST, None, &AS_PRINTED, 2);
    ward.sealed_with("b", PIN, 2).unwrap();
}
