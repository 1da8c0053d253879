//! What a unit's findings count: what the ledger counts, and on the day by which it counts.

use contract::{Change, OpenUnitFindings};
use evidence::{ActingAs, CertificateRevoked};
use ledger::Deed;

use super::*;
use crate::desk::{Keys, author};

fn of_five(ward: &mut Ward) {
    for number in 1..=5 {
        ward.another_colleague(number);
        ward.competent(&format!("d-{number}"), 3);
    }
}

fn people(ward: &Ward, as_of: &str) -> u32 {
    let request = OpenUnitFindings { unit: None, as_of: Some(date(as_of)) };
    ward.desk.open_unit_findings(&request, &at(400)).unwrap().people
}

/// Sealed on 5 March 2026; put right to the 2nd.
#[test]
fn a_corrected_date_moves_what_a_unit_s_findings_count() {
    let mut ward = Ward::new();
    of_five(&mut ward);
    assert_eq!((people(&ward, "2026-03-04"), people(&ward, "2027-03-04")), (0, 5));
    let entry = ward.line("d-5", 4).entry;
    ward.correct(&entry, Change::Date(date("2026-03-02")), "the tablet's clock was wrong", 4).unwrap();
    assert_eq!((people(&ward, "2026-03-04"), people(&ward, "2027-03-04")), (1, 4));
}

/// What a tablet in other hands sealed after the last entry that is accepted from it.
#[test]
fn what_a_revocation_refuses_counts_in_no_unit_s_findings() {
    let mut ward = Ward::new();
    of_five(&mut ward);
    let accepted = ward.desk.reader().heads().unwrap();
    let person = AddPerson {
        name: "Person 6".to_owned(),
        number: "3006".to_owned(),
        unit: "Isolation ward".to_owned(),
        role: "Nurse".to_owned(),
    };
    ward.colleague = ward.desk.add_person(&person, &at(4)).unwrap().id;
    ward.competent("d-6", 5);
    assert_eq!(people(&ward, "2026-03-20"), 6);
    let authority = ward.desk.authority(PASSPHRASE).unwrap();
    let list = authority.revoke_also(&ward.desk.revocations().unwrap(), &[], at(6).wall.to_utc()).unwrap();
    let facts = ward.desk.reader().facts(None).unwrap();
    let revoked = CertificateRevoked {
        person: ward.observer.clone(),
        fingerprint: facts.certificate(&ward.observer).unwrap().fingerprint,
        at: at(6).wall,
        reason: "the tablet is lost".to_owned(),
        last_accepted: accepted,
        list: list.pem().unwrap(),
    };
    let keys = Keys { authority: Some(&authority), ..Keys::default() };
    let deeds = [Deed::new(author(ActingAs::Authority), revoked)];
    ward.desk.write_with(keys, &deeds, &at(6)).unwrap();
    assert!(!ward.line("d-6", 7).counts);
    assert_eq!(people(&ward, "2026-03-20"), 5);
}
