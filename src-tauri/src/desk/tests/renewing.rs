//! A key that is renewed.

use contract::{AppointObserver, RollAuthorityOver};
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
        self.desk.seal_demonstration(&request, &at(day))
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
