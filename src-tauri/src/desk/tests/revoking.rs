//! The list of what was revoked, as verifiers elsewhere read it, and the days that certificates have.

use std::path::PathBuf;

use contract::{ListObservers, RevokeSigning, Signing, WhyRevoked};
use sealing::RevocationList;

use super::*;

impl Ward {
    fn list_file(&self) -> PathBuf {
        self.folder.path().join("exports/revoked.pem")
    }

    fn revoked(&self, person: &str, day: i64) -> Result<contract::RevokedSigning, contract::Fault> {
        let request = RevokeSigning {
            people: vec![person.to_owned()],
            devices: Vec::new(),
            why: WhyRevoked::Left,
            reason: "works elsewhere".to_owned(),
            passphrase: PASSPHRASE.to_owned(),
        };
        self.desk.revoke_signing(&request, &at(day))
    }

    /// The list cannot be saved while a folder lies in its place.
    fn revoked_without_a_file(&self) {
        fs::create_dir_all(self.list_file()).unwrap();
        assert!(self.revoked(&self.observer, 5).unwrap_err().text.contains("revoked.pem"));
        fs::remove_dir(self.list_file()).unwrap();
    }

    fn list(&self) -> RevocationList {
        RevocationList::read(&fs::read(self.list_file()).unwrap()).unwrap()
    }
}

#[test]
fn a_list_that_could_not_be_saved_is_saved_by_the_next_try() {
    let ward = Ward::new();
    ward.revoked_without_a_file();
    assert!(ward.revoked(&ward.colleague, 5).is_err(), "of somebody else there is nothing to say");
    let done = ward.revoked(&ward.observer, 5).unwrap();
    assert_eq!((done.certificates, PathBuf::from(done.path)), (1, ward.list_file()));
    assert_eq!(ward.list().number(), ward.desk.revocations().unwrap().number());
    assert!(ward.revoked(&ward.observer, 5).unwrap_err().text.starts_with("None of those chosen"), "once");
}

#[test]
fn a_list_that_could_not_be_saved_is_saved_at_the_next_start() {
    let ward = Ward::new();
    ward.revoked_without_a_file();
    let Ward { desk, observer, colleague, folder } = ward;
    drop(desk);
    let desk = Desk::open(Folder::at(folder.path())).unwrap();
    let ward = Ward { desk, observer, colleague, folder };
    assert_eq!(ward.list().number(), ward.desk.revocations().unwrap().number());
}

/// The certificate is made at half past midnight of 3 March in Berlin, when it is still the 2nd by UTC.
#[test]
fn the_days_of_a_certificate_are_the_facility_s() {
    let ward = Ward::new();
    let mut night = at(0);
    night.wall = "2026-03-03T00:30:00+01:00".parse().unwrap();
    let request = contract::AppointObserver {
        person: ward.observer.clone(),
        evidence: "Course certificate".to_owned(),
        passphrase: PASSPHRASE.to_owned(),
        pin: PIN.to_owned(),
    };
    ward.desk.appoint_observer(&request, &night).unwrap();
    let facts = ward.desk.reader().facts(None).unwrap();
    let until = facts.certificate(&ward.observer).unwrap().not_after;
    let berlin = until.with_timezone(&chrono_tz::Europe::Berlin).date_naive();
    assert_ne!(berlin, until.to_utc().date_naive(), "it ends in the hours in which the days differ");
    let lines = ward.desk.list_observers(&ListObservers {}, &at(1)).unwrap().lines;
    assert_eq!(lines[0].signing, Signing::Here(berlin));
}
